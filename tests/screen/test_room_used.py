"""Long words on small pages: nothing is cut or left out while the page has room for it."""

import pytest
from examples import seldom
from msgspec.structs import replace
from screen.matrix import LONG, WIDTH_MM, book_of
from stage.scenes import rig_of

from companion.night.default_keys import keys_page
from companion.screen.layout import lay_out
from companion.screen.page import PageSize, page_of
from companion.screen.palette import ScreenInk
from companion.screen.screen_fonts import typeface
from companion.stage import Again, Next, State, Surroundings, at_start, step
from companion.view import LineMark, LineRole, Looks, Picture, View, ViewLine, view

UPRIGHT, SMALL = (1080, 1920), (1024, 600)


def page(size: tuple[int, int]) -> PageSize:
    wide, high = size
    return page_of(size, size, WIDTH_MM if wide > high else WIDTH_MM * wide / high, 1.8)


def at(*events: type[Next] | type[Again], road_maps: bool = True) -> State:
    state = at_start(book_of(LONG, road_maps=road_maps))
    for number, event in enumerate(events):
        state, _ = step(state, event(number * 1000))
    return state


def words(seen: View, part: LineRole, size: tuple[int, int]) -> str:
    return " ".join(block.text for block in lay_out(seen, page(size), typeface()) if block.part is part and block.text)


@pytest.mark.parametrize(
    ("size", "lost"),
    [(SMALL, ("lower port",)), seldom(UPRIGHT, ("lower port",)), seldom(SMALL, ()), seldom((1366, 768), ())],
)
def test_the_first_song_to_drop_is_named_even_if_its_title_is_long(
    size: tuple[int, int], lost: tuple[str, ...]
) -> None:
    drop = (LONG["title"],) * 8
    around = Surroundings(lost=lost, advice="28 min over, drop 8:", to_drop=drop)
    seen = view(at(Next, Next, Next, Again), around, Looks())
    assert "Lamplighter" in words(seen, LineRole.DROP, size)
    for part in (LineRole.SECTION, LineRole.NEXT, LineRole.TITLE, LineRole.WATCH, LineRole.SOUND):
        assert words(seen, part, size), part
    assert bool(words(seen, LineRole.NOTICE, size)) == bool(lost)


@pytest.mark.parametrize("size", [(1280, 800), (1920, 1080), (320, 200), SMALL, UPRIGHT])
def test_over_a_section_the_keys_leave_the_songs_title_in_sight_and_no_key_out(size: tuple[int, int]) -> None:
    keys = keys_page(rig_of("lower"))
    for number in range(3):
        seen = view(at(Next, Next, Next), Surroundings(), Looks(keys_shown=True, keys=keys, keys_page=number))
        assert "Lamplighter" in words(seen, LineRole.TITLE, size)
        placed = [block.text for block in lay_out(seen, page(size), typeface())]
        assert [line.label for line in seen.lines if line.part is LineRole.CHOICE and line.label not in placed] == []


@pytest.mark.parametrize("typed", ["The Other Lamplighter and her Tram Conductor, Eb", "Wednesday morning, Eb"])
def test_a_new_songs_title_is_whole_on_an_upright_page(typed: str) -> None:
    seen = view(at(Next, Next, Next), Surroundings(typed=typed), Looks())
    assert words(seen, LineRole.TYPED, UPRIGHT) == f"call {typed}_"
    assert typed.partition(",")[0] in words(seen, LineRole.CHOICE, UPRIGHT)


@pytest.mark.parametrize("events", [(), (Next,)])
def test_a_long_title_without_a_road_map_stays_the_largest_on_an_upright_page(events: tuple[type[Next], ...]) -> None:
    seen = view(at(*events, road_maps=False), Surroundings(), Looks())
    titles = [block for block in lay_out(seen, page(UPRIGHT), typeface()) if block.part is LineRole.TITLE]
    assert {block.ink for block in titles} == {ScreenInk.INK}, "in ink, not in pencil as above a section"


def test_a_notice_has_the_rows_it_needs_on_an_upright_page_with_room() -> None:
    forms = ("dropped: The Kettle on the Old Jetty; to undo: backspace", "dropped; to undo: backspace", "dropped")
    seen = view(replace(at(Next)), Surroundings(done=forms), Looks())
    assert words(seen, LineRole.NOTICE, UPRIGHT) == forms[0]


def test_a_fault_in_the_edited_show_is_said_in_full_while_nothing_plays() -> None:
    forms = (
        'line 14: a song has no key "tempoo"; write: tempo; the show continues unchanged',
        "line 14; show unchanged",
    )
    around = Surroundings(done=forms)
    assert words(view(at(), around, Looks()), LineRole.NOTICE, (1366, 768)) == forms[0]
    assert words(view(at(Next), around, Looks()), LineRole.NOTICE, (1366, 768)) == forms[1], "a cue needs the row"


@pytest.mark.parametrize("size", [(1280, 800), (1366, 768), (1920, 1080)])
def test_two_sounds_are_as_large_as_what_comes_next_while_the_middle_is_empty(size: tuple[int, int]) -> None:
    shown = (
        ViewLine(LineRole.SECTION, "Verse"),
        ViewLine(LineRole.NEXT, "Pre", "next"),
        ViewLine(LineRole.TITLE, "Midnight by the Weir"),
        ViewLine(LineRole.SOUND, "strings", "lower", mark=LineMark.TAPE),
        ViewLine(LineRole.SOUND, "tonewheel organ", "upper", mark=LineMark.TAPE),
        ViewLine(LineRole.KEY, "Em"),
    )
    blocks = lay_out(View(Picture.PLAYING, shown), page(size), typeface())
    em_px = {block.text: block.em_px for block in blocks if block.text}
    assert em_px["strings"] == em_px["tonewheel organ"] == em_px["Pre"]


@pytest.mark.parametrize("size", [(1280, 800), (1366, 768)])
def test_what_the_hands_must_do_is_as_large_as_what_comes_next(size: tuple[int, int]) -> None:
    shown = (
        ViewLine(LineRole.TITLE, "Sunday on the Slipway"),
        ViewLine(LineRole.STANDING, "up next, 4 of 13", shorter=("up next",)),
        ViewLine(LineRole.NEXT, "Harlequin Street", "next song"),
        ViewLine(LineRole.TEMPO, "♩ 96"),
        ViewLine(LineRole.SOUND, "grand piano", "lower", mark=LineMark.TAPE),
        ViewLine(LineRole.KEY, "play A", "hands move:", mark=LineMark.CIRCLE),
        ViewLine(LineRole.SOUND, "tonewheel organ", "upper"),
    )
    em_px = {one.text: one.em_px for one in lay_out(View(Picture.UP_NEXT, shown), page(size), typeface()) if one.text}
    assert em_px["play A"] == em_px["Harlequin Street"]
    assert "grand piano" in em_px
