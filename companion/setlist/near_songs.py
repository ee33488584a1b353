"""Songs of a list whose titles are written almost as in a songbook: the player says whether they are the same."""

import re
from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import Final

import msgspec
from rapidfuzz.distance import OSA

from companion.setlist.known_songs import same_titles
from companion.setlist.model import Doubt, DoubtAnswer, FieldCorrection, ListLine, SetList
from companion.setlist.revising.matching import LONG_ENOUGH
from companion.setlist.revising.revision import KnownSong
from companion.setlist.revising.shortened_titles import is_shortened
from companion.show import Song
from companion.show.titles import folded

LETTERS_A_SLIP: Final = 6  # one error in so many letters; in a shorter title it makes another word: Moth and Mouth
FEWEST_WORDS: Final = 2  # of the shorter title, where it is a part of the other
_DIGITS: Final = re.compile(r"\d+")


def with_near_songs(listed: SetList, known: Mapping[str, KnownSong], there: Iterable[str] = ()) -> SetList:
    """Return the list with a question at each song that a songbook has under almost the same title.

    ``known``: the songbooks' songs by folded title. Nothing is asked about titles that are ``there`` in the show
    already, or that a songbook has exactly so.
    """
    titles = listed.titles
    folded_titles = {title: folded(title) for title in titles}
    in_show = {folded(title) for title in there}
    taken = {*folded_titles.values(), *in_show}
    others = {title: one.song.title for title, one in known.items() if title not in taken}
    settled = same_titles(folded_titles, {*known, *in_show})
    near = {title: nearest_title(key, others) for title, key in folded_titles.items() if title not in settled}
    shown = {title: others[of] for title, of in near.items() if of}
    songs = [song for one in listed.show.sets for song in one.songs]
    lines = tuple(_asked(line, titles, shown) for line in listed.lines)
    lines = tuple(_asked_of_rise(line, songs, known, in_show) for line in lines)
    return msgspec.structs.replace(listed, lines=lines)


def nearest_title(title: str, known: Collection[str]) -> str | None:
    """Return which of these titles is almost this one: other spaces, a typing error or two, or a part of the words.

    All are folded. Words alone count only where they are those of one title.

    >>> nearest_title("gaswork corner", ["gasworks corner", "moth"]), nearest_title("mouth", ["moth"])
    ('gasworks corner', None)
    >>> nearest_title("pier waltz 2", ["pier waltz 1"]) is None
    True
    """
    letters = _letters(title)
    errors = len(letters) // LETTERS_A_SLIP
    shortened = next((one for one in sorted(known) if is_shortened(title, one)), None)
    found = [
        (apart, one)
        for one in known
        if (apart := OSA.distance(letters, _letters(one), score_cutoff=errors)) <= errors
        and _DIGITS.findall(letters) == _DIGITS.findall(_letters(one))
    ]
    return min(found)[1] if found else shortened or _same_words(title, known)


def _same_words(title: str, known: Collection[str]) -> str | None:
    """Return the only title that holds all words of this one, or whose words this one holds, as in a new version.

    >>> _same_words("when the kettle sings", ["when the kettle sings and all the house wakes up", "kettle rag"])
    'when the kettle sings and all the house wakes up'
    """
    words, numbers = set(title.split()), _DIGITS.findall(title)
    alike = [one for one in known if not numbers or _DIGITS.findall(one) in ([], numbers)]
    found = [
        one
        for one in alike
        if len(short := min(one, title, key=len)) >= LONG_ENOUGH
        and len(short.split()) >= FEWEST_WORDS
        and (words < set(one.split()) or set(one.split()) < words)
    ]
    return found[0] if len(found) == 1 else None


def _letters(title: str) -> str:
    return title.replace(" ", "")


def _asked(line: ListLine, titles: list[str], near: dict[str, str]) -> ListLine:
    """Return a song's line with the question whether it is that song of the songbook."""
    title = titles[line.song - 1] if line.song is not None else ""
    if title not in near:
        return line
    doubt = Doubt(
        f'the songbook has "{near[title]}": taken as another song',
        f'The songbook has "{near[title]}". Is "{title}" the same song?',
        (DoubtAnswer("no"), DoubtAnswer("yes", (FieldCorrection("title", near[title]),))),
        song=line.song,
    )
    return msgspec.structs.replace(line, doubts=(*line.doubts, doubt))


def _asked_of_rise(
    line: ListLine, songs: Sequence[Song], known: Mapping[str, KnownSong], in_show: Collection[str]
) -> ListLine:
    """Return a song's line with the question from where it is in the key to which the songbook's song goes later."""
    song = songs[line.song - 1] if line.song is not None else None
    key, title = (song.key, folded(song.title)) if song else (None, "")
    if key is None or title in in_show or title not in known:
        return line
    old = known[title].song
    later = [part.name for part in old.road_map if part.key == key]
    if old.key in (None, key) or not later:
        return line
    doubt = Doubt(
        f"the songbook has it in {old.key} and goes to {key} later: read as {key} from the start",
        f'The songbook has "{old.title}" in {old.key}, and only {later[-1]} in {key}. Is it in {key} from the start, '
        "and does what changes key later go up or down with it?",
        (DoubtAnswer("yes"), DoubtAnswer("no", (FieldCorrection("key"),))),
        asks_for="key",
        song=line.song,
    )
    return msgspec.structs.replace(line, doubts=(*line.doubts, doubt))
