"""Columns of a table that hold the times of an evening: 19:30, 20:15, 0:10."""

import itertools
import re
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.setlist.model import ListRow
from companion.setlist.parsing.cells import clock_cell

EARLIEST_MIN: Final = 10 * 60  # since midnight; what is earlier may be lengths
MORNING_MIN: Final = 5 * 60  # an evening may go on until then
DAY_MIN: Final = 24 * 60
FEWEST: Final = 2  # times in a column
_WITH_SECONDS = re.compile(r"^\d{1,2}:[0-5]\d:00$")  # as a workbook stores a time


def are_clocks(cells: Sequence[str]) -> bool:
    """Return whether all cells are times that rise through an evening, past midnight if need be."""
    times = [at for cell in cells if (at := clock_cell(cell)) is not None]
    return len(times) == len(cells) > 0 and _rise(times)


def without_seconds(rows: Sequence[ListRow]) -> list[ListRow]:
    """Return the rows without the seconds that a workbook adds to times of day: 19:30:00; lengths keep theirs."""
    width = max((len(row.cells) for row in rows), default=0)
    clocks = [at for at in range(width) if _is_stored_time([row.cells[at] for row in rows if at < len(row.cells)])]
    return [_without_seconds_at(row, clocks) for row in rows] if clocks else list(rows)


def _is_stored_time(cells: Sequence[str]) -> bool:
    times = [clock_cell(cell.removesuffix(":00")) or 0 for cell in cells if _WITH_SECONDS.match(cell)]
    return len(times) >= FEWEST and _rise(times)


def _without_seconds_at(row: ListRow, columns: Sequence[int]) -> ListRow:
    cells = tuple(
        cell.removesuffix(":00") if at in columns and _WITH_SECONDS.match(cell) else cell
        for at, cell in enumerate(row.cells)
    )
    return row if cells == row.cells else msgspec.structs.replace(row, cells=cells)


def _rise(times: Sequence[int]) -> bool:
    """Return whether no time is before the last one; a heading and its first song may share theirs."""
    turn = next((at for at, (one, other) in enumerate(itertools.pairwise(times), start=1) if other < one), len(times))
    through = [*times[:turn], *(time + DAY_MIN for time in times[turn:])]
    is_night = all(time < MORNING_MIN for time in times[turn:])
    rise = all(after >= before for before, after in itertools.pairwise(through))
    return rise and is_night and through[-1] > through[0] >= EARLIEST_MIN
