"""Numbers and bullets that stand apart from their titles, columns that count on, and lines at the foot of a page."""

import io
from collections.abc import Callable

from reportlab.lib.pagesizes import A4
from reportlab.pdfgen.canvas import Canvas
from setlist.reading_texts import read, said

from companion.setlist import SetList
from companion.setlist.list_reading import list_in

KEYED = (("Moth Parade", "Am"), ("Weeds", "D"), ("Tidal Clock", "F#m"), ("Fog Bell", "C"))
OTHERS = (("Old Canal Road", "E"), ("Brassneck", "Bb"), ("Late Tram", "G"), ("Cold Harbour", "D"))


def drawn(draw: Callable[[Canvas], None]) -> SetList:
    canvas = Canvas(buffer := io.BytesIO(), pagesize=A4)
    canvas.setFont("Helvetica", 12)
    draw(canvas)
    canvas.save()
    return list_in(buffer.getvalue(), "list.pdf")


def test_numbers_padded_to_one_width_make_no_columns() -> None:
    lines = [f"{number:<3}{title} - {key}" for number, (title, key) in enumerate((*KEYED, *OTHERS, *KEYED), start=1)]
    found = read("From: Ann\nSent: 27 November 2026 23:10\nTo: Jo\nSubject: list\n\n" + "\n".join(lines))
    assert [song.title for song in found.show.sets[0].songs][-4:] == [title for title, _ in KEYED]
    assert len(found.show.sets[0].songs) == len(lines)


def test_numbers_beside_columns_of_titles_and_keys_stay_a_column() -> None:
    rows = [f"{number:<4}{title:<20}{key}" for number, (title, key) in enumerate(KEYED, start=1)]
    assert said(read("\n".join(rows))) == "First: Moth Parade=Am; Weeds=D; Tidal Clock=F#m; Fog Bell=C"


def test_a_bullet_of_a_font_of_symbols_makes_no_column() -> None:
    def draw(canvas: Canvas) -> None:
        for at, (title, key) in enumerate((*KEYED, *OTHERS)):
            canvas.drawString(60, 700 - 20 * at, "•")
            canvas.drawString(80, 700 - 20 * at, f"{title} – {key} – {'piano alone' if at == 1 else 'with count'}")

    found = drawn(draw)
    assert [song.title for song in found.show.sets[0].songs] == [title for title, _ in (*KEYED, *OTHERS)]
    assert found.show.sets[0].songs[1].notes == "piano alone"


def test_blocks_whose_numbers_without_points_count_on_come_one_after_the_other() -> None:
    def draw(canvas: Canvas) -> None:
        for at, (left, right) in enumerate(zip(KEYED, OTHERS, strict=True)):
            y = 700 - 30 * at
            canvas.drawString(40, y, f"{at + 1} {left[0].upper()}")
            canvas.drawString(230, y, left[1])
            canvas.drawString(300, y, f"{at + 5} {right[0].upper()}")
            canvas.drawString(520, y, right[1])

    first, others = ("; ".join(f"{title.upper()}={key}" for title, key in songs) for songs in (KEYED, OTHERS))
    assert said(drawn(draw)) == f"First: {first}; {others}"


def test_a_line_below_two_columns_is_below_both() -> None:
    def draw(canvas: Canvas) -> None:
        for left, head, songs in ((45, "SET 1", KEYED[:3]), (315, "SET 2", OTHERS)):
            canvas.drawString(left, 700, head)
            for at, (title, key) in enumerate(songs, start=1):
                canvas.drawString(left, 700 - 20 * at, f"{at}. {title} ({key})")
        canvas.drawString(45, 560, "The Tin Moths - Corn Exchange, Thrapston - Sat 12 December 2026")

    found = drawn(draw)
    assert said(found) == (
        "First: Moth Parade=Am; Weeds=D; Tidal Clock=F#m | "
        "Second: Old Canal Road=E; Brassneck=Bb; Late Tram=G; Cold Harbour=D"
    )


def test_words_to_the_left_of_the_titles_do_not_continue_one() -> None:
    def draw(canvas: Canvas) -> None:
        for left, name in ((60, "#"), (90, "Title"), (320, "Key")):
            canvas.drawString(left, 720, name)
        for at, (title, key) in enumerate((*KEYED, *OTHERS), start=1):
            for left, words in ((60, str(at)), (90, title), (320, key)):
                canvas.drawString(left, 720 - 16 * at, words)
        canvas.drawString(78, 720 - 16 * 9, "Doors from 17:30. Dark suits.")

    assert [song.title for song in drawn(draw).show.sets[0].songs][-1] == "Cold Harbour"
