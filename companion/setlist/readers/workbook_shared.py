"""What all sheets of a workbook share, by ECMA-376 part 1: its texts, and styles: dates, colours, crossed-out cells."""

import datetime as dt
import re
from collections.abc import Mapping, Sequence
from typing import Final, TypeVar

import msgspec

from companion.setlist.readers.colours import tinted
from companion.setlist.readers.limits import LONGEST_CELL, MAX_SHEETS
from companion.setlist.readers.refusal import no_list
from companion.setlist.readers.sheet_rows import struck
from companion.setlist.readers.workbook_parts import FROM_ONE_CELL, Parts
from companion.setlist.tidy import tidy

Value = str | bool | int | float | dt.date | dt.time | dt.timedelta | None

T = TypeVar("T")

MAX_TEXT: Final = LONGEST_CELL * 4  # characters kept of one cell
DATES: Final = {*range(14, 23), *range(27, 37), *range(45, 48), *range(50, 59)}  # number formats (18.8.30)
ELAPSED: Final = {46}
BESIDE: Final = re.compile(r'"[^"]*"|\[(?!hh?\]|mm?\]|ss?\])[^\]]*\]')  # literal words, colours and countries
ELAPSES: Final = re.compile(r"\[(?:hh?|mm?|ss?)\]", re.IGNORECASE)
TIME_SIGN: Final = re.compile(r"(?<![_\\])[dmhys]", re.IGNORECASE)
MIDNIGHT: Final = dt.datetime(1, 1, 1)  # noqa: DTZ001 - cells have no time zone
FROM_1900: Final = dt.datetime(1899, 12, 30)  # noqa: DTZ001 - same
FROM_1904: Final = dt.datetime(1904, 1, 1)  # noqa: DTZ001 - same
# The first colours by number: 18.8.27. Those from 8 on repeat the first eight.
INDEXED: Final = (
    *("000000", "ffffff", "ff0000", "00ff00", "0000ff", "ffff00", "ff00ff", "00ffff") * 2,
    *("800000", "008000", "000080", "808000", "800080", "008080", "c0c0c0", "808080"),
)
THEME: Final = ("lt1", "dk1", "lt2", "dk2", "accent1", "accent2", "accent3", "accent4", "accent5", "accent6")
OFF: Final = ("0", "false")
ESCAPED: Final = re.compile(r"_x([0-9A-Fa-f]{4})_")  # an escaped character that XML cannot hold (22.9.2.19)


class WorkbookSheet(msgspec.Struct):
    """A sheet listed in the workbook."""

    name: str
    part: str
    is_hidden: bool


