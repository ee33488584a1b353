"""Join titles that a page broke inside their column: the rest of the words stands alone on the next line."""

import itertools
from collections.abc import Collection, Iterator, Sequence

import msgspec

from companion.setlist.model import ListRow, TextSpan
from companion.setlist.notation import Notation
from companion.setlist.parsing.column_roles import Column, Head
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.key_cells import key_cell
from companion.setlist.parsing.patterns import NUMBERED, UNFINISHED
from companion.setlist.parsing.remarks import is_remark
from companion.setlist.parsing.set_headings import is_break, read_set

SAME_PLACE = 3.0  # points or letters; pieces that begin no further apart are in one column
HANGING = 40.0  # points or letters that the rest of a title may stand to the right
MAX_WRAPPED = 2  # lines that continue a title
MAX_WORDS = 2  # of a line that continues one whose last word does not leave it open
MAX_NUMBERED = 0.5  # share of the rows that have a number; the others may be second lines of titles
FEWEST_FULL = 3  # rows with a title and a key, so that a title alone stands out
TYPED = (Column.KEY, Column.NUMBER, Column.LENGTH, Column.TEMPO)


def join_wrapped_cells(
    rows: Sequence[ListRow], heads: Sequence[Head | None], apart: Collection[int] = ()
) -> Iterator[tuple[ListRow, tuple[ListRow, ...]]]:
    """Yield each row, whole, with the rows that continue it: below no drawn line, else by a guess.

    A title is taken for broken where its last word leaves it open, where the next word would not have fitted, or where
    the rest has no number though every song has one. ``apart``: rows, from 0, that are no songs and continue nothing.
    """
    at = next((at for at, head in enumerate(heads) if head and head.column is Column.TITLE), None)
    typed = [at for at, head in enumerate(heads) if head and head.column in TYPED]
    if at is not None and any(row.in_row_above for row in rows):
        yield from _drawn(rows, at, apart)
        return
    full = [row for row in rows if at is not None and _cell(row, at) and any(_cell(row, one) for one in typed)]
    if at is None or len(full) < FEWEST_FULL or len(full) * 2 < len(rows):
        yield from ((row, ()) for row in rows)
        return
    number = next((one for one, head in enumerate(heads) if head and head.column is Column.NUMBER), None)
    numbered = number is not None and _counts(rows, number, len(full))
    table = _Table(at, tuple(typed), number if numbered else None)
    edge = _right_edges(full, at)
    if any(_stands_alone(rows, index, table, edge) for index in range(1, len(rows))):
        edge = {}  # there are titles without a key: only an open last word tells
    index = 0
    while index < len(rows):
        whole, more = rows[index], list[ListRow]()
        for number, below in enumerate(rows[index + 1 : index + 1 + MAX_WRAPPED], start=index + 1):
            joined = _joined(whole, more[-1] if more else whole, below, table, edge)
            if joined is None or index in apart or number in apart:
                break
            whole = joined
            more.append(below)
        yield whole, tuple(more)
        index += 1 + len(more)


def _counts(rows: Sequence[ListRow], number: int, songs: int) -> bool:
    """Return whether the numbers count the songs one by one, so that words without a number continue a title."""
    said = [cell for row in rows if (cell := _cell(row, number).strip("#.) "))]
    if len(said) < max(FEWEST_FULL, MAX_NUMBERED * songs) or not all(map(str.isdecimal, said)):
        return False
    return all(after in (before + 1, 1) for before, after in itertools.pairwise(map(int, said)))


def _drawn(rows: Sequence[ListRow], at: int, apart: Collection[int]) -> Iterator[tuple[ListRow, tuple[ListRow, ...]]]:
    """Yield the rows of a table with lines between its rows; small words below a title are a row of their own."""
    index = 0
    while index < len(rows):
        more = [] if index in apart else _going_on(rows, index, apart)
        whole = rows[index]
        for below in more:
            whole = _merged(whole, below, at)
        yield whole, tuple(more)
        index += 1 + len(more)


def _going_on(rows: Sequence[ListRow], index: int, apart: Collection[int]) -> list[ListRow]:
    """Return the rows below that no drawn line parts from this one."""
    below = itertools.takewhile(
        lambda at: rows[at].in_row_above and not rows[at].is_small and at not in apart, range(index + 1, len(rows))
    )
    return [rows[at] for at in below]


class _Table(msgspec.Struct, frozen=True):
    """Where the titles stand, and the values; ``number``: the column in which every song has one, if there is one."""

    title: int
    typed: tuple[int, ...]
    number: int | None


def _merged(whole: ListRow, below: ListRow, at: int) -> ListRow:
    """Return a row with the words of the row below in its cells."""
    width = max(len(whole.cells), len(below.cells))
    cells = tuple(" ".join(filter(None, (_cell(whole, one), _cell(below, one)))) for one in range(width))
    spans = whole.spans if _cell(whole, at) else (*whole.spans, *below.spans)
    return msgspec.structs.replace(whole, cells=cells, text=f"{whole.text} / {below.text}", spans=spans)


