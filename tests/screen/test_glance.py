"""How many words are shown, and which give way to which."""

from pathlib import Path

import pytest
from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from screen.nights import Night, seeds
from view.test_view import CALM

from companion.rig import read_rig
from companion.screen.scenes import every_state
from companion.show import read_show
from companion.stage import Surroundings, make_book
from companion.view import Detail, LineMark, LineRole, Looks, Picture, view
from companion.view.glance import (
    EXPECTED,
    GLANCE_WORDS,
    LARGE_WORDS,
    UNCOUNTED,
    UP_NEXT_WORDS,
    glance_words,
    is_essential,
    is_feature_next,
    words_of,
)
from companion.view.short_words import lesser_titles


@settings(max_examples=examples(250), deadline=None)
@given(seeds, st.sampled_from(Detail))
def test_one_glance_has_at_most_fourteen_words_and_seven_large_ones(seed: int, detail: Detail) -> None:
    """More only where what a player cannot do without is more, and then nothing else is said."""
    night = Night(seed)
    state = night.state()
    details = ((state.song.song.title, detail),) if state.song else ()
    seen = view(state, night.surroundings(), Looks(details=details))
    if seen.picture is not Picture.PLAYING:
        return
    if glance_words(seen.lines) > GLANCE_WORDS == 14:
        assert all(is_essential(line) for line in seen.lines if line.part not in UNCOUNTED)
    large = [line for line in seen.lines if line.part in (LineRole.SECTION, LineRole.NEXT)]
    if sum(line.words for line in large) > LARGE_WORDS == 7:
        fewer = [form for line in large for form in line.shorter if replace(line, text=form).words < line.words]
        assert fewer == [], "a name or a title that cannot be said in fewer words"


SHOWS, RIGS = (Path(__file__).parents[2] / name for name in ("shows", "config"))


@pytest.mark.parametrize("rig", ["two-tiers", "one-board"])
def test_a_whole_show_stays_within_fourteen_words_a_page_and_twenty_up_next(rig: str) -> None:
    book = make_book(read_show(SHOWS / "pier-street.yaml").show, read_rig(RIGS / f"{rig}.yaml").rig)[0]
    night = every_state(book)
    pages = [view(state, CALM) for state in night]
    within = [glance_words(page.lines) <= GLANCE_WORDS for page in pages if page.picture is Picture.PLAYING]
    assert sum(within) >= 0.99 * len(within), "more is a next song's long title, which is said whole"
    up_next = [page.lines for page in pages if page.picture is Picture.UP_NEXT]
    counted = [[line for line in lines if not is_feature_next(line)] for lines in up_next]
    assert {words_of(lines) <= UP_NEXT_WORDS for lines in counted} == {True}
    for state, page in zip(night, pages, strict=True):
        if page.picture is Picture.PLAYING and state.section is not None and state.section.section.name:
            assert all(page.of(part) for part in (LineRole.SECTION, LineRole.NEXT, LineRole.TITLE)), page


@settings(max_examples=examples(250), deadline=None)
@given(seeds)
def test_information_never_replaces_section_next_title_watch_count_or_sound(seed: int) -> None:
    night = Night(seed)
    state = night.state()
    busy = replace(
        night.surroundings(), typed=None, over_min=28, ends="22:48", battery_percent=9, notices=("a notice",)
    )
    calm, told = view(state, CALM), view(state, busy)
    for part in (LineRole.SECTION, LineRole.NEXT, LineRole.TITLE, LineRole.WATCH, LineRole.COUNT):
        assert bool(calm.of(part)) == bool(told.of(part)), part
    if calm.picture is Picture.PLAYING:
        own = [line.text for line in calm.lines if line.part is LineRole.SOUND and line.mark is not LineMark.NONE]
        assert len(own) == sum(line.part is LineRole.SOUND and line.mark is not LineMark.NONE for line in told.lines)


@settings(max_examples=examples(250), deadline=None)
@given(seeds)
def test_the_title_is_complete_or_in_a_known_short_form(seed: int) -> None:
    state = Night(seed).state()
    seen = view(state, Surroundings(over_min=28, ends="22:48", lost=("lower port",)))
    if state.song is not None:
        title = state.song.song.title
        assert any(line.text in (title, *lesser_titles(title)) for line in seen.lines if line.part is LineRole.TITLE)


@settings(max_examples=examples(250), deadline=None)
@given(seeds)
def test_a_song_up_next_has_at_most_twenty_words(seed: int) -> None:
    """More only for a feature, or if title, tempo, count-off, who starts, whom to watch, sounds alone are more."""
    state = Night(seed).state()
    seen = view(state, CALM)
    lines = [line for line in seen.lines if not is_feature_next(line)]
    if seen.picture in (Picture.BEFORE, Picture.UP_NEXT) and words_of(lines) > UP_NEXT_WORDS == 20:
        assert {line.part for line in lines} <= EXPECTED - {LineRole.NEXT, LineRole.KEY}
