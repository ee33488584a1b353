"""Bring a table into the order that a column of its own gives: Order Sat 5 Dec, with 3, 1, nothing and 2 below it."""

from collections.abc import Sequence
from typing import Final

import msgspec

from companion.how_many import how_many
from companion.setlist.model import Doubt, ListRow
from companion.setlist.parsing.builder import SetListBuilder
from companion.setlist.parsing.column_roles import Column, Head, read_heads

FEWEST_PLACES: Final = 3
_ORDER: Final = frozenset(  # dictionaries of each language
    (
        "order",
        "position",
        "pos",
        "reihenfolge",
        "platz",
        "ordre",
        "orden",
        "ordine",
        "ordem",
        "posizione",
        "posición",
        "posição",
        "volgorde",
        "rækkefølge",
        "rekkefølge",
        "ordning",
        "ordningsföljd",
        "järjestys",
        "kolejność",
        "pořadí",
        "poradie",
        "sorrend",
    )
)


def in_named_order(rows: Sequence[ListRow], gathered: SetListBuilder) -> list[ListRow]:
    """Return the rows of a table in the order that its column gives; those without a place in it are set aside."""
    top = next((at for at, row in enumerate(rows) if read_heads(row.cells)), None)
    heads = read_heads(rows[top].cells) if top is not None else None
    at = _order_column(rows[top].cells, heads) if top is not None and heads else None
    if top is None or heads is None or at is None:
        return list(rows)
    below = rows[top + 1 :]
    titled = [row for row in below if sum(map(bool, row.cells)) > 1]
    places = {id(row): int(place) for row in titled if (place := _cell(row, at).rstrip(".)")).isdecimal()}
    left = [row for row in titled if id(row) not in places]
    is_whole = sorted(places.values()) == list(range(1, len(places) + 1))
    is_plain = len(titled) == len(below) and not any(_cell(row, at) for row in left)
    in_order = sorted((row for row in titled if id(row) in places), key=lambda row: places[id(row)])
    if not is_whole or not is_plain or len(places) < FEWEST_PLACES or in_order == list(below):
        return list(rows)
    name = rows[top].cells[at].strip()
    out = f"; {how_many(len(left), 'song')} without a place in it: not played" if left else ""
    gathered.doubts.append(Doubt(f"songs in the order of the column {name!r}{out}"))
    for row in left:
        gathered.aside(row, row.text, f"no place in the column {name!r}")
    names = tuple("Order" if one == at else cell for one, cell in enumerate(rows[top].cells))
    return [*rows[:top], msgspec.structs.replace(rows[top], cells=names), *in_order]


def _order_column(cells: Sequence[str], heads: Sequence[Head | None]) -> int | None:
    """Return which column is named for the order, where no other one names sets."""
    if any(head and head.column is Column.SET for head in heads):
        return None
    words = [set(cell.casefold().replace(":", " ").split()) for cell in cells]
    kinds = (Column.NUMBER, Column.OTHER, Column.PLAYED)
    found = [at for at, head in enumerate(heads) if head and head.column in kinds and words[at] & _ORDER]
    return found[0] if len(found) == 1 else None


def _cell(row: ListRow, at: int) -> str:
    return row.cells[at].strip() if at < len(row.cells) else ""
