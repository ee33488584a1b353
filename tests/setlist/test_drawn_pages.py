"""What is drawn on a page beside its letters: strokes through titles, lines between rows; and what rows run on."""

import io
from collections.abc import Callable

import pytest
from reportlab.lib.pagesizes import A4
from reportlab.pdfgen.canvas import Canvas

from companion.setlist.list_reading import list_in
from companion.setlist.model import SetList

TITLES = ("Tin Lanterns", "Slow Tram Home", "Moss and Mortar", "Postbox Polka", "Wren", "Two Left Boots")
KEYS = ("C", "Fm", "Db", "G", "A", "Em")
PITCH = 24  # points from row to row


def page(draw: Callable[[Canvas], None]) -> SetList:
    """Read a page with these drawings and words."""
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=A4)
    canvas.setFont("Helvetica", 12)
    draw(canvas)
    canvas.save()
    return list_in(out.getvalue(), "list.pdf")


def songs(found: SetList) -> list[tuple[str, str | None]]:
    return [(song.title, str(song.key) if song.key else None) for one in found.show.sets for song in one.songs]


def titles_and_keys(canvas: Canvas) -> None:
    for at, (title, key) in enumerate(zip(TITLES, KEYS, strict=True)):
        canvas.drawString(60, 760 - PITCH * at, title)
        canvas.drawString(300, 760 - PITCH * at, key)


ALL = list(zip(TITLES, KEYS, strict=True))
STROKES: dict[str, tuple[Callable[[Canvas], object], bool]] = {  # over the second title; whether it is crossed out
    "line through it": (lambda canvas: canvas.line(56, 740, 310, 740), True),
    "thin bar over it": (lambda canvas: canvas.rect(56, 739, 254, 1.5, fill=1), True),
    "quick stroke": (lambda canvas: canvas.line(56, 736, 312, 743), True),
    "line below it": (lambda canvas: canvas.line(56, 734, 310, 734), False),
    "frame around it": (lambda canvas: canvas.rect(56, 730, 254, 20), False),
    "short dash beside it": (lambda canvas: canvas.line(200, 740, 230, 740), False),
    "curve over it": (lambda canvas: canvas.bezier(56, 700, 100, 790, 200, 690, 310, 760), False),
}


@pytest.mark.parametrize("how", STROKES)
def test_a_stroke_through_the_letters_crosses_a_song_out(how: str) -> None:
    stroke, is_out = STROKES[how]

    def draw(canvas: Canvas) -> None:
        titles_and_keys(canvas)
        stroke(canvas)

    found = page(draw)
    assert songs(found) == [song for song in ALL if not (is_out and song[0] == TITLES[1])]
    assert [line.text.startswith(TITLES[1]) for line in found.set_aside] == [True] * is_out


def test_lines_of_the_paper_through_every_row_cross_nothing_out() -> None:
    def draw(canvas: Canvas) -> None:
        titles_and_keys(canvas)
        for at in range(-4, 30):
            canvas.line(20, 764 - PITCH * at, 560, 764 - PITCH * at)

    assert songs(page(draw)) == ALL


def test_a_page_with_very_many_strokes_is_read_without_them() -> None:
    def draw(canvas: Canvas) -> None:
        titles_and_keys(canvas)
        for at in range(4_001):
            canvas.line(56, 740, 310 + at % 7, 740)

    assert songs(page(draw)) == ALL


def test_lines_of_one_drawn_row_are_one_song_without_a_question() -> None:
    def draw(canvas: Canvas) -> None:
        for at, (title, key) in enumerate(ALL):
            top = 780 - 36 * at
            canvas.rect(50, top - 36, 400, 36)
            first, _, rest = title.partition(" ")
            canvas.drawString(60, top - 14, first)
            canvas.drawString(60, top - 28, rest)
            canvas.drawString(300, top - 14, key)

    found = page(draw)
    assert songs(found) == ALL
    assert not any(line.doubts for line in found.lines)


def test_words_without_a_number_continue_the_numbered_title_above_in_doubt() -> None:
    rows = [("1.", "The Long Way Back from", ""), ("", "Mrs Ottery's Garden", "G"), ("2.", "Wren", "Em")]
    rows += [("3.", "Sing It to the Hills, Then", ""), ("", "Sing It to the Kitchen", "D"), ("4.", "Weeds", "C")]

    def draw(canvas: Canvas) -> None:
        for at, row in enumerate(rows):
            for left, words in zip((60, 90, 380), row, strict=True):
                canvas.drawString(left, 760 - PITCH * at, words)

    found = page(draw)
    whole = ["The Long Way Back from Mrs Ottery's Garden", "Sing It to the Hills, Then Sing It to the Kitchen"]
    assert songs(found) == [(whole[0], "G"), ("Wren", "Em"), (whole[1], "D"), ("Weeds", "C")]
    assert sum(bool(line.doubts) for line in found.lines) == 2


def test_tables_on_one_page_have_columns_in_places_of_their_own() -> None:
    def draw(canvas: Canvas) -> None:
        for table, (key, note) in enumerate(((400, 460), (306, 356))):
            top = 780 - 150 * table
            canvas.drawString(60, top, ("Morning", "Evening")[table])
            for at, cells in enumerate([("Hymn", "Key", "Notes"), *((*song, "") for song in ALL[:3])]):
                words = (cells[0], cells[1], "key player sings bvs" if at == 2 else cells[2])
                for left, cell in zip((60, key, note), words, strict=True):
                    canvas.drawString(left, top - 20 * (at + 1), cell)

    found = page(draw)
    assert songs(found) == [*ALL[:3], *ALL[:3]]
    assert [one.name for one in found.show.sets] == ["Morning", "Evening"]


