"""Read an OpenDocument spreadsheet (OASIS OpenDocument 1.2): cells, comments, what is crossed out or hidden."""

import datetime as dt
import re
from collections.abc import Mapping
from typing import Final

import msgspec

from companion.setlist.model import ListPage
from companion.setlist.readers.limits import LONGEST_CELL, MAX_COLUMNS, MAX_ROWS, MAX_SHEETS
from companion.setlist.readers.open_document import MAIN, OpenStyle, OpenStyles, OpenText, open_parts
from companion.setlist.readers.refusal import no_list
from companion.setlist.readers.sheet_rows import SheetRow, sheet_page, shown_date, shown_time, struck
from companion.setlist.tidy import tidy

MAX_TEXT: Final = LONGEST_CELL * 4  # characters kept of one cell
FURTHEST_ROW: Final = 1_048_576
DURATION: Final = re.compile(r"PT(?:(\d{1,6})H)?(?:(\d{1,6})M)?(?:(\d{1,6})(?:[.,]\d+)?S)?$")
HIDDEN: Final = ("collapse", "filter")  # table:visibility (OpenDocument 1.2 part 1, 19.749)


class _Sheet(msgspec.Struct):
    name: str
    is_hidden: bool
    rows: list[SheetRow] = []


class _Sheets:
    """The sheets while they are read."""

    def __init__(self, styles: OpenStyles, shown: str) -> None:
        self.sheets: list[_Sheet] = []
        self._styles, self._shown, self._text = styles, shown, OpenText(styles)
        self._depth = 0  # of tables: one inside a cell is not read
        self._row = self._column = self._row_times = self._cell_times = 0
        self._is_row_hidden = False
        self._cells: dict[int, str] = {}
        self._colours: dict[int, str] = {}
        self._comments: list[str] = []
        self._style = OpenStyle()
        self._value: str | None = None  # what the cell holds, where its text may be formatted in any way
        self._pieces: list[tuple[str, bool]] = []
        self._size = 0
        self._in_paragraph = False

    def opens(self, element: str, attributes: Mapping[str, str]) -> None:
        if self._text.in_comment or element in ("annotation", "span", "s", "tab", "line-break"):
            self._add(self._text.opens(element, attributes))
            return
        self._styles.opens(element, attributes)
        match element:
            case "table":
                self._depth += 1
                if self._depth == 1:
                    self._begin_sheet(attributes)
            case "table-row" if self._depth == 1:
                self._begin_row(attributes)
            case "table-cell" | "covered-table-cell" if self._depth == 1:
                self._begin_cell(attributes)
            case "p" if self._depth == 1:
                self._in_paragraph = True
                if self._pieces:
                    self._add(" / ")
            case _:
                pass

    def _begin_sheet(self, attributes: Mapping[str, str]) -> None:
        if len(self.sheets) >= MAX_SHEETS:
            raise no_list(self._shown, f"more than {MAX_SHEETS} sheets", "the list's own sheet")
        is_hidden = self._styles.style("table", attributes.get("style-name", "")).is_hidden
        self.sheets.append(_Sheet(tidy(attributes.get("name", ""))[:LONGEST_CELL], is_hidden))
        self._row = 0

    def _begin_row(self, attributes: Mapping[str, str]) -> None:
        self._row += 1
        self._row_times = max(1, _whole(attributes.get("number-rows-repeated", "1")))
        self._is_row_hidden = attributes.get("visibility", "") in HIDDEN
        self._column = 0

    def _begin_cell(self, attributes: Mapping[str, str]) -> None:
        self._column += 1
        self._cell_times = max(1, _whole(attributes.get("number-columns-repeated", "1")))
        self._style = self._styles.style("table-cell", attributes.get("style-name", ""))
        self._value = _value(attributes)
        self._pieces, self._size = [], 0

    def closes(self, element: str) -> None:
        if self._text.in_comment or element == "span":
            if said := self._text.closes(element):
                self._comments.append(said)
            return
        match element:
            case "table":
                self._depth -= 1
            case "p":
                self._in_paragraph = False
            case "table-cell" | "covered-table-cell" if self._depth == 1:
                self._end_cell()
            case "table-row" if self._depth == 1:
                self._end_row()
            case _:
                pass

    def _end_cell(self) -> None:
        said = "".join(struck(text) if is_struck and text.strip() else text for text, is_struck in self._pieces)
        is_struck = self._style.is_struck or (
            bool(self._pieces) and all(one for text, one in self._pieces if text.strip())
        )
        plain = "".join(text for text, _ in self._pieces)
        text = tidy(self._value or (plain if is_struck else said))[:LONGEST_CELL]
        for at in range(self._column, self._column + (min(self._cell_times, MAX_COLUMNS) if text else 0)):
            self._cells[at] = struck(text) if is_struck else text
        if self._style.colour:
            self._colours |= dict.fromkeys(
                range(self._column, self._column + min(self._cell_times, MAX_COLUMNS)), self._style.colour
            )
        self._column += self._cell_times - 1

    def _end_row(self) -> None:
        sheet = self.sheets[-1]
        if any(self._cells.values()):
            if max(at for at, cell in self._cells.items() if cell) > MAX_COLUMNS:
                problem = f"more than {MAX_COLUMNS} columns in {sheet.name}; a set list has about ten"
                raise no_list(self._shown, problem, "the columns of the list alone")
            if self._row > MAX_ROWS or len(sheet.rows) + self._row_times > MAX_ROWS:
                problem = f"more than {MAX_ROWS} rows in {sheet.name}; a set list has about a hundred"
                raise no_list(self._shown, problem, "the rows of the list alone")
            wide = range(1, max(self._cells) + 1)
            for at in range(self._row_times):
                sheet.rows.append(
                    SheetRow(
                        self._row + at,
                        tuple(self._cells.get(column, "") for column in wide),
                        tuple(self._colours.get(column, "") for column in wide),
                        tuple(self._comments),
                        self._is_row_hidden,
                    )
                )
        self._row = min(self._row + self._row_times - 1, FURTHEST_ROW)
        self._cells, self._colours, self._comments = {}, {}, []

    def says(self, text: str) -> None:
        if self._text.in_comment:
            self._text.says(text)
        elif self._in_paragraph and self._depth == 1:
            self._add(" ".join(text.split("\n")))

    def _add(self, text: str) -> None:
        if text and not self._text.is_hidden and self._size < MAX_TEXT:
            self._pieces.append((text.replace("\n", " / ").replace("\t", " "), self._text.is_struck))
            self._size += len(text)


