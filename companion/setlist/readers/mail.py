"""Read a saved mail: its subject and date as lines above its text; what it carries is named, and nothing is fetched."""

import email
import email.header
import email.message
import email.policy
import email.utils
import re
from collections.abc import Callable, Iterator
from typing import Final

from companion.setlist.model import ListPage
from companion.setlist.readers.limits import LONGEST_CELL, MAX_MAIL_PARTS
from companion.setlist.readers.refusal import no_list
from companion.setlist.readers.web_page import page_text, rows_of_page, text_in
from companion.setlist.tidy import cut, one_line, tidy

HEADER: Final = re.compile(
    rb"(?:From [^\r\n]{0,200}\r?\n|>From [^\r\n]{0,200}\r?\n)?([A-Za-z][A-Za-z0-9-]{1,60}):[ \t]?"
)
NAMES: Final = re.compile(rb"^([A-Za-z][A-Za-z0-9-]{1,60}):", re.MULTILINE)
OF_MAIL: Final = frozenset(  # RFC 5322, 3.6, and RFC 2045, 3: what a person does not type above a pasted text
    (b"message-id", b"mime-version", b"received", b"return-path", b"content-type", b"x-mailer", b"delivered-to")
)
TRACE: Final = 8 * 1024  # bytes of a mail's head that are looked at
MAX_SUBJECT: Final = 200
BROKEN: Final = (ValueError, LookupError, TypeError, RecursionError, AttributeError, AssertionError, IndexError)
# A page that shows no more than lines says in its text part the same, without the page's trimmings.
SHOWS_MORE: Final = re.compile(r"<(?:t[dh]|s|strike|del|li)\b|line-through", re.IGNORECASE)

Decoded = Callable[[bytes, str], tuple[str, tuple[str, ...]]]


def is_mail(raw: bytes) -> bool:
    """Return whether the bytes begin with a mail's head: not only the lines that people copy with a text."""
    if not HEADER.match(raw):
        return False
    head = re.split(rb"\r?\n\r?\n", raw[:TRACE], maxsplit=1)[0]
    return bool({name.lower() for name in NAMES.findall(head)} & OF_MAIL)


def pages_of_mail(raw: bytes, shown: str, decoded: Decoded) -> tuple[ListPage, ...]:
    """Return the rows of a mail. ``decoded`` reads bytes of no declared encoding. Raises FaultyFile."""
    try:
        whole = email.message_from_bytes(raw, policy=email.policy.compat32)
        head, parts = _head(whole), list(_parts(whole, shown))
    except BROKEN as error:
        raise no_list(shown, f"the mail cannot be read ({error})", "its text, copied into a file") from None
    pages = [part for part in parts if part.get_content_type() == "text/html"]
    texts = [part for part in parts if part.get_content_type() == "text/plain"]
    carried = [name for part in parts if (name := _file_name(part))]
    named = ", ".join(carried[:5])
    remarks = (f"the mail carries {named}: where the list is in there, save it and import that",) if carried else ()
    bodies = [part for part in (*texts, *pages) if not _is_attached(part)]
    page = next((part for part in bodies if part.get_content_type() == "text/html"), None)
    plain = next((part for part in bodies if part.get_content_type() == "text/plain"), None)
    below = [part for part in texts if part is not plain and (_is_attached(part) or plain is not None)]
    if page is not None and not below:
        said, more = page_text(_bytes(page), shown, lambda raw, name: _decoded(page, raw, name, decoded))
        if plain is None or SHOWS_MORE.search(said):
            return rows_of_page(said, shown, above=head).pages((*remarks, *more))
    if plain is not None or below:
        from companion.setlist.readers.text import pages_of_text

        read = [_decoded(part, _bytes(part), shown, decoded) for part in (plain, *below) if part is not None]
        names = ", ".join(name for part in below if (name := _file_name(part)))
        remarks = (f"the mail carries {names}: read below its text",) if names else remarks
        more = tuple(remark for _, found in read for remark in found)
        return pages_of_text("\n\n".join(("\n".join(head), *(said for said, _ in read))), shown, (*remarks, *more))
    if carried:
        raise no_list(shown, f"the mail has no text; it carries {named}", "that file: save it from the mail first")
    raise no_list(shown, "the mail has no text", "the list as text")


def _parts(whole: email.message.Message, shown: str) -> Iterator[email.message.Message]:
    """Yield the parts that hold something themselves, in order."""
    for number, part in enumerate(whole.walk()):
        if number >= MAX_MAIL_PARTS:
            raise no_list(shown, f"more than {MAX_MAIL_PARTS} parts; a mail has two or three", "its text alone")
        if not part.is_multipart():
            yield part


def _head(whole: email.message.Message) -> list[str]:
    """Return the lines that a person sees above a mail, as when it is forwarded."""
    lines = []
    for name in ("From", "Date", "Subject"):
        said = str(whole.get(name, ""))[: LONGEST_CELL * 4]
        if name == "Date":
            said = _day(said)
        elif said:
            said = cut(one_line(tidy(_header(said))), MAX_SUBJECT)
        if said:
            lines.append(f"{name}: {said}")
    return lines


def _day(said: str) -> str:
    try:
        return email.utils.parsedate_to_datetime(said[:100]).isoformat(" ", "minutes")[:16]
    except (TypeError, ValueError, IndexError, OverflowError):
        return ""


def _header(said: str) -> str:
    """Return a header's text without its encoding (RFC 2047)."""
    pieces = []
    for piece, charset in email.header.decode_header(said):
        if isinstance(piece, str):
            pieces.append(piece)
        else:
            pieces.append(text_in(piece, charset or "utf-8") or piece.decode("latin-1"))
    return "".join(pieces)


def _is_attached(part: email.message.Message) -> bool:
    return "attachment" in str(part.get("Content-Disposition", ""))[:100].lower()


def _file_name(part: email.message.Message) -> str:
    """Return the name of a file that the mail carries; empty for its text and for pictures in it."""
    name = part.get_filename()
    if not name or (part.get_content_maintype() == "image" and not _is_attached(part)):
        return ""
    return cut(one_line(tidy(_header(str(name)[: LONGEST_CELL * 4]))), 80)


def _bytes(part: email.message.Message) -> bytes:
    said = part.get_payload(decode=True)
    return said if isinstance(said, bytes) else b""


def _decoded(part: email.message.Message, raw: bytes, shown: str, decoded: Decoded) -> tuple[str, tuple[str, ...]]:
    charset = part.get_content_charset()
    said = text_in(raw, charset) if charset and charset != "us-ascii" else None
    return (said, ()) if said is not None else decoded(raw, shown)
