"""The running order changed on stage: what follows, what comes later, and that it can all be taken back."""

import pytest
from msgspec.structs import replace
from stage.scenes import SOUNDS, after, book_of, on, place_text, rig_of, show_of, song

from companion.music import read_key
from companion.show import Song
from companion.stage import (
    AnyEvent,
    Book,
    Call,
    Drop,
    LeaveOut,
    Next,
    Notify,
    PutIn,
    SendSound,
    StartOver,
    State,
    Swap,
    TakeBack,
    ToEncore,
    at_start,
    coming,
    make_book,
    step,
)

A, B, C, D = (song(title, f"Intro @{sound}, Verse") for title, sound in zip("ABCD", SOUNDS, strict=False))
BOOK = book_of([A, B, C], [D])


def order(state: State) -> str:
    """Return the running order: "A B C / D"."""
    return " / ".join(" ".join(state.book.songs[one].song.title for one in songs) for songs in state.order)


def then(state: State, *events: AnyEvent) -> State:
    for event in events:
        state, _ = step(state, event)
    return state


def call(number: int) -> Call:
    return Call(at_ms=9000, song=number)


def test_a_song_called_while_another_plays_is_up_next_and_its_sound_is_on() -> None:
    state = then(after(BOOK, Next, Next), call(2))
    assert (place_text(state), on(state)) == ("C up next", "strings")


def test_after_a_called_song_the_order_continues_and_does_not_repeat_it() -> None:
    state = then(after(BOOK, Next), call(2))
    assert order(state) == "A C B / D"
    assert place_text(then(state, Next(1), Next(2), Next(3))) == "B up next"


def test_a_called_song_goes_before_the_song_up_next() -> None:
    assert order(then(at_start(BOOK), call(1))) == "B A C / D"


def test_a_song_called_from_a_later_set_is_not_played_again_there() -> None:
    state = then(after(BOOK, Next), call(3))
    assert (place_text(state), order(state)) == ("D up next", "A D B C / ")


def test_a_song_that_has_been_played_may_be_called_again() -> None:
    played = after(BOOK, Next, Next, Next)
    assert (place_text(played), order(then(played, call(0)))) == ("B up next", "A A B C / D")


def test_a_song_can_be_called_between_sets_and_after_the_end() -> None:
    between = after(BOOK, *[Next] * 9)
    assert place_text(between) == "between sets"
    assert order(then(between, call(0))) == "A B C A / D"
    ended = after(BOOK, *[Next] * 20)
    assert (place_text(ended), place_text(then(ended, call(1)))) == ("end", "B up next")


def test_a_number_without_a_song_is_ignored() -> None:
    assert then(at_start(BOOK), call(99)) == at_start(BOOK)


def test_drop_leaves_out_the_next_song() -> None:
    assert order(then(after(BOOK, Next), Drop(1))) == "A C / D"
    assert place_text(then(at_start(BOOK), Drop(1))) == "B up next"


def test_dropping_the_last_song_of_a_set_or_show_leads_on() -> None:
    up = after(BOOK, *[Next] * 6)
    assert place_text(up) == "C up next"
    assert place_text(then(up, Drop(1))) == "between sets"
    assert place_text(then(up, Drop(1), Drop(2))) == "end"
    assert place_text(then(up, Drop(1), Drop(2), Drop(3))) == "end"


def test_swap_exchanges_the_next_two_songs_even_across_a_break() -> None:
    assert order(then(after(BOOK, Next), Swap(1))) == "A C B / D"
    assert place_text(then(at_start(BOOK), Swap(1))) == "B up next"
    assert order(then(after(BOOK, *[Next] * 4), Swap(1))) == "A B D / C"


def test_a_song_moved_to_the_encore_is_played_there() -> None:
    assert order(then(after(BOOK, Next), ToEncore(1))) == "A C / D B"
    with_encore = show_of([A, B], [C], [D])
    named = replace(with_encore, sets=(*with_encore.sets[:1], replace(with_encore.sets[1], name="Encore")))
    book, _ = make_book(named, rig_of("lower"))
    assert order(then(after(book, Next), ToEncore(1))) == "A / C B"