def _joined(whole: ListRow, last: ListRow, below: ListRow, table: _Table, edge: dict[int, float]) -> ListRow | None:
    """Return the row with the words below it; None if they are not its own. ``last``: its last line so far."""
    at, typed = table.title, table.typed
    title, more = _cell(whole, at), _cell(below, at)
    if not title or not more or below.blank_before or _is_other(title) or _is_other(more) or NUMBERED.match(more):
        return None
    if len({whole.is_small, last.is_small, below.is_small}) > 1 or _holds_key(title) or _is_louder(more, title):
        return None
    above, words = _span(whole, at), _span(below, at)
    if above and words and words.begin < above.begin - SAME_PLACE:
        return None  # the rest of a title does not begin to its left
    if table.number is not None:
        return _joined_unnumbered(whole, below, table)
    is_up = _is_lone(below, at) and any(_cell(whole, one) for one in typed)
    is_down = _is_lone(whole, at) and any(_cell(below, one) for one in typed)
    is_down = is_down and not any(key_cell(cell) is None and at > one for one in typed if (cell := _cell(below, one)))
    if not (is_up or is_down):
        return None
    has_number = any(_cell(whole, one).rstrip(".)").isdecimal() for one in typed)  # each song of the list has one
    is_open = (
        UNFINISHED.search(title) or (is_up and has_number and bool(below.spans)) or _is_full(last, below, at, edge)
    )
    if not is_open or (not UNFINISHED.search(title) and (more[:1].islower() or is_remark(more))):
        return None
    return _merged(whole, below, at)


def _holds_key(title: str) -> bool:
    """Return whether a title ends in a key that does not fit into its column: MOTH Am; Moth Bb."""
    end = key_at_end(title, Notation.LETTERS)
    return end is not None and (end.is_strong or (end.before.isupper() and not end.written.isupper()))


def _is_louder(text: str, title: str) -> bool:
    """Return whether words in capitals stand below a title that is not: WALKOUT, of a set."""
    return text.isupper() and len(text) > 3 and not title.isupper()  # a key has three letters


def _joined_unnumbered(whole: ListRow, below: ListRow, table: _Table) -> ListRow | None:
    """Return the row with the words below it, where every song has a number and the words below have none."""
    title, more = _cell(whole, table.title), _cell(below, table.title)
    values = [one for one in table.typed if one != table.number]
    both = any(_cell(whole, one) and _cell(below, one) for one in values)
    if not _cell(whole, table.number or 0) or _cell(below, table.number or 0) or both:
        return None
    has_value, gets_value = (any(_cell(row, one) for one in values) for row in (whole, below))
    is_open = bool(UNFINISHED.search(title)) or (gets_value and not has_value)
    goes_on = has_value and (bool(below.spans) or not _is_lone(below, table.title))
    if not is_open and (not goes_on or more[:1].islower() or is_remark(more)):
        return None
    return _merged(whole, below, table.title)


def _stands_alone(rows: Sequence[ListRow], index: int, table: _Table, edge: dict[int, float]) -> bool:
    """Return whether a row that holds only a title is no part of the title above or below."""
    row, at, typed = rows[index], table.title, table.typed
    if not _is_lone(row, at) or not _cell(row, at) or _is_other(_cell(row, at)) or row.is_small or row.is_large:
        return False
    if not any(any(_cell(above, one) for one in typed) for above in rows[:index]):
        return False  # the head of the page
    beside = [rows[index - 1 : index + 1], rows[index : index + 2]]
    is_part = any(len(two) == 2 and _joined(two[0], two[0], two[1], table, edge) for two in beside)
    return not is_part and not _is_lone(rows[index - 1], at) and _cell(row, at)[:1].isupper()


def _is_full(last: ListRow, below: ListRow, at: int, edge: dict[int, float]) -> bool:
    """Return whether the first word below would not have fitted after the words above, in their column."""
    above, word = _span(last, at), _span(below, at)
    if above is None or word is None or len(word.text.split()) > MAX_WORDS:
        return False
    if SAME_PLACE < word.begin - above.begin <= HANGING:
        return True
    if abs(above.begin - word.begin) > SAME_PLACE:
        return False
    first = word.text.split()[0]
    width = (word.end - word.begin) / max(len(word.text), 1) * (len(first) + 1)
    limit = next((end for begin, end in edge.items() if abs(begin - above.begin) <= SAME_PLACE), None)
    return limit is not None and above.end + width > limit


def _right_edges(full: Sequence[ListRow], at: int) -> dict[int, float]:
    """Return how far the titles reach to the right, by where they begin."""
    edges: dict[int, float] = {}
    for span in filter(None, (_span(row, at) for row in full)):
        edges[round(span.begin)] = max(edges.get(round(span.begin), 0), span.end)
    return edges


def _span(row: ListRow, at: int) -> TextSpan | None:
    title = _cell(row, at)
    return next((span for span in row.spans if span.text.strip() and title.startswith(span.text.strip())), None)


def _is_lone(row: ListRow, at: int) -> bool:
    return not any(cell for one, cell in enumerate(row.cells) if one != at)


def _is_other(text: str) -> bool:
    return bool(read_set(text) or is_break(text) or key_cell(text) or text.startswith(("--", "**", "==")))


def _cell(row: ListRow, at: int) -> str:
    return row.cells[at].strip() if at < len(row.cells) else ""