def is_sheet(raw: bytes) -> bool:
    """Return whether an OpenDocument file is a spreadsheet: its kind comes first (OpenDocument 1.2 part 3, 3.3)."""
    return b"opendocument.spreadsheet" in raw[:200]


def pages_of_open_sheet(raw: bytes, shown: str) -> tuple[ListPage, ...]:
    """Return the rows of every sheet. Raises FaultyFile if the file is hostile, locked, damaged or far too large."""
    parts, styles = open_parts(raw, shown, "workbook")
    found = _Sheets(styles, shown)
    parts.read(MAIN, found.opens, found.closes, found.says)
    named = len(found.sheets) > 1
    pages = (sheet_page(sheet.rows, sheet.name if named else None, is_hidden=sheet.is_hidden) for sheet in found.sheets)
    return tuple(page for page in pages if page.rows)


def _value(attributes: Mapping[str, str]) -> str | None:
    """Return a date or a time as a list has it, from what the cell holds, not from how it is formatted."""
    match attributes.get("value-type"):
        case "time" if found := DURATION.match(attributes.get("time-value", "")[:40]):
            hours, minutes, seconds = (int(part or 0) for part in found.groups())
            return shown_time(dt.timedelta(hours=hours, minutes=minutes, seconds=seconds))
        case "date":
            try:
                return shown_date(dt.datetime.fromisoformat(attributes.get("date-value", "")[:40]))
            except ValueError:
                return None
        case _:
            return None


def _whole(text: str) -> int:
    return int(text) if text.isascii() and text.isdecimal() and len(text) < 8 else 1
