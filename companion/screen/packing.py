"""The middle of a page: what is special here, side by side while it fits, the least important left out first."""

from collections.abc import Sequence
from typing import Final

from .fitting import Fitted, Fitting
from .page import Pen, Sizes
from .parts import Line, Part
from .rows import Row, height

ORDER: Final = (
    Part.FEATURE,
    Part.WATCH,
    Part.CUE,
    Part.TEMPO,
    Part.START,
    Part.FIRST_WORDS,
    Part.HITS,
    Part.ENDING,
    Part.CHORDS,
    Part.PACE,
    Part.HINT,
    Part.NOTES,
)
LARGE: Final = frozenset((Part.FEATURE, Part.WATCH, Part.CUE))  # never under 30 arc minutes
SMALL: Final = frozenset((Part.PACE, Part.NOTES, Part.HINT))
MOST_ROWS: Final = {Part.CUE: 4, Part.NOTES: 3, Part.CHORDS: 2, Part.START: 2, Part.FEATURE: 2, Part.HITS: 2}


def packed(lines: Sequence[Line], pen: Pen, sizes: Sizes, room: tuple[float, float]) -> tuple[Row, ...]:
    """Give the rows that fit into a (width, height).

    First what may be smaller becomes smaller, then the last ones go; what to do and whom to watch stay, if need be on
    single rows.
    """
    width, high = room
    kept = sorted((line for line in lines if line.part in ORDER), key=lambda line: ORDER.index(line.part))
    while True:
        for large in range(len(kept), -1, -1):
            rows = _rows(kept, pen, sizes, width, large=large)
            if height(rows) <= high:
                return rows
        if not kept or kept[-1].part in LARGE:
            break
        kept.pop()
    while kept:
        rows = _rows(kept, pen, sizes, width, large=0, most_rows=1)
        if height(rows) <= high:
            return rows
        # Whom to watch outlives the words about it, and these outlive the word that the feature is one.
        kept.remove(min(kept, key=lambda line: (Part.FEATURE, Part.CUE, Part.WATCH).index(line.part)))
    return ()


def _rows(
    lines: Sequence[Line], pen: Pen, sizes: Sizes, width: float, *, large: int, most_rows: int | None = None
) -> tuple[Row, ...]:
    rows: list[Row] = []
    for number, line in enumerate(lines):
        fitted = _fitted(line, pen, sizes, width, smaller=number >= large, most_rows=most_rows)
        longer = Row((*rows[-1].left, fitted)) if rows else None
        if longer and len(fitted.rows) == 1 and _is_plain(rows[-1]) and longer.span(sizes.gap) <= width:
            rows[-1] = longer
        else:
            rows.append(Row((fitted,)))
    return tuple(rows)


def _is_plain(row: Row) -> bool:
    return all(len(one.rows) == 1 for one in row.left)


def _fitted(line: Line, pen: Pen, sizes: Sizes, width: float, *, smaller: bool, most_rows: int | None) -> Fitted:
    most = most_rows or MOST_ROWS.get(line.part, 1)
    arcmin = sizes.least if line.part in SMALL or (smaller and line.part not in LARGE) else sizes.cue
    ways = [(arcmin, rows) for rows in range(1, most + 1)]
    if arcmin > sizes.least and line.part not in LARGE:
        ways.append((sizes.least, most))
    return Fitting(pen, width, sizes.least, tuple(ways)).fit(line)
