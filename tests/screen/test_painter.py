"""The painter: only what changed is painted, and it is then as if all had been."""

import itertools

import pygame
import pytest
from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st
from screen.nights import Night, seeds

from companion.screen.beat import beat_mark
from companion.screen.blocks import ScreenBlock
from companion.screen.layout import lay_out
from companion.screen.page import PageSize, page_of, sizes_of
from companion.screen.painter import Painter, Ticked, merged
from companion.screen.palette import ScreenInk, inks
from companion.screen.screen_fonts import typeface
from companion.view import Beat, FormPlace, Light, LineMark, LineRole, Picture, View, ViewLine

SIZE = (640, 360)
PAGE = page_of(SIZE, SIZE, 345, 1.8)


@pytest.fixture(scope="module", autouse=True)
def _fonts() -> None:
    pygame.font.init()


def ticked(seen: View, place: int | None, page: PageSize = PAGE) -> Ticked | None:
    mark = beat_mark(seen, page, sizes_of(page))
    return Ticked(mark, place) if mark else None


@settings(max_examples=examples(25), deadline=None)
@given(st.lists(st.tuples(seeds, st.sampled_from((None, 0, 1))), min_size=2, max_size=4))
def test_painting_only_changes_gives_the_same_picture_as_painting_all(night: list[tuple[int, int | None]]) -> None:
    stepwise, painter = pygame.Surface(SIZE), Painter(typeface())
    for seed, place in night:
        seen = Night(seed).view()
        blocks = lay_out(seen, PAGE, typeface())
        painter.paint(stepwise, blocks, seen.light, ticked(seen, place))
    afresh = pygame.Surface(SIZE)
    Painter(typeface()).paint(afresh, blocks, seen.light, ticked(seen, place))
    assert stepwise.get_buffer().raw == afresh.get_buffer().raw


VERSE = View(Picture.PLAYING, (ViewLine(LineRole.SECTION, "Verse"), ViewLine(LineRole.NEXT, "Chorus", "next")))
SOLO = View(
    Picture.PLAYING,
    (ViewLine(LineRole.SECTION, "Solo", mark=LineMark.HIGHLIGHT), ViewLine(LineRole.NEXT, "Chorus", "next")),
)


def laid(seen: View) -> tuple[ScreenBlock, ...]:
    return lay_out(seen, PAGE, typeface())


def test_an_unchanged_view_paints_nothing() -> None:
    surface, painter = pygame.Surface(SIZE), Painter(typeface())
    assert painter.paint(surface, laid(VERSE), Light.DARK) == [surface.get_rect()]
    assert painter.paint(surface, laid(VERSE), Light.DARK) == []


def test_a_change_paints_its_own_box_only() -> None:
    surface, painter = pygame.Surface(SIZE), Painter(typeface())
    painter.paint(surface, laid(VERSE), Light.DARK)
    (changed,) = painter.paint(surface, laid(SOLO), Light.DARK)
    assert changed.bottom < next(block.baseline for block in laid(SOLO) if block.part is LineRole.NEXT)


def test_a_beat_paints_its_mark_only() -> None:
    seen = View(Picture.PLAYING, VERSE.lines, Beat(120, (1.0,) * 4, 0))
    surface, painter = pygame.Surface(SIZE), Painter(typeface())
    painter.paint(surface, laid(seen), Light.DARK, ticked(seen, 0))
    (changed,) = painter.paint(surface, laid(seen), Light.DARK, ticked(seen, 1))
    assert changed.width * changed.height < 0.02 * SIZE[0] * SIZE[1]


@pytest.mark.parametrize("light", Light)
def test_a_change_of_light_paints_the_whole_page(light: Light) -> None:
    surface, painter = pygame.Surface(SIZE), Painter(typeface())
    painter.paint(surface, laid(VERSE), Light.DARK if light is Light.DAY else Light.DAY)
    assert painter.paint(surface, laid(VERSE), light) == [surface.get_rect()]
    assert surface.get_at((SIZE[0] - 1, SIZE[1] - 1))[:3] == inks(light)[ScreenInk.PAPER]


@pytest.mark.parametrize("mark", [mark for mark in LineMark if mark not in (LineMark.NONE, LineMark.FORM)])
@pytest.mark.parametrize("light", Light)
def test_every_mark_is_drawn(mark: LineMark, light: Light) -> None:
    plain, marked = pygame.Surface(SIZE), pygame.Surface(SIZE)
    Painter(typeface()).paint(plain, laid(View(Picture.PLAYING, (ViewLine(LineRole.NEXT, "Chorus"),))), light)
    Painter(typeface()).paint(
        marked, laid(View(Picture.PLAYING, (ViewLine(LineRole.NEXT, "Chorus", mark=mark),))), light
    )
    assert plain.get_buffer().raw != marked.get_buffer().raw


@pytest.mark.parametrize("light", Light)
def test_the_place_in_the_form_is_drawn(light: Light) -> None:
    painted = []
    for form in (None, FormPlace(0, 4), FormPlace(1, 4), FormPlace(1, 4, (3,))):
        surface = pygame.Surface(SIZE)
        seen = View(Picture.PLAYING, (ViewLine(LineRole.SECTION, "Verse"),), form=form)
        Painter(typeface()).paint(surface, laid(seen), light)
        painted.append(surface.get_buffer().raw)
    assert len(set(painted)) == len(painted)


