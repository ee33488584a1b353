"""Find the headings of sets in a grid by their place: one cell between blocks of songs, in any words."""

import itertools
import re
import statistics
from collections.abc import Collection, Sequence
from typing import Final

from companion.setlist.model import ListRow
from companion.setlist.notation import Notation
from companion.setlist.parsing import line_kinds
from companion.setlist.parsing.cells import clock_cell
from companion.setlist.parsing.column_roles import Column, Head, read_heads
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.key_cells import key_cell
from companion.setlist.parsing.patterns import BULLET, NUMBERED, UNFINISHED
from companion.setlist.parsing.remarks import is_remark
from companion.setlist.parsing.set_headings import (
    clock_in_front,
    is_break,
    is_without_music,
    read_heading,
    read_set,
)
from companion.setlist.parsing.words_of_events import is_event, is_spoken_part, may_be_event, names_event

FEWEST_SONGS: Final = 2  # rows of a song below a heading
MAX_LONE: Final = 0.34  # share of the rows; where more have one cell, songs have
LONGEST: Final = 40
MAX_WORDS: Final = 6
MIN_PARTS: Final = 0.4  # share of the words in a column that name a part of an evening
_BRACKET: Final = re.compile(r"\([^()]*\)$")  # DRINKS (acoustic trio)
_SENTENCES: Final = re.compile(r"[^\W\d_]{3}[.!?]+ \S.*[.!?]$")  # NO ANTHEM. NO HATS.
MOST_APART: Final = 0.34  # share of the rows with an empty row above
MOST_FULL: Final = 0.6  # share of the rows with more than words and a time
WORDS_AND_TIME: Final = 2  # cells
FEWEST_TIMED: Final = 4  # waits
LONG_MIN, MUCH_LATER = 15, 3  # minutes, and times as long as the usual wait
FEWEST_SMALL: Final = 0.7  # share of the titles that are not in capitals


def sections_of(rows: Sequence[ListRow], heads: Sequence[Head | None], named: Collection[int]) -> frozenset[int]:
    """Return which rows (from 0) head a set, though no word of them says so. ``named``: rows of column names."""
    first = next((at for at, row in enumerate(rows) if at in named or _is_full(row)), len(rows))
    lone = [at for at, row in enumerate(rows) if _may_head(row) and at not in named and at >= first - 1]
    lone = [at for at in lone if not _begins_with_key(rows[at], heads)]
    songs = sum(_is_full(row) and at not in named for at, row in enumerate(rows))
    if not lone or len(lone) > MAX_LONE * songs:
        return frozenset()
    below = {at: _songs_below(rows, at, named) for at in lone}
    known = [at for at, row in enumerate(rows) if _is_known(row)]
    sure = [*known, *(at for at in lone if below[at] >= FEWEST_SONGS)]
    headed = [
        at
        for at in lone
        if below[at] >= FEWEST_SONGS or (below[at] and any(are_alike(rows[at], rows[one]) for one in sure))
    ]
    if len(headed) + len(known) < 2:
        headed = [at for at in headed if at + 1 in named or not is_without_music("".join(rows[at].cells))]
    inside = [at for at in headed if at >= first]
    is_regular = len(headed) == len([at for at in lone if at >= first]) + (len(headed) - len(inside))
    found = {
        at for at in inside if _stands_out(rows, at, heads, named) and (at + 1 in named or not _is_event(rows[at]))
    }
    found.update(at for at in inside if any(are_alike(rows[at], rows[one]) for one in found))
    found.update(
        at
        for at in inside
        if not _is_event(rows[at]) and any(are_alike(rows[at], rows[one]) for one in known if one >= first)
    )
    if (
        is_regular
        and len(inside) > 1
        and first in named
        and inside[0] == first + 1
        and not all(_is_event(rows[at]) for at in inside)
    ):
        found.update(inside)  # the first stands right below the names of the columns
    worded = [at for at in headed if read_heading("".join(rows[at].cells)) is not None]
    if len(worded) > 1:
        found.update(at for at in worded if at in inside)  # before tea, and after tea
    above = [at for at in headed if at < first]
    others = found | {at for at in known if at > first}
    if above and others and _heads_too(rows, above[0], others):
        found.update(above)
    return frozenset(found)


def headings_with_times(rows: Sequence[ListRow], named: Collection[int], timed: Collection[int]) -> frozenset[int]:
    """Return which of the rows that only name a time and words head the songs below them; the others are events."""
    heading = (at for at in timed if _may_head(rows[at]) and not _is_event(rows[at]))
    return frozenset(at for at in heading if _songs_below(rows, at, named)) | _like_sets(rows, named)


def _like_sets(rows: Sequence[ListRow], named: Collection[int]) -> frozenset[int]:
    """Return which rows hold words and a time in the cells where headings do: Midnight | 0:00, Set 2 | 21:30."""
    timed = {at: _filled(row) for at, row in enumerate(rows) if _is_words_and_time(row)}
    of_sets = {places for at, places in timed.items() if any(map(read_set, rows[at].cells))}
    return frozenset(
        at
        for at, places in timed.items()
        if places in of_sets and not any(map(read_set, rows[at].cells)) and _songs_below(rows, at, named)
    )


