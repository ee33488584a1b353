"""The head above the songs: the list's name and date, where the first line stands out as a head."""

from collections.abc import Sequence
from typing import Final

from companion.show.lists import headings
from companion.show.lists.account import Place, Row
from companion.show.lists.columns import read_heads
from companion.show.lists.fields import date_in
from companion.show.lists.gathering import Gathering
from companion.show.lists.line_signs import BULLET, NUMBERED
from companion.show.lists.songline import read_song
from companion.show.lists.style import Style

MOST_WORDS: Final = 8
HEAD_LINES: Final = 3


def without_head(rows: Sequence[Row], gathered: Gathering) -> tuple[Row, ...]:
    """Take the lines that name the list or hold its date; return the others. Only the first page has a head."""
    if not rows or gathered.has_lines or not _names_list(rows):
        return tuple(rows)
    gathered.title_of_list(rows[0])
    taken = 1
    sets = [at for at, row in enumerate(rows[: HEAD_LINES + 1]) if headings.read_set(_text(row))]
    while taken < min([*sets, HEAD_LINES]) and sets and date_in(_text(rows[taken])):
        gathered.title_of_list(rows[taken])
        taken += 1
    return tuple(rows[taken:])


def _names_list(rows: Sequence[Row]) -> bool:
    """Return whether the first line is a head: in larger letters or right above a set, and unlike a song."""
    if len(rows) < 2:
        return False
    first, text = rows[0], _text(rows[0])
    parted = first.is_large and not rows[1].is_large
    above_set = any(
        headings.read_set(_text(row)) and all(date_in(_text(between)) for between in rows[1:at])
        for at, row in enumerate(rows[1 : HEAD_LINES + 1], start=1)
    )
    return (parted or above_set) and not _is_something_else(first) and could_name_list(text)


def could_name_list(text: str) -> bool:
    """Return whether a first line may be the list's name: a few words, no greeting, number, key or length."""
    if headings.is_chat(text) or BULLET.match(text) or NUMBERED.match(text) or text[-1:] in ",:!?":
        return False
    draft = read_song(Row(Place(0), (text,), text), Style())
    says_song = (draft.key or draft.length_s or draft.tempo_bpm) and not date_in(text)
    return 2 <= len(text.split()) <= MOST_WORDS and not says_song


def _is_something_else(row: Row) -> bool:
    text = _text(row)
    return bool(
        read_heads(row.cells)
        or headings.read_set(text)
        or headings.about(text)
        or headings.is_break(text)
        or headings.is_rule(text)
        or headings.mark_meaning(text)
    )


def _text(row: Row) -> str:
    return " ".join(cell for cell in row.cells if cell)
