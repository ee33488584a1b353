"""Breaks that other words stand beside, and conditions above the last songs (invented lists)."""

import pytest

from companion.setlist.list_reading import list_in
from companion.setlist.model import LineKind

SONGS = "Rust Bucket - G\nPaper Tram - D\nOld Kettle - Am\n{}\nLow Bridge - F\nGrey Hen - C\nLast Bus - G\n"


def sizes_of(text: str) -> list[int]:
    return [len(one.songs) for one in list_in(text.encode(), "list.txt").show.sets]


@pytest.mark.parametrize(
    "line",
    [
        "half time - raffle and meat draw",
        "BREAK, LEN DOES HIS TRICK",
        "✨ tiny break ✨",
        "break here about 20 mins",
        "tie up - break for soup",
        "Kaffeepause mit Kuchen",
        "on fait une pause ici, 20 min",
        "korte pauze met koffie",
    ],
)
def test_a_line_between_songs_that_names_a_break_ends_a_set(line: str) -> None:
    found = list_in(SONGS.format(line).encode(), "list.txt")
    assert [len(one.songs) for one in found.show.sets] == [3, 3]
    assert found.lines[3].took is LineKind.BREAK


@pytest.mark.parametrize(
    "line",
    [
        "drum break after verse 2",
        "half time feel",
        "Lucky Break",
        "no break, straight on",
        "short pause, I read a poem",
    ],
)
def test_a_break_in_the_music_or_in_a_title_ends_none(line: str) -> None:
    assert sum(sizes_of(SONGS.format(line))) >= 6
    assert len(sizes_of(SONGS.format(line))) == 1


def test_a_break_among_other_words_is_asked_about_but_one_with_its_minutes_is_not() -> None:
    asked = list_in(SONGS.format("BREAK, LEN DOES HIS TRICK").encode(), "list.txt").lines[3]
    plain = list_in(SONGS.format("tea break, 15 mins").encode(), "list.txt").lines[3]
    assert [doubt.question for doubt in asked.doubts] == ["Does a new set begin below 'BREAK, LEN DOES HIS TRICK'?"]
    assert not plain.doubts


def test_a_row_of_a_table_without_a_key_that_names_a_break_ends_a_set() -> None:
    above = "Rust Bucket,G\nPaper Tram,D\nOld Kettle,Am\n"
    table = f"Song,Key\n{above}tie up - break for soup,\nLow Bridge,F\nGrey Hen,C\n"
    assert [len(one.songs) for one in list_in(table.encode(), "list.csv").show.sets] == [3, 2]


def test_a_cross_instead_of_a_number_makes_no_other_column_of_the_numbers() -> None:
    table = "#,what,in\n1,Rust Bucket,G\n2,Paper Tram,D\n3,Old Kettle,Am\nx,tie up - break,\n4,Low Bridge,F\n"
    found = list_in(f"{table}5,Grey Hen,C\n".encode(), "list.csv")
    assert [[song.title for song in one.songs] for one in found.show.sets] == [
        ["Rust Bucket", "Paper Tram", "Old Kettle"],
        ["Low Bridge", "Grey Hen"],
    ]


@pytest.mark.parametrize(
    "line", ["if they wont let us go:", "if folk stay", "wenn sie noch wollen:", "s'ils en veulent encore :"]
)
def test_a_condition_heads_the_songs_below_it(line: str) -> None:
    assert sizes_of(SONGS.format(line)) == [3, 3]


def test_a_point_may_stand_right_before_the_word_of_counted_headings() -> None:
    text = "1.Runde\n1 Rostlaube  G\n2 Papierboot  D\n2.Runde\n3 Alter Kessel  Am\n4 Graue Henne  C\n"
    assert sizes_of(text) == [2, 2]


def test_spares_head_the_last_rows_of_a_table_in_small_letters() -> None:
    rows = "".join(f"{title:25}{key}\n" for title, key in [("rust bucket", "G"), ("paper tram", "D"), ("fog", "Am")])
    assert sizes_of(f"{rows}\nspares\n{'low bridge':25}F\n{'grey hen':25}C\n") == [3, 2]


def test_a_column_of_crosses_counts_nothing() -> None:
    table = "Song,Key,Xmas\nRust Bucket,G,x\nPaper Tram,D,\nOld Kettle,Am,x\nLow Bridge,F,x\n"
    assert len(list_in(table.encode(), "list.csv").show.sets[0].songs) >= 3


def test_a_first_row_that_names_a_day_is_no_song_of_a_table() -> None:
    rows = "".join(f"{title:25}{key}\n" for title, key in [("rust bucket", "G"), ("paper tram", "D"), ("fog", "Am")])
    found = list_in(f"sat 5th   queens head      just four of us\n\n{rows}".encode(), "list.txt")
    assert [song.title for song in found.show.sets[0].songs] == ["rust bucket", "paper tram", "fog"]


def test_a_break_that_only_a_word_for_an_event_tells_is_in_doubt() -> None:
    found = list_in(b"Moth (Am)\nWeeds (D)\n*raffle*\nKite (C)\nTidal (F)\nJam Jar (G)", "list.txt")
    assert [doubt.question for line in found.lines for doubt in line.doubts] == ["Does a new set begin below 'raffle'?"]


@pytest.mark.parametrize("line", ["\nRaffle\n", "Raffle 9.15", "\n* buffet *\n"])
def test_empty_lines_or_its_time_tell_that_an_event_ends_a_set(line: str) -> None:
    found = list_in(f"Moth (Am)\nWeeds (D)\nOwl (A)\n{line}\nKite (C)\nTidal (F)\nJam Jar (G)".encode(), "list.txt")
    assert [len(one.songs) for one in found.show.sets] == [3, 3]
    assert not [doubt for line in found.lines for doubt in line.doubts]
