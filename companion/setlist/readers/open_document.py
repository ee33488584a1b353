"""Read an OpenDocument text (OASIS OpenDocument 1.2): paragraphs, lists, tables, comments, and what is crossed out."""

import re
from collections.abc import Mapping
from typing import Final

import msgspec

from companion.setlist.model import ListPage
from companion.setlist.readers.document_rows import DocumentRows
from companion.setlist.readers.limits import DEEPEST_STYLE, LONGEST_CELL, MAX_DOCUMENT_DEPTH, MAX_INDENT
from companion.setlist.readers.workbook_parts import Parts

MAIN: Final = "content.xml"
LENGTH: Final = re.compile(r"([0-9]{1,6}(?:\.[0-9]{1,8})?)(in|cm|mm|pt|pc)$")
PER_INCH: Final = {"in": 1.0, "cm": 2.54, "mm": 25.4, "pt": 72.0, "pc": 6.0}
SKIPPED: Final = ("tracked-changes", "note", "forms", "object", "ruby-text")  # deleted text, footnotes, drawings
MAX_REPEATED: Final = 100  # spaces, columns or rows that one element stands for
BOLD: Final = ("bold", "600", "700", "800", "900")
DEFAULT: Final = "\0default"  # no style of a file has this name


class OpenStyle(msgspec.Struct):
    """A style, as far as a list needs it: of text, a paragraph, a cell, a row or a table."""

    parent: str = ""
    is_struck: bool = False
    is_bold: bool = False
    is_hidden: bool = False
    size: float = 0.0
    indent: int = 0  # of a paragraph, in steps of a quarter of an inch
    colour: str = ""  # behind a cell: #ffff00


class OpenStyles:
    """The styles of a document, by family and name."""

    def __init__(self) -> None:
        self._styles: dict[tuple[str, str], OpenStyle] = {}
        self.bullets: set[tuple[str, int]] = set()  # levels of lists that have bullets, not numbers
        self.numbers: set[tuple[str, int]] = set()
        self._now = OpenStyle()
        self._list = ""

    def opens(self, element: str, attributes: Mapping[str, str]) -> None:
        """Read one element of a style; all others change nothing."""
        match element:
            case "style":
                at = attributes.get("family", ""), attributes.get("name", "")
                self._now = self._styles.setdefault(at, OpenStyle())
                self._now.parent = attributes.get("parent-style-name", "")
            case "default-style":
                self._now = self._styles.setdefault((attributes.get("family", ""), DEFAULT), OpenStyle())
            case "paragraph-properties":
                self._now.indent = min(round(_inches(attributes.get("margin-left", "")) * 4), MAX_INDENT)
            case "text-properties":
                line = attributes.get("text-line-through-style") or attributes.get("text-line-through-type")
                self._now.is_struck = line not in (None, "", "none")
                self._now.is_bold = attributes.get("font-weight", "") in BOLD
                self._now.is_hidden = self._now.is_hidden or attributes.get("display") == "none"
                self._now.size = _points(attributes.get("font-size", ""))
            case "table-properties":
                self._now.is_hidden = attributes.get("display") == "false"
            case "table-cell-properties":
                self._now.colour = attributes.get("background-color", "").removeprefix("transparent")
            case "list-style":
                self._list = attributes.get("name", "")
            case "list-level-style-bullet":
                self.bullets.add((self._list, _whole(attributes.get("level", "1"))))
            case "list-level-style-number" if attributes.get("num-format"):
                self.numbers.add((self._list, _whole(attributes.get("level", "1"))))
            case _:
                pass

    def style(self, family: str, name: str) -> OpenStyle:
        """Return a style with what it takes from those that it is based on."""
        found = OpenStyle()
        for _ in range(DEEPEST_STYLE):
            style = self._styles.get((family, name))
            if style is None:
                break
            found.is_struck = found.is_struck or style.is_struck
            found.is_bold = found.is_bold or style.is_bold
            found.is_hidden = found.is_hidden or style.is_hidden
            found.size = found.size or style.size
            found.indent = found.indent or style.indent
            found.colour = found.colour or style.colour
            name = style.parent
        default = self._styles.get((family, DEFAULT))
        found.size = found.size or (default.size if default else 0.0)
        return found


class OpenText:
    """The text inside a paragraph, with its spans: what is crossed out, hidden, or a comment."""

    def __init__(self, styles: OpenStyles) -> None:
        self.styles = styles
        self.spans: list[OpenStyle] = []  # those open
        self._comment: list[str] | None = None
        self._is_said = False  # inside a comment: its own paragraphs, not its author

    @property
    def in_comment(self) -> bool:
        """Return whether the text belongs to a comment."""
        return self._comment is not None

    def opens(self, element: str, attributes: Mapping[str, str]) -> str:
        """Begin an element inside a paragraph; return the text that it stands for."""
        match element:
            case "annotation":
                self._comment = []
            case "p" if self._comment is not None:
                self._is_said = True
                self._comment.append(" ")
            case "span":
                style = self.styles.style("text", attributes.get("style-name", ""))
                self.spans.append(style)
            case "s":
                return " " * min(_whole(attributes.get("c", "1")), MAX_REPEATED)
            case "tab":
                return "\t"
            case "line-break":
                return "\n"
            case _:
                pass
        return ""

    def closes(self, element: str) -> str | None:
        """End an element inside a paragraph; return a comment that ended with it."""
        if element == "span" and self.spans:
            self.spans.pop()
        elif element == "p":
            self._is_said = False
        elif element == "annotation" and self._comment is not None:
            said, self._comment = "".join(self._comment)[: LONGEST_CELL * 4], None
            return said
        return None

    def says(self, text: str) -> None:
        """Add text to the comment that is open."""
        if self._comment is not None and self._is_said:
            self._comment.append(text)

    @property
    def is_struck(self) -> bool:
        """Return whether the text here is crossed out."""
        return any(style.is_struck for style in self.spans)

    @property
    def is_hidden(self) -> bool:
        """Return whether the text here is not shown."""
        return any(style.is_hidden for style in self.spans)


