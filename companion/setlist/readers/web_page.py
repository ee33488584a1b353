"""Read a web page: paragraphs, lists and tables as they are shown. Nothing that it refers to is fetched."""

import codecs
import re
from collections.abc import Callable, Sequence
from html.parser import HTMLParser
from typing import Final

import msgspec

from companion.setlist.model import ListPage
from companion.setlist.readers.document_rows import DocumentRows
from companion.setlist.readers.limits import MAX_ELEMENTS, MAX_HTML_BYTES
from companion.setlist.readers.refusal import no_list

BEGINS: Final = re.compile(
    rb"\s*(?:<\?xml[^>]{0,200}>\s*)?(?:<!--.{0,2000}?-->\s*)?"
    rb"<(?:!doctype\s+html|(?:html|head|body|meta|style|table|div|ul|ol|p|h[1-6]|span|font|br)\b)",
    re.IGNORECASE | re.DOTALL,
)
CHARSET: Final = re.compile(rb"""<meta[^>]{1,200}charset\s*=\s*["']?([\w-]{1,40})""", re.IGNORECASE)
# The HTML standard, 15.3 (rendering): what begins a line of its own, what is not shown, what is crossed out.
BLOCKS: Final = frozenset((
    "address", "article", "aside", "blockquote", "body", "center", "dd", "div", "dl", "dt", "fieldset", "figure",
    "footer", "form", "h1", "h2", "h3", "h4", "h5", "h6", "header", "hr", "html", "li", "main", "nav", "ol", "p",
    "pre", "section", "ul", "caption", "details", "summary",
))  # fmt: skip
NOT_SHOWN: Final = frozenset((
    "head", "script", "style", "template", "noscript", "title", "select", "option", "textarea", "svg", "math",
    "object", "iframe", "audio", "video", "map",
))  # fmt: skip
STRUCK_BY: Final = frozenset(("s", "strike", "del"))
HEADINGS: Final = frozenset(("h1", "h2", "h3", "h4", "h5", "h6"))
VOID: Final = frozenset((
    "area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "param", "source", "track", "wbr",
))  # fmt: skip
SPACE: Final = re.compile(r"[ \t\n\r\f]+")
RULE: Final = re.compile(r"([^{}]{1,500})\{([^{}]{0,2000})\}")
CLASS: Final = re.compile(r"\.([\w-]{1,80})")
LINE_THROUGH: Final = re.compile(r"text-decoration(?:-line)?\s*:[^;]{0,60}line-through", re.IGNORECASE)
BOLD_BY: Final = ("b", "strong")
BOLD: Final = re.compile(r"font-weight\s?:\s?(?:bold|[6-9]00)", re.IGNORECASE)
HIDDEN: Final = re.compile(r"display\s*:\s*none|visibility\s*:\s*hidden", re.IGNORECASE)
MAX_BELOW: Final = 8  # elements between a description and its text
MAX_OPEN: Final = 2_000  # elements inside each other; a mail quoted twenty times has three hundred


class _Open(msgspec.Struct):
    """An element that is open, and what holds inside it."""

    tag: str
    is_struck: bool = False
    is_bold: bool = False
    is_hidden: bool = False
    is_large: bool = False
    is_pre: bool = False
    quoted: int = 0


class _List(msgspec.Struct):
    is_numbered: bool
    count: int = 0


