"""A moment of the show as written: the stage screen of the row that the player is in."""

from pathlib import Path

import pytest

from companion.picture import Moment, moment_view
from companion.rig import read_rig
from companion.screen.scenes import every_state
from companion.show import read_show
from companion.stage import Book, PositionKind, Surroundings, make_book, runs_on
from companion.view import Looks, view
from companion.view.view_lines import LineRole, Picture, View

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def book() -> Book:
    show = read_show(ROOT / "shows" / "pier-street.yaml").show
    return make_book(show, read_rig(ROOT / "config" / "two-tiers.yaml").rig)[0]


def text_of(shown: View | None, part: LineRole) -> str:
    assert shown is not None
    line = shown.of(part)
    return line.text if line else ""


def test_without_a_section_the_song_is_up_next(book: Book) -> None:
    shown = moment_view(book, Moment(0, 2))
    assert shown is not None
    assert shown.picture is Picture.UP_NEXT
    assert text_of(shown, LineRole.TITLE) == book.songs[2].song.title


def test_a_song_that_follows_without_a_break_shows_its_first_section(book: Book) -> None:
    assert runs_on(book, book.order, 0, 0)
    assert moment_view(book, Moment(0, 1)) == moment_view(book, Moment(0, 1, 0))


@pytest.mark.long
def test_every_section_looks_as_it_does_on_stage(book: Book) -> None:
    for state in every_state(book):
        place = state.place
        if place.where is not PositionKind.PLAYING or place.passed > 1 or place.rounds:
            continue
        played = view(state, Surroundings(), Looks())
        shown = moment_view(book, Moment(place.set, place.at, place.section))
        assert shown is not None
        assert shown.lines == played.lines, place


def test_an_open_section_counts_its_rounds(book: Book) -> None:
    song = next(n for n, one in enumerate(book.songs) if any(each.section.open for each in one.sections))
    section = next(n for n, each in enumerate(book.songs[song].sections) if each.section.open)
    place = next(
        state.place
        for state in every_state(book)
        if state.song is book.songs[song] and state.place.where is PositionKind.PLAYING
    )
    first = moment_view(book, Moment(place.set, place.at, section))
    third = moment_view(book, Moment(place.set, place.at, section, rounds=2))
    assert text_of(third, LineRole.COUNT) != text_of(first, LineRole.COUNT)
    assert "3" in text_of(third, LineRole.COUNT)


@pytest.mark.parametrize("moment", [Moment(9, 0), Moment(0, 99), Moment(0, 0, 99), Moment(0, -1), Moment(0, 0, -1)])
def test_a_moment_outside_the_show_has_no_view(book: Book, moment: Moment) -> None:
    assert moment_view(book, moment) is None
