"""Rows of a grid, cell by cell: what each column takes, what stays a note, and what columns without names hold."""

import pytest

from companion.setlist.model import ListRow, SourceLine
from companion.setlist.parsing.column_roles import Column, Head, agreeing, by_content, read_heads, with_nameless
from companion.setlist.parsing.grid_rows import read_row, title_at
from companion.setlist.parsing.song_draft import Draft


def row(*cells: str) -> ListRow:
    return ListRow(SourceLine(1), cells, " ".join(cells))


def read(column: Column, cell: str, name: str = "") -> Draft:
    """Read a row of a title and one cell of this column."""
    return read_row(row("Moth", cell), (Head(Column.TITLE), Head(column, name)))


TAKEN = [  # column, its name, cell: the field that it sets, its value, the notes; by the words of the column names
    (Column.NUMBER, "#", "7", "number", 7, []),
    (Column.NUMBER, "#", "#12", "number", 12, []),
    (Column.NUMBER, "#", "3b", "number", 3, []),
    (Column.NUMBER, "#", "enc", "number", None, ["enc"]),
    (Column.SET, "Set", "Late", "set_name", "Late", []),
    (Column.ARTIST, "Artist", "The Kettles", "artist", "The Kettles", []),
    (Column.ARTIST, "Artist", "3:20", "artist", "3:20", []),
    (Column.ARTIST, "", "3:20", "length_s", 200, []),
    (Column.ARTIST, "", "The Kettles", "artist", "The Kettles", []),
    (Column.LENGTH, "Time", "3.20", "length_s", 200, []),
    (Column.LENGTH, "Time", "220", "length_s", 220, []),
    (Column.LENGTH, "Time", "6/8", "length_s", None, []),
    (Column.LENGTH, "Time", "long", "length_s", None, ["Time: long"]),
    (Column.LENGTH, "", "long", "length_s", None, ["length: long"]),
    (Column.TEMPO, "BPM", "112", "tempo_bpm", 112.0, []),
    (Column.TEMPO, "BPM", "brisk", "tempo_bpm", None, ["BPM: brisk"]),
    (Column.METER, "Sig", "waltz", "meter", None, ["Sig: waltz"]),
    (Column.STARTS, "Starts", "drums", "starts_with", "drums", []),
    (Column.STARTS, "Starts", "Bo", "starts_with", "Bo", []),
    (Column.STARTS, "Starts", "gtr", "starts_with", "guitar", ["Starts: gtr"]),
    (Column.STARTS, "Starts", "20:30", "starts_with", None, ["at 20:30"]),
    (Column.STARTS, "Starts", "20:30:00", "starts_with", None, ["at 20:30"]),
    (Column.STARTS, "Starts", "9:05", "starts_with", None, ["at 9:05"]),
    (
        Column.STARTS,
        "Starts",
        "after the mayor has spoken",
        "starts_with",
        None,
        ["Starts: after the mayor has spoken"],
    ),
    (Column.STARTS, "Starts", "after the mayor spoke", "starts_with", "after the mayor spoke", []),
    (Column.ENDING, "Ending", "bright", "ending", None, ["Ending: bright"]),
    (Column.ENDING, "", "bright", "ending", None, ["ending: bright"]),
    (Column.CHART, "Chart", "yes", "chart", True, []),
    (Column.CHART, "Chart", "-", "chart", False, []),
    (Column.CHART, "Chart", "Moth.PDF", "chart", "Moth.PDF", []),
    (Column.CHART, "Chart", "moth.docx ", "chart", "moth.docx", []),
    (Column.CHART, "Chart", "?", "chart", None, []),
    (Column.CHART, "Chart", "Bo has it", "chart", None, ["Chart: Bo has it"]),
    (Column.CHART, "", "Bo has it", "chart", None, ["chart: Bo has it"]),
    (Column.RECORDING, "Link", "moth.mp3", "recording", "moth.mp3", []),
    (Column.RECORDING, "Link", "listen/moth", "recording", "listen/moth", []),
    (Column.RECORDING, "Link", "none", "recording", None, []),
    (Column.RECORDING, "Link", "the live one", "recording", None, ["Link: the live one"]),
    (Column.RECORDING, "", "the live one", "recording", None, ["recording: the live one"]),
    (Column.PLAYED, "Play", "no", "is_out", "Play: no", []),
    (Column.PLAYED, "Play", " CUT ", "is_out", "Play:  CUT ", []),
    (Column.PLAYED, "Play", "Y", "is_out", "", []),
    (Column.PLAYED, "Play", "if time", "is_out", "", ["Play: if time"]),
    (Column.PLAYED, "Play", "nej", "is_out", "Play: nej", []),
    (Column.PLAYED, "Play?", "NO - dropped", "says_out", "Play?: NO - dropped", []),
    (Column.PLAYED, "Spielen", "nein (zu lang)", "says_out", "Spielen: nein (zu lang)", []),
    (Column.PLAYED, "Play", "not tonight", "says_out", "Play: not tonight", []),
    (Column.PLAYED, "Play", "no solo", "says_out", "", ["Play: no solo"]),
    (Column.NOTES, "Notes", "watch Bo", "stars", "", ["watch Bo"]),
    (Column.NOTES, "Notes", "**", "stars", "**", []),
    (Column.NOTES, "Solo", "sax", "stars", "", ["sax solo"]),
    (Column.NOTES, "Solo", "long sax solo", "stars", "", ["long sax solo"]),
    (Column.NOTES, "Solo", "yes", "stars", "", ["Solo: yes"]),
    (Column.NOTES, "Feature", "sax", "stars", "", ["sax"]),
    (Column.NOTES, "Feature", "x", "stars", "", ["Feature: x"]),
    (Column.NOTES, "Intro", "four bars", "stars", "", ["four bars intro"]),
    (Column.NOTES, "Intro", "long intro", "stars", "", ["long intro"]),
    (Column.OTHER, "Segue", "yes", "segue", True, []),
    (Column.OTHER, "Segue", "no", "segue", False, []),
    (Column.OTHER, "Feel", "6/8", "segue", False, []),
    (Column.OTHER, "Feel", "lazy", "segue", False, ["Feel: lazy"]),
    (Column.OTHER, "Singer", "6/8", "segue", False, ["Singer: 6/8"]),
    (Column.OTHER, "", "lazy", "segue", False, ["lazy"]),
]


