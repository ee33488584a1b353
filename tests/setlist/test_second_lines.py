"""Numbers that go on below a head, small words in brackets and in cells, lines over columns, labels with a sign."""

import pytest
from setlist.reading_texts import read, said

from companion.setlist.model import ListPage, ListRow, SourceLine, TextSpan
from companion.setlist.parsing.column_roles import Column, Head
from companion.setlist.parsing.grid_rows import read_row
from companion.setlist.parsing.reading_order import in_reading_order


def test_a_head_that_looks_like_a_date_begins_no_list_where_the_numbers_go_on() -> None:
    found = read(
        "Drinks reception (7.00 – 8.00)\n1. Postbox Tango – F\n2. Harbour Lamps – Bb\n3. Slow Ferry – Gm\n"
        "4. Tram Home – C\n\n"
        "After dinner, Sat 12 Dec (9.30 – 10.30)\n5. Owl Walk – Am\n6. Wet Paint – C\n7. Fog Bell – Gm\n8. Kettle – G"
    )
    assert [len(one.songs) for one in found.show.sets] == [4, 4]
    assert found.choices == ()


@pytest.mark.parametrize("words", ["3 tunes joined up, I'll give you a chart", "as I like it"])
def test_a_sentence_in_a_bracket_is_a_note_though_somebody_says_i(words: str) -> None:
    found = read(f"Postbox Tango  C\nBig Fish Medley ({words})  F\nHarbour Lamps  Eb\nSlow Ferry  A")
    song = found.show.sets[0].songs[1]
    assert (song.title, str(song.key), song.notes) == ("Big Fish Medley", "F", words)
    assert len(found.lines[1].doubts) == 1


def test_a_title_with_a_number_in_its_bracket_keeps_it() -> None:
    found = read("Postbox Tango - C\nMoth (50 ways) - F\nHarbour Lamps - Eb")
    assert found.show.sets[0].songs[1].title == "Moth (50 ways)"


def test_lines_over_all_columns_hide_none() -> None:
    rows = [
        (TextSpan(200.0, 420.0, "The Wax Lions"),),
        (TextSpan(210.0, 410.0, "Dockers Club"),),
        (TextSpan(60.0, 120.0, "SET ONE"), TextSpan(350.0, 410.0, "SET TWO")),
        *(
            (TextSpan(60.0, 200.0, f"{at}. {title} ({key})"),)
            for at, (title, key) in enumerate((("Moth", "C"), ("Weeds", "D"), ("Fog", "G")), start=1)
        ),
        *(
            (TextSpan(350.0, 480.0, f"{at}. {title} ({key})"),)
            for at, (title, key) in enumerate((("Owl", "A"), ("Kettle", "E"), ("Tram", "F")), start=4)
        ),
    ]
    mixed = [*rows[:3], *(row for pair in zip(rows[3:6], rows[6:], strict=True) for row in pair)]
    page = ListPage(
        tuple(
            ListRow(SourceLine(at), (text := "  ".join(span.text for span in row),), text, spans=row)
            for at, row in enumerate(mixed)
        )
    )
    assert [row.text.split()[0] for row in in_reading_order(page).rows] == [
        "The", "Dockers", "SET", "1.", "2.", "3.", "SET", "4.", "5.", "6."
    ]  # fmt: skip


def test_a_title_behind_a_time_may_begin_with_a() -> None:
    found = read("7.25 Postbox Tango - Eb\n7.35 A Thousand Owls - Bb\n7.40 Harbour Lamps - G")
    assert said(found) == "First: Postbox Tango=Eb; A Thousand Owls=Bb; Harbour Lamps=G"


def test_a_label_with_an_equals_sign_is_no_title() -> None:
    found = read("sat nite = tin owl / lady of the lamp / ferret walk / wrong buses / half oranges / fizzy. then home")
    assert said(found) == "First: tin owl; lady of the lamp; ferret walk; wrong buses; half oranges; fizzy"


@pytest.mark.parametrize(("cell", "notes"), [("Moth in May / sleigh bells", ["sleigh bells"]), ("Moth / Weeds", [])])
def test_small_words_on_a_second_line_of_a_cell_are_a_note(cell: str, notes: list[str]) -> None:
    row = ListRow(SourceLine(1), (cell, "G"), cell)
    found = read_row(row, (Head(Column.TITLE), Head(Column.KEY)))
    assert (found.title, found.notes) == (cell.partition(" / ")[0] if notes else cell, notes)


def test_a_song_that_talk_adds_at_the_end_ends_before_these_words() -> None:
    found = read(
        "Ros: Postbox Tango - C\nHarbour Lamps - F\nSlow Ferry - A\n\nKit: wheres Milk Owl\n\n"
        "Ros: ok add Milk Owl at the end, it's in G"
    )
    assert [str(song.key) for song in found.show.sets[0].songs if song.title == "Milk Owl"] == ["G"]


def test_a_greeting_with_a_name_below_the_last_song_is_asked_about() -> None:
    found = read("Postbox Tango - C\nHarbour Lamps - F\nSlow Ferry - A\nBises, Clara")
    assert said(found) == "First: Postbox Tango=C; Harbour Lamps=F; Slow Ferry=A"
    assert len(found.lines[-1].doubts) == 1


@pytest.mark.parametrize("head", ["FRIDAY 4 DEC - Fire hall social", "Fri 4 Dec - the Anvil"])
def test_a_day_above_songs_with_the_same_sign_is_no_song(head: str) -> None:
    assert said(read(f"for you\n{head}\nPostbox Tango - C\nHarbour Lamps - F\nSlow Ferry - A")) == (
        "First: Postbox Tango=C; Harbour Lamps=F; Slow Ferry=A"
    )


def test_an_arrow_points_at_a_song_that_is_out() -> None:
    found = read(
        "Postbox Tango - C\nHarbour Lamps - F <- nope, scratch that one\nSlow Ferry - A <- not too fast\nOwl - G"
    )
    assert said(found) == "First: Postbox Tango=C; Slow Ferry=A; Owl=G"
    assert [len(line.doubts) for line in found.lines][1] == 1
