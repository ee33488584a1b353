"""The slim line over a chart: section, what comes next, how far it is turned."""

import itertools

import pytest
from examples import examples
from hypothesis import given, settings
from screen.nights import Night, seeds
from screen.test_layout import FULL_HD, PAGES, overlap, pages

from companion.screen.page import PageSize, page_of
from companion.screen.screen_fonts import typeface
from companion.screen.strip import strip, strip_px
from companion.view import LineMark, LineRole, Picture, View, ViewLine

SOLO = View(
    Picture.PLAYING,
    (
        ViewLine(LineRole.SECTION, "Solo", mark=LineMark.HIGHLIGHT),
        ViewLine(LineRole.NEXT, "Chorus", "next"),
        ViewLine(LineRole.SOUND, "lead"),
    ),
)


def words(view: View, turn: tuple[int, int], page: PageSize = FULL_HD) -> list[str]:
    return [block.text for block in strip(view, turn, page, typeface())]


def test_the_strip_shows_section_next_and_the_charts_page() -> None:
    assert words(SOLO, (2, 3)) == ["Solo", "next", "Chorus", "page", "2 of 3"]


def test_a_chart_of_one_screenful_shows_no_page() -> None:
    assert words(SOLO, (1, 1)) == ["Solo", "next", "Chorus"]


def test_for_a_song_up_next_the_strip_shows_its_title() -> None:
    up_next = View(Picture.UP_NEXT, (ViewLine(LineRole.TITLE, "Kettle"), ViewLine(LineRole.NEXT, "Intro", "then")))
    assert words(up_next, (1, 1)) == ["Kettle", "then", "Intro"]


@pytest.mark.parametrize("turn", [(1, 1), (2, 3)])
def test_a_problem_replaces_the_page_on_the_strip(turn: tuple[int, int]) -> None:
    wrong = View(Picture.PLAYING, (*SOLO.lines, ViewLine(LineRole.NOTICE, "Stage Piano gone", mark=LineMark.TORN)))
    assert words(wrong, turn) == ["Solo", "next", "Chorus", "Stage Piano gone"]


@pytest.mark.parametrize("size", PAGES)
def test_the_strip_is_slim(size: tuple[tuple[int, int], float | None, float | None]) -> None:
    page = page_of(size[0], size[0], size[1], size[2])
    assert strip_px(page, typeface()) < 0.16 * page.height


@settings(max_examples=examples(200), deadline=None)
@given(seeds, pages)
def test_nothing_overlaps_leaves_the_strip_or_gets_too_small(seed: int, page: PageSize) -> None:
    blocks = strip(Night(seed).view(), (38, 40), page, typeface())
    high = strip_px(page, typeface())
    for block in blocks:
        assert block.x >= 0, block
        assert block.x + block.width <= page.width, block
        assert block.y >= 0, block
        assert block.y + block.height <= high, block
        assert block.arcmin >= 20, block
        if block.part in (LineRole.SECTION, LineRole.NEXT) and block.ink.value != "pencil":
            assert block.arcmin >= 30, block
    for one, other in itertools.combinations(blocks, 2):
        assert not overlap(one, other), f"{one}\n{other}"
