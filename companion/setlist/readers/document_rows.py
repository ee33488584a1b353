"""Collect a document's paragraphs, lists and tables while it is read, and return them as rows; cells stay cells."""

import re
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.setlist.model import ListPage, ListRow, SourceLine
from companion.setlist.parsing.page_columns import says_key_or_length
from companion.setlist.readers.limits import LONGEST_CELL, MAX_COLUMNS, MAX_ROWS, MAX_TEXT_BYTES
from companion.setlist.readers.refusal import no_list
from companion.setlist.tidy import one_line, tidy

STRUCK: Final = "~~"  # around text that is crossed out, as in Markdown
LONG_CELL: Final = 4  # paragraphs in one cell: a list side by side with another, not a cell of a table
LARGE: Final = 1.15  # times the usual size of letters; larger lines are headings
SMALL: Final = 0.87  # smaller ones are notes
FEWEST_PLAIN: Final = 3  # lines that are not bold, beside which bold ones stand out
MIN_KEYED: Final = 0.5  # share of these lines with a key
PARTS: Final = re.compile(r"[\s()\[\]|,;:/–—-]+")
MAX_SPAN: Final = MAX_COLUMNS  # columns or rows that one cell may cover


class DocumentLine(msgspec.Struct):
    """One paragraph, or one line of it."""

    text: str
    indent: int = 0  # levels of the list
    is_large: bool = False  # a heading
    is_small: bool = False
    quoted: int = 0  # how many times a mail quotes it
    is_bold: bool = False  # some of it
    is_plain: bool = False  # some of it is not bold
    size: float = 0.0  # of its largest letters, in any unit; 0 if it is not known
    comments: list[str] = []


class DocumentTable(msgspec.Struct):
    """A table: rows of cells, each cell its lines."""

    rows: list[list[list[DocumentLine]]] = []


