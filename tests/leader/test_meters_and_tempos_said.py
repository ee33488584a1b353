"""Meters, beats of a bar and tempos, as leaders say them; instruments and endings by their names abroad."""

import pytest
from planning.shows import show, song

from companion.leader.answers import read_answers

SONGS = ("Copper Kettle", "Weeds", "Rain Delay", "Tram Home")


@pytest.mark.parametrize(
    ("reply", "found"),
    [
        ("weeds: 4/4 not 3/4, Dm", ["Weeds: meter 4/4", "Weeds: key Dm"]),
        ("2 6/8, nicht 4/4", ["Weeds: meter 6/8"]),
        ("2 is 3/4 instead of 4/4", ["Weeds: meter 3/4"]),
        ("2 = G, in 3", ["Weeds: key G", "Weeds: note: in 3"]),
        ("2 G (in three), 3 D", ["Weeds: key G", "Weeds: note: in three", "Rain Delay: key D"]),
        ("2 C, in 2. 4 G", ["Weeds: key C", "Weeds: note: in 2", "Tram Home: key G"]),
        ("G in 3, A in 4", ["Rain Delay: key G", "Tram Home: key A"]),
        ("2 tempo one thirty", ["Weeds: tempo 130 (not sure: 2 tempo one thirty)"]),
        ("2 about one twenty-four bpm", ["Weeds: tempo 124 (not sure: 2 about one twenty-four bpm)"]),
        ("2 one oh eight bpm", ["Weeds: tempo 108"]),
        ("2 D, tempo is sixty eight", ["Weeds: key D", "Weeds: tempo 68"]),
        ("2 one hundred and twelve b p m", ["Weeds: tempo 112"]),
        ("2 Tempo achtundsechzig", ["Weeds: tempo 68"]),
        ("2 tempo zesennegentig", ["Weeds: tempo 96"]),
        ("2 tempo femogtres", ["Weeds: tempo 65"]),
        ("2 tempo nittiosex", ["Weeds: tempo 96"]),
        ("2 tempo centoventi", ["Weeds: tempo 120"]),
        ("2 tempo sessantotto", ["Weeds: tempo 68"]),
        ("2 tempo ciento veinte", ["Weeds: tempo 120"]),
        ("2 tempo quatre-vingt-douze", ["Weeds: tempo 92"]),
        ("2 hundertzwanzig bpm", ["Weeds: tempo 120"]),
        ("2 starts with just the tamburello", ["Weeds: tamburello starts"]),
        ("2 parte il clarinetto", ["Weeds: clarinet starts"]),
    ],
)
def test_a_meter_or_tempo_in_other_words(reply: str, found: list[str]) -> None:
    assert [str(one) for one in read_answers(reply, show(*map(song, SONGS))).found] == found


@pytest.mark.parametrize(
    ("reply", "ending"),
    [
        ("weeds C en dan meteen hard stoppen", "cold"),
        ("weeds C und dann hart aufhören", "cold"),
        ("Weeds spielen wir als Endlosschleife", "vamp-out"),
        ("weeds D and we loop the end until they leave", "vamp-out"),
    ],
)
def test_an_ending_in_other_words(reply: str, ending: str) -> None:
    found = [one for one in read_answers(reply, show(*map(song, SONGS))).found if one.field == "ending"]
    assert [(one.title, one.value) for one in found] == [("Weeds", ending)]


@pytest.mark.parametrize(
    ("reply", "note"),
    [
        ("3 D\n2: only if they shout for it", "only if they shout for it"),
        ("2 nur wenn sie rufen", "nur wenn sie rufen"),
        ("3 D. 2 solo se lo chiedono", "solo se lo chiedono"),
        ("number 2 is for the raffle, 6 minutes please", "is for the raffle"),
    ],
)
def test_what_a_song_is_for_is_asked_for_as_a_note(reply: str, note: str) -> None:
    found = [one for one in read_answers(reply, show(*map(song, SONGS))).found if one.field == "notes"]
    assert [(one.title, one.value, bool(one.doubt)) for one in found] == [("Weeds", note, True)]