def _filled(row: ListRow) -> tuple[int, ...]:
    return tuple(at for at, cell in enumerate(row.cells) if cell)


def _is_words_and_time(row: ListRow) -> bool:
    filled = [cell for cell in row.cells if cell]
    is_timed = len(filled) == WORDS_AND_TIME and any(clock_cell(cell) is not None for cell in filled)
    return is_timed and not any(map(NUMBERED.match, filled))


def _may_head(row: ListRow) -> bool:
    """Return whether a row holds one cell with a few words that nothing else explains."""
    filled = [cell for cell in row.cells if cell]
    if len(filled) != 1 or row.is_small:
        return False
    text = filled[0].strip()
    letters = sum(letter.isalpha() for letter in text)
    is_short = letters > 2 and len(text) <= LONGEST and len(text.split()) <= MAX_WORDS
    if (
        not is_short
        or (text[:1].islower() and not read_heading(text))
        or text[-1:] in ".,;?!"
        or UNFINISHED.search(text)
    ):
        return False
    if "~" in text or BULLET.match(text) or NUMBERED.match(text) or key_cell(text) or read_set(text):
        return False
    if key_cell(text.split()[0]) and " - " in text:
        return False  # a song whose columns run together
    is_part = read_heading(text) is not None
    if not is_part and (is_event(text) or is_break(text) or is_remark(text)):
        return False
    return not (
        line_kinds.is_rule(text)
        or line_kinds.is_chat(text)
        or line_kinds.is_total(text)
        or line_kinds.about(text)
        or line_kinds.mark_meaning(text)
        or line_kinds.is_date(text)
    )


def _begins_with_key(row: ListRow, heads: Sequence[Head | None]) -> bool:
    """Return whether a key and a title run together in the column of the keys: F#m Moth."""
    at = next(at for at, cell in enumerate(row.cells) if cell)
    head = heads[at] if at < len(heads) else None
    return head is not None and head.column is Column.KEY and key_cell(row.cells[at].split()[0]) is not None


def _is_known(row: ListRow) -> bool:
    """Return whether a row of one cell is the heading of a set by its words."""
    return sum(map(bool, row.cells)) == 1 and read_set("".join(row.cells)) is not None


def _is_event(row: ListRow) -> bool:
    """Return whether the words may name an event without music: Prayers; Late Bar is a set beside Family Show."""
    text = "".join(row.cells)
    return read_heading(text) is None and (names_event(text) or may_be_event(text) or is_spoken_part(text))


def are_alike(row: ListRow, other: ListRow) -> bool:
    """Return whether two rows of one cell look the same."""
    return _look(row) == _look(other)


def _look(row: ListRow) -> tuple[bool, bool, bool, bool, int]:
    timed = clock_in_front("".join(row.cells))[0] is not None
    return _in_capitals(row), row.is_large, row.blank_before, timed, len(row.cells)


def _is_full(row: ListRow) -> bool:
    return sum(map(bool, row.cells)) > 1


def _songs_below(rows: Sequence[ListRow], at: int, named: Collection[int]) -> int:
    """Return how many rows with several cells follow, up to the next with one; names of columns may come first."""
    count = 0
    for below in range(at + 1, len(rows)):
        if below in named:
            if count:
                break
        elif _is_full(rows[below]):
            count += 1
        elif not rows[below].is_small:  # a small line is a note on the song above
            break
    return count


def _stands_out(rows: Sequence[ListRow], at: int, heads: Sequence[Head | None], named: Collection[int]) -> bool:
    """Return whether a row differs from a song of which only the title is known."""
    row = rows[at]
    where = next(one for one, cell in enumerate(row.cells) if cell)
    title = next((one for one, head in enumerate(heads) if head and head.column is Column.TITLE), None)
    if at + 1 in named or row.is_large or row.blank_before:
        return True
    if title is not None and where < title:
        return True
    heading = read_heading("".join(row.cells))
    if is_beside_table(row, rows) or (heading is not None and heading.starts_min is not None):
        return True  # Afternoon (2.30)
    return (_in_capitals(row) and _titles_are_small(rows, title)) or _counts_again(rows, at, heads)


def is_beside_table(row: ListRow, rows: Sequence[ListRow]) -> bool:
    """Return whether a row is a paragraph beside a table, or one cell across it, where cells left empty are kept."""
    return len(row.cells) == 1 and any(len(other.cells) > 1 and not other.cells[-1] for other in rows)


def is_aside(row: ListRow, rows: Sequence[ListRow], notation: Notation) -> bool:
    """Return whether a row of one cell has no key, and stands apart or says sentences, where songs have a key."""
    text = "".join(row.cells)
    if sum(map(bool, row.cells)) != 1 or key_at_end(text, notation) is not None:
        return False
    return _stands_apart(row, rows) or _SENTENCES.search(text) is not None


