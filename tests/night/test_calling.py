"""Songs of the songbook are called as those of the show are, and stay in the journal when the songbook is gone."""

import threading
import time

import msgspec
import pytest
from night.evening import Evening
from stage.scenes import book_of, place_text, rig_of, song

from companion.night.calling import Calling
from companion.night.entries import entries_of
from companion.night.happenings import KeyReceived, OfSongbook, SongbooksRead
from companion.stage import Call, PutIn, at_start, replay
from companion.view import LineRole

FAR = song("Crêpe Paper Armada", "Intro, Solo @lead, Outro")


def of_book(*titles: str) -> tuple[OfSongbook, ...]:
    songs = [FAR if title == FAR.title else song(title) for title in titles]
    return tuple(OfSongbook(one.title, msgspec.Raw(msgspec.json.encode(one))) for one in songs)


def call(evening: Evening, letters: str) -> None:
    for key in ("f", *letters):
        evening.key(key)


def choices(evening: Evening) -> list[str]:
    return [line.text for line in evening.wall.views[-1].lines if line.part is LineRole.CHOICE]


def test_a_songbook_song_is_found_marked_added_and_played() -> None:
    evening = Evening()
    evening.night.take(SongbooksRead(of_book("A", FAR.title)))
    evening.press()
    call(evening, "crepe")
    assert choices(evening)[0] == "songbook: Crêpe Paper Armada"
    evening.key("enter")
    assert place_text(evening.night.state) == "Crêpe Paper Armada up next"
    for _ in range(2):
        evening.press()
    assert evening.new()[-1] == "c0 03", "its own sound is found on the rig"
    evening.key("backspace")
    evening.key("n")
    assert place_text(evening.night.state) == "B up next", "the order goes on behind it"


def test_the_journal_holds_the_whole_song_so_a_restart_needs_no_songbook() -> None:
    evening = Evening()
    evening.night.take(SongbooksRead(of_book(FAR.title)))
    call(evening, "armada")
    evening.key("enter")
    evening.press()
    entries = entries_of(evening.notebook.lines)
    assert isinstance(entries[0].event, PutIn)
    assert place_text(replay(evening.book, [one.event for one in entries], at_start(evening.book))) == place_text(
        evening.night.state
    )
    assert place_text(evening.night.state) == "Intro of Crêpe Paper Armada"


def test_a_song_that_is_nowhere_gets_its_sound_by_one_digit_and_keeps_it_after_a_restart() -> None:
    """Lead, organ, strings and pad are used once each: the digits offer them in written order."""
    evening = Evening()
    call(evening, "wish")
    evening.key(",")
    assert choices(evening) == ["new song: wish", "organ", "lead", "strings"]
    evening.new()
    evening.key("2")
    assert place_text(evening.night.state) == "wish up next"
    assert evening.new() == ["c0 03"]
    entries = entries_of(evening.notebook.lines)
    again = replay(evening.book, [one.event for one in entries], at_start(evening.book))
    assert [sound.name for sound in again.on if sound] == ["lead"]


def test_a_song_in_both_show_and_songbook_is_offered_once() -> None:
    evening = Evening()
    evening.night.take(SongbooksRead(of_book("a", "B", FAR.title)))
    call(evening, "b")
    assert "B" in choices(evening)
    assert "songbook: B" not in choices(evening)
    evening.key("escape")
    call(evening, "armada")
    evening.key("enter")
    call(evening, "crepe")
    assert choices(evening)[0] == "Crêpe Paper Armada", "once put in, it is one of the show's"


def test_the_second_match_may_come_from_the_songbook() -> None:
    calling = Calling()
    calling.songs_are(of_book("Bell", "Bellows"))
    calling.open(Evening().book)
    for key in "bell":
        calling.take(KeyReceived(key, down=True, text=key), 0)
    assert calling.found[:2] == ("songbook: Bell", "songbook: Bellows")
    assert calling.take(KeyReceived("2", down=True, text="2"), 7) == PutIn(7, song("Bellows"))
    calling.open(Evening().book)
    calling.take(KeyReceived("b", down=True), 0)
    assert calling.take(KeyReceived("enter", down=True), 8) == Call(8, 1)


def test_letters_find_titles_before_the_ranking_is_loaded_and_enter_waits_for_it() -> None:
    may_come = threading.Event()
    calling = Calling(bring_in=may_come.wait)
    calling.open(book_of([song("Gasworks Corner"), song("Kettle on the Jetty")]))
    for letter in "gas":
        calling.take(KeyReceived(letter, down=True), 0)
    assert list(calling.found) == ["Gasworks Corner"]
    for letter in "wroks":
        calling.take(KeyReceived(letter, down=True), 0)
    assert not calling.found, "nothing is guessed by a library that is half there"
    assert calling.take(KeyReceived("enter", down=True), 7) is None, "no foot waits for it"
    assert calling.entered(8) is None
    may_come.set()
    assert called_once_ranked(calling) == Call(9, 0)
    assert calling.entered(10) is None


def called_once_ranked(calling: Calling) -> Call | PutIn | None:
    """Return what the kept enter calls, as soon as the thread that brings the ranking in is through."""
    for _ in range(1000):
        if (called := calling.entered(9)) is not None:
            return called
        time.sleep(0.01)
    return None


def test_without_the_ranking_library_enter_adds_the_typed_title_as_a_new_song() -> None:
    def missing() -> None:
        raise ImportError

    calling = Calling(bring_in=missing)
    calling.open(book_of([song("Gasworks Corner")]))
    for letter in "xyz":
        calling.take(KeyReceived(letter, down=True, text=letter), 0)
    called = calling.take(KeyReceived("enter", down=True), 9) or called_once_ranked(calling)
    assert isinstance(called, PutIn)
    assert called.song.title == "xyz"


def test_the_screen_shows_what_enter_will_call_once_the_ranking_is_loaded(monkeypatch: pytest.MonkeyPatch) -> None:
    may_come = threading.Event()
    monkeypatch.setattr("companion.night.night.Calling", lambda: Calling(bring_in=may_come.wait))
    evening = Evening(book_of([song("Lantern Street Parade"), song("Harbour")], rig=rig_of("lower")))
    evening.key("f")
    for letter in "lantrn":
        evening.night.take(KeyReceived(letter, down=True, text=letter))
    assert "Lantern Street Parade" not in choices(evening)
    may_come.set()
    for _ in range(1000):  # until the thread that has waited is through
        evening.night.take(None)
        if "Lantern Street Parade" in choices(evening):
            break
        time.sleep(0.01)
    assert choices(evening)[0] == "Lantern Street Parade", "without another key"


def test_a_letter_typed_twice_quickly_counts_twice_and_a_held_key_does_not_step() -> None:
    evening = Evening()
    for key in ("n", "n", "page down", "page down"):
        evening.night.take(KeyReceived(key, down=True, repeats=True))
    assert place_text(evening.night.state) == "A up next"
    evening.key("f")
    for letter in "tt":
        evening.night.take(KeyReceived(letter, down=True, repeats=letter == "t"))
    assert next(line.text for line in evening.wall.views[-1].lines if line.part is LineRole.TYPED).startswith("tt")
