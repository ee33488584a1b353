"""Pictures of lists, rendered with slope, shadow and noise, are read by an installed program; every song is asked."""

import io
import sys
from pathlib import Path

import pillow_heif
import pytest
from examples import seldom
from fpdf import FPDF
from PIL import Image, ImageChops, ImageDraw, ImageFont

from companion import child
from companion.errors import FaultyFile
from companion.setlist import LineKind, SetList, read_list
from companion.setlist.list_reading import list_of_words
from companion.setlist.parsing.page_columns import in_columns
from companion.setlist.readers import picture
from companion.setlist.readers.any_file import rows_in
from companion.setlist.readers.recognized_words import in_doubt, pages_of_words
from companion.setlist.readers.refusal import OnlyPictures

LINES = """The Tidewater Nine

Set 1
1. Gasworks Corner - Bb
2. Kettle on the Jetty - Gm
3. Harbour Lamps - C
4. Moth - D

Set 2
1. Weeds - Em
2. Fog Signal - G
3. The Long Allotment - A
4. Ferry Landing - F#m""".splitlines()
TITLES = [
    ["Gasworks Corner", "Kettle on the Jetty", "Harbour Lamps", "Moth"],
    ["Weeds", "Fog Signal", "The Long Allotment", "Ferry Landing"],
]
needs_tesseract = pytest.mark.skipif(child.program("tesseract") is None, reason="tesseract is not installed")


def page(letters: int = 34) -> Image.Image:
    made = Image.new("L", (letters * 26, letters * 30), 250)
    font = ImageFont.load_default(letters)
    for at, line in enumerate(LINES):
        ImageDraw.Draw(made).text((60, 50 + at * letters * 2.1), line, fill=20, font=font)
    return made


def photographed(made: Image.Image, slope: float) -> Image.Image:
    """Return the page as a telephone takes it: turned, darker towards one side, with noise."""
    turned = made.rotate(slope, Image.Resampling.BICUBIC, expand=True, fillcolor=215)
    shadow = (
        Image.linear_gradient("L").rotate(90).resize(turned.size).point([round(110 + v * 0.56) for v in range(256)])
    )
    return Image.blend(ImageChops.multiply(turned, shadow), Image.effect_noise(turned.size, 40), 0.1)


def saved(made: Image.Image, path: Path) -> Path:
    made.save(path)
    return path


def titles(listed: SetList) -> list[list[str]]:
    return [[song.title for song in one.songs] for one in listed.show.sets]


def right(listed: SetList) -> int:
    """Return how many titles are read to the letter."""
    found = [title for one in titles(listed) for title in one]
    return sum(title in found for one in TITLES for title in one)


@pytest.mark.filterwarnings("ignore:Image size:PIL.Image.DecompressionBombWarning")
def test_a_picture_of_too_many_pixels_is_refused() -> None:
    out = io.BytesIO()
    Image.new("1", (8000, 8001), 1).save(out, "PNG")
    with pytest.raises(FaultyFile, match="the picture has 64 million pixels"):
        picture.prepared(out.getvalue(), "list.png")


@needs_tesseract
@pytest.mark.long
def test_a_photograph_with_slope_shadow_and_noise_is_read(tmp_path: Path) -> None:
    listed = read_list(saved(photographed(page(), -3.5).convert("RGB"), tmp_path / "list.jpg"))
    assert right(listed) >= 7
    assert listed.show.sets[0].songs[0].key is not None


@pytest.mark.long
@needs_tesseract
@pytest.mark.parametrize("name", ["list.png", seldom("list.pdf")])
def test_a_screenshot_and_a_scan_are_read_completely(name: str, tmp_path: Path) -> None:
    made = ImageChops.invert(page()) if name == "list.png" else page()
    listed = read_list(saved(made, tmp_path / name))
    assert [len(one) for one in titles(listed)] == [4, 4]
    assert right(listed) >= 7  # now and then a dash is lost: "Moth D", which is in doubt
    songs = [line for line in listed.lines if line.took is LineKind.SONG]
    assert all(any(doubt.question for doubt in line.doubts) for line in songs)


def test_a_scan_with_the_scanners_own_text_is_still_a_scan() -> None:
    made = FPDF()
    made.add_page()
    made.image(page(14), 10, 10, 150)
    made.set_font("helvetica", size=8)
    made.text(10, 280, "Scanned with a telephone")
    with pytest.raises(OnlyPictures):
        rows_in(bytes(made.output()), "scan.pdf")


