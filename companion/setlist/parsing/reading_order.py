"""Bring the lines of a page into the order in which a person reads them: columns of print one after the other."""

import re
from collections import Counter
from collections.abc import Sequence

import msgspec

from companion.setlist.model import ListPage, ListRow, TextSpan
from companion.setlist.notation import Notation
from companion.setlist.parsing.cells import any_date_in
from companion.setlist.parsing.column_roles import read_heads
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.patterns import NUMBERED, UNFINISHED
from companion.setlist.parsing.pieces import read_piece
from companion.setlist.parsing.set_headings import read_heading
from companion.setlist.tidy import one_line, tidy, without_emphasis

FEWEST = 3  # lines in a column of print
BRIDGES = 0.06  # share of lines that may reach over a gap: a title above all columns, a long line
SONGS = 0.45  # share of a column's pieces that are a song by themselves, with a number or a key
HALF_A_LETTER = 6.0  # points; about the width of a letter
SAME_EDGE = 2.0  # pieces of a column begin no further apart: a J reaches to the left of a B
NEAR = 4 * HALF_A_LETTER  # between a number and its title
MAX_HEAD = 3  # words over a column; more are a title that goes on below
MAX_NAMES = 4  # lines above the columns
AT_EDGE = 2  # lines at the top and bottom of a page where its header and footer stand
_NUMBER = re.compile(r"^\(?\d{1,3}[.)]$")
_BARE_NUMBER = re.compile(r"^(?:(?:no|nr|num|n[°º]|#)\.?\s?)?\d{1,3}[a-d]?$", re.IGNORECASE)
_KEY_IN_BRACKET = re.compile(r"^[(\[][^()\[\]]{1,12}[)\]]$")
_BRACKET = re.compile(r"[(\[]([^()\[\]]{1,12})[)\]]$")


def in_reading_order(page: ListPage) -> ListPage:
    """Return the page with its columns of print under each other. Columns of a table stay as they are."""
    if page.is_grid or not page.rows or any(read_heads([span.text for span in row.spans]) for row in page.rows):
        return page
    rows: list[ListRow] = []
    for number in dict.fromkeys(row.place.page for row in page.rows):
        rows += _ordered([row for row in page.rows if row.place.page == number])
    return msgspec.structs.replace(page, rows=tuple(rows)) if rows != list(page.rows) else page


def page_edges(rows: Sequence[ListRow]) -> frozenset[int]:
    """Return which rows (from 0) are a header or footer that is on several pages, but for its first time."""
    pages = list(dict.fromkeys(row.place.page for row in rows))
    if len(pages) < 2:
        return frozenset()
    at_edge: list[int] = []
    for page in pages:
        here = [at for at, row in enumerate(rows) if row.place.page == page]
        edge = sorted({*here[:AT_EDGE], *here[-AT_EDGE:]})
        at_edge += [at for at in edge if not _is_item(rows[at]) and not read_heading(rows[at].text)]
    said = Counter(_without_digits(rows[at].text) for at in at_edge)
    return frozenset(at for at in at_edge if said[_without_digits(rows[at].text)] >= max(2, 0.6 * len(pages)))


def _without_digits(text: str) -> str:
    return re.sub(r"\d+", "0", text)


def _ordered(rows: list[ListRow]) -> list[ListRow]:
    """Return one page's rows column by column; unchanged if they are in no columns of print."""
    joined = [_with_numbers(row) for row in rows]
    for way in (joined, rows, [_with_keys(_with_numbers(row, _BARE_NUMBER)) for row in rows]):
        lefts = _columns_of_print(way)
        if len(lefts) > 1:
            rows = way
            break
    if len(lefts) < 2:
        return rows
    bounds = [*lefts[1:], float("inf")]
    heads = (at for at, row in enumerate(rows[:MAX_NAMES]) if len(row.spans) > 1 and _are_headings(row))
    first = next(heads, None)
    if first is None:
        first = next(
            at for at, row in enumerate(rows) if len({_column(span, bounds) for span in row.spans}) > 1 or _is_item(row)
        )
    above = [row for at, row in enumerate(rows) if at < first]
    columns: list[list[ListRow]] = [[] for _ in lefts]
    last = next(at for at in range(len(rows), first, -1) if not _is_below_columns(rows[at - 1], bounds))
    for row in rows[first:last]:
        for at, left in enumerate(lefts):
            spans = tuple(span for span in row.spans if _column(span, bounds) == at)
            if spans:
                columns[at].append(_part(row, spans, left, is_whole=len(spans) == len(row.spans)))
    _mark_heads(columns)
    return [*above, *(row for column in columns for row in column), *rows[last:]]


def _is_below_columns(row: ListRow, bounds: Sequence[float]) -> bool:
    """Return whether a line at the foot is no song, and reaches from one column into the next or names a day."""
    if len(row.spans) != 1 or _is_item(row):
        return False
    reaches = any(row.spans[0].begin < bound - SAME_EDGE < row.spans[0].end for bound in bounds)
    return reaches or (row.blank_before and any_date_in(row.text) is not None)


