"""Read a word processor's document by ECMA-376 part 1: paragraphs, lists, tables, comments, and what is crossed out."""

from collections import Counter
from collections.abc import Mapping
from typing import Final

import msgspec

from companion.setlist.model import ListPage
from companion.setlist.readers.document_rows import DocumentRows
from companion.setlist.readers.limits import DEEPEST_STYLE, LONGEST_CELL, MAX_DOCUMENT_DEPTH, MAX_INDENT
from companion.setlist.readers.workbook_parts import Parts

MAIN: Final = "word/document.xml"
OFF: Final = ("0", "false", "off", "none")  # ECMA-376 part 1, 22.9.2.7
MAX_HEADERS: Final = 3  # of the first page, of odd and of even ones (17.10.5)


class WordStyle(msgspec.Struct):
    """A paragraph style, as far as a list needs it."""

    based_on: str = ""
    is_heading: bool = False
    is_struck: bool = False
    is_bold: bool = False
    size: float = 0.0
    indent: int = 0  # in steps of a quarter of an inch
    list_id: str = ""
    level: int = 0


class _Document:
    """What the paragraphs of all parts share: styles, lists' labels, and comments."""

    def __init__(self, parts: Parts) -> None:
        self.parts = parts
        self.styles: dict[str, WordStyle] = {}
        self._default = WordStyle()
        self.comments: dict[str, str] = {}
        self._formats: dict[tuple[str, int], str] = {}  # of a list's kind and level
        self._kinds: dict[str, str] = {}  # a list's kind, by its number
        self._counts: Counter[tuple[str, int]] = Counter()
        for name, read in (
            ("word/styles.xml", self._read_styles),
            ("word/numbering.xml", self._read_lists),
            ("word/comments.xml", self._read_comments),
        ):
            if name in parts.names:
                read(name)

    def style(self, name: str) -> WordStyle:
        """Return a style with what it takes from those that it is based on."""
        found = WordStyle()
        for _ in range(DEEPEST_STYLE):
            style = self.styles.get(name)
            if style is None:
                break
            found.is_heading = found.is_heading or style.is_heading
            found.is_struck = found.is_struck or style.is_struck
            found.is_bold = found.is_bold or style.is_bold
            found.size = found.size or style.size
            found.indent = found.indent or style.indent
            if style.list_id and not found.list_id:
                found.list_id, found.level = style.list_id, style.level
            name = style.based_on
        found.size = found.size or self._default.size
        return found

    def label(self, list_id: str, level: int) -> str:
        """Return what is shown before the next paragraph of a list: a number, or a dash for any bullet."""
        kind = self._kinds.get(list_id)
        said = self._formats.get((kind or "", level), "none")
        if said == "none":
            return ""
        if said == "bullet":
            return "-"
        self._counts[list_id, level] += 1
        for deeper in range(level + 1, 9):
            self._counts.pop((list_id, deeper), None)
        return f"{self._counts[list_id, level]}."

    def _read_styles(self, name: str) -> None:
        style = self._default  # whatever is before the first style is the default of all

        def opens(element: str, attributes: Mapping[str, str]) -> None:
            nonlocal style
            value = attributes.get("val", "")
            match element:
                case "style":
                    style = self.styles.setdefault(attributes.get("styleId", ""), WordStyle())
                case "basedOn":
                    style.based_on = value
                case "name":
                    style.is_heading = value.lower().startswith(("heading", "title"))
                case "strike" | "dstrike":
                    style.is_struck = value not in OFF
                case "b":
                    style.is_bold = value not in OFF
                case "sz":
                    style.size = _number(value)
                case "numId":
                    style.list_id = value
                case "ilvl":
                    style.level = int(_number(value))
                case "ind":
                    style.indent = _indent(attributes)

        self.parts.read(name, opens)

    def _read_lists(self, name: str) -> None:
        kind, level, list_id = "", 0, ""

        def opens(element: str, attributes: Mapping[str, str]) -> None:
            nonlocal kind, level, list_id
            match element:
                case "abstractNum":
                    kind = attributes.get("abstractNumId", "")
                case "lvl":
                    level = int(_number(attributes.get("ilvl", "")))
                case "numFmt":
                    self._formats.setdefault((kind, level), attributes.get("val", ""))
                case "num":
                    list_id = attributes.get("numId", "")
                case "abstractNumId":
                    self._kinds[list_id] = attributes.get("val", "")

        self.parts.read(name, opens)

    def _read_comments(self, name: str) -> None:
        at, is_text = "", False
        pieces: list[str] = []

        def opens(element: str, attributes: Mapping[str, str]) -> None:
            nonlocal at, is_text
            is_text = element == "t"
            if element == "comment":
                at = attributes.get("id", "")
                pieces.clear()
            elif element == "p":
                pieces.append(" ")

        def closes(element: str) -> None:
            nonlocal is_text
            is_text = False
            if element == "comment":
                self.comments[at] = "".join(pieces)[: LONGEST_CELL * 4]

        def says(text: str) -> None:
            if is_text:
                pieces.append(text)

        self.parts.read(name, opens, closes, says)


