"""Saved mails: the part that a person reads, with its subject and date above it; what else it carries is named."""

from email.message import EmailMessage

import pytest

from companion.errors import FaultyFile
from companion.setlist.list_reading import list_in
from companion.setlist.readers.any_file import rows_in

TEXT = "Hi Jo,\n\n1. Gasworks Corner (Bb)\n2. Moth (D)\n3. Weeds (Em)\n"
TABLE = (
    "<html><body><table><tr><th>Title</th><th>Key</th></tr><tr><td>Gasworks Corner</td><td>Bb</td></tr>"
    "<tr><td>Moth</td><td>D</td></tr></table></body></html>"
)


def mail(text: str = TEXT, page: str = "", subject: str = "Saturday") -> EmailMessage:
    """Return a mail as the standard library writes it (RFC 5322, RFC 2045)."""
    made = EmailMessage()
    made["From"], made["To"], made["Subject"] = "Sam <sam@pier.invalid>", "jo@pier.invalid", subject
    made["Date"], made["Message-ID"] = "Sat, 21 Nov 2026 18:04:00 +0000", "<1@pier.invalid>"
    if text:
        made.set_content(text)
    if page:
        made.add_alternative(page, subtype="html") if text else made.set_content(page, subtype="html")
    return made


def lines(made: EmailMessage) -> list[str]:
    return [" | ".join(row.cells) for page in rows_in(made.as_bytes(), "list.eml") for row in page.rows]


def test_a_mails_subject_and_date_come_before_its_text() -> None:
    assert lines(mail(subject="Gig – Größe"))[:4] == [
        "From: Sam <sam@pier.invalid>",
        "Date: 2026-11-21 18:04",
        "Subject: Gig – Größe",
        "Hi Jo,",
    ]


def test_a_mails_table_is_read_from_its_html_and_lines_from_its_text() -> None:
    assert lines(mail("Title Key Gasworks Corner Bb Moth D", TABLE))[-2:] == ["Gasworks Corner | Bb", "Moth | D"]
    assert lines(mail(TEXT, "<html><p>Hi Jo</p><p>1. Gasworks Corner (Bb)</p></html>"))[-1] == "3. Weeds (Em)"


@pytest.mark.parametrize("encoding", ["utf-8", "iso-8859-1", "cp1252"])
def test_mail_text_is_read_in_its_declared_encoding(encoding: str) -> None:
    made = mail("")
    made.set_content("1. Café Morgenrot (C)\n2. Grüße (D)\n", charset=encoding)
    assert lines(made)[-2:] == ["1. Café Morgenrot (C)", "2. Grüße (D)"]


def test_the_songs_of_a_mail_are_found() -> None:
    listed = list_in(mail().as_bytes(), "list.eml")
    assert [song.title for one in listed.show.sets for song in one.songs] == ["Gasworks Corner", "Moth", "Weeds"]


def test_an_attached_file_is_named() -> None:
    made = mail()
    made.add_attachment(b"%PDF-1.7", maintype="application", subtype="pdf", filename="pier-street.pdf")
    (page,) = rows_in(made.as_bytes(), "list.eml")
    assert page.remarks == ("the mail carries pier-street.pdf: where the list is in there, save it and import that",)
    bare = EmailMessage()
    bare["Message-ID"] = "<2@pier.invalid>"
    bare.add_attachment(b"%PDF-1.7", maintype="application", subtype="pdf", filename="pier-street.pdf")
    with pytest.raises(FaultyFile, match=r"no text; it carries pier-street\.pdf"):
        rows_in(bare.as_bytes(), "list.eml")


def test_a_mail_quoted_in_html_counts_as_quoted() -> None:
    page = "<html><ol><li>Moth</li><li>Owl</li></ol><blockquote><ol><li>Wren</li></ol></blockquote></html>"
    found = [row for one in rows_in(mail("", page).as_bytes(), "list.eml") for row in one.rows]
    assert [(row.cells[0], row.text.startswith(">") or bool(row.quoted)) for row in found[3:]] == [
        ("1. Moth", False),
        ("2. Owl", False),
        ("1. Wren", True),
    ]


def test_a_text_with_mail_headers_above_it_is_still_text() -> None:
    pasted = b"From: Sam\nDate: Saturday\nSubject: List\n\n1. Moth (C)\n2. Owl (D)\n"
    assert rows_in(pasted, "list.txt")[0].rows[3].cells == ("1. Moth (C)",)
