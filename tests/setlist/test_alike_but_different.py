"""Lists in which one small rule decides: without it, a heading, a song or a signature would be taken for another."""

import pytest
from setlist.reading_texts import read, said

from companion.setlist.model import ListPage, ListRow, SourceLine, TextSpan
from companion.setlist.parsing.letter_form import is_talk_beside_table
from companion.setlist.parsing.page_columns import grid
from companion.setlist.parsing.reading_order import page_edges

GIARDINO = "Giardino: Moth=G; Weeds=D; Kite=C | Fiaccole: Tidal=E; Fog Bell=F; Jam Jar=A"


@pytest.mark.parametrize(
    ("text", "found", "left"),
    [
        (  # in a list whose songs have their times in front, a heading has none
            (
                "Giardino\n20:00 Moth G\n20:05 Weeds D\n20:10 Kite C\n\n"
                "Fiaccole\n21:00 Tidal E\n21:05 Fog Bell F\n21:10 Jam Jar A"
            ),
            GIARDINO,
            [],
        ),
        (  # and where only the rows of the evening have times, those above songs are headings
            (
                "19:00 Doors\n20:00 Giardino\nMoth - G\nWeeds - D\nKite - C\n"
                "21:00 Fiaccole\nTidal - E\nFog Bell - F\nJam Jar - A\n22:00 Curfew"
            ),
            GIARDINO,
            ["22:00 Curfew"],
        ),
        (  # what follows the line of a signature is no song
            "Moth - G\nWeeds - D\nKite - C\n\n-- \nOsbert Quill\nThe Tidal Nine",
            "First: Moth=G; Weeds=D; Kite=C",
            [],
        ),
        (  # until a quoted line: that is of another message
            "Moth - G\nWeeds - D\nKite - C\n\n--\nOsbert Quill\n> Tidal - E\n> Fog Bell - F",
            "First: Moth=G; Weeds=D; Kite=C; Tidal=E; Fog Bell=F",
            [],
        ),
        (  # where the text begins with a greeting, its last line is no title
            "Hello all\nMoth\nWeeds\nTidal Clock\nHello Harold",
            "First: Moth; Weeds; Tidal Clock",
            ["Hello all", "Hello Harold"],
        ),
        (  # and where it does not, it may be one
            "Moth\nWeeds\nTidal Clock\nHello Harold",
            "First: Moth; Weeds; Tidal Clock; Hello Harold",
            [],
        ),
        (  # keys behind half of the titles are enough to join one in two lines
            "Moth - C\nWeeds of the\nmeadow - D\nTidal",
            "First: Moth=C; Weeds of the meadow=D; Tidal",
            [],
        ),
        (  # two lines between counted words are songs enough for a set
            "Round 1\nMoth\nWeeds\nRound 2\nTidal",
            "First: Moth; Weeds | Second: Tidal",
            [],
        ),
        (  # one is not
            "Round 1\nMoth\nRound 2\nTidal\nKite",
            "First: Round 1; Moth; Round 2; Tidal; Kite",
            [],
        ),
        (  # a letter whose numbers do not count from 1 belongs to the title: no number is taken off
            "A1 Moth\nA2 Weeds\nA3 Tidal\nB5 Kite",
            "First: A1 Moth; A2 Weeds; A3 Tidal; B5 Kite",
            [],
        ),
        (  # in a list of small letters without numbers, a line without a key is a song too
            "moth C\nweeds D\nkite",
            "First: moth=C; weeds=D; kite",
            [],
        ),
        (  # minor keys and those with an accidental leave no doubt that letters at the ends are keys
            "Moth Cm\nWeeds D\nKite F#m\nTidal\nFog\nJar\nBell",
            "First: Moth=Cm; Weeds=D; Kite=F#m; Tidal; Fog; Jar; Bell",
            [],
        ),
        (  # where a title stands without a key, one at the right edge does not go on below
            (
                "Title                Key\nMoth                 C\nWeeds\nKite of the long     D\nNight\n"
                "Tidal                E\nFog                  F\nJar                  G"
            ),
            "First: Moth=C; Weeds; Kite of the long=D; Night; Tidal=E; Fog=F; Jar=G",
            [],
        ),
        (  # a bullet in front of an event counts for nothing where the other lines with bullets have keys
            "- Moth C\n- Weeds D\n- Kite E\n- Fog F\n- Jar G\n- Offering\n- Tidal\nBell\nLamp",
            "First: Moth=C; Weeds=D; Kite=E; Fog=F; Jar=G; Tidal",
            ["- Offering"],
        ),
        (  # eight words and a full stop are a sentence
            "We play a new one about eight words.\nMoth\nWeeds",
            "First: Moth; Weeds",
            ["We play a new one about eight words."],
        ),
        (  # where four of five lines are in capitals, a minor key may be too
            "MOTH EM\nWEEDS DM\nKITE C\nFOG F\nTidal",
            "First: MOTH=Em; WEEDS=Dm; KITE=C; FOG=F; Tidal",
            [],
        ),
        (  # four numbers in two parts name the sets
            "1.1 Moth\n1.2 Weeds\n2.1 Kite\n2.2 Tidal",
            "First: Moth; Weeds | Second: Kite; Tidal",
            [],
        ),
        (  # three may be parts of titles
            "1.1 Moth\n1.2 Weeds\n2.1 Kite",
            "First: 1.1 Moth; 1.2 Weeds; 2.1 Kite",
            [],
        ),
        (  # capitals above a block of titles are a heading where an empty line parts the blocks
            "GIARDINO\nMoth\nWeeds\n\nFIACCOLE\nKite\nTidal",
            "Giardino: Moth; Weeds | Fiaccole: Kite; Tidal",
            [],
        ),
        (  # where none does, they may be a title
            "GIARDINO\nMoth\nWeeds\nFIACCOLE\nKite\nTidal",
            "First: GIARDINO; Moth; Weeds; FIACCOLE; Kite; Tidal",
            [],
        ),
        (  # a title that begins like a heading and lists songs is a title
            "Spare Change: Moth (C), Weeds (D)\nTidal (E)",
            "First: Spare Change: Moth=C; Weeds=D; Tidal=E",
            [],
        ),
        (  # a chat's form counts from its first line on, though most lines are of one message
            ("[28/11/2026, 19:02:11] Ann: Moth C\n[28/11/2026, 19:03:11] Ann: Weeds D\nKite E\nTidal F\nFog G"),
            "First: Moth=C; Weeds=D; Kite=E; Tidal=F; Fog=G",
            [],
        ),
    ],
)
def test_a_small_rule_decides(text: str, found: str, left: list[str]) -> None:
    read_list = read(text)
    assert said(read_list) == found
    assert [one.text for one in read_list.left] == left