def _stands_apart(row: ListRow, rows: Sequence[ListRow]) -> bool:
    """Return whether a row of one cell has an empty row on both sides, as few rows have."""
    at = next((at for at, other in enumerate(rows) if other is row), None)
    if at is None or not row.blank_before or sum(other.blank_before for other in rows) > MOST_APART * len(rows):
        return False
    return at + 1 == len(rows) or rows[at + 1].blank_before


def long_pauses(rows: Sequence[ListRow], key: int) -> frozenset[str]:
    """Return the texts of rows without a key, whose next row is due much later than others are: 20:55 | Curry night."""
    times = [_times_in(row) for row in rows]
    if sum(len(one) == 1 for one in times) < MOST_FULL * len(rows):
        return frozenset()
    due = [(at, one[0]) for at, one in enumerate(times) if len(one) == 1]
    waits = [(at, after - before) for (at, before), (_, after) in itertools.pairwise(due)]
    usual = statistics.median([wait for _, wait in waits]) if len(waits) >= FEWEST_TIMED else 0
    late = [at for at, wait in waits if wait >= LONG_MIN and wait >= MUCH_LATER * usual > 0]
    return frozenset(rows[at].text for at in late if not "".join(rows[at].cells[key : key + 1]).strip())


def _times_in(row: ListRow) -> list[int]:
    return [at for cell in row.cells if (at := clock_cell(cell)) is not None]


def columns_tell(rows: Sequence[ListRow]) -> list[ListRow]:
    """Return the rows that tell what the columns hold: no headings, and no lone words with a time among fuller rows."""
    fuller = sum(sum(map(bool, row.cells)) > WORDS_AND_TIME for row in rows)
    return [row for row in rows if not (fuller >= MOST_FULL * len(rows) and _is_words_and_time(row))]


def _in_capitals(row: ListRow) -> bool:
    return _BRACKET.sub("", "".join(row.cells)).isupper()


def _titles_are_small(rows: Sequence[ListRow], title: int | None) -> bool:
    cells = [row.cells[title] for row in rows if title is not None and title < len(row.cells) and _is_full(row)]
    return bool(cells) and statistics.mean(not cell.isupper() for cell in cells) >= FEWEST_SMALL


def _counts_again(rows: Sequence[ListRow], at: int, heads: Sequence[Head | None]) -> bool:
    """Return whether the numbers of the songs begin again at 1 below this row."""
    number = next((one for one, head in enumerate(heads) if head and head.column is Column.NUMBER), None)
    if number is None or at == 0:
        return False
    below = rows[at + 1].cells[number : number + 1]
    return bool(below) and below[0].strip(" .)") == "1"


def _heads_too(rows: Sequence[ListRow], above: int, found: Collection[int]) -> bool:
    """Return whether the row above the names of the first columns looks like the headings below."""
    first = rows[above]
    if above == 0 and not any(rows[at].is_large == first.is_large for at in found):
        return False
    return first.is_large == rows[min(found)].is_large and len(first.cells) == len(rows[min(found)].cells)


def with_sets(rows: Sequence[ListRow], heads: tuple[Head | None, ...]) -> tuple[Head | None, ...]:
    """Return the columns; one whose words stay the same for several songs, and name parts of an evening, is the set's.

    For example Welcome, Welcome, Dinner, Dinner, Dancing, Dancing; singers change more often, and name no part.
    """
    if any(head and head.column is Column.SET for head in heads):
        return heads
    songs = [row for row in rows if _is_full(row)]
    title = next((at for at, head in enumerate(heads) if head and head.column is Column.TITLE), 0)
    for at, head in enumerate(heads):
        words = [row.cells[at].strip() if at < len(row.cells) else "" for row in songs]
        if words and words[0] and at < title:  # each part may be named once, beside its first song
            words = _filled_down(words)
        may_be = head.column in (Column.OTHER, Column.NOTES) if head else at < title
        if may_be and _are_parts(words):
            return (*heads[:at], Head(Column.SET, head.name if head else ""), *heads[at + 1 :])
    return heads


def _filled_down(words: Sequence[str]) -> list[str]:
    filled: list[str] = []
    for word in words:
        filled.append(word or filled[-1])
    return filled


def _are_parts(words: Sequence[str]) -> bool:
    runs = [(word, sum(1 for _ in run)) for word, run in itertools.groupby(words)]
    names = {word for word, _ in runs}
    if not all(names) or not 1 < len(names) == len(runs) or sum(length > 1 for _, length in runs) < len(runs) - 1:
        return False
    named = sum(read_heading(word) is not None or is_event(word) or may_be_event(word) for word in names)
    return named >= MIN_PARTS * len(names)


def names_of_tables(rows: Sequence[ListRow]) -> frozenset[int]:
    """Return the rows of one cell that stand right above the names of columns, where columns are named again."""
    named = [at for at, row in enumerate(rows) if read_heads(row.cells)]
    lone = [at - 1 for at in named if at and sum(map(bool, rows[at - 1].cells)) == 1 and at - 1 not in named]
    is_all = len(named) > 1 and len(lone) == len(named)
    return (
        frozenset(at for at in lone if not read_set(" ".join(filter(None, rows[at].cells)))) if is_all else frozenset()
    )
