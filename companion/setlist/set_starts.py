"""Where sets begin, as the player says it about a whole list: a song's number or title, or the words of a heading."""

import re
from collections import defaultdict
from typing import Final

from companion.setlist.model import LineKind, SetList, SetStart
from companion.show.titles import folded

NEXT_SET: Final = "first song of the next set"
LATER_SETS: Final = "first song of each later set"
ONE_SET: Final = ("one set", "1 set", "only one set")
SHORTEST: Final = 3  # letters of a title's beginning, or of a heading
_NUMBER: Final = re.compile(r"(?:number |song |no\.? ?|nr\.? ?|# ?)?(\d{1,3})\.?", re.IGNORECASE)
_APART: Final = (re.compile(r"\s*[,;/]\s*"), re.compile(r"\s*[,;/]\s*|\s+(?:and|then|und|et|y)\s+", re.IGNORECASE))


def starts_said(listed: SetList, said: str) -> tuple[SetStart, ...] | None:
    """Return the songs with which sets after the first begin; None if one of them is not found, or all are the first.

    Several are parted by commas or "and". Numbers are the list's own, where it has them.
    """
    if folded(said) in ONE_SET and len(listed.show.sets) > 1:
        return ()
    for parts in ((said,), *(tuple(filter(None, one.split(said))) for one in _APART)):
        found = [_start(listed, part.strip(" .:!\"'“”‘’")) for part in parts]
        starts = sorted({one.song: one for one in found if one}.values(), key=lambda one: one.song)
        if parts and all(found):
            return tuple(one for one in starts if one.song > 1) or None
    return None


def _start(listed: SetList, said: str) -> SetStart | None:
    titles = [folded(title) for title in listed.titles]
    if number := _NUMBER.fullmatch(said):
        song = _numbered(listed, int(number[1]))
        return SetStart(song) if song else None
    word = folded(said)
    same = [at for at, title in enumerate(titles, 1) if title == word]
    begun = [at for at, title in enumerate(titles, 1) if len(word) >= SHORTEST and title.startswith(word)]
    for songs in (same, begun):
        if len(songs) == 1:
            return SetStart(songs[0])
    return _below_heading(listed, said) if len(word) >= SHORTEST and not (same or begun) else None


def _below_heading(listed: SetList, said: str) -> SetStart | None:
    """Return the first song below the only line that holds these words and is no song."""
    found = [
        at
        for at, line in enumerate(listed.lines)
        if line.song is None and line.took is not LineKind.ASIDE and folded(said) in folded(line.text)
    ]
    if len(found) != 1:
        return None
    song = next((line.song for line in listed.lines[found[0] :] if line.song is not None), None)
    return SetStart(song, said) if song else None


def _numbered(listed: SetList, number: int) -> int | None:
    """Return the song of a number: as the list counts, if each number is there once at most; else in its order."""
    titles = listed.titles
    printed: defaultdict[int, list[int]] = defaultdict(list)
    for line in listed.lines:
        if line.song is not None:
            first = re.escape((titles[line.song - 1].split() or [""])[0])
            found = re.search(rf"(?<!\d)(\d{{1,3}})\W{{1,4}}{first}", line.text, re.IGNORECASE)
            if found:
                printed[int(found[1])].append(line.song)
    counts = 2 * len(printed) > len(titles) and all(len(songs) == 1 for songs in printed.values())
    if not counts:
        return number if 1 <= number <= len(titles) else None
    later = min((one for one in printed if one >= number), default=None)  # that song itself may not be played
    return printed[later][0] if later is not None and number >= min(printed) else None
