"""Set lists as PDF: printed by fpdf2 and reportlab, which have nothing in common with the library that reads them."""

import io
from collections.abc import Callable
from typing import Any

from fpdf import FPDF
from reportlab.lib.pagesizes import A4
from reportlab.lib.styles import getSampleStyleSheet
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import Paragraph, SimpleDocTemplate, Table
from setlist.invented import sets
from setlist.shapes_text import Shape


def _canvas(draw: Callable[[Canvas], None]) -> bytes:
    out = io.BytesIO()
    canvas = Canvas(out, pagesize=A4)
    draw(canvas)
    canvas.save()
    return out.getvalue()


def _big_letters() -> Shape:
    songs = sets(61, 10, 9)

    def draw(canvas: Canvas) -> None:
        for number, one in enumerate(songs, 1):
            canvas.setFont("Helvetica-Bold", 28)
            canvas.drawString(60, 780, f"SET {number}")
            canvas.setFont("Helvetica", 24)
            for at, song in enumerate(one):
                canvas.drawString(60, 730 - 40 * at, f"{song.title}  {song.key or ''}")
            canvas.showPage()

    return "big.pdf", _canvas(draw), songs, ("key",)


def _columns() -> Shape:
    songs = sets(62, 30)

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Times-Roman", 11)
        for at, song in enumerate(songs[0]):
            y = 760 - 22 * at
            canvas.drawRightString(60, y, f"{at + 1}.")
            canvas.drawString(72, y, song.title)
            canvas.drawString(280, y, song.artist)
            canvas.drawCentredString(430, y, song.key or "")
            canvas.drawRightString(520, y, song.clock)

    return "columns.pdf", _canvas(draw), songs, ("key", "artist", "length")


def _platypus() -> Shape:
    songs = sets(63, 28, 20)
    out = io.BytesIO()
    style = getSampleStyleSheet()
    story: list[Any] = [Paragraph("Set list 19 June 2027", style["Title"])]
    for number, one in enumerate(songs, 1):
        story.append(Paragraph(f"Set {number}", style["Heading2"]))
        rows = [
            ["#", "Title", "Key", "BPM", "Notes"],
            *([str(at), s.title, s.key or "", str(s.tempo), s.remark] for at, s in enumerate(one, 1)),
        ]
        story.append(Table(rows, repeatRows=1, colWidths=(25, 190, 45, 40, 180)))
    SimpleDocTemplate(out, pagesize=A4).build(story)
    return "table.pdf", out.getvalue(), songs, ("key", "tempo", "remark")


def _fpdf_table() -> Shape:
    songs = sets(64, 24)
    page = FPDF()
    page.add_page()
    page.set_font("Helvetica", size=11)
    with page.table(col_widths=(60, 50, 18, 20)) as table:
        for cells in (
            ("Song", "Artist", "Key", "Time"),
            *((s.title, s.artist, s.key or "", s.clock) for s in songs[0]),
        ):
            row = table.row()
            for cell in cells:
                row.cell(cell)
    return "fpdf-table.pdf", bytes(page.output()), songs, ("key", "artist", "length")


def _fpdf_lines() -> Shape:
    songs = sets(65, 12, 12)
    page = FPDF()
    page.add_page()
    page.set_font("Courier", size=12)
    for number, one in enumerate(songs, 1):
        page.cell(0, 10, f"Set {number} - 45 min", new_x="LMARGIN", new_y="NEXT")
        for at, s in enumerate(one, 1):
            page.cell(0, 7, f"{at}. {s.title} ({s.key or '?'}) {s.clock}", new_x="LMARGIN", new_y="NEXT")
    return "fpdf-lines.pdf", bytes(page.output()), songs, ("key", "length")


def _two_columns() -> Shape:
    songs = sets(66, 14, 12)

    def draw(canvas: Canvas) -> None:
        canvas.setFont("Helvetica", 13)
        for left, number, one in ((50, 1, songs[0]), (320, 2, songs[1])):
            canvas.drawString(left, 780, f"SET {number}")
            for at, song in enumerate(one):
                canvas.drawString(left, 750 - 24 * at, song.title)
                canvas.drawString(left + 210, 750 - 24 * at, song.key or "")

    return "two-columns.pdf", _canvas(draw), songs, ("key",)


def _footers() -> Shape:
    songs = sets(67, 40)

    def draw(canvas: Canvas) -> None:
        for page in range(2):
            canvas.setFont("Helvetica", 12)
            for at, song in enumerate(songs[0][page * 20 : page * 20 + 20]):
                canvas.drawString(
                    60, 780 - 30 * at, f"{page * 20 + at + 1}. {song.title} - {song.key or 'tbc'} - {song.tempo} bpm"
                )
            canvas.setFont("Helvetica", 8)
            canvas.drawCentredString(300, 30, f"Page {page + 1} of 2")
            canvas.showPage()

    return "footers.pdf", _canvas(draw), songs, ("key", "tempo")


PAGES: dict[str, Callable[[], Shape]] = {
    make.__name__.strip("_"): make
    for make in (_big_letters, _columns, _platypus, _fpdf_table, _fpdf_lines, _two_columns, _footers)
}