class _Paragraphs:
    """One part while it is read: the document itself, or a page's header."""

    def __init__(self, document: _Document, rows: DocumentRows) -> None:
        self._document, self._rows = document, rows
        self._skipped = 0  # elements open inside one that repeats what another holds
        self._style = document.style("")
        self._list_id, self._level, self._indent = "", 0, 0
        self._in_paragraph_marks = self._in_run = False
        self._is_struck = self._is_hidden = self._is_bold = False
        self._size = 0.0
        self._is_text = self._is_deleted = False

    def opens(self, element: str, attributes: Mapping[str, str]) -> None:
        """Begin a paragraph, a run, a cell ..."""
        if self._skipped or element == "Fallback":
            self._skipped += 1
            return
        value = attributes.get("val", "")
        self._is_text, self._is_deleted = element in ("t", "delText"), element == "delText"
        match element:
            case "p":
                self._rows.begin_paragraph()
                self._style, self._list_id, self._level = self._document.style(""), "", 0
                self._indent = 0
            case "ind" if self._in_paragraph_marks:
                self._indent = _indent(attributes)
            case "pPr":
                self._in_paragraph_marks = True
            case "pStyle":
                self._style = self._document.style(value)
                self._list_id, self._level = self._style.list_id, self._style.level
            case "numId":
                self._list_id = value
            case "ilvl":
                self._level = int(_number(value))
            case "r":
                self._in_run = True
                self._is_struck, self._is_hidden, self._size = self._style.is_struck, False, self._style.size
                self._is_bold = self._style.is_bold
            case "strike" | "dstrike" if self._in_run:
                self._is_struck = value not in OFF
            case "b" if self._in_run:
                self._is_bold = value not in OFF
            case "vanish" if self._in_run:
                self._is_hidden = value not in OFF
            case "sz" if self._in_run:
                self._size = _number(value)
            case "tab" if self._in_run:
                self._rows.says("\t", is_struck=self._is_struck)
            case "br" | "cr":
                self._rows.says("\n", is_struck=self._is_struck)
            case "noBreakHyphen":
                self._rows.says("-", is_struck=self._is_struck)
            case "commentReference":
                self._rows.comment(self._document.comments.get(attributes.get("id", ""), ""))
            case "tbl":
                self._rows.begin_table()
            case "tr":
                self._rows.begin_row()
            case "tc":
                self._rows.begin_cell()
            case "gridSpan":
                self._rows.widen_cell(int(_number(value)))

    def closes(self, element: str) -> None:
        """End a paragraph, a run, a cell ..."""
        if self._skipped:
            self._skipped -= 1
            return
        self._is_text = False
        match element:
            case "p":
                if not self._rows.has_text:
                    self._rows.empty_line()
                self._rows.end_paragraph()
            case "pPr" if self._in_paragraph_marks:
                self._in_paragraph_marks = False
                label = self._document.label(self._list_id, self._level) if self._list_id not in ("", "0") else ""
                indent = self._level if label else self._indent or self._style.indent
                self._rows.describe(is_large=self._style.is_heading, indent=indent, label=label)
            case "r":
                self._in_run = False
            case "tc":
                self._rows.end_cell()
            case "tbl":
                self._rows.end_table()

    def says(self, text: str) -> None:
        """Add text that is shown."""
        if self._is_text and not self._skipped and not self._is_hidden:
            is_struck = self._is_struck or self._is_deleted
            self._rows.says(text, is_struck=is_struck, is_bold=self._is_bold, size=self._size)


def pages_of_word(raw: bytes, shown: str) -> tuple[ListPage, ...]:
    """Return the rows of a document. Raises FaultyFile if it is hostile, locked, damaged or far too large."""
    parts = Parts(raw, shown, what="document", main=MAIN, max_depth=MAX_DOCUMENT_DEPTH)
    document, rows = _Document(parts), DocumentRows(shown)
    headers = sorted(name for name in parts.names if name.startswith("word/header") and name.endswith(".xml"))
    for name in [*headers[:MAX_HEADERS], MAIN]:
        part = _Paragraphs(document, rows)
        parts.read(name, part.opens, part.closes, part.says)
        rows.end_paragraph()
    return rows.pages()


def _number(text: str) -> float:
    """Return a whole number of an attribute; 0 if it is none."""
    return float(text) if text.isascii() and text.isdecimal() and len(text) < 6 else 0.0


def _indent(attributes: Mapping[str, str]) -> int:
    """Return a paragraph's indent in steps of a quarter of an inch; the file counts twentieths of a point."""
    twips = _number(attributes.get("left") or attributes.get("start") or "")
    return min(round(twips / 360), MAX_INDENT)