class _TextBody:
    """A text document while it is read."""

    def __init__(self, styles: OpenStyles, rows: DocumentRows) -> None:
        self._styles, self._rows, self._text = styles, rows, OpenText(styles)
        self._skipped = 0
        self._paragraphs: list[OpenStyle] = []  # those open
        self._lists: list[tuple[str, int]] = []  # the style of each list open, and its items so far
        self._is_first = False  # the first paragraph of an item, which its number is before

    def opens(self, element: str, attributes: Mapping[str, str]) -> None:
        if self._skipped or element in SKIPPED:
            self._skipped += 1
            return
        if self._text.in_comment or element in ("annotation", "span", "s", "tab", "line-break"):
            said = self._text.opens(element, attributes)
            if said and self._paragraphs:
                self._say(said)
            return
        self._styles.opens(element, attributes)
        match element:
            case "p" | "h":
                self._begin_paragraph(attributes, is_large=element == "h")
            case "list":
                above = self._lists[-1][0] if self._lists else ""
                self._lists.append((attributes.get("style-name", above), 0))
            case "list-item" if self._lists:
                self._lists[-1] = self._lists[-1][0], self._lists[-1][1] + 1
                self._is_first = True
            case "table":
                self._rows.begin_table()
            case "table-row":
                self._rows.begin_row()
            case "table-cell":
                self._rows.begin_cell()
            case "covered-table-cell":
                self._rows.begin_cell()
            case _:
                pass

    def _begin_paragraph(self, attributes: Mapping[str, str], *, is_large: bool) -> None:
        style = self._styles.style("paragraph", attributes.get("style-name", ""))
        self._paragraphs.append(style)
        named, count = self._lists[-1] if self._lists else ("", 0)
        at = named, len(self._lists)
        label = "-" if at in self._styles.bullets else f"{count}." if at in self._styles.numbers else ""
        label = label if self._is_first else ""
        self._is_first = False
        indent = len(self._lists) - 1 if self._lists else style.indent
        self._rows.begin_paragraph(is_large=is_large, indent=indent, label=label)

    def closes(self, element: str) -> None:
        if self._skipped:
            self._skipped -= 1
            return
        if self._text.in_comment or element == "span":
            if said := self._text.closes(element):
                self._rows.comment(said)
            return
        match element:
            case "p" | "h":
                if not self._rows.has_text:
                    self._rows.empty_line()
                self._rows.end_paragraph()
                self._paragraphs = self._paragraphs[:-1]
            case "list":
                self._lists = self._lists[:-1]
            case "table-cell" | "covered-table-cell":
                self._rows.end_cell()
            case "table":
                self._rows.end_table()
            case _:
                pass

    def says(self, text: str) -> None:
        if self._skipped:
            return
        if self._text.in_comment:
            self._text.says(text)
        elif self._paragraphs:
            self._say(" ".join(text.split("\n")))

    def _say(self, text: str) -> None:
        styles = (self._paragraphs[-1], *self._text.spans)
        if not any(style.is_hidden for style in styles):
            size = next((style.size for style in reversed(styles) if style.size), 0.0)
            is_struck, is_bold = any(style.is_struck for style in styles), any(style.is_bold for style in styles)
            self._rows.says(text, is_struck=is_struck, is_bold=is_bold, size=size)


def open_parts(raw: bytes, shown: str, what: str) -> tuple[Parts, OpenStyles]:
    """Open a file of this family and read its common styles. Raises FaultyFile."""
    parts = Parts(raw, shown, what=what, main=MAIN, max_depth=MAX_DOCUMENT_DEPTH)
    styles = OpenStyles()
    if "styles.xml" in parts.names:
        parts.read("styles.xml", styles.opens)
    return parts, styles


def pages_of_open_text(raw: bytes, shown: str) -> tuple[ListPage, ...]:
    """Return the rows of a text document. Raises FaultyFile if it is hostile, locked, damaged or far too large."""
    parts, styles = open_parts(raw, shown, "document")
    rows = DocumentRows(shown)
    body = _TextBody(styles, rows)
    parts.read(MAIN, body.opens, body.closes, body.says)
    return rows.pages()


def _points(text: str) -> float:
    """Return a size in points; 0 for a share of another size."""
    number = text.removesuffix("pt")
    try:
        return float(number) if number != text and len(number) < 8 else 0.0
    except ValueError:
        return 0.0


def _inches(text: str) -> float:
    """Return a length in inches (OpenDocument 1.2 part 1, 18.3.18); 0 if it is none."""
    found = LENGTH.match(text[:20])
    return float(found[1]) / PER_INCH[found[2]] if found else 0.0


def _whole(text: str) -> int:
    return int(text) if text.isascii() and text.isdecimal() and len(text) < 8 else 0
