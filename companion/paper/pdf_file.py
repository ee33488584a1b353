"""Write leaves as a PDF: embedded fonts, selectable text, bookmarks and jumps. No layout decisions here."""

from collections.abc import Iterable
from io import BytesIO
from pathlib import Path
from typing import Any, Final

from companion.files.outputs import write_output
from companion.paper.leaves import Highlighter, Jump, Leaf, Paper, PenLine, Words
from companion.paper.paper_fonts import FACES, RAISED, faces, runs
from companion.right_to_left import as_drawn
from companion.shown import harmless_line

HIGHLIGHTER_RGB: Final = (1.0, 0.93, 0.42)  # light enough that words on it stay readable after a grey copier


def write_pdf(path: Path, leaves: Iterable[Leaf], paper: Paper, title: str) -> int:
    """Write the leaves to a file; return their number.

    Raises NotWritten if it cannot be written; an existing file then stays unchanged.
    """
    from reportlab import rl_config
    from reportlab.pdfgen.canvas import Canvas

    faces()
    rl_config.useA85 = 0  # PDF holds raw bytes; encoding them as ASCII takes a sixth of the time
    whole = BytesIO()
    canvas = Canvas(
        whole, pagesize=(paper.width, paper.height), invariant=1, initialFontName=FACES[0][0], pageCompression=1
    )
    canvas.setTitle(title)
    canvas.setCreator("companion")
    pages = 0
    level = -1
    for leaf in leaves:
        pages += 1
        for number, bookmark in enumerate(leaf.bookmarks):
            key = bookmark.name or f"page {pages}, {number}"
            canvas.bookmarkPage(key)
            if bookmark.title:
                level = min(bookmark.level, level + 1)
                canvas.addOutlineEntry(bookmark.title, key, level)
        _draw(canvas, leaf, paper.height)
        canvas.showPage()
    canvas.save()
    write_output(path, whole.getvalue())
    return pages


def _draw(canvas: Any, leaf: Leaf, top: float) -> None:  # noqa: ANN401 - the library has no types
    strokes: dict[tuple[float, float], list[tuple[float, float, float, float]]] = {}
    words: list[Words] = []
    canvas.setFillColorRGB(*HIGHLIGHTER_RGB)
    for mark in leaf.marks:
        match mark:
            case Words():
                words.append(mark)
            case PenLine():
                line = (mark.x1, top - mark.y1, mark.x2, top - mark.y2)
                strokes.setdefault((mark.ink.value, mark.thick), []).append(line)
            case Highlighter():
                canvas.rect(mark.x, top - mark.y - mark.height, mark.width, mark.height, stroke=0, fill=1)
            case Jump():
                x, y = mark.x, top - mark.y
                canvas.linkRect("", mark.leads_to, (x, y - mark.height, x + mark.width, y), relative=0)
    canvas.setLineCap(1)
    for (grey, thick), lines in strokes.items():
        canvas.setStrokeGray(grey)
        canvas.setLineWidth(thick)
        canvas.lines(lines)
    _write(canvas, words, top)


def _write(canvas: Any, leaf_words: Iterable[Words], top: float) -> None:  # noqa: ANN401 - the library has no types
    """Write the words. Settings that the previous one made are not repeated: they are a third of a page's bytes."""
    text = canvas.beginText()
    grey, font = -1.0, ("", 0.0)
    for words in leaf_words:
        text.setTextOrigin(words.x, top - words.y)
        if words.ink.value != grey:
            grey = words.ink.value
            text.setFillGray(grey)
        if words.squeeze != 1.0:
            text.setHorizScale(words.squeeze * 100)
        for face, piece in runs(as_drawn(harmless_line(words.text))):
            if (FACES[face][0], words.size) != font:
                font = FACES[face][0], words.size
                text.setFont(*font)
            if RAISED[face]:
                text.setRise(RAISED[face] * words.size)
            text.textOut(piece)
            if RAISED[face]:
                text.setRise(0)
        if words.squeeze != 1.0:
            text.setHorizScale(100)
    canvas.drawText(text)
