"""Replies that differ in one word or sign, and mean something else: pairs that a small slip in a rule would confuse."""

import datetime as dt

import pytest
from planning.shows import show, song

from companion.leader.answers import read_answers

TODAY = dt.date(2027, 5, 1)
SONGS = ("Moth", "Weeds", "Tram Home", "Copper Kettle")
CAPO = "(not sure: with capo 1 it may sound in Eb)"
TANGO = "(not sure: except the tango)"
STOP = "(not sure: stop all together)"
FIRST, SECOND = "First set", "Second set"  # of 45 minutes each, at 20:00 and 21:15


@pytest.mark.parametrize(
    ("reply", "found"),
    [
        ("1. Moth G 2. Weeds D", ["Moth: key G", "Weeds: key D"]),
        ("1) Moth - G", ["Moth: key G"]),
        ("2. Moth G", ["Moth: key G (not sure: that number is Weeds)"]),
        ("Moth attacca", ["Moth: segue Weeds"]),
        ("Moth attacca 3", ["Moth: segue Tram Home (not sure: that song does not come next)"]),
        ("1 D (capo 1) cold", [f"Moth: key D {CAPO}", "Moth: note: capo 1", "Moth: cold ending"]),
        ("1-4 G except 3", ["Moth: key G", "Weeds: key G", "Copper Kettle: key G"]),
        ("1-4 G except 3 D", ["Moth: key G", "Weeds: key G", "Copper Kettle: key G", "Tram Home: key D"]),
        ("nobody learnt 3", []),
        ("nobody starts 3", ["Tram Home: nobody starts"]),
        ("1 C, 3 B", ["Moth: key C", "Tram Home: key B"]),
        ("1 C, 3 B side", ["Moth: key C"]),
        ("2 and 3 go", [f"{one}: not played (not sure: go: not played?)" for one in ("Weeds", "Tram Home")]),
        ("2 goes into 3", ["Weeds: segue Tram Home"]),
        ("3 must go", ["Tram Home: not played"]),
        ("drums start 3", ["Tram Home: drums start"]),
        ("3 A, stop all together", [f"Tram Home: {one} {STOP}" for one in ("key A", "cold ending")]),
        ("3 A, cold on the 4", ["Tram Home: key A", "Tram Home: cold ending (not sure: cold on the 4)"]),
        ("3 A, cold on 4", ["Tram Home: key A", "Copper Kettle: cold ending (not sure: 4 may be a beat)"]),
        ("1 is one hundred and twenty-four bpm", ["Moth: tempo 124"]),
        ("cold on 4", ["Copper Kettle: cold ending"]),
        ("3 in A like the recording", ["Tram Home: key A (not sure: 3 in A like the recording)"]),
        ("3 A\nsorry, 3 as on the recording", ["Tram Home: key A (not sure: 3 as on the recording)"]),
        ("click starts them all. except the tango", [f"{one}: click starts {TANGO}" for one in SONGS]),
        ("3 A, all together", ["Tram Home: key A", "Tram Home: all start (not sure: all together)"]),
    ],
)  # fmt: skip
def test_songs(reply: str, found: list[str]) -> None:
    read = read_answers(reply, show(*map(song, SONGS)), today=TODAY)
    assert [str(one) for one in read.found] == found


@pytest.mark.parametrize("line", ["Route 9B = A", "Flat 3F2: A", "Flat 3F2 is in A"])
def test_a_number_within_a_word_of_a_title_is_no_song(line: str) -> None:
    read = read_answers(line, show(*map(song, (*SONGS, "Route 9B", "Flat 3F2"))), today=TODAY)
    assert [str(one) for one in read.found] == [f"{line[:8].rstrip(':')}: key A"]


@pytest.mark.parametrize(
    ("reply", "differs"),
    [
        (
            "second set at 9 for forty minutes",
            [f"{SECOND}: starts at 21:15 → 21:00", f"{SECOND}: 45 minutes → 40 minutes"],
        ),
        ("set 2 at 9 for 300 min", [f"{SECOND}: starts at 21:15 → 21:00", f"{SECOND}: 45 minutes → 300 minutes"]),
        (
            "set 2 at 9 for 310 min",
            [
                f"{SECOND}: starts at 21:15 → 21:00 (not sure: set 2 at 9 for 310 min)",
                f"{SECOND}: 45 minutes → 310 minutes (not sure: set 2 at 9 for 310 min)",
            ],
        ),
        ("first set 8pm for 25", [f"{FIRST}: 45 minutes → 25 minutes"]),
        ("first set 8pm for 24", []),  # it may be an hour, for one who counts to 24
    ],
)
def test_times_of_sets(reply: str, differs: list[str]) -> None:
    read = read_answers(reply, show(*map(song, SONGS), sets=2), today=TODAY)
    assert [str(one) for one in read.contradicts] == differs


@pytest.mark.parametrize(
    ("reply", "of"),
    [
        ("1 is in G and finish it with a nice rit. Number 3 C.", "Moth"),
        ("1 in G, ends with a rit. 3 C", "Moth"),
        ("1 G rit. 3 C", "Moth"),
    ],
)
def test_a_point_after_rit_ends_the_sentence_where_the_next_song_follows(reply: str, of: str) -> None:
    read = read_answers(reply, show(*map(song, SONGS)), today=TODAY)
    assert [one.title for one in read.found if one.field == "ending"] == [of]


@pytest.mark.parametrize(
    ("reply", "found"),
    [
        (
            "1 C - stops on the 3\n2 D\n3 G",
            {"Moth: key C", "Moth: ending: stops on 3", "Weeds: key D", "Tram Home: key G"},
        ),
        ("1 C 3 A\n2 D\n3 fades", {"Moth: key C", "Tram Home: key A", "Weeds: key D", "Tram Home: fade-out"}),
        ("1 C and 3 G\n2 D\n3 fades", {"Moth: key C", "Tram Home: key G", "Weeds: key D", "Tram Home: fade-out"}),
    ],
)
def test_a_number_in_the_middle_of_a_line_is_no_song_that_has_its_own_line(reply: str, found: set[str]) -> None:
    read = read_answers(reply, show(*map(song, SONGS)), today=TODAY)
    assert {str(one) for one in read.found} == found


@pytest.mark.parametrize(
    ("reply", "found"),
    [
        ("1 in do, sfuma alla fine", ["Moth: key C", "Moth: fade-out"]),  # no word of Night at the Mill
        ("The Hat in G", ["Jo's Hat: key G"]),  # no hi-hat
        ("Jo's Hat D, hihat starts", ["Jo's Hat: key D", "Jo's Hat: hi-hat starts"]),
        ("The gig moved to Sat 8 May", []),  # no place called Sat
    ],
)
def test_a_small_word_is_no_song_no_player_and_no_place(reply: str, found: list[str]) -> None:
    read = read_answers(reply, show(song("Moth"), song("Notte alla stazione"), song("Jo's Hat")), today=TODAY)
    assert [str(one).removeprefix(": ").partition(" (not sure")[0] for one in read.found] == found