def test_a_song_moves_to_the_last_set_if_the_encore_is_over() -> None:
    two_evenings = show_of([A], [B, C, D])
    book, _ = make_book(
        replace(two_evenings, sets=(replace(two_evenings.sets[0], name="Encore"), two_evenings.sets[1])),
        rig_of("lower"),
    )
    assert order(then(after(book, *[Next] * 5), ToEncore(1))) == "A / B D C"


def test_an_added_song_needs_only_a_title_and_a_key() -> None:
    wish = Song("Wish", key=read_key("Eb"))
    state = then(after(BOOK, Next), PutIn(at_ms=1, song=wish))
    assert (place_text(state), order(state)) == ("Wish up next", "A Wish B C / D")
    assert place_text(then(state, Next(2), Next(3))) == "B up next"


def test_a_song_can_be_added_although_the_rig_lacks_its_sound() -> None:
    state = then(after(BOOK, Next), PutIn(at_ms=1, song=song("Wish", "Intro @theremin")))
    assert (place_text(state), on(state)) == ("Wish up next", "piano")


@pytest.mark.parametrize(
    "event", [call(2), Drop(9), Swap(9), ToEncore(9), PutIn(at_ms=9, song=A), LeaveOut(9)], ids=repr
)
def test_every_change_can_be_taken_back(event: AnyEvent) -> None:
    before = after(book_of([song("A", "Intro, Verse, Chorus"), B, C], [D]), Next)
    changed = then(before, event)
    assert changed != before
    assert then(changed, TakeBack(10)) == before


SEGUE = book_of([song("A", "Intro", segue="B"), B, C])


@pytest.mark.parametrize(
    ("event", "words"),
    [
        (Drop(1), "A ran straight into B, which is dropped"),
        (Swap(1), "A ran straight into B, which has changed places"),
        (ToEncore(1), "A ran straight into B, which is in the encore"),
    ],
)
def test_removing_a_segues_target_is_reported_at_once(event: AnyEvent, words: str) -> None:
    _, effects = step(after(SEGUE, Next), event)
    assert [effect.words for effect in effects if isinstance(effect, Notify)] == [words]
    _, effects = step(after(BOOK, Next), event)
    assert not [effect for effect in effects if isinstance(effect, Notify)]


def test_a_left_out_section_is_skipped_this_time() -> None:
    book = book_of([song("A", "Intro, Verse, Bridge, Chorus")])
    state = then(after(book, Next, Next), LeaveOut(1))
    assert place_text(then(state, Next(2))) == "Chorus of A"
    assert place_text(then(state, LeaveOut(2), Next(3))) == "end"


def test_start_over_restores_left_out_sections() -> None:
    book = book_of([song("A", "Intro, Verse, Chorus")])
    state = then(after(book, Next), LeaveOut(1), StartOver(2), Next(3))
    assert place_text(state) == "Verse of A"


def test_the_next_song_is_known_at_every_place() -> None:
    def title(book: Book, presses: int) -> str | None:
        state = after(book, *[Next] * presses)
        where = coming(state.order, state.place)
        return None if where is None else book.songs[state.order[where[0]][where[1]]].song.title

    assert [title(BOOK, presses) for presses in (0, 1, 8, 9, 12)] == ["A", "B", "D", "D", None]


def test_the_playing_song_can_be_called_again_and_starts_with_its_first_sound() -> None:
    state = after(book_of([song("A", "Intro @pad, Solo @lead")]), Next, Next)
    assert on(state) == "lead"
    again, effects = step(state, Call(9000, 0))
    assert (place_text(again), on(again)) == ("A up next", "pad")
    assert any(isinstance(effect, SendSound) for effect in effects)