@pytest.mark.parametrize(("column", "name", "cell", "field", "value", "notes"), TAKEN)
def test_a_column_takes_its_cell_or_keeps_it_in_the_notes(
    column: Column, name: str, cell: str, field: str, value: object, notes: list[str]
) -> None:
    found = read(column, cell, name)
    assert (found.title, getattr(found, field), found.notes) == ("Moth", value, notes)


@pytest.mark.parametrize(
    ("cell", "notes"), [("?", []), ("yes?", ["Play: yes?"]), ("maybe, ask Bo", ["Play: maybe, ask Bo"])]
)
def test_a_list_that_leaves_open_what_is_played_asks(cell: str, notes: list[str]) -> None:
    found = read(Column.PLAYED, cell, "Play")
    assert (found.notes, found.is_out, [doubt.question for doubt in found.doubts]) == (notes, "", ["Is 'Moth' played?"])


def test_a_meter_in_a_column_of_times_is_the_meter() -> None:
    assert str(read(Column.LENGTH, "6/8").meter) == str(read(Column.OTHER, "6/8", "Feel").meter) == "6/8"


@pytest.mark.parametrize(
    ("column", "cells", "field", "value", "notes"),
    [
        (Column.KEY, ("Bb", "Bb"), "key", "Bb", []),
        (Column.KEY, ("Bb", "C"), "key", "Bb", ["key: C"]),
        (Column.LENGTH, ("3:20", "4:00"), "length_s", "200", ["4:00"]),
        (Column.TEMPO, ("112", "120"), "tempo_bpm", "112.0", ["120"]),
        (Column.METER, ("3/4", "6/8"), "meter", "3/4", ["6/8"]),
        (Column.ARTIST, ("The Kettles", "Bo"), "artist", "The Kettles, Bo", []),
        (Column.RECORDING, ("a.mp3", "b.mp3"), "recording", "a.mp3", ["Link: b.mp3"]),
        (Column.RECORD_KEY, ("A", "G"), "record_key", "G", []),
    ],
)
def test_a_second_value_of_a_field_is_kept_in_the_notes(
    column: Column, cells: tuple[str, str], field: str, value: str, notes: list[str]
) -> None:
    name = "Link" if column is Column.RECORDING else ""
    found = read_row(row("Moth", *cells), (Head(Column.TITLE), Head(column, name), Head(column, name)))
    assert (str(getattr(found, field)), found.notes) == (value, notes)
    assert len(found.doubts) == (column is Column.KEY and notes != [])


@pytest.mark.parametrize("cell", ["-", "?", "TBC", "n/a"])
def test_a_cell_that_stands_for_nothing_leaves_its_field_open(cell: str) -> None:
    for column in (Column.KEY, Column.TEMPO, Column.ARTIST, Column.ENDING, Column.NOTES):
        found = read(column, cell, "Name")
        assert (found.key, found.tempo_bpm, found.artist, found.notes, found.doubts) == (None, None, None, [], [])


