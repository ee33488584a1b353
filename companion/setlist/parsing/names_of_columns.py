"""Read a row of words that name columns, as only what stands below them tells: Song | Ann | Bob, above keys."""

from collections.abc import Sequence
from typing import Final

import msgspec

from companion.setlist.model import LineKind, ListRow
from companion.setlist.parsing.builder import SetListBuilder
from companion.setlist.parsing.cells import is_nothing
from companion.setlist.parsing.column_roles import Column, Head
from companion.setlist.parsing.key_cells import key_cell
from companion.setlist.parsing.line_kinds import is_chat

HEAD_LINES: Final = 3  # that may stand above the names


def with_names_above(
    rows: Sequence[ListRow], heads: tuple[Head | None, ...], gathered: SetListBuilder
) -> tuple[Sequence[ListRow], tuple[Head | None, ...]]:
    """Return the rows below the names and the columns of keys with their names, where there are such names."""
    top = next((at for at, row in enumerate(rows[:HEAD_LINES]) if sum(map(bool, row.cells)) > 1), 0)
    if not rows or not _names_columns(rows[top], heads):
        return rows, heads
    for row in rows[:top]:
        if is_chat(row.text):
            gathered.left(row)
        else:
            gathered.title_of_list(row)
    gathered.tell(rows[top], LineKind.COLUMNS, "names of columns, by what stands below them")
    names = [*rows[top].cells, *[""] * len(heads)]
    are_keys = sum(head is not None and head.column is Column.KEY for head in heads) > 1
    named = tuple(
        msgspec.structs.replace(head, name=name) if are_keys and head and head.column is Column.KEY else head
        for head, name in zip(heads, names, strict=False)
    )
    return rows[top + 1 :], named


def _names_columns(first: ListRow, heads: Sequence[Head | None]) -> bool:
    """Return whether a first row has words in the columns that hold only values below: Who | What | Which key."""
    cells = [(cell, head.column) for cell, head in zip(first.cells, heads, strict=False) if head and cell]
    typed = [cell for cell, column in cells if column in (Column.KEY, Column.TEMPO, Column.LENGTH)]
    return bool(typed) and len(cells) > 1 and not any(_is_value(cell) for cell in typed)


def _is_value(cell: str) -> bool:
    return any(sign.isdigit() for sign in cell) or key_cell(cell) is not None or is_nothing(cell)
