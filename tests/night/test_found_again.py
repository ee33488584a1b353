"""After a kill and an edit of the show: a title that was edited, a song that was removed, and what is said of it."""

from pathlib import Path

import pytest
from night.test_memory import BOOK, SHOW, night, play
from stage.scenes import book_of, place_text, rig_of, song

from companion.night import memory as memory_room
from companion.night.memory import StartOptions, memory_of
from companion.night.notices import Notices


@pytest.fixture(autouse=True)
def _own_shelf(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(memory_room, "data_path", lambda: tmp_path)


@pytest.fixture
def said() -> list[str]:
    """What the player reads."""
    return []


def test_a_show_edited_before_the_first_press_starts_at_its_new_opener(said: list[str]) -> None:
    night(said)
    for _ in range(2):
        with memory_of(SHOW, book_of([song("Opener"), song("A")]), StartOptions(), said.append) as memory:
            assert (place_text(memory.resumed.state), memory.resumed.message) == ("Opener up next", "")


def test_a_song_whose_title_was_edited_is_found_again_and_named_anew(said: list[str]) -> None:
    was = book_of([song("Copper Wish", "Intro, Verse"), song("Tin Lantern", "Intro, Verse, Chorus")])
    edited = book_of([song("Copper Wish", "Intro, Verse"), song("Tin Lanterns", "Intro, Verse, Chorus")])
    night(said, presses=5, book=was)
    with memory_of(SHOW, edited, StartOptions(), said.append) as memory:
        assert place_text(memory.resumed.state) == "Verse of Tin Lanterns"
        assert memory.resumed.message == "the show was edited; continued at Tin Lanterns, Verse"
    assert night(said, book=edited) == "Verse of Tin Lanterns", "and after another kill"


def test_a_song_that_plays_and_was_removed_stays_for_tonight(said: list[str]) -> None:
    night(said, presses=2, book=BOOK)
    with memory_of(SHOW, book_of([song("B", "Intro")]), StartOptions(), said.append) as memory:
        assert place_text(memory.resumed.state) == "Verse of A"
        assert memory.resumed.message == 'the show was edited, "A" is gone from it; continued at A, Verse'
        assert [on.name for on in memory.resumed.state.on if on] == ["lead"]
        play(memory, 2)
    assert night(said, book=book_of([song("B", "Intro")])) == "B up next"


def test_if_the_song_up_next_was_removed_the_one_after_it_is(said: list[str]) -> None:
    book = book_of([song("A", "Intro"), song("B", "Intro"), song("C", "Intro @organ")])
    edited = book_of([song("A", "Intro"), song("C", "Intro @organ")])
    night(said, presses=2, book=book)
    with memory_of(SHOW, edited, StartOptions(), said.append) as memory:
        assert place_text(memory.resumed.state) == "C up next"
        assert memory.resumed.message == 'the show was edited, "B" is gone from it; continued at C, Intro'
        assert [on.name for on in memory.resumed.state.on if on] == ["organ"]


def test_a_night_that_is_at_its_top_offers_no_key_that_leads_there() -> None:
    notices = Notices(print, rig_of("lower"), '"A" is gone: from the top', from_the_top=True)
    assert not notices.is_top("0")
    assert notices.shown(0)["resumed"] == ('"A" is gone: from the top', "from the top")


def test_where_the_place_has_no_room_the_notice_says_what_was_edited() -> None:
    words = 'the show was edited, "A" is gone from it; continued at B, Intro'
    assert Notices(print, rig_of("lower"), words).shown(0)["resumed"][1] == (
        'the show was edited, "A" is gone from it; 0 starts from the top'
    )
