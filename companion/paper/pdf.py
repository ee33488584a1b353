"""Leaves become a PDF: fonts embedded, text selectable, bookmarks and jumps. Nothing is decided here."""

from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any, Final

from companion.paper.leaves import Highlighter, Jump, Leaf, Paper, Stroke, Words
from companion.paper.typeface import FACES, RAISED, faces, runs

HIGHLIGHTER_RGB: Final = (1.0, 0.93, 0.42)  # light enough that a grey copier keeps the words on it readable


def write_pdf(
    path: Path, leaves: Iterable[Leaf], paper: Paper, title: str, printed: Callable[[], None] = lambda: None
) -> int:
    """Write the leaves to a file, and give their number. ``printed`` is called after each."""
    from reportlab.pdfgen.canvas import Canvas  # noqa: PLC0415 - what prints nothing needs no PDF

    faces()
    canvas = Canvas(
        str(path), pagesize=(paper.width, paper.height), invariant=1, initialFontName=FACES[0][0], pageCompression=1
    )
    canvas.setTitle(title)
    canvas.setCreator("companion")
    pages = 0
    level = -1
    for leaf in leaves:
        pages += 1
        if leaf.name:
            canvas.bookmarkPage(leaf.name)
        if leaf.bookmark:
            key = leaf.name or f"page {pages}"
            canvas.bookmarkPage(key)
            level = min(leaf.level, level + 1)
            canvas.addOutlineEntry(leaf.bookmark, key, level)
        _draw(canvas, leaf, paper.height)
        canvas.showPage()
        printed()
    canvas.save()
    return pages


def _draw(canvas: Any, leaf: Leaf, top: float) -> None:  # noqa: ANN401 - the library has no types
    for mark in leaf.marks:
        if isinstance(mark, Highlighter):
            canvas.setFillColorRGB(*HIGHLIGHTER_RGB)
            canvas.rect(mark.x, top - mark.y - mark.height, mark.width, mark.height, stroke=0, fill=1)
    canvas.setLineCap(1)
    for mark in leaf.marks:
        if isinstance(mark, Stroke):
            canvas.setStrokeGray(mark.ink.value)
            canvas.setLineWidth(mark.thick)
            canvas.line(mark.x1, top - mark.y1, mark.x2, top - mark.y2)
        elif isinstance(mark, Jump):
            x, y = mark.x, top - mark.y
            canvas.linkRect("", mark.leads_to, (x, y - mark.height, x + mark.width, y), relative=0)
    text = canvas.beginText()
    for mark in leaf.marks:
        if isinstance(mark, Words):
            _write(text, mark, top - mark.y)
    canvas.drawText(text)


def _write(text: Any, words: Words, y: float) -> None:  # noqa: ANN401 - the library has no types
    text.setTextOrigin(words.x, y)
    text.setFillGray(words.ink.value)
    if words.squeeze != 1.0:
        text.setHorizScale(words.squeeze * 100)
    for face, piece in runs(words.text):
        text.setFont(FACES[face][0], words.size)
        if RAISED[face]:
            text.setRise(RAISED[face] * words.size)
        text.textOut(piece)
        if RAISED[face]:
            text.setRise(0)
    if words.squeeze != 1.0:
        text.setHorizScale(100)
