"""Read a spreadsheet's rows by ECMA-376 part 1: shared strings, styles that make numbers dates, and cells."""

import datetime as dt
import re
from collections.abc import Iterator, Mapping
from typing import Final

import msgspec

from companion.setlist.model import ListPage, ListRow, SourceLine
from companion.setlist.readers.limits import LONGEST_CELL, MAX_COLUMNS, MAX_ROWS, MAX_SHEETS
from companion.setlist.readers.refusal import no_list
from companion.setlist.readers.workbook_parts import FROM_ONE_CELL, Parts
from companion.setlist.tidy import tidy

Value = str | bool | int | float | dt.date | dt.time | dt.timedelta | None

MAX_TEXT: Final = LONGEST_CELL * 4  # characters kept of one cell
FURTHEST: Final = 16_384  # columns of a sheet (ECMA-376 part 1, 18.3.1.73, and programs' own limit)
DATES: Final = {*range(14, 23), *range(27, 37), *range(45, 48), *range(50, 59)}  # number formats (18.8.30)
ELAPSED: Final = {46}
BESIDE: Final = re.compile(r'"[^"]*"|\[(?!hh?\]|mm?\]|ss?\])[^\]]*\]')  # literal words, colours and countries
ELAPSES: Final = re.compile(r"\[(?:hh?|mm?|ss?)\]", re.IGNORECASE)
TIME_SIGN: Final = re.compile(r"(?<![_\\])[dmhys]", re.IGNORECASE)
MIDNIGHT: Final = dt.datetime(1, 1, 1)  # noqa: DTZ001 - cells have no time zone
FROM_1900: Final = dt.datetime(1899, 12, 30)  # noqa: DTZ001 - same
FROM_1904: Final = dt.datetime(1904, 1, 1)  # noqa: DTZ001 - same
CELL: Final = re.compile(r"([A-Za-z]{1,3})[0-9]{1,10}$")
ESCAPED: Final = re.compile(r"_x([0-9A-Fa-f]{4})_")  # an escaped character that XML cannot hold (22.9.2.19)


class WorkbookSheet(msgspec.Struct):
    """A sheet listed in the workbook."""

    name: str
    part: str
    is_hidden: bool