@pytest.mark.parametrize(
    ("text", "found", "notes"),
    [
        (  # a small letter between words is an article, not a key, even where titles end in keys
            "Moth E\nWeeds D\nTidal E\nMore of a - all come in at the end",
            "First: Moth=E; Weeds=D; Tidal=E",
            ["", "", "More of a - all come in at the end"],
        ),
        (  # a second key in words behind the first is not read again
            "Moth - C - makes it D\nWeeds - D",
            "First: Moth=C; Weeds=D",
            ["makes it D", ""],
        ),
        (  # in an evening's course, words before a title with its key are what it is played for
            "Doors 18:00\nCandle Lane: Moth (D)\nWeeds (A)\nKite (C)",
            "First: Moth=D; Weeds=A; Kite=C",
            ["Candle Lane", "", ""],
        ),
        (  # in any other list they belong to the title
            "Candle Lane: Moth (D)\nWeeds (A)\nKite (C)",
            "First: Candle Lane: Moth=D; Weeds=A; Kite=C",
            ["", "", ""],
        ),
    ],
)
def test_a_small_rule_decides_what_a_note_is(text: str, found: str, notes: list[str]) -> None:
    read_list = read(text)
    assert said(read_list) == found
    assert [song.notes or "" for one in read_list.show.sets for song in one.songs] == notes


def test_the_song_that_another_replaces_is_set_aside() -> None:
    read_list = read("Moth (D) -> REPLACED by Weeds (A)\nKite C\nFog D")
    assert said(read_list) == "First: Weeds=A; Kite=C; Fog=D"
    assert [(one.text, one.reason) for one in read_list.set_aside] == [("Moth (D)", "struck out")]


@pytest.mark.parametrize(
    ("pages", "edges"),
    [
        ((("The Tidal Nine", "Moth"), ("The Tidal Nine", "Weeds")), {0, 2}),
        ((("Page 1", "Moth"), ("Page 2", "Weeds")), {0, 2}),
        ((("Tidal", "Moth", "Tidal"),), set()),  # a song that is played again is no header
    ],
)
def test_what_two_pages_repeat_is_a_header_and_what_one_page_repeats_is_not(
    pages: tuple[tuple[str, ...], ...], edges: set[int]
) -> None:
    rows = [
        ListRow(SourceLine(line, page), (text,), text)
        for page, texts in enumerate(pages, start=1)
        for line, text in enumerate(texts, start=1)
    ]
    assert page_edges(rows) == edges


def test_remarks_in_small_letters_below_a_day_are_no_list_of_their_own() -> None:
    read_list = read("Friday\nbring the red shirts\npark behind\nno drinks\n\nSaturday\nMoth\nWeeds\nKite")
    assert read_list.choices == ()
    assert read_list.titles[-3:] == ["Moth", "Weeds", "Kite"]


def test_a_column_that_is_nearly_empty_is_one_if_it_is_named() -> None:
    texts = [
        ("Title", "Key", "Notes"),
        ("Moth", "C"),
        ("Weeds", "D", "slow"),
        ("Tidal", "E"),
        ("Fog", "F"),
        ("Jar", "G"),
        ("Kite", "A"),
    ]
    lines = [
        tuple(TextSpan(begin, begin + 4 * len(text), text) for begin, text in zip((0, 50, 90), one, strict=False))
        for one in texts
    ]
    assert grid(lines) == [(*one, *[""] * (3 - len(one))) for one in texts]
    assert [cells[1:] for cells in grid(lines[1:]) or ()] == [("C",), ("D  slow",), ("E",), ("F",), ("G",), ("A",)]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Bring the red shirts.", "talk"),
        ("Moth (C) comes first.", "songs"),  # a key in brackets
        ("2 songs are new.", "songs"),  # a number in front
    ],
)
def test_words_above_a_table_are_talk_unless_they_may_be_songs(text: str, found: str) -> None:
    words = ListPage((ListRow(SourceLine(1), (text,), text),))
    table = ListPage((ListRow(SourceLine(2), ("Title", "Key"), "Title Key"),), is_grid=True)
    assert is_talk_beside_table(words, (words, table)) is (found == "talk")
