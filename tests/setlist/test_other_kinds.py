"""Files that hold no list to read: what each is, by its first bytes, and what to do."""

import io
import plistlib
import wave
import zipfile

import pytest
from PIL import Image

from companion.errors import FaultyFile
from companion.setlist.readers.any_file import rows_in
from companion.setlist.readers.other_kinds import is_picture


def zipped(*names: str) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as made:
        for name in names:
            made.writestr(name, "x")
    return out.getvalue()


def recording() -> bytes:
    out = io.BytesIO()
    with wave.open(out, "wb") as made:
        made.setnchannels(1)
        made.setsampwidth(2)
        made.setframerate(8000)
        made.writeframes(bytes(8000))
    return out.getvalue()


def old_office(stream: str) -> bytes:
    """Return the head of an old Office file with the name of its main stream (MS-CFB, 2.6.1)."""
    return b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(504) + stream.encode("utf-16-le") + bytes(100)


@pytest.mark.parametrize(
    ("raw", "word", "write"),
    [
        (recording(), "voice message", "type or dictate"),
        (b"OggS\0\2" + bytes(40), "voice message", "type or dictate"),  # RFC 3533, 6
        (bytes(3) + b"\x20ftypM4A " + bytes(40), "voice message", "type or dictate"),  # ISO/IEC 14496-12, 4.3
        (bytes(3) + b"\x20ftypisom" + bytes(40), "a video", "as text"),
        (b"[InternetShortcut]\r\nURL=https://pier.invalid/list\r\n", "a link", "open the link"),
        (plistlib.dumps({"URL": "https://pier.invalid/list"}), "a link", "open the link"),
        (plistlib.dumps({"URL": "https://pier.invalid"}, fmt=plistlib.FMT_BINARY), "a link", "open the link"),
        (b'{"url": "https://pier.invalid/d/1", "doc_id": "1"}', "a link", "open the link"),
        (b"https://pier.invalid/list\n", "a link", "open the link"),
        (old_office("WordDocument"), "old kind (.doc)", ".docx"),
        (old_office("Workbook"), "old kind (.xls)", ".xlsx"),
        (old_office("__substg1.0_0037001F"), "Outlook", ".eml"),
        (old_office("EncryptedPackage"), "password", "a copy without it"),
        (zipped("Index/Document.iwa", "preview.jpg"), "Pages", "exported as"),
        (zipped("b.pdf", "a.pdf", "c.txt", "d.txt"), "zip that holds b.pdf, a.pdf, c.txt and 1 more", "unpack"),
        (zipped("ppt/presentation.xml"), "a presentation", "PDF"),
        (zipped("xl/workbook.bin"), "binary form", ".xlsx"),
        (b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\n", "calendar", "copied"),
        (b"MThd" + bytes(20), "a MIDI file", ".mid"),
    ],
)  # fmt: skip
def test_the_advice_depends_on_the_kind_of_file(raw: bytes, word: str, write: str) -> None:
    with pytest.raises(FaultyFile) as refused:
        rows_in(raw, "list.txt")
    assert word in str(refused.value)
    assert write in str(refused.value)


@pytest.mark.parametrize("kind", ["PNG", "JPEG", "WEBP", "GIF", "BMP", "TIFF"])
def test_a_picture_is_recognized_by_its_bytes(kind: str) -> None:
    out = io.BytesIO()
    Image.new("RGB", (8, 8), "white").save(out, kind)
    assert is_picture(out.getvalue())


@pytest.mark.parametrize(
    "text", [b"BMX Blues (C)\nMoth (D)\n", b"II Corinth\nMoth\nOwl\n", b"GIF of the Sea\nMoth\n", b"RIFF in E\nMoth\n"]
)
def test_a_title_that_starts_like_a_picture_file_is_still_a_title(text: bytes) -> None:
    assert rows_in(text, "list.txt")[0].rows[0].cells[0] == text.decode().splitlines()[0]
