"""Tables in which only headings and events have a time: 20:00 | First dance, above songs with keys."""

import datetime as dt
import io

import openpyxl
from openpyxl.worksheet.worksheet import Worksheet
from setlist.reading_texts import said

from companion.setlist import LineKind
from companion.setlist.list_reading import list_in

PROGRAMME = """Time,What,Key,Remarks
15:00,Guests arrive,,
15:30,CEREMONY MUSIC,,
,Moth Parade,D,piano alone
,Weeds,G,
20:00,First dance,,
,Tidal Clock,Ab,
20:10,Party,,
,Fog Bell,A,
,Late Tram,E,
21:30,Mayor's welcome,,
21:45,Last hour,,
,Brassneck,F,
"""


def test_a_row_with_a_time_and_no_key_heads_the_songs_below_it() -> None:
    found = list_in(PROGRAMME.encode(), "list.csv")
    first, last = "Ceremony: Moth Parade=D; Weeds=G", "Last hour: Brassneck=F"
    assert said(found) == f"{first} | First dance: Tidal Clock=Ab | Party: Fog Bell=A; Late Tram=E | {last}"
    assert [one.starts_min for one in found.show.sets] == [15 * 60 + 30, 20 * 60, 20 * 60 + 10, 21 * 60 + 45]


def test_a_row_with_a_time_and_no_songs_below_is_no_song() -> None:
    found = list_in(PROGRAMME.encode(), "list.csv")
    assert [line.text for line in found.lines if line.took is LineKind.LEFT] == [
        "15:00,Guests arrive",
        "21:30,Mayor's welcome",
    ]


def test_a_column_of_times_beside_every_song_heads_no_set() -> None:
    found = list_in(
        b"Time,Song,Key\n20:00,Moth Parade,D\n20:05,Weeds,\n20:10,Fog Bell,A\n20:15,Late Tram,\n", "list.csv"
    )
    assert said(found) == "First: Moth Parade=D; Weeds; Fog Bell=A; Late Tram"


def test_a_sheet_of_one_column_is_read_like_a_text() -> None:
    book = openpyxl.Workbook()
    assert isinstance(book.active, Worksheet)
    lines = (
        "Ilkley 11/12",
        None,
        "1st",
        "Moth Parade (A)",
        "Weeds (E)",
        None,
        "2nd",
        "Tidal Clock (C) - Denise",
        "Fog (G)",
    )
    for line in lines:
        book.active.append([line])
    book.save(raw := io.BytesIO())
    found = list_in(raw.getvalue(), "list.xlsx")
    assert said(found) == "First: Moth Parade=A; Weeds=E | Second: Tidal Clock=C; Fog=G"


def test_rows_about_the_gig_above_a_table_do_not_hide_its_times() -> None:
    found = list_in(
        b"Band,The Tin Moths,,\nVenue,Weir Hall,,\nTime,Song,Key,Vox\n18:30,DRINKS,,\n,Moth Parade,F,-\n,Weeds,Eb,-\n"
        b"20:00,FIRST DANCE,,\n,Tidal Clock,D,Ann\n20:05,PARTY SET,,\n,Fog Bell,E,Ann\n,Late Tram,Am,Jo\n"
        b"21:00,CAKE CUTTING,,\n",
        "list.csv",
    )
    assert said(found) == (
        "Drinks: Moth Parade=F; Weeds=Eb | First dance: Tidal Clock=D | Party set: Fog Bell=E; Late Tram=Am"
    )


def test_a_workbooks_times_of_day_are_read_without_their_seconds() -> None:
    book = openpyxl.Workbook()
    assert isinstance(book.active, Worksheet)
    for row in (
        ("Uhrzeit", "Was", "Tonart"),
        (dt.time(19), "Sektempfang"),
        (dt.time(20, 15), "SET 1"),
        (None, "Mottenzug", "C"),
        (None, "Nebelglocke", "Hm"),
        (dt.time(21), "Essen"),
        (dt.time(23, 15), "SET 2"),
        (None, "Alte Schleuse", "F"),
        (None, "Letzte Bahn", "Es"),
        (dt.time(0, 15), "Ende Band"),
    ):
        book.active.append(row)
    book.save(raw := io.BytesIO())
    found = list_in(raw.getvalue(), "list.xlsx")
    assert said(found) == "First: Mottenzug=C; Nebelglocke=Bm | Second: Alte Schleuse=F; Letzte Bahn=Eb"


def test_a_part_of_the_music_heads_a_set_where_every_row_has_a_time() -> None:
    programme = (
        "Tid;Hvad;Toneart;Noter\n18:00;Velkomst;;\n18:30;MUSIK DEL 1;;\n18:30;Møl i hatten;D;\n18:35;Ukrudt;G;blød\n"
        "18:40;Tågeklokken;Am;\n19:30;Middag;;\n21:00;MUSIK DEL 2;;\n21:00;Sporvogn fire;H;\n21:05;Kanalen;C;\n"
    )
    found = list_in(programme.encode(), "list.csv")
    assert said(found) == "First: Møl i hatten=D; Ukrudt=G; Tågeklokken=Am | Second: Sporvogn fire=B; Kanalen=C"


def test_a_set_between_its_time_and_who_plays_it_is_a_heading() -> None:
    early = "Time,Item,Key,Who\n19:10,Set A,,band\n,Moth Parade,F,Jo\n,Weeds,Bb,Jo\n"
    rows = f"{early}21:30,Set B,,band\n,Fog Bell,A,Sam\n,Salt,G,Jo\n"
    found = list_in(rows.encode(), "list.csv")
    assert said(found) == "Set A: Moth Parade=F; Weeds=Bb | Set B: Fog Bell=A; Salt=G"
    assert [one.starts_min for one in found.show.sets] == [19 * 60 + 10, 21 * 60 + 30]
