"""Keys that a first reading of a picture left out: single letters far from the titles look like dust to it."""

import re
from typing import Final

COLUMNS: Final = 12  # level page block paragraph line word left top width height confidence text
WORD_LEVEL: Final = "5"
LEAST_SURE: Final = 40.0  # per cent; every key from a picture is asked about
ENOUGH: Final = 0.5  # share of the lines that end in a key, so that no second reading is needed
KEY: Final = re.compile(r"^\(?[A-G](?:b|#|♭|♯)?m?\)?$|^(?:flat|sharp|minor|major|moll|dur)$")
MISREAD: Final = {
    "c": "C",
    "8b": "Bb",
    "8bm": "Bbm",
    "Arn": "Am",
    "Ern": "Em",
    "Dm.": "Dm",
    "F4": "F#",
    "C4": "C#",
    "C4m": "C#m",
}


def lacks_keys(first: bytes) -> bool:
    """Return whether fewer than half of the lines of words end in a key."""
    lines: dict[tuple[str, ...], list[str]] = {}
    for line in first.decode(errors="replace").splitlines():
        cells = line.split("\t")
        if _box(cells):
            lines.setdefault(tuple(cells[1:5]), []).append(cells[11].strip())
    ends = [bool(KEY.match(words[-1])) for words in lines.values() if len(words) > 1 or KEY.match(words[0])]
    return sum(ends) < ENOUGH * len(ends)


def with_keys(first: bytes, second: bytes) -> bytes:
    """Return the words of the first reading with those keys of the second where the first read nothing."""
    taken = [box for line in first.decode(errors="replace").splitlines() if (box := _box(line.split("\t")))]
    found = []
    for line in second.decode(errors="replace").splitlines():
        cells = line.split("\t")
        box = _box(cells)
        if box is None or not _is_sure(cells[10]):
            continue
        said = MISREAD.get(cells[11].strip(), cells[11].strip())
        if KEY.match(said) and not any(_touch(box, other) for other in taken):
            found.append("\t".join([*cells[:2], f"second {cells[2]}", *cells[3:11], said]))
    return b"\n".join([first.rstrip(b"\n"), *(line.encode() for line in found)]) + b"\n"


def _box(cells: list[str]) -> tuple[int, int, int, int] | None:
    """Return a word's left, top, right and bottom; None for what is no word."""
    if len(cells) != COLUMNS or cells[0] != WORD_LEVEL or not cells[11].strip():
        return None
    try:
        left, top, width, height = map(int, cells[6:10])
    except ValueError:
        return None
    return left, top, left + width, top + height


def _is_sure(said: str) -> bool:
    try:
        return float(said) >= LEAST_SURE
    except ValueError:
        return False


def _touch(one: tuple[int, int, int, int], other: tuple[int, int, int, int]) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