class Workbook:
    """Data that all sheets share."""

    def __init__(self, parts: Parts) -> None:
        self.parts = parts
        self.from_1904 = False
        self.strings: list[str] = []
        self.dates: set[int] = set()  # styles that make a number a date, a time, or a duration
        self.elapsed: set[int] = set()
        self.struck: set[int] = set()  # styles whose letters are crossed out
        self.colours: dict[int, str] = {}  # behind the cells of a style
        self._theme: dict[str, str] = {}
        targets = self._targets()
        self.sheets = self._sheets(targets)
        for kind, read in (("/theme", self._themes), ("/styles", self._styles), ("/sharedStrings", self._strings)):
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

    def _themes(self, part: str) -> None:
        """Read the colours that cells name by their number in the theme (20.1.6.2)."""
        at = ""

        def opens(element: str, attributes: Mapping[str, str]) -> None:
            nonlocal at
            if element in THEME:
                at = element
            elif element in ("srgbClr", "sysClr") and at:
                self._theme.setdefault(at, attributes.get("lastClr") or attributes.get("val", ""))
                at = ""

        self.parts.read(part, opens)

    def _colour(self, attributes: Mapping[str, str]) -> str:
        """Return the colour that an element names, as six digits; "" for none."""
        number = attributes.get("indexed", "")
        if rgb := attributes.get("rgb"):
            code = rgb
        elif (theme := attributes.get("theme", "")).isdecimal() and len(theme) < 3 and int(theme) < len(THEME):
            code = self._theme.get(THEME[int(theme)], "")
        elif number.isdecimal() and len(number) < 3 and int(number) < len(INDEXED):
            code = INDEXED[int(number)]
        else:
            return ""
        try:
            tint = float(attributes.get("tint", "0")[:40])
        except ValueError:
            tint = 0.0
        return tinted(code, tint) if abs(tint) <= 1 else code

    def _styles(self, part: str) -> None:
        formats: dict[str, str] = {}
        styles: list[Mapping[str, str]] = []
        fonts: list[bool] = []  # whether it crosses its letters out
        fills: list[str] = []
        inside: list[str] = []

        def opens(element: str, attributes: Mapping[str, str]) -> None:
            inside.append(element)
            match element:
                case "numFmt":
                    formats[attributes.get("numFmtId", "")] = attributes.get("formatCode", "")[:LONGEST_CELL]
                case "font" if "fonts" in inside[-2:-1]:
                    fonts.append(False)
                case "strike" if "font" in inside[-2:-1] and fonts:
                    fonts[-1] = attributes.get("val", "1") not in OFF
                case "fill" if "fills" in inside[-2:-1]:
                    fills.append("")
                case "fgColor" if fills and "patternFill" in inside[-2:-1]:
                    fills[-1] = fills[-1] or self._colour(attributes)
                case "xf" if "cellXfs" in inside[-2:-1]:
                    names = ("numFmtId", "fontId", "fillId")
                    styles.append({name: attributes.get(name, "") for name in names})
                case _:
                    pass

        def closes(_element: str) -> None:
            inside.pop()

        self.parts.read(part, opens, closes)
        for style, said in enumerate(styles):
            self._keep_format(style, said["numFmtId"], formats.get(said["numFmtId"]))
            if _at(fonts, said["fontId"]):
                self.struck.add(style)
            if colour := _at(fills, said["fillId"]):
                self.colours[style] = colour

    def _keep_format(self, style: int, number: str, code: str | None) -> None:
        """Note whether a style makes a number a date or a duration."""
        if number.isdecimal() and len(number) < 6 and code is None:
            says, passes = int(number) in DATES, int(number) in ELAPSED
        else:
            plain = BESIDE.sub("", (code or "").split(";")[0])
            says, passes = bool(TIME_SIGN.search(plain)), bool(ELAPSES.search(plain))
        if says:
            (self.elapsed if passes else self.dates).add(style)

    def _strings(self, part: str) -> None:
        pieces: list[tuple[str, bool]] = []
        is_text = is_phonetic = is_struck = False

        def opens(element: str, attributes: Mapping[str, str]) -> None:
            nonlocal is_text, is_phonetic, is_struck
            is_phonetic = is_phonetic or element == "rPh"
            is_text = element == "t" and not is_phonetic
            if element in ("si", "r"):
                is_struck = False
            elif element == "strike":
                is_struck = attributes.get("val", "1") not in OFF

        def closes(element: str) -> None:
            nonlocal is_text, is_phonetic
            is_text = False
            if element == "rPh":
                is_phonetic = False
            elif element == "si":
                self.strings.append(unescaped(joined(pieces)[:MAX_TEXT]))
                pieces.clear()

        def says(text: str) -> None:
            if is_text:
                pieces.append((text, is_struck))

        self.parts.read(part, opens, closes, says)

    def value(self, kind: str, style: int, text: str) -> Value:
        """Return a cell's value from its text in the file. Raises ValueError if it is not valid."""
        match kind:
            case "s":
                return self.strings[whole(text.strip())] if text.strip() else None
            case "b":
                return text.strip() not in ("0", "false", "")
            case "str" | "inlineStr" | "e":
                return unescaped(text)
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


def joined(pieces: Sequence[tuple[str, bool]]) -> str:
    """Return a cell's pieces as one text; those crossed out, where not all are, between ``~~``."""
    if all(is_struck for text, is_struck in pieces if text.strip()):
        whole_text = "".join(text for text, _ in pieces)
        return struck(whole_text) if pieces and whole_text.strip() else whole_text
    return "".join(struck(text.strip()) if is_struck and text.strip() else text for text, is_struck in pieces)


def _at(values: Sequence[T], number: str) -> T | None:
    at = int(number) if number.isdecimal() and len(number) < 6 else -1
    return values[at] if 0 <= at < len(values) else None


def whole(text: str) -> int:
    """Return a whole number. Raises ValueError."""
    if not (text.isascii() and text.isdecimal()) or len(text) > 10:
        raise ValueError(f"{text[:20]!r} is not a number")
    return int(text)


def unescaped(text: str) -> str:
    """Return a text with the characters that XML cannot hold."""
    return ESCAPED.sub(lambda found: chr(int(found[1], 16)), text) if "_x" in text else text
