"""The head above the songs: the list's name and date, where the first line stands out as a head."""

from collections.abc import Sequence
from typing import Final

from companion.setlist.model import ListRow
from companion.setlist.notation import Notation
from companion.setlist.parsing import line_kinds
from companion.setlist.parsing.builder import SetListBuilder
from companion.setlist.parsing.capo import HAS_CAPO
from companion.setlist.parsing.cells import date_in
from companion.setlist.parsing.column_roles import read_heads
from companion.setlist.parsing.grid_sections import names_of_tables
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.patterns import BULLET, LENGTH_AT_END, NUMBERED
from companion.setlist.parsing.set_headings import is_break, read_set

MAX_WORDS: Final = 8
HEAD_LINES: Final = 3


def without_head(rows: Sequence[ListRow], gathered: SetListBuilder) -> tuple[ListRow, ...]:
    """Take the lines that name the list or hold its date; return the others. Only the first page has a head."""
    if not rows or gathered.has_lines or 0 in names_of_tables(rows) or not _names_list(rows):
        return tuple(rows)
    gathered.title_of_list(rows[0])
    taken = 1
    sets = [at for at, row in enumerate(rows[: HEAD_LINES + 1]) if read_set(_text(row))]
    while taken < min([*sets, HEAD_LINES]) and sets and date_in(_text(rows[taken])):
        gathered.title_of_list(rows[taken])
        taken += 1
    return tuple(rows[taken:])


def without_names(rows: Sequence[ListRow], gathered: SetListBuilder) -> tuple[ListRow, ...]:
    """Take the lines above sets side by side, where nothing else stands in their block, for names of the list."""
    are_names = all(could_name_list(_text(row)) and not _is_something_else(row) for row in rows)
    has_one_cell = all(sum(map(bool, row.cells)) == 1 for row in rows)
    if gathered.has_lines or len(rows) > HEAD_LINES or not has_one_cell or not are_names:
        return tuple(rows)
    for row in rows:
        gathered.title_of_list(row)
    return ()


def _names_list(rows: Sequence[ListRow]) -> bool:
    """Return whether the first line is a head: in larger letters or right above a set, and unlike a song."""
    if len(rows) < 2:
        return False
    first, text = rows[0], _text(rows[0])
    parted = first.is_large and not rows[1].is_large
    above_set = any(
        read_set(_text(row)) and all(date_in(_text(between)) for between in rows[1:at])
        for at, row in enumerate(rows[1 : HEAD_LINES + 1], start=1)
    )
    return (parted or above_set) and not _is_something_else(first) and could_name_list(text)


def could_name_list(text: str) -> bool:
    """Return whether a first line may be the list's name: a few words, no greeting, number, key or length."""
    if line_kinds.is_chat(text) or BULLET.match(text) or NUMBERED.match(text) or text[-1:] in ",:!?":
        return False
    ends_in_key = (end := key_at_end(text.rstrip(")]"), Notation.LETTERS)) and (
        end.is_strong or end.written[0] in "([" or end.before[-1:] in "-–:"
    )
    says_song = (ends_in_key or LENGTH_AT_END.match(text)) and not date_in(text)
    words = sum(any(map(str.isalnum, word)) for word in text.split())
    return 2 <= words <= MAX_WORDS and not says_song and not HAS_CAPO.search(text)


def _is_something_else(row: ListRow) -> bool:
    text = _text(row)
    return bool(
        read_heads(row.cells)
        or read_set(text)
        or line_kinds.about(text)
        or is_break(text)
        or line_kinds.is_rule(text)
        or line_kinds.mark_meaning(text)
    )


def _text(row: ListRow) -> str:
    return " ".join(cell for cell in row.cells if cell)
