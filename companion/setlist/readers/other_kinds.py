"""What a file is that holds no list that can be read, and what to do with it. Its first bytes tell, not its name."""

import re
from collections.abc import Iterable
from pathlib import PurePosixPath
from typing import Final, NamedTuple


class OtherKind(NamedTuple):
    """A kind of file: what it is, in words that follow 'this is', and what to import instead."""

    what: str
    write: str


VOICE: Final = OtherKind(
    "a recording, such as a voice message", "the list as text: play the recording and type or dictate it"
)
VIDEO: Final = OtherKind("a video", "the list as text, or a still picture of it")
LINK: Final = OtherKind("only a link to a page", "the list itself: open the link and save the page, or copy its text")
OLD_TEXT: Final = OtherKind("a Word document of the old kind (.doc)", "the same, saved as .docx or exported as PDF")
OLD_SHEET: Final = OtherKind("a spreadsheet of the old kind (.xls)", "the same, saved as .xlsx or .csv")
OLD_MAIL: Final = OtherKind("a mail as Outlook saves it (.msg)", "the same, saved as .eml or as text")
LOCKED: Final = OtherKind("a file locked with a password", "a copy without it")
OLD_OFFICE: Final = OtherKind("an old Office file", "the same, saved as .docx or .xlsx, or exported as PDF")
CALENDAR: Final = OtherKind("a calendar entry", "the list itself, copied from it as text")
CONTACT: Final = OtherKind("a contact card", "the list itself")
MIDI: Final = OtherKind("a MIDI file", "its name with .mid at the end")
SHEET_OF_2003: Final = OtherKind("a spreadsheet in an old XML format", "the same, saved as .xlsx or .csv")
PACKED: Final = "unpack it, and import the list's own file"

BEGINS: Final[tuple[tuple[bytes, OtherKind], ...]] = (  # the formats' published signatures
    (b"OggS", VOICE),
    (b"ID3", VOICE),
    (b"#!AMR", VOICE),
    (b"fLaC", VOICE),
    (b"caff", VOICE),
    (b"FORM", VOICE),
    (b"\xff\xfb", VOICE),
    (b"\xff\xf3", VOICE),
    (b"\xff\xf1", VOICE),
    (b"\x1aE\xdf\xa3", VIDEO),
    (b"MThd", MIDI),
    (b"BEGIN:VCALENDAR", CALENDAR),
    (b"BEGIN:VCARD", CONTACT),
    (b"[InternetShortcut]", LINK),
    (b"bplist00", OtherKind("a settings file or a link of macOS", LINK.write)),
    (b"\x1f\x8b", OtherKind("a packed file (gzip)", PACKED)),
    (b"7z\xbc\xaf\x27\x1c", OtherKind("a packed file (7z)", PACKED)),
    (b"Rar!\x1a\x07", OtherKind("a packed file (rar)", PACKED)),
    (b"%!PS", OtherKind("a PostScript file", "the same as PDF")),
)
# ISO base media files name their kind in the eighth to twelfth byte (ISO/IEC 14496-12, 4.3).
HEIF_BRANDS: Final = (b"heic", b"heix", b"hevc", b"heim", b"heis", b"mif1", b"msf1", b"heif")
PICTURES: Final = (b"\x89PNG\r\n", b"\xff\xd8\xff", b"GIF87a", b"GIF89a", b"II*\x00", b"MM\x00*")
SOUND_BRANDS: Final = (b"M4A ", b"M4B ", b"3gp", b"3g2")
OLD_OFFICE_MARK: Final = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
OLD_PARTS: Final = (  # the names of an old Office file's streams, in UTF-16 (MS-CFB, 2.6.1)
    ("EncryptedPackage", LOCKED),
    ("WordDocument", OLD_TEXT),
    ("Workbook", OLD_SHEET),
    ("Book", OLD_SHEET),
    ("__substg1.0_", OLD_MAIL),
)
WEBLOC: Final = re.compile(rb"<plist\b.{0,400}<key>\s*URL\s*</key>", re.DOTALL)
SHORTCUT: Final = re.compile(rb'^\s*\{[^{}]{0,400}"(?:url|doc_id)"\s*:[^{}]{0,600}\}\s*$', re.DOTALL)
LONE_LINK: Final = re.compile(rb"^\s*https?://\S{1,2000}\s*$")


def is_picture(raw: bytes) -> bool:
    """Return whether the bytes begin as a picture does."""
    return (
        raw.startswith(PICTURES)
        or (raw.startswith(b"RIFF") and raw[8:12] == b"WEBP")
        or (raw.startswith(b"BM") and raw[6:10] == bytes(4))
        or (raw[4:8] == b"ftyp" and raw[8:12] in HEIF_BRANDS)
    )


def other_kind(raw: bytes) -> OtherKind | None:
    """Return what these bytes are where no list can be read from them; None if they may be one."""
    if raw.startswith(OLD_OFFICE_MARK):
        return next((kind for name, kind in OLD_PARTS if name.encode("utf-16-le") in raw), OLD_OFFICE)
    if raw[4:8] == b"ftyp":
        return VOICE if raw[8:12].startswith(SOUND_BRANDS) else VIDEO
    if raw.startswith(b"RIFF"):
        return VOICE if raw[8:12] == b"WAVE" else VIDEO if raw[8:12] == b"AVI " else None
    head = raw[:4_096].removeprefix(b"\xef\xbb\xbf").lstrip()
    if WEBLOC.search(head) or SHORTCUT.match(head) or (len(raw) < 2_100 and LONE_LINK.match(raw)):
        return LINK
    if head.startswith(b"<?xml") and b"office:spreadsheet" in head:
        return SHEET_OF_2003
    return next((kind for mark, kind in BEGINS if head.startswith(mark)), None)


def zip_kind(names: Iterable[str]) -> OtherKind:
    """Return what a zip with these members is."""
    inside = list(names)
    if any(name.endswith(".iwa") or name == "Index.zip" for name in inside):
        write = "the same, exported as .docx, .xlsx, PDF or text"
        return OtherKind("a document of Pages, Numbers or Keynote", write)
    if "xl/workbook.bin" in inside:
        return OtherKind("a spreadsheet in binary form (.xlsb)", "the same, saved as .xlsx or .csv")
    if any(name.startswith("ppt/") for name in inside):
        return OtherKind("a presentation", "the same, exported as PDF")
    files = [PurePosixPath(name).name for name in inside if not name.endswith("/")]
    shown = ", ".join(name[:60] for name in files[:3])
    more = f" and {len(files) - 3} more" if len(files) > 3 else ""
    return OtherKind(f"a zip that holds {shown or 'nothing'}{more}", PACKED)
