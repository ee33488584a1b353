"""Match the songs of a revised list with those of the show: by the same title, else by a similar one."""

import re
from collections import defaultdict
from collections.abc import Collection, Sequence

import msgspec
from rapidfuzz import fuzz

from companion.setlist.revising.number_words import with_digits
from companion.setlist.revising.shortened_titles import is_shortened
from companion.show import Song
from companion.show.titles import folded

ALIKE = 86  # per cent alike: a typing slip, a word more or less ("Gasworks Cnr", "Kettle on a Jetty")
ALIKE_WITH_MORE = 74  # same, where key, artist, length or neighbours agree too
LONG_ENOUGH = 7  # letters; in a shorter title one letter makes another word: Moth and Mouth
LONE_WORD = 5  # letters of a word that may stand for a longer title
EACH_SIGN = 6  # per cent added for each of these


class SongMatch(msgspec.Struct, frozen=True):
    """A song of the show and its match in the list, both by index."""

    old: int
    new: int
    alike: float  # per cent; 100 where only case, accents or punctuation differ


def match(old: Sequence[Song], new: Sequence[Song], apart: Collection[tuple[str, str]] = ()) -> tuple[SongMatch, ...]:
    """Match the songs: first those with the same title, in order; then the rest, most alike first.

    ``apart``: old and new titles that are two songs, as the player says.
    """
    pairs = _same(old, new)
    free_old = [at for at in range(len(old)) if at not in {pair.old for pair in pairs}]
    free_new = [at for at in range(len(new)) if at not in {pair.new for pair in pairs}]
    return tuple(sorted((*pairs, *_alike(old, new, free_old, free_new, apart)), key=lambda pair: pair.new))


def _same(old: Sequence[Song], new: Sequence[Song]) -> list[SongMatch]:
    """Match equal titles; where a title repeats, by the same artist or key first, then in order."""
    places: dict[str, list[int]] = defaultdict(list)
    for at, song in enumerate(old):
        places[folded(song.title)].append(at)
    pairs = []
    for at, song in enumerate(new):
        candidates = places.get(folded(song.title), [])
        if candidates:
            best = max(candidates, key=lambda place: (_signs(old[place], song), -candidates.index(place)))
            candidates.remove(best)
            pairs.append(SongMatch(best, at, 100.0))
    return pairs


def _signs(one: Song, other: Song) -> int:
    """Count the other facts that agree: artist, key, length within three seconds, tempo."""
    return sum(
        (
            bool(one.artist and other.artist and folded(one.artist) == folded(other.artist)),
            bool(one.key and one.key == other.key),
            bool(one.length_s and other.length_s and abs(one.length_s - other.length_s) <= 3),
            bool(one.tempo_bpm and one.tempo_bpm == other.tempo_bpm),
        )
    )


def _alike(
    old: Sequence[Song],
    new: Sequence[Song],
    free_old: list[int],
    free_new: list[int],
    apart: Collection[tuple[str, str]],
) -> list[SongMatch]:
    if not free_old or not free_new:
        return []
    titles_old = {at: with_digits(folded(old[at].title)) for at in free_old}
    titles_new = {at: with_digits(folded(new[at].title)) for at in free_new}
    found = []
    for one in free_old:
        for other in free_new:
            if (old[one].title, new[other].title) in apart:
                continue
            if _numbers_differ(titles_old[one], titles_new[other]):
                continue
            share = _share(titles_old[one], titles_new[other])
            if is_shortened(titles_old[one], titles_new[other]) or _names_itself(old[one], titles_new[other]):
                share = max(share, float(ALIKE))
            signs = _signs(old[one], new[other])
            is_same = titles_old[one] == titles_new[other] or share == ALIKE
            is_long = is_same or min(len(titles_old[one]), len(titles_new[other])) >= LONG_ENOUGH
            if (share >= ALIKE and (is_long or signs)) or (
                share >= ALIKE_WITH_MORE and signs and share + EACH_SIGN * signs >= ALIKE
            ):
                found.append((share + EACH_SIGN * signs, one, other, share))
    pairs, taken = [], set()
    for _, one, other, share in sorted(found, reverse=True):
        if ("old", one) not in taken and ("new", other) not in taken:
            taken |= {("old", one), ("new", other)}
            pairs.append(SongMatch(one, other, round(min(share, 99.0), 1)))
    return pairs


def _names_itself(song: Song, title: str) -> bool:
    """Return whether the song's own note says that this is its title: joke, it is really Never Mind the Ferry."""
    notes = [with_digits(folded(note)) for note in (song.notes or "").split("; ")]
    pattern = (
        rf"\b(?:really|actually|aka|called|alias|known as|proper|real title|real name)\b.{{0,20}}\b{re.escape(title)}\b"
    )
    return len(title) >= LONG_ENOUGH and any(re.search(pattern, note) for note in notes)


def _numbers_differ(one: str, other: str) -> bool:
    """Return whether both titles hold numbers, and not the same ones: 98 Umbrellas and 99 Umbrellas."""
    first, second = re.findall(r"\d+", one), re.findall(r"\d+", other)
    return bool(first and second) and first != second


def _share(one: str, other: str) -> float:
    """Return how alike two titles are, in per cent. One contained in the other counts: Harbour Lamps (acoustic)."""
    share = fuzz.ratio(one, other, score_cutoff=ALIKE_WITH_MORE)
    shorter = min(one, other, key=len)
    if share < ALIKE and fuzz.token_set_ratio(one, other, score_cutoff=99):
        if len(shorter.split()) >= 2:
            return float(ALIKE)
        if len(shorter) >= LONE_WORD:
            return max(share, float(ALIKE - EACH_SIGN))  # "Lodger" for "Don't Wake the Lodger", if its key agrees
    return share
