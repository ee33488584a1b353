"""The beat mark: on time, and calm enough for everyone."""

import itertools
import math

import numpy as np
import numpy.typing as npt
import pygame
import pytest
from examples import seldom
from hypothesis import given
from hypothesis import strategies as st
from screen.matrix import pages, shows
from screen.published_formulas import FLASH_CHANGE, FLASH_DARKER, FLASH_STERADIAN

from companion.screen.beat import beat_mark, places_of, stroke_at
from companion.screen.layout import lay_out
from companion.screen.legibility import MAX_FLASHES
from companion.screen.page import PageSize, page_of, sizes_of
from companion.screen.painter import Painter, Ticked
from companion.screen.scenes import scenes
from companion.screen.screen_fonts import typeface
from companion.stage import Book
from companion.view import Beat, Light, LineRole, Looks, Picture, View, ViewLine

FRAMES_A_SECOND, SECONDS = 60, 3
ARCMIN = 0.000290888  # rad
METERS = {
    "4/4": (1.0,) * 4,
    "3/4": (1.0,) * 3,
    "6/8": (1.0, 1.0),
    "7/8": (1.0, 1.0, 1.0, 0.5),
    "1/4": (1.0,),
    "3/8": (1.0,),
}
PAGES = {
    "near": page_of((480, 270), (480, 270), 345, 0.6),  # few px, since only angles count
    "usual": page_of((480, 270), (480, 270), 345, 1.8),
}


@pytest.mark.parametrize(
    ("beats", "at_ms", "place"),
    [
        # ms a beat = 60000 / bpm: 500 at 120
        ((1.0,) * 4, 0, 0),
        ((1.0,) * 4, 499, 0),
        ((1.0,) * 4, 500, 1),
        ((1.0,) * 4, 1999, 3),
        ((1.0,) * 4, 2000, 0),
        # 7/8 is three and a half quarters: the last beat is half as long
        ((1.0, 1.0, 1.0, 0.5), 1500, 3),
        ((1.0, 1.0, 1.0, 0.5), 1750, 0),
        # a bar of one beat: two slashes take turns
        ((1.0,), 500, 1),
        ((1.0,), 1000, 0),
    ],
)
def test_the_slash_of_the_beat_is_inked(beats: tuple[float, ...], at_ms: float, place: int) -> None:
    assert stroke_at(Beat(120, beats, from_ms=10_000), 10_000 + at_ms).place == place


def test_a_count_off_counts_its_bars_and_then_stops() -> None:
    beat = Beat(120, (1.0,) * 4, from_ms=0, count_off_bars=2)
    assert [stroke_at(beat, at).place for at in (0, 500, 1500, 2000, 3999, 4000)] == [0, 1, 3, 0, 3, None]
    assert math.isinf(stroke_at(beat, 4000).until_ms)


@given(
    st.floats(20, 400),
    st.sampled_from(sorted(METERS)),
    st.floats(0, 10**7),
    st.integers(0, 2),
)
def test_the_next_change_is_never_in_the_past(tempo: float, meter: str, at_ms: float, bars: int) -> None:
    stroke = stroke_at(Beat(tempo, METERS[meter], from_ms=1000, count_off_bars=bars), at_ms)
    assert stroke.until_ms > at_ms
    assert stroke.until_ms - at_ms <= max(60_000 / tempo + 1e-3, 1000) or math.isinf(stroke.until_ms)


@pytest.mark.parametrize("meter", METERS)
@pytest.mark.parametrize("tempo", [40, 90, 112, 180, 181, 240, 300, 400])
def test_no_place_flashes_more_than_three_times_a_second(tempo: int, meter: str) -> None:
    beat = Beat(tempo, METERS[meter], 0)
    turns_s = places_of(beat) / len(beat.beats) * sum(beat.beats) * 60 / tempo
    assert 1 / turns_s <= MAX_FLASHES


@pytest.fixture(scope="module", autouse=True)
def _fonts() -> None:
    pygame.font.init()


