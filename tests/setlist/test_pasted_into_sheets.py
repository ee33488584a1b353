"""A text that was pasted into a sheet, a line a row: it reads as the same lines in a text file."""

import io

import openpyxl
import pytest
from setlist.reading_texts import read, said

from companion.setlist.list_reading import list_in
from companion.setlist.model import ListPage, ListRow, SourceLine
from companion.setlist.parsing.understand import take_in

TEXTS = {
    "sets": "Set 1\nMoth Parade (G)\nWeeds (C)\n\nSet 2\nTidal Clock (Ab)\nFog Bell (A)",
    "signs between": "Title;Key;Length\nMoth Parade;G;3:20\nWeeds;C;4:05\nTidal Clock;Ab;2:50",
    "last month's list quoted": (
        "Same place, new list:\n1. Moth Parade - G\n2. Weeds - C\n3. Tidal Clock - Ab\n\n"
        "On 28 Oct 2026 Jo Marsh wrote:\n> 1. Old Ferry - D\n> 2. Fog Bell - A\n> 3. Brassneck - E"
    ),
    "a chat": (
        "[27/11/2026, 18:02:10] Jo Marsh: here's the list\n[27/11/2026, 18:03:11] Jo Marsh: Moth Parade - G\n"
        "[27/11/2026, 18:03:20] Jo Marsh: Weeds - C\n[27/11/2026, 18:04:02] Sam: ta!\n"
        "[27/11/2026, 18:05:40] Jo Marsh: Tidal Clock - Ab"
    ),
    "rows of songs": (
        "Saturday\nFirst half: Moth Parade / Weeds / Tidal Clock / Fog Bell\n"
        "Second half: Brassneck / Late Tram / Oars / Salt"
    ),
    "sentences": (
        "Hi Sam, so we open with Moth Parade in G, then it's Weeds in C and after that Tidal Clock in A flat. "
        "We close with Fog Bell in A."
    ),
}


def workbook(text: str) -> bytes:
    book = openpyxl.Workbook()
    (sheet,) = book.worksheets
    for number, line in enumerate(text.split("\n"), start=1):
        sheet.cell(number, 1).value = line or None
    raw = io.BytesIO()
    book.save(raw)
    return raw.getvalue()


@pytest.mark.parametrize("text", TEXTS.values(), ids=TEXTS.keys())
def test_a_sheet_that_fills_one_column_reads_as_the_text_that_it_is(text: str) -> None:
    found = list_in(workbook(text), "list.xlsx")
    assert said(found) == said(read(text))
    assert len([doubt for line in found.lines for doubt in line.doubts]) == len(
        [doubt for line in read(text).lines for doubt in line.doubts]
    )


def test_each_line_keeps_the_place_of_its_row() -> None:
    found = list_in(workbook("Set 1\n\nMoth Parade (G)\nWeeds (C)"), "list.xlsx")
    assert [line.place.line for line in found.lines] == [1, 3, 4]


@pytest.mark.parametrize("name", ["Song", "Title", "Titel", "Songs:"])
def test_the_name_of_the_column_is_no_song(name: str) -> None:
    assert said(list_in(workbook(f"{name}\nMoth Parade\nWeeds, Again"), "list.xlsx")).endswith(
        "Moth Parade; Weeds, Again"
    )
    assert name not in said(list_in(workbook(f"{name}\nMoth Parade\nWeeds"), "list.xlsx"))


def test_a_row_that_shows_nothing_is_told_all_the_same() -> None:
    rows = tuple(ListRow(SourceLine(at), (cell,), cell) for at, cell in enumerate(["Moth", "\x1b"], start=1))
    assert len(take_in([ListPage(rows, is_grid=True)], "List").lines) == 2


def test_a_remark_beside_a_few_lines_makes_no_table() -> None:
    book = openpyxl.load_workbook(
        io.BytesIO(workbook("hi all, the list\nmoth (em)\nweeds (a)\noars (g)\n\ntea break\nsalt (c)"))
    )
    (sheet,) = book.worksheets
    sheet.cell(3, 2).value = "watch Jo at the end"
    raw = io.BytesIO()
    book.save(raw)
    found = list_in(raw.getvalue(), "list.xlsx")
    assert said(found) == "First: moth=Em; weeds=A; oars=G | Second: salt=C"
    assert found.show.sets[0].songs[1].notes == "watch Jo at the end"
