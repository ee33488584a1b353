"""The player's own words come before the program's; and what steps while the ports are awaited."""

import pytest
from msgspec.structs import replace
from view.test_view import CALM, LEARNED, VERSE, after, book_of, shown, song

from companion.music import read_key, read_meter
from companion.show import Song
from companion.stage import Next, Surroundings
from companion.view import LineRole, Picture, view
from companion.view.glance import glance_words


def test_the_offer_of_less_detail_takes_no_place_from_the_players_own_note() -> None:
    note = "watch the drummer in bar nine, left hand stays down, then the bell sound by hand"
    known = song(*LEARNED, known=5, tempo_bpm=120.0, starts_with="drums", notes=note)
    plain = replace(known, known=None)
    seen, without = (view(after(book_of(Song("Kettle"), one), Next, Next), CALM) for one in (known, plain))
    assert shown(seen, LineRole.NOTES) == shown(without, LineRole.NOTES)
    assert shown(seen, LineRole.HINT) == []


def test_less_detail_is_offered_in_the_first_set_alone() -> None:
    known = song(*LEARNED, known=5)
    book = book_of(Song("Kettle"), Song("Oar"), more=(known,))
    seen = view(after(book, *[Next] * 5), CALM)
    assert shown(seen, LineRole.TITLE) == ["Gasworks Corner"]
    assert shown(seen, LineRole.HINT) == []


def test_a_song_without_a_road_map_shows_its_tempo_and_note_while_it_plays() -> None:
    plain = Song("Kettle", key=read_key("Bb"), tempo_bpm=96.0, meter=read_meter("6/8"), notes="bell on the last note")
    seen = view(after(book_of(plain, Song("Oar")), Next), CALM)
    assert seen.picture is Picture.PLAYING
    assert shown(seen, LineRole.TEMPO) == ["♩. 96, 6/8"]
    assert shown(seen, LineRole.NOTES) == ["bell on the last note"]
    long = replace(plain, notes=" ".join(["word"] * 40))
    seen = view(after(book_of(long, Song("Oar")), Next), CALM)
    assert glance_words(seen.lines) <= 14


@pytest.mark.parametrize(
    ("usual", "words"),
    [("right pedal", "the server is busy; no pedal yet: page down steps"), ("page down", "the server is busy")],
)
def test_while_the_ports_are_awaited_the_screen_says_what_steps_instead_of_a_pedal(usual: str, words: str) -> None:
    around = Surroundings(awaited="the server is busy", steps_with=usual, steps_meanwhile="page down")
    seen = view(after(book_of(song(VERSE))), around)
    assert shown(seen, LineRole.NOTICE) == [words]
    assert shown(seen, LineRole.HINT) == ["to start: page down; ? for all keys"]