def _mark_heads(columns: Sequence[list[ListRow]]) -> None:
    """Part the columns, and mark the words in one line over all of them that are no songs: Aperitivo    Dopo cena."""
    firsts = [column[0] for column in columns if column]
    words = [row.cells[0].split() for row in firsts]
    stand_over = (
        len({row.place for row in firsts}) == 1
        and not any(_is_song(row.cells[0]) or UNFINISHED.search(row.cells[0]) for row in firsts)
        and all(len(said) <= MAX_HEAD for said in words)
        and all(len(column) > 1 and _is_song(column[1].cells[0]) for column in columns)
    )
    for number, column in enumerate(columns):
        if column:
            is_large = column[0].is_large or stand_over
            column[0] = msgspec.structs.replace(column[0], blank_before=number > 0, is_large=is_large)


def _with_numbers(row: ListRow, numbers: re.Pattern[str] = _NUMBER) -> ListRow:
    """Return a row with each number joined to the words after it, in a page whose numbers hang before its titles."""
    spans: list[TextSpan] = []
    for span in row.spans:
        before = spans[-1] if spans else None
        if before and numbers.match(before.text) and span.begin - before.end < NEAR:
            spans[-1] = msgspec.structs.replace(before, end=span.end, text=f"{before.text} {span.text}")
        else:
            spans.append(span)
    return msgspec.structs.replace(row, spans=tuple(spans))


def _with_keys(row: ListRow) -> ListRow:
    """Return a row with each bracket that holds a key joined to the words close before it."""
    spans: list[TextSpan] = []
    for span in row.spans:
        before = spans[-1] if spans else None
        if before and _KEY_IN_BRACKET.match(span.text) and span.begin - before.end < NEAR:
            spans[-1] = msgspec.structs.replace(before, end=span.end, text=f"{before.text} {span.text}")
        else:
            spans.append(span)
    return msgspec.structs.replace(row, spans=tuple(spans))


def _is_item(row: ListRow) -> bool:
    return any(read_heading(span.text) or _is_song(span.text) for span in row.spans)


def _are_headings(row: ListRow) -> bool:
    return all(read_heading(span.text) for span in row.spans)


def _part(row: ListRow, spans: tuple[TextSpan, ...], left: float, *, is_whole: bool) -> ListRow:
    """Return a row's part in one column, moved to the left edge."""
    moved = tuple(msgspec.structs.replace(span, begin=span.begin - left, end=span.end - left) for span in spans)
    words = tidy("  ".join(span.text for span in spans))
    text = row.text if is_whole else one_line(words)
    indent = round(moved[0].begin / HALF_A_LETTER, 1)
    return msgspec.structs.replace(
        row,
        cells=(without_emphasis(words),),
        text=text,
        spans=moved,
        indent=indent,
        blank_before=False,  # the distances of lines in other columns say nothing
    )


def _column(span: TextSpan, bounds: Sequence[float]) -> int:
    return next(at for at, bound in enumerate(bounds) if span.begin < bound - SAME_EDGE)


def _columns_of_print(rows: Sequence[ListRow]) -> list[float]:
    """Return the left edges of the columns that hold songs of their own; one if the page has no columns."""
    rows = _without_names(rows)
    spans = [span for row in rows for span in row.spans]
    if not spans:
        return []
    gaps = _gaps(spans, len(rows))
    edges = [min(span.begin for span in spans), *(end for _, end in gaps)]
    bounds = [*edges[1:], float("inf")]
    lefts = []
    for left, right in zip(edges, bounds, strict=True):
        inside = [span for span in spans if left - SAME_EDGE <= span.begin < right - SAME_EDGE]
        songs = sum(_is_song(span.text) for span in inside)
        heads = any(read_heading(span.text) for span in inside)
        named = [span.text for span in inside if any(letter.isalpha() for letter in span.text)]
        words = sum(not read_piece(text, Notation.LETTERS).says_something for text in named)
        is_print = songs >= SONGS * len(inside) or (heads and words >= 0.5 * len(inside))
        if len(inside) >= FEWEST and is_print:
            lefts.append(left)
    return lefts


def _without_names(rows: Sequence[ListRow]) -> Sequence[ListRow]:
    """Return the rows without the lines at the top that name the list: they may stand over every column."""
    first = 0
    while first < min(len(rows), MAX_NAMES) and len(rows[first].spans) == 1 and not _is_item(rows[first]):
        first += 1
    return rows[first:]


def _is_song(text: str) -> bool:
    """Return whether a piece is a song by itself: a number before words, or a key after them."""
    if found := NUMBERED.match(text):
        return len(text) - found.end() > 1
    bracket = _BRACKET.search(text)
    if bracket and read_piece(bracket[1], Notation.LETTERS).is_fact:
        return bracket.start() > 1
    end = key_at_end(text, Notation.LETTERS)
    return bool(end and len(end.before) > 2)


def _gaps(spans: Sequence[TextSpan], lines: int) -> list[tuple[float, float]]:
    """Return the strips from top to bottom that hardly any piece covers, from left to right."""
    edges = sorted({edge for span in spans for edge in (span.begin, span.end)})
    covered = [0] * len(edges)
    where = {edge: at for at, edge in enumerate(edges)}
    for span in spans:
        for at in range(where[span.begin], where[span.end]):
            covered[at] += 1
    few = max(1, BRIDGES * lines)
    found: list[tuple[float, float]] = []
    for at in range(len(edges) - 1):
        if covered[at] <= few and any(span.end <= edges[at] for span in spans):
            if found and found[-1][1] == edges[at]:
                found[-1] = (found[-1][0], edges[at + 1])
            else:
                found.append((edges[at], edges[at + 1]))
    return [gap for gap in found if sum(abs(span.begin - gap[1]) < SAME_EDGE for span in spans) >= FEWEST]
