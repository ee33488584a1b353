"""Files that mean harm, or are no list at all: a clear word each, in bounded time and memory."""

import io
import zipfile
from pathlib import Path

import openpyxl
import pytest
from fpdf import FPDF
from PIL import Image
from pypdfium2 import PdfDocument
from reportlab.lib.pdfencrypt import StandardEncryption
from reportlab.pdfgen.canvas import Canvas
from setlist.shapes_pages import PAGES

from companion import child
from companion.errors import FaultyFile
from companion.setlist import read_list
from companion.setlist.list_reading import list_in
from companion.setlist.readers.limits import MAX_LINE, MAX_SONGS
from companion.setlist.readers.text import pages_of_text


def refused(tmp_path: Path, name: str, raw: bytes) -> str:
    path = tmp_path / name
    path.write_bytes(raw)
    with pytest.raises(FaultyFile) as refusal:
        read_list(path)
    return str(refusal.value).removeprefix(f"{path}: ")


def workbook() -> bytes:
    out = io.BytesIO()
    book = openpyxl.Workbook()
    assert book.active is not None
    book.active.append(["Moth", "Bb"])
    book.save(out)
    return out.getvalue()


def with_part(name: str, part: bytes) -> bytes:
    """Return a workbook with one part added or replaced."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(workbook())) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for each in old.infolist():
            if each.filename != name:
                new.writestr(each, old.read(each.filename))
        new.writestr(name, part)
    return out.getvalue()


@pytest.mark.parametrize(
    ("name", "raw", "word"),
    [
        ("a.csv", b"\x00\x01\x02", "not text"),
        ("a.doc", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(100), "old Office file"),
        ("a.png", b"\x89PNG\r\n", "picture"),
        ("a.rtf", b"{\\rtf1 \\bin9 Moth}", "rich text"),
        ("a.docx", b"PK\x03\x04" + bytes(40), "damaged"),
        ("a.xlsx", b"PK\x03\x04" + bytes(40), "damaged"),
        ("a.pdf", b"%PDF-1.7\nrubbish", "damaged"),
        ("a.txt", b"\n" * 20_000 + b"Moth", "more than 10000 lines"),
        ("a.csv", b",".join([b"x"] * 300) + b"\n" + b",".join([b"y"] * 300), "300 columns"),
        ("a.txt", b"---\n===\n", "no song"),
        ("a.csv", b"Title,Key\n", "no song"),
    ],
)
def test_a_file_that_is_not_a_list_is_reported_briefly(name: str, raw: bytes, word: str) -> None:
    with pytest.raises(FaultyFile) as refusal:
        list_in(raw, name)
    assert word in str(refusal.value)


@pytest.mark.parametrize(
    ("raw", "word"), [(b"", "empty"), (b" \n\n ", "empty"), (b"x" * (8 * 1024 * 1024 + 1), "larger than 8 MiB")]
)
def test_an_empty_or_endless_file_is_reported_at_once(tmp_path: Path, raw: bytes, word: str) -> None:
    assert word in refused(tmp_path, "a.txt", raw)


def test_what_the_reading_process_reports_is_passed_on(tmp_path: Path) -> None:
    assert refused(tmp_path, "a.rtf", b"{\\rtf1 \\bin9 Moth}").startswith("the rich text")


def test_a_folder_and_a_missing_file_are_reported(tmp_path: Path) -> None:
    for path, word in ((tmp_path, "folder"), (tmp_path / "nothing.csv", "no such file")):
        with pytest.raises(FaultyFile, match=word):
            read_list(path)


def test_a_line_of_the_longest_length_is_read_and_a_longer_one_is_refused() -> None:
    assert len(pages_of_text("x" * MAX_LINE, "a.txt")) == 1
    with pytest.raises(FaultyFile, match="line 2 has 20,001 characters"):
        pages_of_text("Moth\n" + "x" * (MAX_LINE + 1), "a.txt")


def test_a_song_too_many_is_refused(tmp_path: Path) -> None:
    raw = "\n".join(f"Moth {at}" for at in range(1, MAX_SONGS + 2)).encode()
    assert f"{MAX_SONGS + 1} songs; a show has at most {MAX_SONGS}" in refused(tmp_path, "many.txt", raw)


def test_a_decompression_bomb_in_a_workbook_is_not_unpacked(tmp_path: Path) -> None:
    assert "unpacks to more than 64 MiB" in refused(
        tmp_path, "a.xlsx", with_part("xl/media/big.xml", bytes(70 * 1024 * 1024))
    )


def test_a_bomb_with_a_false_size_is_caught_while_unpacking(tmp_path: Path) -> None:
    raw = with_part("xl/styles.xml", b"<a>" + b"<b/>" * (17 * 1024 * 1024))
    size = (68 * 1024 * 1024 + 3).to_bytes(4, "little")
    assert "damaged" in refused(tmp_path, "a.xlsx", raw.replace(size, (1000).to_bytes(4, "little")))


@pytest.mark.parametrize(("cell", "word"), [("XFD1", "more than 60 columns"), ("A1048576", "more than 10000 rows")])
def test_a_cell_at_the_far_end_of_a_sheet_is_refused_and_not_dropped(tmp_path: Path, cell: str, word: str) -> None:
    out = io.BytesIO()
    book = openpyxl.Workbook()
    assert book.active is not None
    book.active["A1"], book.active[cell] = "Moth", "far"
    book.save(out)
    assert word in refused(tmp_path, "far.xlsx", out.getvalue())


def test_a_pdf_of_300_pages_is_refused(tmp_path: Path) -> None:
    document = PdfDocument.new()
    for _ in range(300):
        document.new_page(100, 100)
    out = io.BytesIO()
    document.save(out)
    assert "300 pages; at most 40" in refused(tmp_path, "long.pdf", out.getvalue())


def test_a_locked_pdf_is_reported(tmp_path: Path) -> None:
    out = io.BytesIO()
    canvas = Canvas(out, encrypt=StandardEncryption("secret", ownerPassword="owner"))
    canvas.drawString(50, 700, "Moth")
    canvas.save()
    assert "password" in refused(tmp_path, "locked.pdf", out.getvalue())


def test_a_pdf_without_text_is_reported(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(child, "program", lambda _: None)
    page = FPDF()
    page.add_page()
    page.image(Image.new("RGB", (60, 60), "white"), 10, 10, 60)
    assert "install tesseract" in refused(tmp_path, "scan.pdf", bytes(page.output()))


def test_a_pdf_is_read_in_a_separate_process(tmp_path: Path) -> None:
    name, raw, songs, _ = PAGES["footers"]()
    (tmp_path / name).write_bytes(raw)
    (one,) = read_list(tmp_path / name).show.sets
    assert [song.title for song in one.songs] == [song.title for song in songs[0]]


@pytest.mark.parametrize(
    "said",
    [
        "here's the list for Sat 12 aprıl",
        "the list for Sat 12 ſeptember",
        "first ſix, then a break, then the rest",
        "two sets of fıve",
        "8.30 pm, ſix sets of 35 minutes",
        "ſecond",
        "Harvest Dance, frı 12 December",
    ],
)
def test_letters_that_a_pattern_takes_for_others(said: str) -> None:
    songs = "".join(f"{at}. {title} - A\n" for at, title in enumerate(("Moth Parade", "Weeds", "Late Tram", "Ink"), 1))
    listed = list_in(f"{said}\n\n{songs}".encode(), "a.txt")
    assert [song.title for one in listed.show.sets for song in one.songs] == [
        "Moth Parade",
        "Weeds",
        "Late Tram",
        "Ink",
    ]


def test_a_key_asked_for_is_one() -> None:
    songs = "1. Moth Parade - A\n2. Weeds - G\n3. Late Tram - D\n4. Who We Am (\n"
    questions = {one.question for line in list_in(songs.encode(), "a.txt").lines for one in line.doubts}
    assert "Is 'Who We' in Am?" in questions
