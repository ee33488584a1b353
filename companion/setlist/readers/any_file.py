"""Turn a file of any kind into rows. Its first bytes decide the kind, not its name."""

import codecs
import os
from pathlib import Path

from companion.regular import NotRegular, TooLarge, read_regular
from companion.setlist.model import ListPage
from companion.setlist.readers.limits import MAX_BYTES
from companion.setlist.readers.refusal import no_list

ZIPS = {  # by file name extension, since all of these are zips
    ".docx": "a Word document",
    ".odt": "a text document",
    ".ods": "an OpenDocument spreadsheet",
    ".pages": "a Pages document",
    ".numbers": "a Numbers spreadsheet",
    ".zip": "a zip",
}
OTHERS = (  # the formats' published signatures
    (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "an old Office file", "the same, saved as .xlsx or exported as PDF"),
    (b"{\\rtf", "a rich text file", "the same, saved as plain text or exported as PDF"),
    (b"\x89PNG", "a picture", "the list as text: typed, or copied from the phone's text recognition"),
    (b"\xff\xd8\xff", "a picture", "the list as text: typed, or copied from the phone's text recognition"),
    (b"GIF8", "a picture", "the list as text"),
)
COLUMNS_BY_ENDING = {".csv": "", ".tsv": "\t", ".tab": "\t"}


def rows_in(raw: bytes, shown: str) -> tuple[ListPage, ...]:
    """Return the rows of a CSV, TSV, XLSX, PDF, text or Markdown file. Raises FaultyFile for any other.

    ``shown`` is the file's name; its extension distinguishes comma-separated values from text.
    """
    if raw.lstrip()[:5] == b"%PDF-" or b"%PDF-" in raw[:1024]:
        from companion.setlist.readers.pdf import pages_of_pdf

        return pages_of_pdf(raw, shown)
    if raw.startswith(b"PK\x03\x04"):
        return _zipped(raw, shown)
    for mark, what, write in OTHERS:
        if raw.startswith(mark):
            raise no_list(shown, f"this is {what}", write)
    from companion.setlist.readers.text import pages_of_text

    text, remarks = decoded(raw, shown)
    return pages_of_text(text, shown, remarks, COLUMNS_BY_ENDING.get(Path(shown).suffix.lower()))


def _zipped(raw: bytes, shown: str) -> tuple[ListPage, ...]:
    if (kind := ZIPS.get(Path(shown).suffix.lower())) and b"xl/" not in raw:
        raise no_list(shown, f"this is {kind}", "the same, saved as .xlsx or .csv, exported as PDF, or pasted as text")
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


def bytes_of(path: str | os.PathLike[str]) -> bytes:
    """Return the file's bytes. Raises FaultyFile where it is empty, too large or unreadable."""
    shown = os.fspath(path)
    try:
        raw = read_regular(path, MAX_BYTES)
    except FileNotFoundError:
        raise no_list(shown, "there is no such file") from None
    except TooLarge:
        most = MAX_BYTES // 1024 // 1024
        raise no_list(shown, f"the file is larger than {most} MiB", "the pages with the list alone") from None
    except (NotRegular, IsADirectoryError):
        what = "a folder, not a file" if Path(path).is_dir() else "not a regular file"
        raise no_list(shown, what, "the list's own path") from None
    except (OSError, ValueError) as error:
        raise no_list(shown, f"the file cannot be read ({getattr(error, 'strerror', None) or error})") from None
    if not raw.strip():
        raise no_list(shown, "the file is empty")
    return raw
