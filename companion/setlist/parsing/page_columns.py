"""Find columns by position, in a PDF or aligned text: pieces of text above each other make a column."""

import bisect
import itertools
import re
from collections.abc import Sequence

import msgspec

from companion.setlist.model import ListPage, ListRow, TextSpan
from companion.setlist.notation import Notation
from companion.setlist.parsing.cells import length_cell, tempo_cell
from companion.setlist.parsing.column_roles import read_heads
from companion.setlist.parsing.envelopes import is_chat_log
from companion.setlist.parsing.key_cells import key_cell, plain_key
from companion.setlist.parsing.line_forms import facts_in
from companion.setlist.parsing.patterns import BARE_NUMBER, NUMBERED, TAIL, UNFINISHED
from companion.setlist.parsing.run_over import keys_apart, keys_in_their_column
from companion.setlist.parsing.sender_lines import sender_lines
from companion.setlist.parsing.set_headings import clock_in_front, read_set
from companion.setlist.readers.limits import MAX_COLUMNS
from companion.setlist.tidy import tidy, without_emphasis

SIGN = re.compile(
    r"(?:^|\s)[/|=](?:\s|$)|^[-–—]\s+\S.*\s[-–—]\s"
)  # a sign that separates pieces: the wide gaps beside it are no columns
_DASHED = re.compile(r"[-–—]\s")  # behind a key that is padded to two letters: G  - Moth
MIN_THREE = 0.7  # share of the lines in columns with three pieces or more
MIN_NUMBERED = 0.6  # share of a column's cells; notes stand between the songs
_MARKS = re.compile(r"^(?:#?\d{1,3}[.):]?|[-–—*•·+>▪◦‣●○∙►▶»⁃∗o])$")
RULES = " -–—=_*"  # a line of these divides; a row of dots leads to the next column
MAX_SIGNED = 0.5
MIN_SONGS = 0.5  # share of a column's cells that end in a key; the others are headings and titles that go on
LEAST_ROWS = 3  # a page counts as columns where at least this many rows have two pieces or more
LEAST_NAMED = 2  # the names of the columns and one song, where other tables of the page have names too
LEAST_SHARE = 0.4  # and at least this share of all rows
MAX_JOINED = 0.2  # share of rows that may have two pieces in one column; beyond it the gaps are not column gaps
WIDE_NAMES = 5  # columns
MAX_HEAD = 3  # words over a column; more are a title that goes on below
MAX_ABOVE = 8  # lines above the names of the columns
BRIDGES = 0.08  # share of a column's rows that may reach into the next: long titles, headings


def in_columns(page: ListPage) -> ListPage:
    """Return the page as a grid where its pieces are in columns; otherwise as it is."""
    if page.is_grid or is_chat_log([row.text for row in page.rows]):
        return page
    page = _with_marks_joined(page)
    wide = [row for row in page.rows if len(row.spans) > 1]
    signed = sum(any(SIGN.search(span.text) for span in row.spans[1:]) for row in wide)
    named = sum(bool(facts_in(row.cells[0], Notation.LETTERS)) for row in wide)
    timed = sum(len(row.spans) == 2 and clock_in_front(f"{row.spans[0].text} x")[0] is not None for row in wide)
    padded = sum(plain_key(row.spans[0].text) is not None and bool(_DASHED.match(row.spans[1].text)) for row in wide)
    sent = len(sender_lines([row.text for row in page.rows], [row.blank_before for row in page.rows]))
    if not wide or max(signed, named, timed, padded, sent) > MAX_SIGNED * len(wide):
        return page
    cells = _tables(keys_apart([_columns_typed(row.spans) for row in page.rows]))
    if not cells:
        return _counted_on(page)
    cells = keys_in_their_column([row.spans for row in page.rows], cells)
    if columns := _columns_of_songs(cells):
        return _one_below_the_other(page, cells, columns)
    rows = tuple(
        msgspec.structs.replace(row, cells=tuple(without_emphasis(tidy(cell)) for cell in found))
        for row, found in zip(page.rows, cells, strict=True)
    )
    return msgspec.structs.replace(page, rows=rows, is_grid=True)


def _with_marks_joined(page: ListPage) -> ListPage:
    """Return the page without the gaps behind its numbers or bullets, if hardly another gap is in its lines."""
    marked = [row for row in page.rows if len(row.spans) > 1 and _MARKS.match(row.spans[0].text.strip())]
    if page.is_grid or len(marked) < LEAST_ROWS or any(len(row.spans) > 2 for row in marked):
        return page
    if sum(len(row.spans) > 1 for row in page.rows) > len(marked) / (1 - MAX_JOINED):
        return page
    joined = {
        id(row): (TextSpan(row.spans[0].begin, row.spans[1].end, " ".join(span.text.strip() for span in row.spans)),)
        for row in marked
    }
    rows = tuple(msgspec.structs.replace(row, spans=joined.get(id(row), row.spans)) for row in page.rows)
    return msgspec.structs.replace(page, rows=rows)


