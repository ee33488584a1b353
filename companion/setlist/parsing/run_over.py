"""Titles in aligned text that are as long as their column, so that only one space parts them from their key."""

from collections import Counter
from collections.abc import Sequence
from typing import Final

from companion.setlist.model import TextSpan
from companion.setlist.parsing.key_cells import key_cell, plain_key

FEWEST: Final = 3  # keys below each other
MOST: Final = 0.6  # share of the keys behind a gap


def keys_apart(lines: Sequence[tuple[TextSpan, ...]]) -> list[tuple[TextSpan, ...]]:
    """Return the pieces of each line; a key that a long title reaches is a piece of its own.

    It stands where the others begin, or further to the right.
    """
    begins = Counter(line[1].begin for line in lines if len(line) > 1 and plain_key(line[1].text))
    if not begins:
        return list(lines)
    column, count = begins.most_common(1)[0]
    if count < max(FEWEST, MOST * begins.total()):
        return list(lines)
    return [_apart(line, column) if line else line for line in lines]


def _apart(line: tuple[TextSpan, ...], column: float) -> tuple[TextSpan, ...]:
    first, *others = line
    title, _, key = first.text.rpartition(" ")
    begin = first.begin + len(title) + 1
    is_text = first.end - first.begin == len(first.text)  # letters of one width
    if not is_text or begin < column or not title or not key[:1].isupper() or plain_key(key) is None:
        return line
    if any(plain_key(one.text) for one in others[:1]):
        return line
    return (TextSpan(first.begin, begin - 1, title), TextSpan(begin, first.end, key), *others)


def keys_in_their_column(
    lines: Sequence[Sequence[TextSpan]], cells: Sequence[tuple[str, ...]]
) -> list[tuple[str, ...]]:
    """Return the cells; a key that a narrow gap left in one cell with its title goes to the column of the keys."""
    width = max(map(len, cells), default=0)
    filled = [[row[at] for row in cells if at < len(row) and row[at]] for at in range(width)]
    keyed = [at for at in range(width) if sum(map(_begins_with_key, filled[at])) >= max(FEWEST, 0.5 * len(filled[at]))]
    beside = [row for row in cells if keyed and keyed[0] < len(row) and row[keyed[0]] and sum(map(bool, row)) > 1]
    others = [at for at in range(width) if sum(at < len(row) and bool(row[at]) for row in beside) > 0.5 * len(beside)]
    others = [at for at in others if at not in keyed]
    if len(keyed) != 1 or len(others) != 1:
        return list(cells)
    key, title = keyed[0], others[0]
    made = []
    for line, row in zip(lines, cells, strict=True):
        pieces = [span.text.strip() for span in line]
        own = 0 if key < title else 1
        is_one = len(pieces) > 1 and sum(map(bool, row)) == 1 and len(row) == width
        if is_one and key_cell(pieces[own]) and not key_cell(pieces[1 - own]):
            said = {key: pieces[own], title: "  ".join((pieces[1 - own], *pieces[2:]))}
            row = tuple(said.get(at, "") for at in range(width))  # noqa: PLW2901  its pieces, each in its column
        made.append(row)
    return made


def _begins_with_key(cell: str) -> bool:
    return key_cell(cell.split(" ", 1)[0]) is not None
