"""The row above a table without names of columns that says of which gig it is: The Kettles | sat 5th dec."""

import re
from collections.abc import Sequence
from typing import Final

from companion.setlist.model import ListRow
from companion.setlist.parsing.builder import SetListBuilder
from companion.setlist.parsing.cells import any_date_in
from companion.setlist.parsing.column_roles import Column, Head
from companion.setlist.parsing.gig_days import WEEKDAYS_SAID
from companion.setlist.parsing.key_cells import key_cell

MOST_KEYED: Final = 0.7  # share of the other rows
_DAY: Final = re.compile(rf"\b(?:{'|'.join(WEEKDAYS_SAID)})[.,]?\s(?:the\s)?\d{{1,2}}(?!\d)", re.IGNORECASE)


def take_day(rows: Sequence[ListRow], heads: Sequence[Head | None], gathered: SetListBuilder) -> int:
    """Take a first row that names a day, and holds no key where all others do, for the list's name; return 1 then."""
    key = next((at for at, head in enumerate(heads) if head and head.column is Column.KEY), None)
    if key is None or len(rows) < 2 or gathered.last:
        return 0
    text = " ".join(cell for cell in rows[0].cells if cell)
    full = [row for row in rows[1:] if sum(map(bool, row.cells)) > 1]
    keyed = sum(_has_key(row, key) for row in full)
    is_unlike = not any(key_cell(cell) for cell in rows[0].cells if cell) and keyed >= MOST_KEYED * len(full) > 1
    if not is_unlike or not (any_date_in(text) or _DAY.search(text)):
        return 0
    gathered.title_of_list(rows[0])
    return 1


def _has_key(row: ListRow, at: int) -> bool:
    return at < len(row.cells) and key_cell(row.cells[at]) is not None
