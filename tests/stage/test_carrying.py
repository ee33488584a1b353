"""A night carried over into the edited show: place, order, what was put in; a journal that begins there."""

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st
from stage.scenes import after, book_of, on, place_text, song
from stage.test_properties import _EVENTS, BOOKS, assert_valid

from companion.show import Song
from companion.stage import (
    AnyEvent,
    Book,
    Call,
    Drop,
    LeaveOut,
    Next,
    NextSong,
    PositionKind,
    PutIn,
    ShowPosition,
    Skip,
    State,
    replay,
)
from companion.stage.carrying import Beginning, beginning_of, begun, carried_over

A, B, C, D = (song(title, "Intro, Verse @organ, Chorus, Verse") for title in "ABCD")
WISH = song("Wish", "Intro, Solo")
WRITTEN = book_of([A, B], [C, D])


def order_text(state: State) -> list[str]:
    return ["".join(state.book.songs[one].song.title[0] for one in songs) for songs in state.order]


@pytest.mark.parametrize(
    ("edited", "place", "order"),
    [
        ([[A, B], [C, D]], "Verse of B", ["AB", "CD"]),
        ([[D, B, A], [C]], "Verse of B", ["DBA", "C"]),
        ([[song("New"), A, B], [C, D]], "Verse of B", ["NAB", "CD"]),
        ([[A], [C, song("B", "Intro, Bridge")]], "Intro of B", ["A", "CB"]),
        ([[A, C, D]], "Verse of B", ["ABCD"]),  # gone from the file while it is played: it stays for tonight
        ([[B]], "Verse of B", ["B"]),
    ],
)
def test_the_song_and_section_are_found_again_and_the_new_order_applies(
    edited: list[list[Song]], place: str, order: list[str]
) -> None:
    now = after(WRITTEN, NextSong, Next, Next)
    assert place_text(now) == "Verse of B"
    moved = carried_over(now, book_of(*edited))
    assert (place_text(moved), order_text(moved)) == (place, order)


def test_the_same_verse_is_found_again_with_its_passes_and_rounds() -> None:
    before = after(WRITTEN, Next, Skip, Skip, Skip)
    moved = carried_over(before, book_of([song("A", "Verse, Tag, Verse @lead, Outro")]))
    assert (place_text(moved), moved.place.section, on(moved)) == ("Verse of A", 2, "lead")


def test_tonights_order_stays_and_a_new_song_follows_the_song_it_follows_in_the_file() -> None:
    now = replay(WRITTEN, [Drop(1), Call(2, 3), Next(3)])  # A is dropped, D called
    assert order_text(now) == ["DB", "C"]
    moved = carried_over(now, book_of([A, B, song("New")], [C, song("Late"), D]))
    assert (place_text(moved), order_text(moved)) == ("Intro of D", ["DBN", "CL"])


def test_an_added_song_stays_and_becomes_the_files_own_once_the_file_has_it() -> None:
    now = replay(WRITTEN, [PutIn(1, WISH), Next(2), Skip(3)])
    assert place_text(now) == "Solo of Wish"
    moved = carried_over(now, book_of([B, A], [C, D]))
    assert (place_text(moved), order_text(moved)) == ("Solo of Wish", ["WAB", "CD"])
    written = carried_over(now, book_of([A, B], [C, D, song("Wish", "Intro, Solo, Outro")]))
    assert (place_text(written), order_text(written)) == ("Solo of Wish", ["WAB", "CD"])
    assert len(written.book.songs) == 5, "it is the file's own now"


def test_left_out_sections_and_the_key_survive_an_edit() -> None:
    now = after(WRITTEN, Next, LeaveOut)
    moved = carried_over(now, book_of([song("A", "Count, Intro, Break, Verse, Chorus")]))
    assert moved.left_out == {3}


def test_between_sets_and_at_the_end_the_place_survives_an_edit() -> None:
    between = after(WRITTEN, NextSong, NextSong)
    assert carried_over(between, book_of([A, B], [D])).place.where is PositionKind.BETWEEN_SETS
    assert carried_over(between, book_of([A, B])).place.where is PositionKind.END
    end = after(WRITTEN, *[NextSong] * 5)
    assert carried_over(end, book_of([A], [B])).place.where is PositionKind.END


@given(BOOKS, _EVENTS, BOOKS, _EVENTS)
def test_after_any_presses_and_edits_the_place_is_valid_and_the_show_continues(
    book: Book, events: tuple[AnyEvent, ...], edited: Book, then: tuple[AnyEvent, ...]
) -> None:
    before = replay(book, events)
    moved = carried_over(before, edited)
    assert_valid(moved)
    if before.song is not None and edited.order:
        assert moved.song is not None
        titles = {one.song.title for one in edited.songs}  # a title that is not among them may have been edited
        assert moved.song.song.title == before.song.song.title or before.song.song.title not in titles
    for event in then:
        moved = replay(moved.book, (event,), moved)
        assert_valid(moved)


@given(BOOKS, _EVENTS, _EVENTS)
def test_a_journal_that_starts_there_replays_to_the_same_state(
    book: Book, events: tuple[AnyEvent, ...], then: tuple[AnyEvent, ...]
) -> None:
    live = carried_over(replay(book, events), book)
    written = msgspec.json.encode(beginning_of(live))
    again = begun(book, msgspec.json.decode(written, type=Beginning))
    assert again is not None
    assert again == live
    assert replay(book, then, again) == replay(book, then, live)


_SMALL = st.integers(-1, 4)
_PLACES = st.builds(ShowPosition, st.sampled_from(PositionKind), set=_SMALL, at=_SMALL, section=_SMALL, passed=_SMALL)
_ORDERS = st.lists(st.lists(_SMALL, max_size=3).map(tuple), max_size=3).map(tuple)


@given(BOOKS, st.builds(Beginning, place=_PLACES, order=_ORDERS))
def test_a_beginning_from_another_show_is_refused(book: Book, beginning: Beginning) -> None:
    state = begun(book, beginning)
    if state is not None:
        assert_valid(state)