class _Book:
    """Data that all sheets share."""

    def __init__(self, parts: Parts) -> None:
        self.parts = parts
        self.from_1904 = False
        self.strings: list[str] = []
        self.dates: set[int] = set()  # styles that make a number a date, a time, or a duration
        self.elapsed: set[int] = set()
        targets = self._targets()
        self.sheets = self._sheets(targets)
        for kind, read in (("/styles", self._styles), ("/sharedStrings", self._strings)):
            part = next((path for sort, path in targets.values() if sort.endswith(kind)), "")
            if part in parts.names:
                read(part)

    def _targets(self) -> dict[str, tuple[str, str]]:
        """Return each relationship's kind and target part."""
        found: dict[str, tuple[str, str]] = {}

        def opens(element: str, attributes: Mapping[str, str]) -> None:
            if element == "Relationship":
                target = attributes.get("Target", "")
                path = target[1:] if target.startswith("/") else f"xl/{target.removeprefix('./')}"
                found[attributes.get("Id", "")] = (attributes.get("Type", ""), path)

        name = "xl/_rels/workbook.xml.rels"
        if name not in self.parts.names:
            raise no_list(self.parts.shown, f"the workbook cannot be read ({name} is missing)", FROM_ONE_CELL)
        self.parts.read(name, opens)
        return found

    def _sheets(self, targets: Mapping[str, tuple[str, str]]) -> list[WorkbookSheet]:
        found: list[WorkbookSheet] = []

        def opens(element: str, attributes: Mapping[str, str]) -> None:
            if element == "workbookPr":
                self.from_1904 = attributes.get("date1904", "") in ("1", "true")
            elif element == "sheet":
                kind, part = targets.get(attributes.get("id", ""), ("", ""))
                if kind.endswith("/worksheet"):
                    name = tidy(attributes.get("name", ""))[:LONGEST_CELL]
                    found.append(WorkbookSheet(name, part, attributes.get("state", "visible") != "visible"))
                    if len(found) > MAX_SHEETS:
                        raise no_list(self.parts.shown, f"more than {MAX_SHEETS} sheets", "the list's own sheet")

        self.parts.read("xl/workbook.xml", opens)
        missing = next((sheet.part for sheet in found if sheet.part not in self.parts.names), None)
        if missing is not None:
            raise no_list(self.parts.shown, "the workbook cannot be read (a sheet is missing)", FROM_ONE_CELL)
        return found

    def _styles(self, part: str) -> None:
        formats: dict[str, str] = {}
        styles: list[str] = []
        inside: list[str] = []

        def opens(element: str, attributes: Mapping[str, str]) -> None:
            inside.append(element)
            if element == "numFmt":
                formats[attributes.get("numFmtId", "")] = attributes.get("formatCode", "")[:LONGEST_CELL]
            elif element == "xf" and "cellXfs" in inside[-2:-1]:
                styles.append(attributes.get("numFmtId", ""))

        def closes(_element: str) -> None:
            inside.pop()

        self.parts.read(part, opens, closes)
        for style, number in enumerate(styles):
            code = formats.get(number)
            if number.isdecimal() and len(number) < 6 and code is None:
                says, passes = int(number) in DATES, int(number) in ELAPSED
            else:
                plain = BESIDE.sub("", (code or "").split(";")[0])
                says, passes = bool(TIME_SIGN.search(plain)), bool(ELAPSES.search(plain))
            if says:
                (self.elapsed if passes else self.dates).add(style)

    def _strings(self, part: str) -> None:
        pieces: list[str] = []
        is_text = is_phonetic = False

        def opens(element: str, _attributes: Mapping[str, str]) -> None:
            nonlocal is_text, is_phonetic
            is_phonetic = is_phonetic or element == "rPh"
            is_text = element == "t" and not is_phonetic

        def closes(element: str) -> None:
            nonlocal is_text, is_phonetic
            is_text = False
            if element == "rPh":
                is_phonetic = False
            elif element == "si":
                self.strings.append(_unescaped("".join(pieces)[:MAX_TEXT]))
                pieces.clear()

        def says(text: str) -> None:
            if is_text:
                pieces.append(text)

        self.parts.read(part, opens, closes, says)

    def value(self, kind: str, style: int, text: str) -> Value:
        """Return a cell's value from its text in the file. Raises ValueError where it is not valid."""
        match kind:
            case "s":
                return self.strings[_whole(text.strip())] if text.strip() else None
            case "b":
                return text.strip() not in ("0", "false", "")
            case "str" | "inlineStr" | "e":
                return _unescaped(text)
            case "d":
                return dt.datetime.fromisoformat(text.strip())
        if not text.strip():
            return None
        number = float(text[:40])
        if style in self.elapsed:
            return dt.timedelta(days=number)
        if style in self.dates:
            return self._moment(number)
        return int(number) if number.is_integer() and abs(number) < 1e15 else number

    def _moment(self, number: float) -> Value:
        """Convert a number of days to a date, a time of day, or both (ECMA-376 part 1, 18.17.4.1)."""
        days, part = divmod(number, 1)
        passed = dt.timedelta(milliseconds=round(part * 86_400_000))
        if 0 <= number < 1 and not passed.days:
            return (MIDNIGHT + passed).time()
        begins = FROM_1904 if self.from_1904 else FROM_1900
        if not self.from_1904 and 0 < days < 60:
            days += 1  # the format counts 29 February 1900, which did not exist, as day 60
        return begins + dt.timedelta(days=days) + passed


