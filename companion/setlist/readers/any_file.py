"""Turn a file of any kind into rows. Its first bytes decide the kind, not its name."""

import codecs
from pathlib import Path

from companion.setlist.model import ListPage
from companion.setlist.readers.other_kinds import is_picture, other_kind, zip_kind
from companion.setlist.readers.refusal import no_list, only_pictures
from companion.setlist.readers.workbook_parts import names_in_zip

COLUMNS_BY_ENDING = {".csv": "", ".tsv": "\t", ".tab": "\t"}


def rows_in(raw: bytes, shown: str) -> tuple[ListPage, ...]:
    """Return the rows of a list in any format that is read. Raises FaultyFile for any other.

    ``shown`` is the file's name; its extension distinguishes comma-separated values from text.
    """
    if raw.lstrip()[:5] == b"%PDF-" or b"%PDF-" in raw[:1024]:
        from companion.setlist.readers.pdf import pages_of_pdf

        return pages_of_pdf(raw, shown)
    if raw.startswith(b"PK\x03\x04"):
        return _zipped(raw, shown)
    if raw.startswith(b"{\\rtf"):
        from companion.setlist.readers.rich_text import pages_of_rich_text

        return pages_of_rich_text(raw, shown)
    if is_picture(raw):
        raise only_pictures(shown, "this is a picture, so it holds no text", "the list as text")
    if kind := other_kind(raw):
        raise no_list(shown, f"this is {kind.what}", kind.write)
    from companion.setlist.readers.mail import is_mail, pages_of_mail
    from companion.setlist.readers.web_page import is_web_page, pages_of_web_page

    if is_mail(raw):
        return pages_of_mail(raw, shown, decoded)
    if is_web_page(raw):
        return pages_of_web_page(raw, shown, decoded)
    from companion.setlist.readers.text import pages_of_text

    text, remarks = decoded(raw, shown)
    return pages_of_text(text, shown, remarks, COLUMNS_BY_ENDING.get(Path(shown).suffix.lower()))


def _zipped(raw: bytes, shown: str) -> tuple[ListPage, ...]:
    """Return the rows of an office file, known by its parts."""
    names = names_in_zip(raw, shown)
    if "word/document.xml" in names:
        from companion.setlist.readers.word_document import pages_of_word

        return pages_of_word(raw, shown)
    if "content.xml" in names:
        from companion.setlist.readers.open_document import pages_of_open_text
        from companion.setlist.readers.open_sheet import is_sheet, pages_of_open_sheet

        return (pages_of_open_sheet if is_sheet(raw) else pages_of_open_text)(raw, shown)
    if "xl/workbook.xml" not in names:
        kind = zip_kind(names)
        raise no_list(shown, f"this is {kind.what}", kind.write)
    from companion.setlist.readers.workbook import pages_of_workbook

    return pages_of_workbook(raw, shown)


def decoded(raw: bytes, shown: str) -> tuple[str, tuple[str, ...]]:
    """Return the text and remarks on it: UTF-8, UTF-16 with its byte order mark, else Windows-1252 with a remark."""
    for mark, name in (
        (codecs.BOM_UTF8, "utf-8"),
        (codecs.BOM_UTF16_LE, "utf-16-le"),
        (codecs.BOM_UTF16_BE, "utf-16-be"),
    ):
        if raw.startswith(mark):
            return raw[len(mark) :].decode(name, errors="replace"), ()
    if 0 in raw:
        raise no_list(shown, "this is not text: it contains a zero byte", "the list as CSV, XLSX, PDF or text")
    try:
        return raw.decode(), ()
    except UnicodeDecodeError:
        return raw.decode("cp1252", errors="replace"), (
            "the file is not in UTF-8: read as Windows-1252; check the accents",
        )