@pytest.mark.parametrize("page", ["near", seldom("usual")])
@pytest.mark.parametrize("light", Light)
@pytest.mark.parametrize("count_off", [0, 2])
@pytest.mark.parametrize(
    ("tempo", "meter"), [(40, "4/4"), (112, "7/8"), (181, "1/4"), (240, "6/8"), (300, "4/4"), (300, "1/4")]
)
def test_anything_that_flashes_faster_is_smaller_than_the_published_area(
    page: str, light: Light, count_off: int, tempo: int, meter: str
) -> None:
    beat = Beat(tempo, METERS[meter], 0, count_off)
    often = flashing_often(frames(beat, PAGES[page], light))
    steradian = often * (ARCMIN / PAGES[page].px_per_arcmin) ** 2
    assert steradian < FLASH_STERADIAN / 4  # WCAG 2.2: 0.006 sr within any 10 degrees; ours is all of it
    if not count_off:
        assert often == 0


def frames(beat: Beat, page: PageSize, light: Light) -> npt.NDArray[np.float64]:
    """Return the relative luminance of each px of each frame that the painter makes."""
    parts = (
        ViewLine(LineRole.TITLE, "Gasworks Corner"),
        ViewLine(LineRole.SECTION, "Verse"),
        ViewLine(LineRole.NEXT, "Chorus", "next"),
    )
    view = View(Picture.UP_NEXT if beat.count_off_bars else Picture.PLAYING, parts, beat, light)
    mark = beat_mark(view, page, sizes_of(page))
    assert mark is not None
    surface, painter = pygame.Surface((page.width, page.height)), Painter(typeface())
    blocks = lay_out(view, page, typeface())
    found = []
    for frame in range(FRAMES_A_SECOND * SECONDS):
        stroke = stroke_at(beat, frame * 1000 / FRAMES_A_SECOND)
        painter.paint(surface, blocks, light, Ticked(mark, stroke.place))
        part = surface.subsurface(pygame.Rect(mark.x, mark.y, mark.width, mark.height).clip(surface.get_rect()))
        share = pygame.surfarray.array3d(part).astype(np.float64) / 255
        linear = np.where(share <= 0.04045, share / 12.92, ((share + 0.055) / 1.055) ** 2.4)
        found.append(linear @ np.array((0.2126, 0.7152, 0.0722)))
    return np.stack(found)


def flashing_often(luminance: npt.NDArray[np.float64]) -> int:
    """Count px with more than three general flashes in some second: pairs of opposing changes (WCAG 2.2)."""
    before, after = luminance[:-1], luminance[1:]
    big = (np.abs(after - before) >= FLASH_CHANGE) & (np.minimum(after, before) < FLASH_DARKER)
    changes = np.cumsum(big, axis=0)
    window = FRAMES_A_SECOND
    within: npt.NDArray[np.int64] = changes[window:] - changes[:-window]
    return int(np.count_nonzero(within.max(axis=0) > 2 * MAX_FLASHES))


def test_the_analysis_detects_a_flash() -> None:
    fast, slow = (np.tile([[[0.0]], [[1.0]]], (many, 1, 1)) for many in (90, 3))
    assert flashing_often(fast) == 1
    assert flashing_often(np.repeat(slow, 30, axis=0)) == 0


@pytest.mark.parametrize("first", [1, seldom(11)])
@pytest.mark.parametrize("looks", [Looks(beat=True), Looks(count_off_from_ms=10**9)], ids=["slashes", "count-off"])
@pytest.mark.parametrize(("told", "book"), [one if "long words" in one[0] else seldom(*one) for one in shows()])
def test_the_mark_covers_no_word_on_any_page(told: str, book: Book, looks: Looks, first: int) -> None:
    marks = 0
    for scene, (where, page) in itertools.product(scenes(book, looks), tuple(pages())[first::30]):
        mark = beat_mark(scene.view, page, sizes_of(page))
        if mark is None:
            continue
        marks += 1
        for block in lay_out(scene.view, page, typeface()):
            beside = block.x >= mark.x + mark.width or mark.x >= block.x + block.width
            above = block.y >= mark.y + mark.height or mark.y >= block.y + block.height
            assert beside or above or not block.text, f"{told}, {scene.name}, {where}: {block.text}"
    assert marks