class _Rows:
    """One sheet while it is read: only rows that are not empty are kept."""

    def __init__(self, book: _Book, sheet: WorkbookSheet, *, named: bool) -> None:
        self._book, self._sheet, self._named = book, sheet, named
        self.rows: list[ListRow] = []
        self._number = self._last = self._column = 0
        self._cells: dict[int, Value] = {}
        self._kind, self._style = "", 0
        self._in_cell = self._is_value = False
        self._text: list[str] = []

    def opens(self, element: str, attributes: Mapping[str, str]) -> None:
        """Begin a row, a cell or its value."""
        match element:
            case "c":
                self._in_cell, self._is_value = True, False
                at = attributes.get("r")
                self._column = self._column + 1 if at is None else _column(at)
                self._kind, self._style = attributes.get("t", "n"), _whole(attributes.get("s", "0"))
                self._cells.setdefault(self._column, None)
            case "row":
                at = attributes.get("r")
                self._number = self._number + 1 if at is None else _whole(at)
                self._column = 0
            case "v" | "t":
                self._is_value = self._in_cell
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
            text = "".join(self._text)[:MAX_TEXT]
            self._text.clear()
            try:
                self._cells[self._column] = self._book.value(self._kind, self._style, text)
            except (ValueError, OverflowError, IndexError):
                self._cells[self._column] = "#VALUE!" if self._style in self._book.dates else tidy(text)

    def says(self, text: str) -> None:
        """Add a piece of a value."""
        if self._is_value:
            self._text.append(text)

    def _end_row(self) -> None:
        filled = {at for at, value in self._cells.items() if value not in (None, "")}
        if filled and max(filled) > MAX_COLUMNS:
            problem = f"more than {MAX_COLUMNS} columns in {self._sheet.name}; a set list has about ten"
            raise no_list(self._book.parts.shown, problem, "the columns of the list alone")
        wide = min(max(self._cells, default=0), MAX_COLUMNS)
        cells = tuple(_shown(self._cells.get(at)) for at in range(1, wide + 1)) if filled else ()
        self._cells.clear()
        if not any(cells):
            return
        if self._number > MAX_ROWS or len(self.rows) >= MAX_ROWS:
            problem = f"more than {MAX_ROWS} rows in {self._sheet.name}; a set list has about a hundred"
            raise no_list(self._book.parts.shown, problem, "the rows of the list alone")
        place = SourceLine(self._number, sheet=self._sheet.name if self._named else None)
        text = " | ".join(filter(None, cells))
        self.rows.append(ListRow(place, cells, text, blank_before=self._number > self._last + 1))
        self._last = self._number


def pages_of_workbook(raw: bytes, shown: str) -> tuple[ListPage, ...]:
    """Return the rows of every sheet. Raises FaultyFile where the file is hostile, locked or not a workbook."""
    return tuple(page for page in _pages(_Book(Parts(raw, shown))) if page.rows)


def _pages(book: _Book) -> Iterator[ListPage]:
    named = len(book.sheets) > 1
    for sheet in book.sheets:
        rows = _Rows(book, sheet, named=named)
        book.parts.read(sheet.part, rows.opens, rows.closes, rows.says)
        hidden = (f"the sheet {sheet.name} is hidden in the workbook",) if sheet.is_hidden else ()
        yield ListPage(tuple(rows.rows), is_grid=True, name=sheet.name if named else None, remarks=hidden)


def _column(at: str) -> int:
    """Return the column number of a cell reference, from 1: 28 for AB7. Raises ValueError where it has none."""
    found = CELL.match(at)
    if found is None:
        raise ValueError(f"{at[:20]!r} is not a cell reference")
    number = 0
    for letter in found[1].upper():
        number = number * 26 + ord(letter) - 64
    if number > FURTHEST:
        raise ValueError(f"{at[:20]!r} is not a cell reference")
    return number


def _whole(text: str) -> int:
    if not (text.isascii() and text.isdecimal()) or len(text) > 10:
        raise ValueError(f"{text[:20]!r} is not a number")
    return int(text)


def _unescaped(text: str) -> str:
    return ESCAPED.sub(lambda found: chr(int(found[1], 16)), text) if "_x" in text else text


def _shown(value: Value) -> str:
    """Return a cell as a person sees it: 3:40 for a length that the sheet stores as a time of day, 112 for 112.0."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dt.timedelta):
        seconds = round(value.total_seconds())
        return f"{seconds // 3600}:{seconds // 60 % 60:02}:{seconds % 60:02}"
    if isinstance(value, dt.datetime):
        return value.date().isoformat() if not (value.hour or value.minute) else value.isoformat(" ", "minutes")
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, dt.time):
        return f"{value.hour}:{value.minute:02}:{value.second:02}"
    if isinstance(value, float):
        return f"{value:.10g}"
    return tidy(str(value).replace("\n", " / "))[:LONGEST_CELL]
