"""Read a workbook's sheets by ECMA-376 part 1: cells, comments, and rows that are hidden."""

import datetime as dt
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from companion.setlist.model import ListPage
from companion.setlist.readers.document_rows import STRUCK
from companion.setlist.readers.limits import LONGEST_CELL, MAX_COLUMNS, MAX_ROWS
from companion.setlist.readers.refusal import no_list
from companion.setlist.readers.sheet_rows import SheetRow, sheet_page, shown_date, shown_time, struck
from companion.setlist.readers.workbook_comments import comments_of
from companion.setlist.readers.workbook_parts import Parts
from companion.setlist.readers.workbook_shared import MAX_TEXT, OFF, Value, Workbook, WorkbookSheet, joined, whole
from companion.setlist.tidy import tidy

FURTHEST: Final = 16_384  # columns of a sheet (ECMA-376 part 1, 18.3.1.73, and programs' own limit)
CELL: Final = re.compile(r"([A-Za-z]{1,3})[0-9]{1,10}$")


class _Rows:
    """One sheet while it is read: only rows that are not empty are kept."""

    def __init__(self, book: Workbook, sheet: WorkbookSheet, comments: Mapping[int, Sequence[str]]) -> None:
        self._book, self._sheet, self._comments = book, sheet, comments
        self.rows: list[SheetRow] = []
        self._number = self._column = 0
        self._cells: dict[int, Value] = {}
        self._colours: dict[int, str] = {}
        self._kind, self._style = "", 0
        self._in_cell = self._is_value = self._is_struck = self._is_hidden = False
        self._text: list[tuple[str, bool]] = []

    def opens(self, element: str, attributes: Mapping[str, str]) -> None:
        """Begin a row, a cell or its value."""
        match element:
            case "c":
                self._in_cell, self._is_value, self._is_struck = True, False, False
                at = attributes.get("r")
                self._column = self._column + 1 if at is None else _column(at)
                self._kind, self._style = attributes.get("t", "n"), whole(attributes.get("s", "0"))
                if colour := self._book.colours.get(self._style):
                    self._colours[self._column] = colour
                self._cells.setdefault(self._column, None)
            case "row":
                at = attributes.get("r")
                self._number = self._number + 1 if at is None else whole(at)
                self._is_hidden = attributes.get("hidden", "0") not in OFF
                self._column = 0
            case "v" | "t":
                self._is_value = self._in_cell
            case "r" if self._in_cell:
                self._is_struck = False
            case "strike" if self._in_cell:
                self._is_struck = attributes.get("val", "1") not in OFF
            case _:
                self._is_value = False

    def closes(self, element: str) -> None:
        """End a value, a cell or a row."""
        self._is_value = False
        if element == "row":
            self._end_row()
        elif element == "c":
            self._in_cell = False
            self._end_cell()

    def _end_cell(self) -> None:
        if self._text:
            text = joined(self._text)[:MAX_TEXT]
            self._text.clear()
            try:
                value = self._book.value(self._kind, self._style, text)
                said = _shown(value)
                # A cell's own pieces say more than its style.
                is_struck = self._style in self._book.struck and STRUCK not in said
                self._cells[self._column] = struck(said) if is_struck else value
            except (ValueError, OverflowError, IndexError):
                self._cells[self._column] = "#VALUE!" if self._style in self._book.dates else tidy(text)

    def says(self, text: str) -> None:
        """Add a piece of a value."""
        if self._is_value:
            self._text.append((text, self._is_struck))

    def _end_row(self) -> None:
        filled = {at for at, value in self._cells.items() if value not in (None, "")}
        if filled and max(filled) > MAX_COLUMNS:
            problem = f"more than {MAX_COLUMNS} columns in {self._sheet.name}; a set list has about ten"
            raise no_list(self._book.parts.shown, problem, "the columns of the list alone")
        wide = min(max(self._cells, default=0), MAX_COLUMNS)
        cells = tuple(_shown(self._cells.get(at)) for at in range(1, wide + 1)) if filled else ()
        colours = tuple(self._colours.get(at, "") for at in range(1, wide + 1))
        self._cells.clear()
        self._colours.clear()
        if not any(cells):
            return
        if self._number > MAX_ROWS or len(self.rows) >= MAX_ROWS:
            problem = f"more than {MAX_ROWS} rows in {self._sheet.name}; a set list has about a hundred"
            raise no_list(self._book.parts.shown, problem, "the rows of the list alone")
        comments = tuple(self._comments.get(self._number, ()))
        self.rows.append(SheetRow(self._number, cells, colours, comments, self._is_hidden))


def pages_of_workbook(raw: bytes, shown: str) -> tuple[ListPage, ...]:
    """Return the rows of every sheet. Raises FaultyFile if the file is hostile, locked or not a workbook."""
    return tuple(page for page in _pages(Workbook(Parts(raw, shown))) if page.rows)


def _pages(book: Workbook) -> Iterator[ListPage]:
    named = len(book.sheets) > 1
    for sheet in book.sheets:
        rows = _Rows(book, sheet, comments_of(book, sheet))
        book.parts.read(sheet.part, rows.opens, rows.closes, rows.says)
        yield sheet_page(rows.rows, sheet.name if named else None, is_hidden=sheet.is_hidden)


def _column(at: str) -> int:
    """Return the column number of a cell reference, from 1: 28 for AB7. Raises ValueError if it has none."""
    found = CELL.match(at)
    if found is None:
        raise ValueError(f"{at[:20]!r} is not a cell reference")
    number = 0
    for letter in found[1].upper():
        number = number * 26 + ord(letter) - 64
    if number > FURTHEST:
        raise ValueError(f"{at[:20]!r} is not a cell reference")
    return number


def _shown(value: Value) -> str:
    """Return a cell as a person sees it: 3:40 for a length that the sheet stores as a time of day, 112 for 112.0."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dt.timedelta | dt.time):
        return shown_time(value)
    if isinstance(value, dt.date):
        return shown_date(value)
    if isinstance(value, float):
        return f"{value:.10g}"
    return tidy(str(value).replace("\n", " / "))[:LONGEST_CELL]