@pytest.mark.parametrize("slope", [-6.0, seldom(-1.4), seldom(0.0), seldom(2.3), seldom(7.5)])
def test_sloping_lines_are_straightened(slope: float) -> None:
    straight = picture._even(page().rotate(slope, Image.Resampling.BICUBIC, expand=True, fillcolor=250))  # noqa: SLF001
    assert abs(picture._slope(straight)) <= 0.4  # noqa: SLF001


def test_a_shadow_is_evened_out() -> None:
    even = picture._even(photographed(page(), 0))  # noqa: SLF001
    left, right = (even.crop((x, 0, x + 60, even.height)) for x in (0, even.width - 60))
    means = [part.resize((1, 1), Image.Resampling.BOX).getpixel((0, 0)) for part in (left, right)]
    assert all(isinstance(mean, int) and mean > 200 for mean in means)


def test_a_photograph_is_turned_as_its_camera_recorded() -> None:
    out = io.BytesIO()
    turned = page().rotate(90, expand=True)
    turned.getexif()[0x0112] = 6  # Exif 2.3, Orientation: the top is on the right
    exif = turned.getexif()
    exif[0x0112] = 6
    turned.save(out, "JPEG", exif=exif)
    (made,) = picture.prepared(out.getvalue(), "list.jpg").pages
    upright = Image.open(io.BytesIO(made))
    assert (upright.width < upright.height) is (page().width < page().height)


def test_without_the_recognition_program_one_line_says_how_to_install_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(child, "program", lambda _: None)
    with pytest.raises(FaultyFile) as refused:
        read_list(saved(page(12), tmp_path / "list.png"))
    (line,) = str(refused.value).splitlines()
    assert all(word in line for word in ("apt install tesseract-ocr", "brew install tesseract", "winget install"))


def test_heic_is_read_if_its_library_is_installed_and_otherwise_explained(monkeypatch: pytest.MonkeyPatch) -> None:
    pillow_heif.register_heif_opener()
    out = io.BytesIO()
    page(14).convert("RGB").save(out, "HEIF")
    assert len(picture.prepared(out.getvalue(), "list.heic").pages) == 1
    monkeypatch.setitem(sys.modules, "pillow_heif", None)
    with pytest.raises(FaultyFile, match="pip install pillow-heif"):
        picture.prepared(out.getvalue(), "list.heic")


def words(*rows: tuple[str, ...]) -> bytes:
    """Return what the program says of these rows of words, in its own columns (tesseract(1), tsv)."""
    lines = ["level\tpage_num\tblock_num\tpar_num\tline_num\tword_num\tleft\ttop\twidth\theight\tconf\ttext"]
    for at, row in enumerate(rows, start=1):
        left = 50
        for number, word in enumerate(row, start=1):
            lines.append(f"5\t1\t1\t1\t{at}\t{number}\t{left}\t{at * 70}\t{len(word) * 20}\t40\t91.5\t{word}")
            left += len(word) * 20 + 15
    return "\n".join(lines).encode()


def test_recognized_words_become_lines_and_missing_spaces_are_restored() -> None:
    (found,) = pages_of_words(words(("1.", "Moth", "-D"), ("2,Owl-Em",), ("~",)), "list.png")
    assert [row.cells[0] for row in found.rows] == ["1. Moth - D", "2. Owl - Em", "~"]


def test_pieces_at_the_same_height_are_columns() -> None:
    columns = b"\n".join(
        f"5\t1\t{block}\t1\t{at}\t1\t{left}\t{at * 70}\t90\t40\t95\t{word}".encode()
        for block, left, of_column in ((1, 50, ("Moth", "Owl", "Jay")), (2, 600, ("Bb", "C", "D")))
        for at, word in enumerate(of_column, start=1)
    )
    (found,) = pages_of_words(columns, "list.png")
    assert [row.cells for row in in_columns(found).rows] == [("Moth", "Bb"), ("Owl", "C"), ("Jay", "D")]


def test_each_song_from_a_picture_has_a_question() -> None:
    listed = list_of_words(words(("1.", "Moth", "-", "D"), ("2.", "Owl"), ("3.", "Jay", "-", "C")), "list.png")
    asked = [doubt.question for line in listed.lines for doubt in line.doubts if doubt.question]
    assert asked == [
        'Is there a song "Moth"?',
        "Is Moth in D?",
        'Is there a song "Owl"?',
        'Is there a song "Jay"?',
        "Is Jay in C?",
    ]
    assert in_doubt(listed).doubts[0].says.startswith("read from a picture")
