r"""Read rich text by the RTF Specification 1.9.1: paragraphs, tables, and what is crossed out or hidden.

Only the words that a list needs are known; a group that begins with an unknown ``\*`` is skipped, as the specification
says (Conventions of an RTF Reader).
"""

import re
from typing import Final

import msgspec

from companion.setlist.model import ListPage
from companion.setlist.readers.document_rows import DocumentRows
from companion.setlist.readers.limits import MAX_DOCUMENT_DEPTH, MAX_ELEMENTS, MAX_INDENT
from companion.setlist.readers.refusal import no_list

TOKEN: Final = re.compile(r"\\([a-z]{1,32})(-?\d{1,10})? ?|\\'([0-9a-fA-F]{2})|\\([^a-z])|([{}])|([^\\{}]+)", re.DOTALL)
PRIVATE: Final = re.compile("[\ue000-\uf8ff]")  # a symbol font's bullets
SKIPPED: Final = frozenset((
    "fonttbl", "colortbl", "stylesheet", "info", "pict", "object", "header", "headerl", "headerr", "headerf",
    "footer", "footerl", "footerr", "footerf", "footnote", "fldinst", "listtable", "listoverridetable", "revtbl",
    "rsidtbl", "themedata", "datastore", "xmlnstbl", "generator", "latentstyles", "shppict", "nonshppict",
    "bkmkstart", "bkmkend", "filetbl", "mmathPr", "pgptbl", "annotation", "atnid", "atnauthor", "pntxtb", "pntxta",
))  # fmt: skip
LITERAL: Final = {
    "tab": "\t", "line": "\n", "emdash": "—", "endash": "–", "lquote": "‘", "rquote": "’", "ldblquote": "“",
    "rdblquote": "”", "bullet": "•", "emspace": " ", "enspace": " ", "softline": "\n", "page": "\n",
}  # fmt: skip
CODE_PAGES: Final = {"ansi": "cp1252", "mac": "mac_roman", "pc": "cp437", "pca": "cp850"}
CHARSETS: Final = {
    77: "mac_roman", 128: "cp932", 134: "cp936", 161: "cp1253", 162: "cp1254", 163: "cp1258", 177: "cp1255",
    178: "cp1256", 186: "cp1257", 204: "cp1251", 222: "cp874", 238: "cp1250",
}  # fmt: skip


class _Group(msgspec.Struct):
    """What holds inside one pair of braces."""

    is_skipped: bool = False
    is_struck: bool = False
    is_bold: bool = False
    is_hidden: bool = False
    is_deleted: bool = False
    size: float = 12.0
    indent: int = 0  # in steps of a quarter of an inch; the file counts twentieths of a point
    font: int = 0
    unicode_skip: int = 1  # bytes after \u that stand for the same letter
    in_fonts: bool = False
    is_label: bool = False  # a list's number or bullet


