"""Find columns by position, in a PDF or aligned text: pieces of text above each other make a column."""

import bisect
from collections.abc import Sequence

import msgspec

from companion.setlist.parsing.cells import says_key_or_length
from companion.setlist.readers.limits import MAX_COLUMNS

LEAST_ROWS = 3  # a page counts as columns where at least this many rows have two pieces or more
LEAST_SHARE = 0.4  # and at least this share of all rows
MAX_JOINED = 0.2  # share of rows that may have two pieces in one column; beyond it the gaps are not column gaps
BRIDGES = 0.08  # share of a column's rows that may reach into the next: long titles, headings


class TextSpan(msgspec.Struct, frozen=True):
    """A piece of a line, from ``begin`` to ``end`` in points or characters."""

    begin: float
    end: float
    text: str


def grid(lines: Sequence[Sequence[TextSpan]]) -> list[tuple[str, ...]] | None:
    """Return each line's cells, empty ones included, or None where the lines do not form columns.

    Columns are divided where few pieces lie; a piece goes to the column that it covers most.
    """
    wide = [line for line in lines if len(line) > 1]
    if len(wide) < LEAST_ROWS or len(wide) < LEAST_SHARE * len(lines):
        return None
    gutters = _gutters(wide)
    if not gutters or len(gutters) >= MAX_COLUMNS:
        return None
    cells = [_cells(line, gutters) for line in lines]
    joined = sum(sum(map(bool, row)) < len(line) for row, line in zip(cells, lines, strict=True))
    return cells if joined <= MAX_JOINED * len(lines) else None


def _gutters(lines: Sequence[Sequence[TextSpan]]) -> list[float]:
    """Return the middles of the gaps between columns: few pieces lie there, with pieces on both sides."""
    edges = sorted({edge for line in lines for span in line for edge in (span.begin, span.end)})
    covered = [0] * len(edges)
    for line in lines:
        for span in line:
            for index in range(bisect.bisect_left(edges, span.begin), bisect.bisect_left(edges, span.end)):
                covered[index] += 1
    few = max(BRIDGES * len(lines), 0.5)
    gutters: list[float] = []
    index = 0
    while index < len(edges) - 1:
        if covered[index] > few:
            index += 1
            continue
        first = index
        while index < len(edges) - 1 and covered[index] <= few:
            index += 1
        deepest = min(covered[first:index])
        parts = [at for at in range(first, index) if covered[at] == deepest]
        widest = max(parts, key=lambda at: edges[at + 1] - edges[at])
        middle = (edges[widest] + edges[widest + 1]) / 2
        if edges[0] < middle < edges[-1] and _parts_lines(lines, middle):
            gutters.append(middle)
    return gutters


def _parts_lines(lines: Sequence[Sequence[TextSpan]], middle: float) -> bool:
    parted = sum(
        any(span.end <= middle for span in line) and any(span.begin >= middle for span in line) for line in lines
    )
    return parted >= LEAST_ROWS


def _cells(line: Sequence[TextSpan], gutters: list[float]) -> tuple[str, ...]:
    cells: list[list[str]] = [[] for _ in range(len(gutters) + 1)]
    for span in line:
        first, last = bisect.bisect_right(gutters, span.begin), bisect.bisect_left(gutters, span.end)
        bounds = [float("-inf"), *gutters, float("inf")]
        most = (
            max(range(first, last + 1), key=lambda at: min(span.end, bounds[at + 1]) - max(span.begin, bounds[at]))
            if last > first
            else first
        )
        cells[first if last > first and span.begin < gutters[first] - (span.end - span.begin) * 0.1 else most].append(
            span.text.strip()
        )
    return tuple(_joined(parts) for parts in cells)


def _joined(parts: Sequence[str]) -> str:
    """Join the pieces in one cell; a key or length keeps a wide gap in front, as from a column of its own."""
    return "".join(
        f"{'  ' if at and says_key_or_length(part) else ' ' if at else ''}{part}" for at, part in enumerate(parts)
    )