def _counted_on(page: ListPage) -> ListPage:
    """Return the page's columns one below the other, if their numbers count on: 1 to 8 at the left, 9 to 16 beside."""
    lines = [row.spans for row in page.rows]
    gutters = _gutters([line for line in lines if len(line) > 1 and NUMBERED.match(line[0].text)], ())
    cells = [_cells(line, gutters) for line in lines]
    starts = numbered_columns(cells)
    if len(starts) < 2:
        return page
    bounds = [*starts, len(gutters) + 1]
    joined = [
        tuple(_joined([cell for cell in found[first:last] if cell]) for first, last in itertools.pairwise(bounds))
        for found in cells
    ]
    return _one_below_the_other(page, joined, range(len(starts)))


def numbered_columns(rows: Sequence[Sequence[str]]) -> list[int]:
    """Return which columns hold numbered songs, if each counts on where the one before ends; none otherwise."""
    starts: list[int] = []
    last = 0
    for column in range(max(map(len, rows), default=0)):
        cells = [row[column] for row in rows if column < len(row) and row[column].strip()]
        numbers = [int(found[1]) for cell in cells if (found := NUMBERED.match(cell) or BARE_NUMBER.match(cell))]
        if len(numbers) < max(LEAST_ROWS, MIN_NUMBERED * len(cells)):
            continue
        if numbers != list(range(last + 1, last + 1 + len(numbers))):
            return []
        starts.append(column)
        last = numbers[-1]
    return starts


def _columns_of_songs(cells: Sequence[tuple[str, ...]]) -> list[int]:
    """Return the columns if each of several holds songs with their own keys: Moth (G)      Weeds (D)."""
    width = max(map(len, cells), default=0)
    columns = [[row[at] for row in cells if at < len(row) and row[at].strip()] for at in range(width)]
    filled = [at for at, column in enumerate(columns) if column]
    are_songs = all(
        sum(map(_ends_in_bracketed_key, columns[at])) >= max(LEAST_ROWS, MIN_SONGS * len(columns[at])) for at in filled
    )
    return filled if len(filled) > 1 and are_songs else []


def _ends_in_bracketed_key(cell: str) -> bool:
    found = TAIL.match(cell.strip())
    return bool(found) and any(
        plain_key(found[2] if found else "", notation=notation) for notation in (Notation.GERMAN, Notation.SYLLABLES)
    )


def _one_below_the_other(page: ListPage, cells: Sequence[tuple[str, ...]], columns: Sequence[int]) -> ListPage:
    """Return the page's lines column by column, the first of each parted from the last of the one before."""
    heads = next((at for at, found in enumerate(cells) if sum(bool(cell.strip()) for cell in found) > 1), 0)
    below = cells[heads + 1] if heads + 1 < len(cells) else ()
    stand_over = all(len(cell.split()) <= MAX_HEAD and not UNFINISHED.search(cell) for cell in cells[heads])
    if any(map(_ends_in_bracketed_key, cells[heads])) or not stand_over or not all(map(_ends_in_bracketed_key, below)):
        heads = -1  # no words stand over the columns
    made: list[ListRow] = []
    for column in columns:
        parted = column > columns[0]
        for at, (row, found) in enumerate(zip(page.rows, cells, strict=True)):
            if column < len(found) and found[column].strip():
                text = without_emphasis(tidy(found[column].strip()))
                blank, is_large = row.blank_before or parted, row.is_large or at == heads
                one = msgspec.structs.replace(row, cells=(text,), text=text, spans=(), indent=0.0, is_large=is_large)
                made.append(msgspec.structs.replace(one, blank_before=blank))
                parted = False
    return msgspec.structs.replace(page, rows=tuple(made))


def _tables(spans: Sequence[tuple[TextSpan, ...]]) -> list[tuple[str, ...]] | None:
    """Return each line's cells; where columns are named again below, each table has columns of its own."""
    named = [at for at, line in enumerate(spans) if len(line) > 1 and read_heads([span.text for span in line])]
    if len(named) > 1:
        bounds = [0, *named[1:], len(spans)]
        tables = [grid(spans[first:last], least=LEAST_NAMED) for first, last in itertools.pairwise(bounds)]
        if all(tables):
            return [cells for table in tables for cells in table or ()]
    found = grid(spans)
    below = grid(spans[named[0] :]) if found is None and named and named[0] <= MAX_ABOVE else None
    if below is None or found is not None:
        return found
    return [*((" ".join(span.text for span in line),) for line in spans[: named[0]]), *below]


def _columns_typed(spans: Sequence[TextSpan]) -> tuple[TextSpan, ...]:
    """Join pieces that only typed spaces part, but keys and lengths at the end, and tempos beside them, stay apart."""
    made: list[TextSpan] = []
    run: list[TextSpan] = []
    for span in [*spans, None]:
        if run and (span is None or not span.is_typed):
            made += _typed_run(run)
            run = []
        if span is not None:
            run.append(span)
    return tuple(made)


