"""The process that draws a chart: where screenfuls begin, what is blank, whose inks; and files that mean no good."""

import doctest
import io
import itertools
import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pygame
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from reportlab.pdfgen.canvas import Canvas

from companion.screen import chart_pages
from companion.screen.chart_pages import OVERLAP, NotShown, answer, cuts, in_inks, opened, turns_of
from companion.screen.chart_shown import Drawing
from companion.screen.palette import ScreenInk, inks
from companion.view import Light

WIDE, HIGH = 320, 150
YELLOW = (255, 230, 0)


def pdf(folder: Path, *pages: tuple[float, float], to_the_foot: bool = True) -> Path:
    """Write a PDF of pages of these sizes in points, a black bar at the head of each and one at its foot."""
    path = folder / "chart.pdf"
    canvas = Canvas(str(path))
    for wide, high in pages:
        canvas.setPageSize((wide, high))
        canvas.rect(0, high - 10, wide, 10, fill=1)
        if to_the_foot:
            canvas.rect(0, 0, wide, 10, fill=1)
        canvas.showPage()
    canvas.save()
    return path


def answers(path: Path, *turns: int, light: Light = Light.DAY) -> list[tuple[dict[str, object], Image.Image | None]]:
    out = io.BytesIO()
    answer(path, (WIDE, HIGH), light, io.BytesIO(b"".join(b"%d\n" % turn for turn in turns)), out)
    out.seek(0)
    told: list[tuple[dict[str, object], Image.Image | None]] = []
    for line in iter(out.readline, b""):
        one = json.loads(line)
        size = one.get("size")
        pixels = out.read(size[0] * size[1] * 4) if size else b""
        told.append((one, Image.frombytes("RGBX", tuple(size), pixels).convert("RGB") if size else None))
    return told


def test_a_screenful_may_arrive_while_others_are_put_away() -> None:
    """The thread that listens to the drawing process stores it between any two steps of the thread that paints."""

    class ArrivesNow(int):
        """The number of an old screenful: while it is looked at, another one arrives."""

        __hash__ = int.__hash__

        def __eq__(self, other: object) -> bool:
            drawing._at_hand[5] = picture
            return int(self) == other

    picture = pygame.Surface((1, 1))
    drawing = Drawing.__new__(Drawing)
    drawing.turns, drawing._wanted, drawing._process = 9, (4, 5, 3), None  # noqa: SLF001 - without a process
    drawing._at_hand = {ArrivesNow(0): picture, 4: picture}  # noqa: SLF001
    assert drawing.screenful(4) is picture
    assert sorted(drawing._at_hand) == [4, 5]  # noqa: SLF001


def test_the_docstring_examples_are_true() -> None:
    assert doctest.testmod(chart_pages).failed == 0


@given(st.integers(1, 20_000), st.integers(50, 4000))
def test_screenfuls_cover_a_page_and_each_overlaps_the_one_before(page_px: int, room_px: int) -> None:
    tops = cuts(page_px, room_px)
    assert tops[0] == 0
    assert tops[-1] + room_px >= page_px
    for one, other in itertools.pairwise(tops):
        assert 0 < other - one <= room_px * (1 - OVERLAP) + 1
    if len(tops) > 1:
        assert tops[-1] + room_px == page_px  # none of it is empty


def test_pages_turn_in_order() -> None:
    assert turns_of((100, 250), 150) == ((0, 0), (1, 0), (1, 100))


def test_a_pdf_fills_the_screens_width_and_comes_screenful_by_screenful(tmp_path: Path) -> None:
    told = answers(pdf(tmp_path, (200, 200), (200, 90)), 0, 2, 3)
    assert [one for one, _ in told] == [
        {"turns": 4},
        {"turn": 0, "size": [WIDE, HIGH]},
        {"turn": 2, "size": [WIDE, HIGH]},
        {"turn": 3, "size": [WIDE, 144]},
    ]
    first, last = told[1][1], told[3][1]
    assert first is not None
    assert first.getpixel((5, 5)) == inks(Light.DAY)[ScreenInk.INK]
    assert first.getpixel((5, 100)) == inks(Light.DAY)[ScreenInk.PAPER]
    assert last is not None
    assert last.getpixel((5, 140)) == inks(Light.DAY)[ScreenInk.INK]


def test_an_empty_half_of_a_page_is_skipped(tmp_path: Path) -> None:
    heights, _ = opened(pdf(tmp_path, (200, 2000), to_the_foot=False), WIDE)
    assert heights[0] < 40
    assert len(opened(pdf(tmp_path, (200, 2000)), WIDE)[0]) == 1


