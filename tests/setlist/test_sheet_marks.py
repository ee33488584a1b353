"""What only a spreadsheet tells of a row: its colours and comments, and what is crossed out or hidden."""

import io
from collections.abc import Callable

import openpyxl
import pytest
from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.cell.text import InlineFont
from openpyxl.comments import Comment
from openpyxl.styles import Color, Font, PatternFill
from openpyxl.worksheet.worksheet import Worksheet

from companion.setlist.list_reading import list_in
from companion.setlist.model import ListRow
from companion.setlist.readers.any_file import rows_in
from companion.setlist.readers.colours import colour_name, marks_of, tinted

SONGS = [("Gasworks Corner", "Bb"), ("Moth", "D"), ("Owl", "C"), ("Weeds", "Em"), ("Jay", "F")]


def rows(change: Callable[[Worksheet], None]) -> list[ListRow]:
    """Return the rows of five songs under a row of names, after a change to the sheet."""
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(("Title", "Key"))
    for song in SONGS:
        sheet.append(song)
    change(sheet)
    out = io.BytesIO()
    book.save(out)
    (page,) = rows_in(out.getvalue(), "list.xlsx")
    return list(page.rows)


def filled(code: str | Color) -> PatternFill:
    return PatternFill("solid", fgColor=code)


def test_a_colour_behind_a_title_marks_its_row() -> None:
    def change(sheet: Worksheet) -> None:
        sheet["A3"].fill = filled("FFFF99")
        sheet["A4"].fill = filled(Color(theme=4, tint=0.6))  # the fifth colour of the theme, lighter
        sheet["A5"].fill = filled(Color(indexed=10))

    assert [row.marked for row in rows(change)] == ["", "", "yellow", "blue", "red", ""]


def test_a_legend_beside_a_coloured_cell_explains_the_colour() -> None:
    def change(sheet: Worksheet) -> None:
        sheet["A3"].fill = sheet["A8"].fill = filled("FFFF99")
        sheet["B8"] = "needs a chart"

    found = rows(change)
    assert (found[-1].cells, found[-1].marked) == (("", "needs a chart"), "yellow")


def test_stripes_and_a_coloured_table_mark_nothing() -> None:
    def change(sheet: Worksheet) -> None:
        for at in (2, 4, 6):
            sheet.cell(at, 1).fill = filled("DDEBF7")

    assert not any(row.marked for row in rows(change))


def test_comments_come_without_authors_in_cell_order() -> None:
    def change(sheet: Worksheet) -> None:
        sheet["B3"].comment = Comment("Sam:\nA for the singer", "Sam")
        sheet["A3"].comment = Comment("open twice as long", "Sam")

    assert rows(change)[2].comments == ("open twice as long", "A for the singer")


def test_crossed_out_cells_and_parts_of_cells_are_marked() -> None:
    gone = InlineFont(strike=True)

    def change(sheet: Worksheet) -> None:
        sheet["A2"].font = Font(strike=True)
        sheet["B3"] = CellRichText(TextBlock(gone, "D"), " E")
        sheet["A4"] = CellRichText(TextBlock(gone, "Owl"))

    found = rows(change)
    assert [row.cells[0] for row in found[1:4]] == ["~~Gasworks Corner~~", "Moth", "~~Owl~~"]
    assert found[2].cells[1] == "~~D~~ E"


def test_hidden_and_filtered_rows_are_marked() -> None:
    def change(sheet: Worksheet) -> None:
        sheet.row_dimensions[3].hidden = True

    assert [row.is_hidden for row in rows(change)] == [False, False, True, False, False, False]


@pytest.mark.parametrize(
    ("code", "name"),
    [
        ("FFFFFF00", "yellow"),
        ("#ff0000", "red"),
        ("00FF00", "green"),
        ("0070C0", "blue"),
        ("FFC000", "orange"),
        ("FFF2CC", "yellow"),
        ("FCE4D6", "orange"),
        ("D9D9D9", "grey"),
        ("FFFFFF", ""),
        ("FDFDFD", ""),
        ("7030A0", "purple"),
        ("FF99CC", "pink"),
        ("000000", "black"),
        ("no colour", ""),
    ],
)
def test_colours_have_plain_names(code: str, name: str) -> None:
    assert colour_name(code) == name


def test_a_tint_makes_a_colour_lighter_or_darker() -> None:
    assert (tinted("000000", 1.0), tinted("ffffff", -1.0), tinted("ff0000", 0.0)) == ("ffffff", "000000", "ff0000")


def test_a_colour_on_a_few_rows_marks_them_even_in_a_coloured_table() -> None:
    assert marks_of(["#ddebf7", "#ffff00", "#ddebf7", "#ddebf7", "#ddebf7"]) == ["", "yellow", "", "", ""]


@pytest.mark.parametrize("legend", ["Yellow = keys solo", "yellow: keys solo", "Yellow means keys solo"])
def test_a_legend_in_words_explains_its_colour(legend: str) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in (("Title", "Key"), *SONGS, (legend,)):
        sheet.append(row)
    sheet["A3"].fill = filled("FFFF99")
    out = io.BytesIO()
    book.save(out)
    songs = [song for one in list_in(out.getvalue(), "list.xlsx").show.sets for song in one.songs]
    assert [song.title for song in songs] == [title for title, _ in SONGS]
    assert "keys solo" in str(songs[1].notes)
    assert songs[-1].notes is None