class DocumentRows:
    """A document while it is read. Text that is not in a paragraph begins one."""

    def __init__(self, shown: str) -> None:
        self._shown = shown
        self._blocks: list[DocumentLine | DocumentTable] = []
        self._tables: list[DocumentTable] = []  # the table being read, and those that it is nested in
        self._cell: list[DocumentLine] | None = None
        self._pieces: list[tuple[str, bool]] = []
        self._next, self._label = DocumentLine(""), ""
        self._size = 0
        self._wide = 0  # columns that the last cell of this row covers besides its own; none follows it yet
        self._covered: dict[int, int] = {}  # columns that a cell above covers, and for how many rows more

    # ------------------------------------------------------------------ paragraphs

    def says(self, text: str, *, is_struck: bool = False, is_bold: bool = False, size: float = 0.0) -> None:
        """Add text to the paragraph. A newline in it ends a line. ``size``: of its letters, in any unit."""
        self._size += len(text)
        if self._size > MAX_TEXT_BYTES:
            most = MAX_TEXT_BYTES // 1024
            raise no_list(self._shown, f"more than {most} KiB of text; a set list has about ten", "the list alone")
        first, *others = text.split("\n")
        self._pieces.append((first, is_struck))
        self._sees(first, is_bold=is_bold, size=size)
        for line in others:
            self._end_line()
            self._pieces.append((line, is_struck))
            self._sees(line, is_bold=is_bold, size=size)

    def _sees(self, text: str, *, is_bold: bool, size: float) -> None:
        """Keep how letters look that are added to the line."""
        if text.strip():
            said = self._next
            said.size, said.is_bold, said.is_plain = (
                max(said.size, size),
                said.is_bold or is_bold,
                said.is_plain or not is_bold,
            )

    def comment(self, text: str) -> None:
        """Attach a comment to the paragraph."""
        if said := one_line(tidy(text))[:LONGEST_CELL]:
            self._next.comments = [*self._next.comments, said]

    def begin_paragraph(self, *, is_large: bool = False, indent: int = 0, label: str = "", quoted: int = 0) -> None:
        """End the paragraph before and begin one."""
        self.end_paragraph()
        self._next = DocumentLine("")
        self.describe(is_large=is_large, indent=indent, label=label, quoted=quoted)

    def describe(self, *, is_large: bool = False, indent: int = 0, label: str = "", quoted: int = 0) -> None:
        """Describe the paragraph before its text. ``label``: what is shown before it, such as a list's number."""
        self._next.indent, self._next.is_large, self._next.quoted = indent, is_large, quoted
        self._label = label

    def indent(self, levels: int) -> None:
        """Indent the paragraph, where that is known only after its text."""
        self._next.indent = levels

    @property
    def has_text(self) -> bool:
        """Return whether the paragraph has any text yet."""
        return any(text.strip() for text, _ in self._pieces)

    def end_paragraph(self) -> None:
        """End the paragraph; nothing if it has no text at all."""
        if any(text for text, _ in self._pieces):
            self._end_line()
        self._pieces, self._next, self._label = [], DocumentLine(""), ""

    def empty_line(self) -> None:
        """End the paragraph, and leave an empty line after it."""
        self.end_paragraph()
        self._add(DocumentLine(""))

    def _end_line(self) -> None:
        said = self._next
        said.text = _with_struck(self._pieces)
        if said.text.strip() and self._label:
            said.text, self._label = f"{self._label} {said.text}", ""
        self._pieces = []
        self._add(said)
        self._next = DocumentLine("", said.indent, is_large=said.is_large, quoted=said.quoted)

    def _add(self, line: DocumentLine) -> None:
        if self._cell is not None:
            self._cell.append(line)
            return
        self._blocks.append(line)
        if len(self._blocks) > MAX_ROWS:
            raise no_list(self._shown, f"more than {MAX_ROWS} lines; a set list has a hundred", "the list alone")

    # ------------------------------------------------------------------ tables

    def begin_table(self) -> None:
        """Begin a table. One inside a cell makes the outer table a mere layout: its cells become paragraphs."""
        self.end_paragraph()
        if self._tables:
            self._blocks += _lines_of(self._tables[-1])
            self._tables[-1].rows = []
        self._tables.append(DocumentTable())
        self._cell, self._covered = None, {}

    def end_table(self) -> None:
        """End the table."""
        self.end_paragraph()
        if self._tables:
            self._blocks.append(self._tables.pop())
            self._cell, self._covered = None, {}

    def begin_row(self) -> None:
        """Begin a row of the table."""
        self.end_paragraph()
        self._cell, self._wide = None, 0
        if self._tables:
            if sum(len(table.rows) for table in self._tables) >= MAX_ROWS:
                raise no_list(self._shown, f"more than {MAX_ROWS} rows; a set list has about a hundred")
            self._tables[-1].rows.append([])

    def begin_cell(self, columns: int = 1, rows: int = 1) -> None:
        """Begin a cell that covers this many columns and rows."""
        self.end_paragraph()
        if not self._tables:
            return
        if not self._tables[-1].rows:
            self._tables[-1].rows.append([])
        row = self._tables[-1].rows[-1]
        row += [[] for _ in range(self._wide)]
        self._wide = 0
        while self._covered.get(len(row), 0) > 0:
            self._covered[len(row)] -= 1
            row.append([])
        self._cell = []
        if rows <= 1:
            row.append(self._cell)
            self._wide = min(max(columns, 1), MAX_SPAN) - 1
        else:
            for at in range(min(max(columns, 1), MAX_SPAN)):
                self._covered[len(row)] = min(rows, MAX_ROWS) - 1
                row.append([] if at else self._cell)
        if len(row) > MAX_COLUMNS * 4:
            raise no_list(self._shown, f"more than {MAX_COLUMNS} columns; a set list has about ten")

    def widen_cell(self, columns: int) -> None:
        """Let the cell cover this many columns, where that is known only after it began."""
        if self._tables and self._tables[-1].rows and self._cell is not None:
            self._wide = max(min(columns, MAX_SPAN) - 1, 0)

    def end_cell(self) -> None:
        """End a cell; text up to the next one belongs to none."""
        self.end_paragraph()
        self._cell = None

    # ------------------------------------------------------------------ the result

    def pages(self, remarks: tuple[str, ...] = ()) -> tuple[ListPage, ...]:
        """Return the rows: one grid where tables hold most of them, else paragraphs and tables in turn."""
        while self._tables:
            self.end_table()
        self.end_paragraph()
        blocks = _without_layout(_with_large(self._blocks))
        in_tables = sum(len(block.rows) for block in blocks if isinstance(block, DocumentTable))
        lines = sum(bool(block.text.strip()) for block in blocks if isinstance(block, DocumentLine))
        if not in_tables:
            return (_paragraphs([block for block in blocks if isinstance(block, DocumentLine)], self._shown, remarks),)
        if in_tables >= lines:
            return (ListPage(tuple(grid_rows(blocks)), is_grid=True, remarks=remarks),)
        return tuple(self._in_turn(blocks, remarks))

    def _in_turn(self, blocks: Sequence[DocumentLine | DocumentTable], remarks: tuple[str, ...]) -> list[ListPage]:
        pages: list[ListPage] = []
        lines: list[DocumentLine] = []
        number = 0
        for block in [*blocks, None]:
            if isinstance(block, DocumentLine):
                lines.append(block)
                continue
            if any(line.text.strip() for line in lines):
                pages.append(_paragraphs(lines, self._shown, remarks if not pages else (), number))
            number += len(lines)
            lines = []
            if block is not None:
                pages.append(ListPage(tuple(grid_rows([block], number)), is_grid=True))
                number += len(block.rows)
        return pages