class _RichText:
    """A file while it is read."""

    def __init__(self, rows: DocumentRows) -> None:
        self._rows = rows
        self._groups = [_Group()]
        self._code_page = "cp1252"
        self._fonts: dict[int, str] = {}
        self._bytes = bytearray()  # letters in the font's code page, not yet decoded
        self._to_skip = 0
        self._high = 0  # the first half of a letter outside the basic plane
        self._in_table = self._in_row = self._is_optional = False

    @property
    def _now(self) -> _Group:
        return self._groups[-1]

    def read(self, text: str, shown: str) -> None:
        for count, token in enumerate(TOKEN.finditer(text)):
            if count > MAX_ELEMENTS:
                raise no_list(shown, f"more than {MAX_ELEMENTS:,} marks in the rich text", "the list alone")
            word, number, code, sign, brace, plain = token.groups()
            if brace == "{":
                self._flush()
                if len(self._groups) > MAX_DOCUMENT_DEPTH * 2:
                    raise no_list(shown, "the rich text is nested too deep", "the same, saved as plain text")
                self._groups.append(msgspec.structs.replace(self._now))
                continue
            if brace:
                self._flush()
                if len(self._groups) > 1:
                    self._groups.pop()
                continue
            if code is not None:
                self._byte(int(code, 16))
            elif word is not None:
                self._word(word, int(number) if number else None)
            elif sign is not None:
                self._sign(sign)
            elif plain is not None:
                self._say(plain.replace("\r", "").replace("\n", ""))
            self._is_optional = sign == "*"
        self._flush()

    def _word(self, word: str, number: int | None) -> None:
        if word in SKIPPED or (self._is_optional and word not in ("shptxt", "pn")):
            self._now.is_skipped = word != "fonttbl"
            self._now.in_fonts = word == "fonttbl"
            return
        if word == "u" and number is not None:
            self._letter(number % 65536)
            self._to_skip = self._now.unicode_skip
            return
        if word == "bin":
            raise ValueError("it holds binary data")
        self._flush()
        on = number != 0
        match word:
            case "strike" | "striked":
                self._now.is_struck = on
            case "b":
                self._now.is_bold = on
            case "deleted":
                self._now.is_deleted = on
            case "v":
                self._now.is_hidden = on
            case "plain":
                self._now.is_struck = self._now.is_hidden = self._now.is_deleted = self._now.is_bold = False
                self._now.size = 12.0
            case "pard":
                self._now.indent = 0
            case "li" if number is not None:
                self._now.indent = min(max(round(number / 360), 0), MAX_INDENT)
            case "fs" if number:
                self._now.size = number / 2
            case "f" if number is not None:
                self._now.font = number
            case "fcharset" if number in CHARSETS:
                self._fonts[self._now.font] = CHARSETS[number]
            case "uc" if number is not None:
                self._now.unicode_skip = min(max(number, 0), 8)
            case "ansicpg" if number:
                self._code_page = f"cp{number}" if _is_known(f"cp{number}") else self._code_page
            case "listtext" | "pntext":
                self._now.is_label = True
            case "ansi" | "mac" | "pc" | "pca":
                self._code_page = CODE_PAGES[word]
            case _ if not self._is_silent:
                self._layout(word)
            case _:
                pass

    def _layout(self, word: str) -> None:
        """Begin and end paragraphs, rows and cells."""
        match word:
            case "trowd":
                if not self._in_table:
                    self._rows.begin_table()
                    self._in_table = True
                if not self._in_row:
                    self._begin_row()
            case "cell" | "nestcell":
                if self._in_row:
                    self._rows.end_cell()
                    self._rows.begin_cell()
            case "row" | "nestrow":
                self._in_row = False
                self._rows.end_cell()
            case "intbl":
                if self._in_table and not self._in_row:
                    self._begin_row()
            case "par" | "sect":
                self._end_table_before_text()
                self._rows.indent(self._now.indent)
                if not self._rows.has_text:
                    self._rows.empty_line()
                self._rows.end_paragraph()
            case _ if word in LITERAL:
                self._say(LITERAL[word])
            case _:
                pass

    def _begin_row(self) -> None:
        self._rows.begin_row()
        self._rows.begin_cell()
        self._in_row = True

    def _end_table_before_text(self) -> None:
        if self._in_table and not self._in_row:
            self._rows.end_table()
            self._in_table = False

    @property
    def _is_silent(self) -> bool:
        return self._now.is_skipped or self._now.is_hidden or self._now.in_fonts

    def _sign(self, sign: str) -> None:
        if sign in "\r\n":
            self._word("par", None)
        elif sign != "*":
            self._say({"~": " ", "_": "-", "-": ""}.get(sign, sign if sign in "\\{}" else ""))

    def _byte(self, code: int) -> None:
        if self._to_skip:
            self._to_skip -= 1
        elif not self._is_silent:
            self._bytes.append(code)

    def _letter(self, code: int) -> None:
        self._flush()
        if 0xD800 <= code < 0xDC00:
            self._high = code
        elif 0xDC00 <= code < 0xE000:
            if self._high:
                self._put(chr(0x10000 + ((self._high - 0xD800) << 10) + code - 0xDC00))
            self._high = 0
        else:
            self._put(chr(code))

    def _say(self, text: str) -> None:
        cut = min(self._to_skip, len(text))
        self._to_skip -= cut
        self._flush()
        self._put(text[cut:])

    def _flush(self) -> None:
        if self._bytes:
            said = self._bytes.decode(self._fonts.get(self._now.font, self._code_page), errors="replace")
            self._bytes.clear()
            self._put(said)

    def _put(self, text: str) -> None:
        if text and not self._is_silent:
            if self._now.is_label:
                text = PRIVATE.sub("•", text).replace("\t", " ")
            if text.strip():
                self._end_table_before_text()
            is_struck = self._now.is_struck or self._now.is_deleted
            self._rows.says(text, is_struck=is_struck, is_bold=self._now.is_bold, size=self._now.size)


def pages_of_rich_text(raw: bytes, shown: str) -> tuple[ListPage, ...]:
    """Return the rows of a rich text. Raises FaultyFile if it is hostile, damaged or far too large."""
    rows = DocumentRows(shown)
    try:
        _RichText(rows).read(raw.decode("latin-1"), shown)
    except ValueError as error:
        raise no_list(shown, f"the rich text cannot be read: {error}", "the same, saved as plain text") from None
    return rows.pages()


def _is_known(code_page: str) -> bool:
    try:
        return bool(b"a".decode(code_page))
    except (LookupError, UnicodeError):
        return False
