"""The stage screen on a page is the stage screen of the window: same words, same places, same marks."""

import sys
import xml.etree.ElementTree as ET
from pathlib import Path

import numpy as np
import pygame
import pytest
from picture.browser import painted, share_that_differs

from companion.picture import stage_svg
from companion.rig import read_rig
from companion.screen.layout import lay_out
from companion.screen.page import page_of
from companion.screen.pictures import Painting
from companion.screen.scenes import Scene, scenes
from companion.screen.screen_fonts import typeface
from companion.show import Section, Set, Show, Song, read_show
from companion.stage import Book, make_book
from companion.view.view_lines import Light

ROOT = Path(__file__).parents[2]
SIZE = (1280, 720)
MAX_DIFFERENT = 0.025  # of the pixels: letters are smoothed differently
SVG = "{http://www.w3.org/2000/svg}"
MARKUP = "<script>alert(1)</script> & \"quotes\" 'and' ]]> \x00\x1b[31m"


@pytest.fixture(scope="module")
def book() -> Book:
    show = read_show(ROOT / "shows" / "pier-street.yaml").show
    return make_book(show, read_rig(ROOT / "config" / "two-tiers.yaml").rig)[0]


def words_of(svg: str) -> list[str]:
    texts = ET.fromstring(svg).iter(f"{SVG}text")  # noqa: S314  our own text
    return [said for text in texts if (said := (text.text or "").strip())]


def test_every_word_of_every_scene_is_in_the_picture(book: Book) -> None:
    page = page_of(SIZE, SIZE)
    for scene in scenes(book):
        written = " ".join(words_of(stage_svg(scene.view, page)))
        wanted = [word for block in lay_out(scene.view, page, typeface()) for word in block.text.split()]
        assert wanted
        assert not [word for word in wanted if word not in written and "♭" not in word and "♯" not in word], scene.name


def test_markup_in_a_title_stays_text(book: Book) -> None:
    show = Show(MARKUP, sets=(Set("<b>", songs=(Song(MARKUP, road_map=(Section("<img src=x onerror=alert(1)>"),)),)),))
    svgs = [stage_svg(scene.view, page_of(SIZE, SIZE)) for scene in scenes(make_book(show, book.rig)[0])]
    assert svgs
    for svg in svgs:
        tags = {element.tag.removeprefix(SVG) for element in ET.fromstring(svg).iter()}  # noqa: S314  our own text
        assert tags <= {"svg", "rect", "polygon", "circle", "text"}
        assert "\x00" not in svg
        assert "\x1b" not in svg


def window_and_browser(book: Book, chosen: list[tuple[Scene, Light]], folder: Path) -> list[tuple[str, float]]:
    """Return for each scene the share of pixels that differ between the window's painter and the browser."""
    painting = Painting(book, SIZE)
    windows = []
    for scene, light in chosen:
        pixels = pygame.image.tobytes(painting.paint(scene.view, light), "RGB")
        windows.append(np.frombuffer(pixels, np.uint8).reshape(SIZE[1], SIZE[0], 3).astype(np.int16))
    svgs = [stage_svg(scene.view, painting.page, light, inked=2) for scene, light in chosen]
    browsers = painted(svgs, SIZE, folder)
    names = [f"{scene.name}, {light.value}" for scene, light in chosen]
    return [(name, share_that_differs(one, other)) for name, one, other in zip(names, windows, browsers, strict=True)]


@pytest.mark.long
def test_a_browser_paints_what_the_window_paints(book: Book, tmp_path: Path) -> None:
    both = [(scene, light) for scene in scenes(book) for light in Light]
    different = window_and_browser(book, both[::5], tmp_path)
    assert not [one for one in different if one[1] > MAX_DIFFERENT]


@pytest.mark.long
def test_a_browser_paints_every_scene_as_the_window_does(book: Book, tmp_path: Path) -> None:
    different = window_and_browser(book, [(scene, light) for scene in scenes(book) for light in Light], tmp_path)
    assert not [one for one in different if one[1] > MAX_DIFFERENT]
    shares = [share for _, share in different]
    sys.stdout.write(
        f"\n{len(shares)} scenes: {100 * np.mean(shares):.2f} % of the pixels, {100 * max(shares):.2f} at most\n"
    )


@pytest.mark.long
def test_two_scenes_give_different_pictures(book: Book, tmp_path: Path) -> None:
    """The comparison itself can fail: two scenes that differ in one section differ by more than the limit."""
    playing = [scene for scene in scenes(book) if scene.name in ("feature", "tacet")]
    one, other = painted([stage_svg(scene.view, page_of(SIZE, SIZE)) for scene in playing], SIZE, tmp_path)
    assert share_that_differs(one, other) > MAX_DIFFERENT