def _with_large(blocks: Sequence[DocumentLine | DocumentTable]) -> Sequence[DocumentLine | DocumentTable]:
    """Mark paragraphs in larger or smaller letters than the others, where the sizes are known."""
    lines = [block for block in blocks if isinstance(block, DocumentLine) and block.size]
    usual = sorted(line.size for line in lines)[len(lines) // 2] if lines else 0.0
    for line in lines:
        line.is_large = line.is_large or line.size > LARGE * usual
        line.is_small = line.size < SMALL * usual
    for line in _bold_headings([block for block in blocks if isinstance(block, DocumentLine) and block.text.strip()]):
        line.is_large = True
    return blocks


def _bold_headings(lines: Sequence[DocumentLine]) -> list[DocumentLine]:
    """Return the lines in bold letters without a key, where most of the others have one: they are no songs."""
    bold = [line for line in lines if line.is_bold and not line.is_plain]
    others = [line for line in lines if line.is_plain]
    keyed = sum(_says_key_behind(line.text) for line in others)
    if len(others) < FEWEST_PLAIN or len(bold) >= len(others) or keyed < MIN_KEYED * len(others):
        return []
    return [line for line in bold if not _says_key_behind(line.text)]


def _says_key_behind(text: str) -> bool:
    """Return whether a key or a length is among the last words: Gasworks Corner (Am), Gasworks Corner - A - slow."""
    words = PARTS.split(text.strip())
    return any(says_key_or_length(word) for word in words[1:] if word)


def _with_struck(pieces: Sequence[tuple[str, bool]]) -> str:
    """Return the pieces' text, with what is crossed out between ``~~``; touching pieces share one pair."""
    said, struck = "", ""
    for text, is_struck in [*pieces, ("", False)]:
        if is_struck or (struck and text and not text.strip()):
            struck += text
            continue
        if struck.strip():
            before, after = struck[: len(struck) - len(struck.lstrip())], struck[len(struck.rstrip()) :]
            said += f"{before}{STRUCK}{struck.strip()}{STRUCK}{after}"
        else:
            said += struck
        struck = ""
        said += text
    return said


def _lines_of(table: DocumentTable) -> list[DocumentLine]:
    return [line for row in table.rows for cell in row for line in cell]


def _without_layout(blocks: Sequence[DocumentLine | DocumentTable]) -> list[DocumentLine | DocumentTable]:
    """Return the blocks with tables that only place text on the page turned into paragraphs."""
    found: list[DocumentLine | DocumentTable] = []
    for block in blocks:
        if isinstance(block, DocumentLine):
            found.append(block)
            continue
        rows = [row for row in block.rows if any(line.text.strip() for cell in row for line in cell)]
        wide = max((sum(any(line.text.strip() for line in cell) for cell in row) for row in rows), default=0)
        if wide <= 1:
            found += [DocumentLine(""), *(line for row in rows for line in _lines_of(DocumentTable([row])))]
        elif max(len(_full(cell)) for row in rows for cell in row) >= LONG_CELL:
            found += _columns(rows)
        else:
            found.append(DocumentTable(rows))
    return found


def _full(cell: Sequence[DocumentLine]) -> list[DocumentLine]:
    return [line for line in cell if line.text.strip()]


def _columns(rows: Sequence[list[list[DocumentLine]]]) -> list[DocumentLine | DocumentTable]:
    """Return cells that hold a list each: one under the other; titles and keys in two cells side by side as a table."""
    long = [row for row in rows if max(len(_full(cell)) for cell in row) >= LONG_CELL]
    if all(_are_parallel(row) for row in long):
        made = []
        for row in rows:
            cells = [_full(cell) for cell in row]
            deepest = max(map(len, cells)) if row in long else 1
            made += [[cell[at : at + 1] if row in long else cell for cell in cells] for at in range(deepest)]
        return [DocumentTable(made)]
    found: list[DocumentLine | DocumentTable] = []
    for at in range(max(map(len, rows))):
        for row in rows:
            if at < len(row) and row[at]:
                found += row[at]
        found.append(DocumentLine(""))
    return found


def _are_parallel(row: Sequence[Sequence[DocumentLine]]) -> bool:
    """Return whether the cells hold the columns of one list: one of them keys or lengths, all of the same height."""
    cells = [_full(cell) for cell in row if _full(cell)]
    heights = {len(cell) for cell in cells}
    keys = [cell for cell in cells if sum(says_key_or_length(tidy(line.text)) for line in cell) > len(cell) / 2]
    return len(heights) == 1 and bool(keys) and len(keys) < len(cells)


def grid_rows(blocks: Sequence[DocumentLine | DocumentTable], number: int = 0) -> list[ListRow]:
    """Return the rows of tables, and lines between them as rows with one cell. Numbers count lines and rows."""
    rows: list[ListRow] = []
    blank = False
    for block in blocks:
        lines = [[[block]]] if isinstance(block, DocumentLine) else block.rows
        for row in lines:
            number += 1
            cells = tuple(_cell_text(cell) for cell in row[:MAX_COLUMNS])
            if not any(cells):
                blank = True
                continue
            comments = tuple(said for cell in row for line in cell for said in line.comments)
            is_across = len(row) == 1 < max(map(len, lines))  # one cell across the table stands out as large letters do
            is_large = is_across or (isinstance(block, DocumentLine) and block.is_large)
            rows.append(
                ListRow(
                    SourceLine(number),
                    cells,
                    " | ".join(filter(None, cells)),
                    blank,
                    is_large,
                    comments=comments,
                    quoted=row[0][0].quoted if row[0] else 0,
                )
            )
            blank = False
        blank = blank or isinstance(block, DocumentTable)
    return rows


def _cell_text(cell: Sequence[DocumentLine]) -> str:
    return tidy(" / ".join(one_line(tidy(line.text)) for line in _full(cell)))[:LONGEST_CELL]


def _paragraphs(lines: Sequence[DocumentLine], shown: str, remarks: tuple[str, ...], before: int = 0) -> ListPage:
    """Return paragraphs as the same text would be read from a message, with what only a document knows of them."""
    from companion.setlist.readers.text import pages_of_text

    text = "\n".join(f"{'> ' * line.quoted}{'  ' * line.indent}{line.text}" for line in lines)
    (page,) = pages_of_text(text, shown, remarks)
    return msgspec.structs.replace(
        page,
        rows=tuple(
            msgspec.structs.replace(
                row,
                place=SourceLine(row.place.line + before),
                is_large=lines[row.place.line - 1].is_large,
                is_small=lines[row.place.line - 1].is_small,
                comments=tuple(lines[row.place.line - 1].comments),
            )
            for row in page.rows
        ),
    )