def test_a_cell_in_no_column_is_read_by_its_own_form_or_kept_in_doubt() -> None:
    found = read_row(row("Moth", "Bb", "loud", "Mrs. Quill", " "), (Head(Column.TITLE),))
    assert (str(found.key), found.notes) == ("Bb", ["loud", "Mrs. Quill"])
    assert [doubt.says for doubt in found.doubts] == ["in no column, kept in the notes: Mrs. Quill"]


@pytest.mark.parametrize(
    ("cell", "title", "number", "stars", "segue", "notes"),
    [
        ("Moth", "Moth", None, "", False, []),
        ("- Moth", "Moth", None, "", False, []),
        ("3. Moth", "Moth", 3, "", False, []),
        ("Moth **", "Moth", None, "**", False, []),
        ("Moth >", "Moth", None, "", True, []),
        ("Moth   slow one", "Moth", None, "", False, ["slow one"]),
        ("moth   slow one", "moth slow one", None, "", False, []),
        ("Moth   Slow Ferry", "Moth Slow Ferry", None, "", False, []),
    ],
)
def test_a_title_cell_loses_what_is_no_title(
    cell: str, title: str, number: int | None, stars: str, notes: list[str], *, segue: bool
) -> None:
    found = read_row(row(cell), (Head(Column.TITLE),))
    assert (found.title, found.number, found.stars, found.segue, found.notes) == (title, number, stars, segue, notes)
    assert found.doubts == []


def test_a_fact_in_a_title_cell_is_taken_in_doubt_unless_it_is_in_brackets() -> None:
    doubted = read_row(row("Moth   Bb"), (Head(Column.TITLE),))
    assert (doubted.title, str(doubted.key)) == ("Moth", "Bb")
    (doubt,) = doubted.doubts
    assert (doubt.says, doubt.question) == ("taken out of the title: Bb", "Is the title 'Moth'?")
    assert [answer.word for answer in doubt.answers] == ["yes", "no"]
    sure = read_row(row("Moth (Bb)"), (Head(Column.TITLE),))
    assert (sure.title, str(sure.key), sure.doubts) == ("Moth", "Bb", [])


def test_titles_are_found_by_their_column() -> None:
    assert title_at((None, Head(Column.KEY), Head(Column.TITLE), Head(Column.TITLE))) == 2
    assert title_at((None, Head(Column.KEY))) is None


T, K, L, A, N, S, B, M, X, NOTES = (
    Column.TITLE,
    Column.KEY,
    Column.LENGTH,
    Column.ARTIST,
    Column.NUMBER,
    Column.SET,
    Column.TEMPO,
    Column.METER,
    Column.OTHER,
    Column.NOTES,
)
NAMES = [  # a row of cells, and the columns if it names them
    (("Title", "Key"), [T, K]),
    (("#", "Song", "Tonart"), [N, T, K]),
    (("Song",), [T]),
    (("Key",), None),
    (("Moth", "Key"), None),
    (("Title", "Whatever"), None),
    (("Title", "Key", "Whatever"), [T, K, X]),
    (("Title", "Key", "Moth", "Weeds", "Ferry"), None),
    (("Title", "", "Key"), [T, None, K]),
    (("Key", "Length"), None),
    (("Setlist for Sat", "Key", "Length"), [X, K, L]),
    (("Notes", "Tempo"), None),
    (("KEY ORIG KEY", "TITLE"), [K, T]),
    (("Key (concert)", "Title"), [K, T]),
    (("", ""), None),
    (("The title of the song that we play", "Key", "Length"), [X, K, L]),
]


@pytest.mark.parametrize(("cells", "columns"), NAMES)
def test_a_row_of_column_names_is_known(cells: tuple[str, ...], columns: list[Column | None] | None) -> None:
    heads = read_heads(cells)
    assert (heads and [head and head.column for head in heads]) == columns