def test_a_title_that_reaches_the_next_cell_stays_apart_from_it() -> None:
    long = "Third Left After the Mill and the"

    def draw(canvas: Canvas) -> None:
        end = 60 + canvas.stringWidth(long, "Helvetica", 12)
        for at, (title, key) in enumerate([*ALL[:4], (long, "Bb")]):
            canvas.drawString(60, 760 - PITCH * at, title)
            canvas.drawString(end, 760 - PITCH * at, key)

    assert songs(page(draw))[-1] == (long, "Bb")


def test_small_lines_below_every_title_are_the_artists_in_doubt() -> None:
    def draw(canvas: Canvas) -> None:
        for at, (title, key) in enumerate(ALL):
            canvas.setFont("Helvetica", 14)
            canvas.drawString(60, 760 - 36 * at, title)
            canvas.drawString(300, 760 - 36 * at, key)
            canvas.setFont("Helvetica", 8)
            canvas.drawString(60, 748 - 36 * at, f"The {title.split()[0]} Four")

    found = page(draw)
    assert [song.artist for song in found.show.sets[0].songs] == [f"The {title.split()[0]} Four" for title in TITLES]
    assert sum(bool(line.doubts) for line in found.lines) == len(TITLES)


def test_titles_that_break_at_the_edge_of_a_narrow_column_are_whole_and_asked_about() -> None:
    columns = (
        ["SET 1", "Ghosts of the Garden Centre", "(Bm)", "We Always Have Slough", "Bottom (Bb)", "Wren (A)"],
        ["SET 2", "Turn Left at the Lighthouse", "and Keep Going (F)", "Weeds (C)", "Tin Lamps (G)", "Moth (D)"],
    )

    def draw(canvas: Canvas) -> None:
        for left, column in zip((60, 300), columns, strict=True):
            for at, words in enumerate(column):
                canvas.drawString(left + (at % 2) * 0.6, 760 - PITCH * at - (left > 60 < at) * 9, words)

    found = page(draw)
    assert songs(found)[:3] == [
        ("Ghosts of the Garden Centre", "Bm"),
        ("We Always Have Slough Bottom", "Bb"),
        ("Wren", "A"),
    ]
    assert songs(found)[3:5] == [("Turn Left at the Lighthouse and Keep Going", "F"), ("Weeds", "C")]
    assert "Is 'Bottom (Bb)' a song?" in [doubt.question for line in found.lines for doubt in line.doubts]


def test_drawn_rows_of_several_lines_are_never_joined_with_each_other() -> None:
    long = (
        ("Good Coat, Bad", "Weather"),
        ("The Night We Lost", "the Keys"),
        ("Wren", ""),
        ("Weeds and", "Moth"),
        ("Pewter", ""),
    )

    def draw(canvas: Canvas) -> None:
        for at, (first, rest) in enumerate(long):
            top = 780 - 36 * at
            canvas.rect(50, top - 36, 300, 36)
            canvas.drawString(90, top - 14, first)
            canvas.drawString(90, top - 28, rest)
            canvas.drawString(60, top - 28, str(at + 1))
            canvas.drawString(300, top - 28, KEYS[at])

    found = page(draw)
    assert songs(found) == [(" ".join(filter(None, words)), key) for words, key in zip(long, KEYS, strict=False)]


def test_a_header_that_names_another_set_on_each_page_heads_the_sets() -> None:
    def draw(canvas: Canvas) -> None:
        for at, titles in enumerate((TITLES[:3], TITLES[3:]), start=1):
            canvas.drawString(60, 800, f"The Quay Lanterns – Fri 4 Dec – SET {at}")
            for row, title in enumerate(titles):
                canvas.drawString(60, 700 - 40 * row, title.upper())
            canvas.showPage()

    found = page(draw)
    assert [len(one.songs) for one in found.show.sets] == [3, 3]


def test_columns_of_print_whose_numbers_and_keys_stand_apart_come_one_after_the_other() -> None:
    def draw(canvas: Canvas) -> None:
        for left, word in ((50, "Lantern Band"), (300, "-"), (320, "Saturday 5 December")):
            canvas.drawString(left, 800, word)
        for left, heading, of_set in ((50, "Set 1", ALL[:3]), (320, "Set 2", ALL[3:])):
            canvas.drawString(left, 770, heading)
            for at, (title, key) in enumerate(of_set):
                for offset, words in ((0, str(at + 1)), (14, title), (124, f"({key})")):
                    canvas.drawString(left + offset, 750 - PITCH * at, words)

    found = page(draw)
    assert songs(found) == ALL
    assert [(one.name, len(one.songs)) for one in found.show.sets] == [("First", 3), ("Second", 3)]


def test_a_list_that_a_printed_mail_quotes_is_another_list() -> None:
    def mail(canvas: Canvas) -> None:
        lines = [f"{title} - {key}" for title, key in ALL]
        quoted = ["On 28 Oct 2026, Jo Marsh wrote:", "The last set:", "Wren - G", "Fog Bell - A", "Brassneck - E"]
        for at, line in enumerate([*lines, *(f"> {line}" for line in quoted)]):
            canvas.drawString(60, 760 - PITCH * at, line)

    found = page(mail)
    assert songs(found) == ALL
    assert [row.text for row in found.set_aside][-3:] == ["Wren - G", "Fog Bell - A", "Brassneck - E"]