def test_a_blank_page_is_shown(tmp_path: Path) -> None:
    Image.new("RGB", (200, 100), "white").save(tmp_path / "blank.png")
    assert opened(tmp_path / "blank.png", WIDE)[0] == (WIDE // 2,)


@pytest.mark.parametrize("light", list(Light))
def test_black_becomes_the_screens_ink_and_white_its_paper(light: Light) -> None:
    both = Image.new("RGB", (2, 1), "white")
    both.putpixel((1, 0), (0, 0, 0))
    written = in_inks(both, light)
    assert written.getpixel((0, 0)) == inks(light)[ScreenInk.PAPER]
    assert written.getpixel((1, 0)) == inks(light)[ScreenInk.INK]


@pytest.mark.parametrize("light", list(Light))
def test_a_highlighter_stays_yellow(light: Light) -> None:
    red, green, blue = in_inks(Image.new("RGB", (1, 1), YELLOW), light).getpixel((0, 0))  # type: ignore[misc]  # a triple
    assert red > 200
    assert green > 200
    assert blue < 50


@pytest.mark.parametrize("kind", ["png", "jpg", "gif", "webp", "bmp", "tif"])
def test_pictures_of_many_kinds_are_charts(tmp_path: Path, kind: str) -> None:
    path = tmp_path / f"chart.{kind}"
    Image.new("RGB", (100, 50), "black").save(path)
    assert answers(path, 0)[0][0] == {"turns": 2}


def test_transparent_parts_of_a_picture_become_paper(tmp_path: Path) -> None:
    Image.new("RGBA", (100, 40), (0, 0, 0, 0)).save(tmp_path / "clear.png")
    picture = answers(tmp_path / "clear.png", 0)[1][1]
    assert picture is not None
    assert picture.getpixel((9, 9)) == inks(Light.DAY)[ScreenInk.PAPER]


def test_a_photo_keeps_its_cameras_orientation(tmp_path: Path) -> None:
    exif = Image.Exif()
    exif[0x0112] = 6  # Exif 2.32, 4.6.4: the 0th row is the right hand side
    Image.new("RGB", (200, 100), "black").save(tmp_path / "lying.jpg", exif=exif)
    assert opened(tmp_path / "lying.jpg", WIDE)[0] == (2 * WIDE,)


def locked(folder: Path) -> Path:
    from reportlab.lib import pdfencrypt  # noqa: PLC0415

    path = folder / "locked.pdf"
    canvas = Canvas(str(path), encrypt=pdfencrypt.StandardEncryption("secret"))
    canvas.showPage()
    canvas.save()
    return path


def written(content: bytes) -> Callable[[Path], Path]:
    def write(folder: Path) -> Path:
        path = folder / "chart.pdf"
        path.write_bytes(content)
        return path

    return write


def large(folder: Path) -> Path:
    path = folder / "large.png"
    Image.new("1", (9000, 9000)).save(path)
    return path


@pytest.mark.parametrize(
    ("make", "problem"),
    [
        (lambda folder: folder / "nowhere.pdf", "the chart's file is not there"),
        (lambda folder: folder, "the chart's file cannot be read"),
        (written(b""), "the chart is neither a PDF nor a picture"),
        (written(b"once upon a time"), "the chart is neither a PDF nor a picture"),
        (written(b"%PDF-1.7\nrubbish"), "the chart is broken"),
        (written(b"\x89PNG\r\n\x1a\n" + b"\0" * 40), "the chart is neither a PDF nor a picture"),
        (locked, "the chart is locked"),
        (lambda folder: pdf(folder, *[(100.0, 100.0)] * 41), "the chart has more than 40 pages"),
        (lambda folder: pdf(folder, (1.0, 14_000.0)), None),
        (lambda folder: pdf(folder, (0.1, 14_000.0)), "the chart has no pages"),
        (large, "the chart's picture is too large"),
    ],
)
def test_a_hostile_chart_file_is_reported_briefly(
    tmp_path: Path, make: Callable[[Path], Path], problem: str | None
) -> None:
    told = answers(make(tmp_path), 0)
    if problem is None:
        assert set(told[0][0]) & {"turns", "problem"}
    else:
        assert [one for one, _ in told] == [{"problem": problem}]


def test_a_page_too_large_for_memory_is_reported(tmp_path: Path) -> None:
    with pytest.raises(NotShown, match="too long"):
        opened(pdf(tmp_path, (10.0, 14_000.0)), 3840)


def test_picture_formats_that_start_another_program_are_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Encapsulated PostScript is drawn by a separate program, which runs what the file says."""
    started: list[object] = []
    monkeypatch.setattr("subprocess.check_call", lambda *words, **_how: started.append(words))
    monkeypatch.setattr("shutil.which", lambda name, **_how: f"/usr/bin/{name}")
    chart = tmp_path / "x.png"
    chart.write_bytes(b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 100 100\n%%EndComments\nshowpage\n%%EOF\n")
    ((told, _),) = answers(chart)
    assert told == {"problem": "the chart is neither a PDF nor a picture"}
    assert not started


@pytest.mark.parametrize("kind", chart_pages.PICTURES)
def test_every_allowed_picture_format_is_drawn(kind: str, tmp_path: Path) -> None:
    chart = tmp_path / "chart"
    Image.new("RGB", (40, 20), "white").save(chart, kind)
    (told, (turn, _)) = answers(chart, 0)
    assert (told[0], turn["size"]) == ({"turns": 2}, [WIDE, HIGH])


def test_a_photograph_is_decoded_no_larger_than_shown(tmp_path: Path) -> None:
    chart = tmp_path / "photo.jpg"
    Image.new("RGB", (7_000, 7_000), "white").save(chart)
    chart_limit = (
        "import sys; from companion.screen import chart_pages; sys.exit(chart_pages.main(sys.argv[1:]))",
        str(chart),
        str(WIDE),
        str(HIGH),
        "day",
    )
    done = subprocess.run((sys.executable, "-P", "-c", *chart_limit), input=b"0\n", capture_output=True, check=True)
    assert json.loads(done.stdout.splitlines()[0]) == {"turns": 3}


def test_a_pipe_is_not_a_chart(tmp_path: Path) -> None:
    if not hasattr(os, "mkfifo"):
        pytest.skip("this system has no pipes with names")
    os.mkfifo(tmp_path / "chart.pdf")
    ((told, _),) = answers(tmp_path / "chart.pdf")
    assert told == {"problem": "the chart's file cannot be read"}