@pytest.mark.parametrize("light", Light)
def test_a_song_without_a_road_map_that_plays_is_told_from_one_up_next_at_a_quarter_of_the_size(light: Light) -> None:
    """One stroke, longer than those of any letter and a tenth of the page or more, stands over the title that plays."""
    page = []
    for form in (None, FormPlace(0, 1)):
        surface = pygame.Surface(SIZE)
        seen = View(Picture.PLAYING, (ViewLine(LineRole.TITLE, "Slow Lamp"),), form=form)
        Painter(typeface()).paint(surface, laid(seen), light)
        page.append(pygame.transform.smoothscale(surface, (SIZE[0] // 4, SIZE[1] // 4)))
    paper = page[0].get_at((page[0].get_width() - 1, 0))
    longest = []
    for one in page:
        rows = ([one.get_at((x, y)) != paper for x in range(one.get_width())] for y in range(one.get_height()))
        longest.append(max(len(list(run)) for row in rows for inked, run in itertools.groupby(row) if inked))
    assert longest[1] >= max(1.5 * longest[0], page[1].get_width() / 10)


def test_a_right_to_left_title_begins_at_the_right() -> None:
    """Unicode Standard Annex #9: Hebrew letters run to the left, numbers in them to the right."""
    painter = Painter(typeface())
    words = painter._words("אב 12", 60, inks(Light.DARK)[ScreenInk.INK])  # noqa: SLF001 - one line of a page
    letters = ("12", " ", "ב", "א")
    left = 0
    for letter in letters:
        alone = painter._words(letter, 60, inks(Light.DARK)[ScreenInk.INK])  # noqa: SLF001 - as above
        here = words.subsurface((left, 0, alone.get_width(), min(words.get_height(), alone.get_height())))
        there = alone.subsurface((0, 0, *here.get_size()))
        assert pygame.image.tobytes(here, "RGBA") == pygame.image.tobytes(there, "RGBA"), letter
        left += alone.get_width()
    assert left == words.get_width()


@pytest.mark.parametrize(
    ("typed", "seen"),
    [
        ("E\u266d\ufe0e", "E\u266d"),  # Unicode Standard 23.4: a variation selector, as a phone's keyboard adds it
        ("1\ufe0f\u20e3 Moth", "1\u20e3 Moth"),  # Unicode Technical Standard 51: a keycap
        ("\u266d\u200b", "\u266d"),  # the same, 23.2: a zero width space, from a web page
        ("\u00ad", " "),  # the same: a soft hyphen alone
    ],
)
def test_signs_without_a_width_are_left_out_where_they_stand_alone_in_their_typeface(typed: str, seen: str) -> None:
    pictures = []
    for title in (typed, seen):
        surface = pygame.Surface(SIZE)
        Painter(typeface()).paint(surface, laid(View(Picture.UP_NEXT, (ViewLine(LineRole.TITLE, title),))), Light.DARK)
        pictures.append(surface.get_buffer().raw)
    assert pictures[0] == pictures[1]


def test_overlapping_boxes_are_joined() -> None:
    boxes = [
        pygame.Rect(0, 0, 10, 10),
        pygame.Rect(30, 30, 5, 5),
        pygame.Rect(8, 8, 10, 10),
        pygame.Rect(15, 15, 20, 20),
    ]
    assert merged(boxes, pygame.Rect(0, 0, 100, 100)) == [pygame.Rect(0, 0, 35, 35)]
    assert merged([pygame.Rect(200, 0, 5, 5)], pygame.Rect(0, 0, 100, 100)) == []


def test_direction_marks_do_not_change_a_drawn_line() -> None:
    painter, ink = Painter(typeface()), inks(Light.DARK)[ScreenInk.INK]
    plain, turned = (painter._words(text, 60, ink) for text in ("abc", "\u202eabc\u202c"))  # noqa: SLF001 - as above
    assert pygame.image.tobytes(plain, "RGBA") == pygame.image.tobytes(turned, "RGBA")
    assert painter._words("\u202e", 60, ink).get_width() > 0  # noqa: SLF001 - as above


@pytest.mark.parametrize("light", Light)
@pytest.mark.parametrize(
    ("mark", "edge"),
    [
        (LineMark.HIGHLIGHT, ScreenInk.STROKE_EDGE),
        (LineMark.TAPE, ScreenInk.TAPE_EDGE),
        (LineMark.RIPPED, ScreenInk.TAPE_EDGE),
    ],
)
def test_a_mark_is_painted_with_its_edge(light: Light, mark: LineMark, edge: ScreenInk) -> None:
    surface = pygame.Surface(SIZE)
    Painter(typeface()).paint(
        surface, laid(View(Picture.PLAYING, (ViewLine(LineRole.SECTION, "Solo", mark=mark),))), light
    )
    painted = {tuple(surface.get_at((x, y))[:3]) for x in range(SIZE[0] // 2) for y in range(SIZE[1] // 2)}
    assert inks(light)[edge] in painted