def _typed_run(typed: Sequence[TextSpan]) -> list[TextSpan]:
    first = len(typed)
    while first > 1 and (says_key_or_length(said := typed[first - 1].text) or tempo_cell(said, named=True)):
        first -= 1
    if not any(says_key_or_length(span.text) for span in typed[first:]):
        first = len(typed)  # a number alone may belong to the title
    whole = typed[:first]
    return [TextSpan(whole[0].begin, whole[-1].end, " ".join(span.text for span in whole)), *typed[first:]]


def says_key_or_length(text: str) -> bool:
    """Return whether the text is a key, in English or German, or a length, and nothing else."""
    text = text.strip()
    return bool(key_cell(text) or plain_key(text, notation=Notation.GERMAN) or length_cell(text))


def grid(lines: Sequence[Sequence[TextSpan]], least: int = LEAST_ROWS) -> list[tuple[str, ...]] | None:
    """Return each line's cells, empty ones included, or None if the lines do not form columns.

    Columns are divided where few pieces lie; a piece goes to the column that it covers most.
    """
    wide = [line for line in lines if len(line) > 1]
    if len(wide) < least or len(wide) < LEAST_SHARE * len(lines):
        return None
    names = next((line for line in wide if read_heads([span.text for span in line])), ())
    full = [line for line in wide if len(line) > 2 or len(names) < WIDE_NAMES]  # a remark may reach across columns
    inside = [line for line in full if not _crosses_columns(line)]
    if inside and sum(len(line) > 2 for line in inside) >= MIN_THREE * len(inside):
        full = inside
    gutters = _gutters(full, names)
    if not gutters or len(gutters) >= MAX_COLUMNS:
        return None
    cells = [_cells(line, gutters) for line in lines]
    joined = sum(sum(map(bool, row)) < len(line) for row, line in zip(cells, lines, strict=True))
    return cells if joined <= MAX_JOINED * len(lines) else None


def _crosses_columns(line: Sequence[TextSpan]) -> bool:
    """Return whether a line's pieces are in no column: a heading, a rule, a title with dashes between its words."""
    return read_set(line[0].text) is not None or any(not span.text.strip(RULES) for span in line)


def _gutters(lines: Sequence[Sequence[TextSpan]], names: Sequence[TextSpan]) -> list[float]:
    """Return the middles of the gaps between columns: few pieces lie there, with pieces on both sides.

    ``names``: the names of the columns, if they have any; they part columns that are nearly empty.
    """
    edges = sorted({edge for line in lines for span in line for edge in (span.begin, span.end)})
    covered = [0] * len(edges)
    for line in lines:
        for span in line:
            for index in range(bisect.bisect_left(edges, span.begin), bisect.bisect_left(edges, span.end)):
                covered[index] += 1
    few = max(BRIDGES * len(lines), 0.5)
    gutters: list[float] = []
    index = 0
    while index < len(edges) - 1:
        if covered[index] > few:
            index += 1
            continue
        first = index
        while index < len(edges) - 1 and covered[index] <= few:
            index += 1
        deepest = min(covered[first:index])
        parts = [at for at in range(first, index) if covered[at] == deepest]
        widest = max(parts, key=lambda at: edges[at + 1] - edges[at])
        middle = (edges[widest] + edges[widest + 1]) / 2
        if edges[0] < middle < edges[-1] and (_parts_lines(lines, middle) or _parts_lines([names], middle, least=1)):
            gutters.append(middle)
    return gutters


def _parts_lines(lines: Sequence[Sequence[TextSpan]], middle: float, least: int = LEAST_ROWS) -> bool:
    parted = sum(
        any(span.end <= middle for span in line) and any(span.begin >= middle for span in line) for line in lines
    )
    return parted >= least


def _cells(line: Sequence[TextSpan], gutters: list[float]) -> tuple[str, ...]:
    cells: list[list[str]] = [[] for _ in range(len(gutters) + 1)]
    for span in line:
        first, last = bisect.bisect_right(gutters, span.begin), bisect.bisect_left(gutters, span.end)
        bounds = [float("-inf"), *gutters, float("inf")]
        most = (
            max(range(first, last + 1), key=lambda at: min(span.end, bounds[at + 1]) - max(span.begin, bounds[at]))
            if last > first
            else first
        )
        cells[first if last > first and span.begin < gutters[first] - (span.end - span.begin) * 0.1 else most].append(
            span.text.strip()
        )
    return tuple(_joined(parts) for parts in cells)


def _joined(parts: Sequence[str]) -> str:
    """Join the pieces in one cell. What begins with a small letter, a key or a length keeps a wide gap in front."""
    return "".join(
        f"{'  ' if at and (part[:1].islower() or says_key_or_length(part)) else ' ' if at else ''}{part}"
        for at, part in enumerate(parts)
    )