class _Page(HTMLParser):
    """A page while it is read."""

    def __init__(self, rows: DocumentRows, shown: str) -> None:
        super().__init__(convert_charrefs=True)
        self._rows, self._shown = rows, shown
        self._open: list[_Open] = [_Open("")]
        self._lists: list[_List] = []
        self._elements = 0
        self._struck: set[str] = set()  # classes of the page's own style sheet
        self._hidden: set[str] = set()
        self._is_style = False
        self._ends_in_space = True
        self._label = ""  # of the list's item, until its text begins

    @property
    def _now(self) -> _Open:
        return self._open[-1]

    def handle_starttag(self, tag: str, attrs: Sequence[tuple[str, str | None]]) -> None:
        self._elements += 1
        if self._elements > MAX_ELEMENTS or len(self._open) > MAX_OPEN:
            raise no_list(
                self._shown, "far more elements than a list has", "the list alone, as text or exported as PDF"
            )
        said = {name: value or "" for name, value in attrs if name in ("style", "class", "start", "colspan", "rowspan")}
        names = {name for name, _ in attrs}
        self._is_style = tag == "style"
        self._close_implied(tag)
        if tag in BLOCKS:
            self._begin_block()
        if tag == "br":
            self._say("\n")
        elif tag == "hr":
            self._rows.empty_line()
        if tag in VOID:
            return
        self._open.append(self._opened(tag, said, is_hidden="hidden" in names))
        if tag in ("ul", "ol"):
            start = said.get("start", "1")
            before = int(start) - 1 if start.isascii() and start.isdecimal() and len(start) < 5 else 0
            self._lists.append(_List(tag == "ol", before))
        elif not self._now.is_hidden:
            self._layout(tag, said)

    def _opened(self, tag: str, said: dict[str, str], *, is_hidden: bool) -> _Open:
        now, style = self._now, said.get("style", "")[:2_000]
        classes = set(said.get("class", "")[:2_000].split())
        return _Open(
            tag,
            is_struck=now.is_struck
            or tag in STRUCK_BY
            or bool(LINE_THROUGH.search(style))
            or bool(classes & self._struck),
            is_bold=now.is_bold or tag in BOLD_BY or bool(BOLD.search(style)),
            is_hidden=now.is_hidden
            or is_hidden
            or tag in NOT_SHOWN
            or bool(HIDDEN.search(style))
            or bool(classes & self._hidden),
            is_large=now.is_large or tag in HEADINGS,
            is_pre=now.is_pre or tag == "pre",
            quoted=now.quoted + (tag == "blockquote"),
        )

    def _layout(self, tag: str, said: dict[str, str]) -> None:
        match tag:
            case "table":
                self._rows.begin_table()
            case "tr":
                self._rows.begin_row()
            case "td" | "th":
                self._rows.begin_cell(_span(said.get("colspan", "")), _span(said.get("rowspan", "")))
                self._begin_block()
            case "li":
                self._lists = self._lists or [_List(is_numbered=False)]
                one = self._lists[-1]
                one.count += 1
                self._label = f"{one.count}." if one.is_numbered else "-"
                self._begin_block()
            case _ if tag in BLOCKS:
                self._begin_block()
            case _:
                pass

    def _close_implied(self, tag: str) -> None:
        """Close what this element ends without saying so: the HTML standard, 13.1.2.4 (optional tags)."""
        ends, within = {
            "li": (("li",), ("ul", "ol")),
            "tr": (("tr", "td", "th"), ("table",)),
            "td": (("td", "th"), ("tr", "table")),
            "th": (("td", "th"), ("tr", "table")),
            "p": (("p",), ("div", "td", "li", "blockquote", "body")),
            "dt": (("dt", "dd"), ("dl",)),
            "dd": (("dt", "dd"), ("dl",)),
        }.get(tag, ((), ()))
        for at in range(len(self._open) - 1, 0, -1):
            if self._open[at].tag in within:
                return
            if self._open[at].tag in ends and (at == 1 or self._open[at - 1].tag not in ends):
                self._close(at)
                return

    def handle_endtag(self, tag: str) -> None:
        self._is_style = False
        for at in range(len(self._open) - 1, max(len(self._open) - 100, 0), -1):
            if self._open[at].tag == tag:
                self._close(at)
                return
        if tag == "p":
            self._begin_block()

    def _close(self, at: int) -> None:
        for one in reversed(self._open[at:]):
            self._open.pop()
            if one.tag in ("ul", "ol") and self._lists:
                self._lists.pop()
            if one.is_hidden:
                continue
            if one.tag in ("td", "th"):
                self._rows.end_cell()
            elif one.tag == "table":
                self._rows.end_table()
            elif one.tag in BLOCKS:
                self._begin_block()
            if one.tag == "li":
                self._label = ""

    def _begin_block(self) -> None:
        if self._rows.has_text:
            self._label = ""
        now, indent = self._now, max(len(self._lists) - 1, 0) + any(one.tag == "dd" for one in self._open[-MAX_BELOW:])
        self._rows.begin_paragraph(is_large=now.is_large, indent=indent, label=self._label, quoted=now.quoted)
        self._ends_in_space = True

    def handle_data(self, data: str) -> None:
        if self._is_style:
            self._read_style(data)
        elif not self._now.is_hidden:
            self._say(data if self._now.is_pre else SPACE.sub(" ", data))

    def _say(self, text: str) -> None:
        """Add text; white space at a line's beginning, or after other white space, is not shown."""
        if self._now.is_hidden:
            return
        if self._ends_in_space and not self._now.is_pre:
            text = text.lstrip(" ")
        if text:
            text = text.replace("\xa0", " ")
            self._rows.says(text, is_struck=self._now.is_struck, is_bold=self._now.is_bold)
            self._ends_in_space = text[-1] in " \n"

    def _read_style(self, sheet: str) -> None:
        for number, rule in enumerate(RULE.finditer(sheet)):
            if number > 2_000:
                return
            classes = CLASS.findall(rule[1])
            if LINE_THROUGH.search(rule[2]):
                self._struck.update(classes)
            if HIDDEN.search(rule[2]) and "@" not in rule[1]:
                self._hidden.update(classes)


