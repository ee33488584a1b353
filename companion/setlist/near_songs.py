"""Songs of a list whose titles are written almost as in a songbook: the player says whether they are the same."""

import os
import re
from collections.abc import Collection, Iterable
from typing import Final

import msgspec
from rapidfuzz.distance import OSA

from companion.setlist.known_songs import songs_by_title
from companion.setlist.model import Doubt, DoubtAnswer, FieldCorrection, ListLine, SetList
from companion.setlist.tidy import folded

LETTERS_A_SLIP: Final = 6  # one error in so many letters; in a shorter title it makes another word: Moth and Mouth
_DIGITS: Final = re.compile(r"\d+")


def with_near_songs(listed: SetList, show_path: str | os.PathLike[str], there: Iterable[str] = ()) -> SetList:
    """Return the list with a question at each song that a songbook beside the show has under almost the same title.

    Nothing is asked about titles that are ``there`` in the show already, or that a songbook has exactly so.
    """
    titles = [song.title for one in listed.show.sets for song in one.songs]
    known = {title: one.song.title for title, one in songs_by_title(show_path, listed.show.band).items()}
    taken = {folded(title) for title in (*titles, *there)}
    others = {title: shown for title, shown in known.items() if title not in taken}
    settled = {*known, *map(folded, there)}
    near = {title: nearest_title(title, others) for title in titles if folded(title) not in settled}
    lines = tuple(
        _asked(line, titles, {title: others[of] for title, of in near.items() if of}) for line in listed.lines
    )
    return msgspec.structs.replace(listed, lines=lines)


def nearest_title(title: str, known: Collection[str]) -> str | None:
    """Return which of these folded titles is almost this one: other spaces, or a typing error or two.

    >>> nearest_title("Gaswork Corner", ["gasworks corner", "moth"]), nearest_title("Mouth", ["moth"])
    ('gasworks corner', None)
    >>> nearest_title("Pier Waltz 2", ["pier waltz 1"]) is None
    True
    """
    letters = _letters(folded(title))
    errors = len(letters) // LETTERS_A_SLIP
    found = [
        (apart, one)
        for one in known
        if (apart := OSA.distance(letters, _letters(one), score_cutoff=errors)) <= errors
        and _DIGITS.findall(letters) == _DIGITS.findall(_letters(one))
    ]
    return min(found)[1] if found else None


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