CONTENTS = [  # the cells of one column beside titles, and what it is taken for
    (["1", "2", "3", "4"], N),
    (["1", "2", "1", "2"], N),
    (["#1", "2.", "3)", "4"], N),
    (["1", "2", "3", "4", "Set 2"], N),
    (["14", "3", "27", "8", "31"], N),
    (["14", "3", "27", "8"], X),
    (["112", "84", "120", "96", "140"], B),
    (["112", "84", "120", "96", "270"], N),
    (["212", "184", "190", "196"], L),
    (["112", "84", "221", "96"], L),
    (["112", "84", "220", "96"], B),
    (["50", "50", "50", "50"], B),
    (["49", "49", "49", "49"], X),
    (["1984", "2001", "1900", "2100"], X),
    (["1984", "2001", "1899", "2100"], L),
    (["3/4", "4/4", "6/8", "x"], M),
    (["@112", "120 bpm", "90 bpm", "x"], B),
    (["3:20", "4:10", "2:50", "x"], L),
    (["20:00", "20:05", "20:10"], X),
    (["20:00", "20:05", "20:05"], X),
    (["20:05", "20:00", "20:10"], L),
    (["9:59", "10:05", "10:10"], L),
    (["Bb", "C", "F#m", "x"], K),
    (["112", "90.5", "84", "101"], B),
    (["Set 1", "Set 1", "Set 2", "Set 2"], S),
    (["yes", "no", "y", "n"], X),
    (["Bo", "Di", "Bo", "Di"], NOTES),
    (["Bo Quill", "Di", "Bo Quill", "Di Moor"], A),
    (["The Kettles", "Nine Wet Umbrellas", "The Kites", "Di Moor"], A),
    (["organ solo", "The Kettles", "The Kites", "Di Moor"], NOTES),
    (["", "The Kettles", "The Kites", "Di Moor"], A),
    (["", "", "", "The Kites Two"], NOTES),
]
SONGS = ["Moth at Noon", "Postbox Tango", "Ferry Home", "Slow Tram", "Wet Paint"]


@pytest.mark.parametrize(("cells", "column"), CONTENTS, ids=lambda one: ",".join(one) if isinstance(one, list) else "")
def test_a_column_without_a_name_is_known_by_its_contents(cells: list[str], column: Column) -> None:
    heads = by_content([row(title, cell) for title, cell in zip(SONGS, cells, strict=False)])
    assert [head and head.column for head in heads] == [T, column]


def test_of_two_columns_of_plain_numbers_the_larger_is_lengths_unless_one_is_named_so() -> None:
    numbers = [("112", "180"), ("84", "170"), ("120", "150"), ("96", "175")]
    rows = [row(title, *both) for title, both in zip(SONGS, numbers, strict=False)]
    assert [head and head.column for head in by_content(rows)] == [T, B, L]
    timed = [row(title, *both, "3:20") for title, both in zip(SONGS, numbers, strict=False)]
    assert [head and head.column for head in by_content(timed)] == [T, B, B, L]


def test_a_second_column_of_words_is_notes_and_a_short_row_counts_as_empty() -> None:
    rows = [row("Moth", "The Kettles", "Ann Lee"), row("Weeds", "The Kites", "Di Moor"), row("Tram")]
    assert [head and head.column for head in by_content(rows)] == [T, A, NOTES]


def test_an_unnamed_column_gets_a_role_only_where_its_contents_leave_no_doubt() -> None:
    rows = [row(title, key, "The Kettles") for title, key in zip(SONGS, ["Bb", "C", "Em", "D"], strict=False)]
    assert [head and head.column for head in with_nameless((Head(T), None, None), rows)] == [T, K, None]
    assert [head and head.column for head in with_nameless((Head(T), None, Head(K)), rows)] == [T, None, K]
    assert [head and head.column for head in with_nameless((Head(T),), rows)] == [T, K, None]


@pytest.mark.parametrize(
    ("named", "cells", "column"),
    [
        ((T, K, K), ["organ", "piano", "pad", "strings"], X),
        ((T, K, K), ["Bb", "piano", "pad", "strings"], X),
        ((T, K, K), ["Bb", "C", "pad", "strings"], K),
        ((T, L, X), ["Bb", "C", "Em", "D"], K),
        ((T, L, X), ["Bb", "C", "Em", "pad"], X),
        ((T, L, A), ["Bb", "C", "Em", "D"], A),
        ((T, L, X), ["Bb", "", "", ""], X),
    ],
)
def test_named_columns_are_checked_against_their_contents(
    named: tuple[Column, ...], cells: list[str], column: Column
) -> None:
    heads = tuple(Head(one, one.value) for one in named)
    first = "C" if K in named else "3:20"
    rows = [row(title, first, cell) for title, cell in zip(SONGS, cells, strict=False)]
    assert agreeing(heads, rows)[2] == Head(column, named[2].value)


def test_where_no_name_says_title_the_words_that_repeat_least_are() -> None:
    rows = [row(title, "C", "Bo") for title in SONGS]
    assert [head and head.column for head in agreeing((Head(X, "Stuff"), Head(K), Head(X, "Lead")), rows)] == [T, K, X]
    assert agreeing((Head(X, "Stuff"), Head(K)), []) == (Head(X, "Stuff"), Head(K))
