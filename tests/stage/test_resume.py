"""One night: after an edit of the show the place is found again by title, section name and occurrence."""

import pytest
from stage.scenes import after, book_of, on, place_text, song

from companion.stage import Next, PositionKind, at_start, find_again, landmark, replay


def test_the_journal_replays_to_the_same_place_and_sound() -> None:
    book = book_of([song("A", "Intro, Verse @organ, Chorus")])
    events = tuple(Next(at_ms=number) for number in (10, 20))
    assert (place_text(replay(book, events)), on(replay(book, events))) == ("Verse of A", "organ")


WRITTEN = [song("A", "Intro, Verse"), song("B", "Intro, Chorus, Verse, Chorus, Outro")]


@pytest.mark.parametrize(
    ("edited", "expected"),
    [
        ([song("New", "Intro"), *WRITTEN], "Chorus of B"),
        ([WRITTEN[1], WRITTEN[0]], "Chorus of B"),
        ([song("B", "Chorus, Verse, Tag, Chorus")], "Chorus of B"),
        ([song("B", "Intro, Verse")], "Intro of B"),
        ([song("B")], " of B"),
    ],
)
def test_the_place_is_found_again_by_names_after_an_edit(edited: list[object], expected: str) -> None:
    mark = landmark(after(book_of(WRITTEN), *[Next] * 7))
    assert (mark.song, mark.section, mark.section_occurrence) == ("B", "Chorus", 2)
    found = find_again(book_of(edited), mark)  # type: ignore[arg-type] # a table of songs
    assert found is not None
    assert place_text(found) == expected


def test_the_second_chorus_is_found_again_as_the_second() -> None:
    mark = landmark(after(book_of(WRITTEN), *[Next] * 7))
    found = find_again(book_of([song("B", "Chorus, Verse, Tag, Chorus")]), mark)
    assert found is not None
    assert found.place.section == 3


def test_a_removed_song_is_not_found() -> None:
    mark = landmark(after(book_of(WRITTEN), *[Next] * 7))
    assert find_again(book_of([WRITTEN[0]]), mark) is None


def test_a_title_with_another_letter_is_found_if_no_other_is_as_near() -> None:
    mark = landmark(after(book_of([song("Copper Kettle", "Intro, Verse")]), Next, Next))
    found = find_again(book_of([song("Moth"), song("Copper Kettles", "Intro, Verse")]), mark)
    assert found is not None
    assert place_text(found) == "Verse of Copper Kettles"
    assert find_again(book_of([song("Copper Kettle 2"), song("Copper Kettles")]), mark) is None


def test_a_title_played_twice_is_found_at_its_second_place() -> None:
    book = book_of([song("A", "Intro"), song("B", "Intro"), song("A", "Intro")])
    mark = landmark(after(book, *[Next] * 5))
    found = find_again(book, mark)
    assert found is not None
    assert found.place.at == 2


def test_between_sets_and_the_end_are_found_again() -> None:
    book = book_of([song("A", "Intro")], [song("B", "Intro")])
    for presses, where in [(2, PositionKind.BETWEEN_SETS), (5, PositionKind.END)]:
        found = find_again(book, landmark(after(book, *[Next] * presses)))
        assert found is not None
        assert found.place.where is where


def test_a_place_found_again_has_its_sound_on() -> None:
    book = book_of([song("A", "Intro @organ, Solo @lead")])
    found = find_again(book, landmark(after(book, Next, Next)))
    assert found is not None
    assert on(found) == "lead"
    assert on(at_start(book)) == "organ"