def is_web_page(raw: bytes) -> bool:
    """Return whether the bytes begin as a web page does."""
    return bool(BEGINS.match(raw[:4_096].removeprefix(codecs.BOM_UTF8)))


def pages_of_web_page(
    raw: bytes, shown: str, decoded: Callable[[bytes, str], tuple[str, tuple[str, ...]]]
) -> tuple[ListPage, ...]:
    """Return the rows of a page. ``decoded`` reads bytes of no declared encoding. Raises FaultyFile."""
    text, remarks = page_text(raw, shown, decoded)
    return rows_of_page(text, shown).pages(remarks)


def page_text(
    raw: bytes, shown: str, decoded: Callable[[bytes, str], tuple[str, tuple[str, ...]]]
) -> tuple[str, tuple[str, ...]]:
    """Return a page's text, in the encoding that it declares."""
    declared = CHARSET.search(raw[:4_096])
    if declared and not raw.startswith((codecs.BOM_UTF8, codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        text = text_in(raw, declared[1].decode("ascii"))
        if text is not None:
            return text, ()
    return decoded(raw, shown)


def text_in(raw: bytes, charset: str) -> str | None:
    """Return the text in this encoding; None if it is unknown or makes no text of bytes."""
    try:
        known = codecs.lookup(charset)
        said, _ = known.decode(raw, "replace")
    except (LookupError, UnicodeError, ValueError, TypeError):
        return None
    return said if isinstance(said, str) else None


def rows_of_page(text: str, shown: str, above: Sequence[str] = ()) -> DocumentRows:
    """Return what a page's text shows, under the lines ``above``. Raises FaultyFile if it is far too large."""
    if len(text) > MAX_HTML_BYTES:
        raise no_list(shown, f"larger than {MAX_HTML_BYTES >> 20} MiB; a list's page has 20 KiB", "the list alone")
    rows = DocumentRows(shown)
    for line in above:
        rows.says(line)
        rows.end_paragraph()
    if above:
        rows.empty_line()
    page = _Page(rows, shown)
    page.feed(text)
    page.close()
    rows.end_paragraph()
    return rows


def _span(text: str) -> int:
    return int(text) if text.isascii() and text.isdecimal() and len(text) < 4 else 1
