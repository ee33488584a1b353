"""Rows of a table that hold only a time of day and words, where the songs have no time: 20:00 | First dance."""

from collections.abc import Sequence
from typing import Final

import msgspec

from companion.setlist.model import ListRow
from companion.setlist.parsing.cells import clock_cell
from companion.setlist.parsing.column_roles import Head
from companion.setlist.parsing.grid_rows import title_at

FEWEST: Final = 2  # rows with a time and words alone
MIN_TIMES: Final = 0.5  # share of a column's filled cells; the others are its name and the list's
MAX_TIMED: Final = 0.2  # share of the songs; where more have a time, it says when a song is played


def with_times_in_front(
    rows: Sequence[ListRow], heads: Sequence[Head | None]
) -> tuple[tuple[ListRow, ...], frozenset[int]]:
    """Return the rows, such a row as one cell with the time in front, and which rows (from 0) they are."""
    title = title_at(heads)
    column = next((at for at in range(len(heads)) if at != title and _has_times(rows, at)), None)
    if title is None or column is None:
        return tuple(rows), frozenset()
    timed = [at for at, row in enumerate(rows) if _names_only(row, title, column)]
    songs = [row for row in rows if sum(map(bool, row.cells)) > 1 and not _names_only(row, title, column)]
    late = sum(_time_in(row, column) is not None for row in songs)
    if not FEWEST <= len(timed) <= len(songs) or late > MAX_TIMED * len(songs):
        return tuple(rows), frozenset()
    made = list(rows)
    for at in timed:
        words = f"{_shown(_time_in(rows[at], column) or 0)} {rows[at].cells[title].strip()}"
        cells = tuple(words if one == title else "" for one in range(len(rows[at].cells)))
        made[at] = msgspec.structs.replace(rows[at], cells=cells)
    return tuple(made), frozenset(timed)


def _has_times(rows: Sequence[ListRow], column: int) -> bool:
    filled = [cell for row in rows if column < len(row.cells) and (cell := row.cells[column].strip())]
    times = sum(_time_of(cell) is not None for cell in filled)
    return times >= max(FEWEST, MIN_TIMES * len(filled))


def _names_only(row: ListRow, title: int, column: int) -> bool:
    filled = {at for at, cell in enumerate(row.cells) if cell.strip()}
    return filled == {title, column} and _time_in(row, column) is not None


def _time_in(row: ListRow, column: int) -> int | None:
    return _time_of(row.cells[column].strip()) if column < len(row.cells) else None


def _time_of(cell: str) -> int | None:
    """Return minutes since midnight; a workbook's time may have seconds: 15:30:00."""
    return clock_cell(cell.removesuffix(":00") if cell.count(":") > 1 else cell)


def _shown(minutes: int) -> str:
    return f"{minutes // 60}:{minutes % 60:02}"
