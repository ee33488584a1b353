"""Printed leaves as SVG: what the PDF shows, with the same words, strokes and highlighter, in points."""

from collections.abc import Iterator
from itertools import groupby
from typing import Final

from companion.paper import Paper
from companion.paper.chart import chart_of
from companion.paper.chart_sheets import chart_sheets
from companion.paper.leaves import Highlighter, Leaf, PaperInk, PenLine, Words
from companion.paper.paper_fonts import RAISED, runs, width_pt
from companion.paper.pdf_file import HIGHLIGHTER_RGB
from companion.paper.readers import readers_for
from companion.picture.stage_svg import FACE_NAMES
from companion.picture.svg_text import document, number, words
from companion.right_to_left import as_drawn
from companion.show import Song
from companion.shown import harmless_line

SHEET: Final = "#ffffff"


def chart_svgs(song: Song) -> tuple[str, ...]:
    """Return the pages of a song's printed chart; none without a road map. An unreadable chord line is as written."""
    if not song.road_map:
        return ()
    charts = ((chart_of(song, reader), "") for reader in readers_for((), in_numbers=False, capo=0)[:1])
    leaves = [leaf for sheets in chart_sheets(charts, Paper.A4) for leaf in sheets.leaves]
    labels = (f"Chart of {song.title}, page {page} of {len(leaves)}" for page in range(1, len(leaves) + 1))
    return tuple(leaf_svg(leaf, Paper.A4, label) for leaf, label in zip(leaves, labels, strict=True))


def leaf_svg(leaf: Leaf, paper: Paper, label: str) -> str:
    """Return a leaf as a picture of its paper; ``label`` says it to a screen reader."""
    return document(paper.width, paper.height, label, _inside(leaf, paper), "leaf")


def _inside(leaf: Leaf, paper: Paper) -> Iterator[str]:
    """Yield highlighter, then strokes, then words, as the PDF paints them."""
    yield f'<rect width="{number(paper.width)}" height="{number(paper.height)}" fill="{SHEET}"/>'
    yellow = "#{:02x}{:02x}{:02x}".format(*(round(255 * share) for share in HIGHLIGHTER_RGB))
    for mark in leaf.marks:
        if isinstance(mark, Highlighter):
            place = f'x="{number(mark.x)}" y="{number(mark.y)}"'
            yield f'<rect {place} width="{number(mark.width)}" height="{number(mark.height)}" fill="{yellow}"/>'
    lines = (mark for mark in leaf.marks if isinstance(mark, PenLine))
    for (ink, thick), drawn in groupby(lines, lambda line: (line.ink, line.thick)):
        ways = dict.fromkeys(_way(line) for line in drawn)  # bars side by side share a line
        pen = f'stroke="{_grey(ink)}" stroke-width="{number(thick)}" stroke-linecap="round"'
        yield f'<path d="{"".join(ways)}" {pen}/>'
    pieces = (piece for mark in leaf.marks if isinstance(mark, Words) for piece in _pieces(mark))
    for look, alike in groupby(pieces, lambda piece: piece[0]):
        yield f"<g {look}>{''.join(piece for _, piece in alike)}</g>"


def _way(line: PenLine) -> str:
    return f"M{number(line.x1)} {number(line.y1)}L{number(line.x2)} {number(line.y2)}"


def _pieces(mark: Words) -> Iterator[tuple[str, str]]:
    """Yield the look and the element of a line's pieces, one per typeface, each as long as on paper."""
    x = mark.x
    for face, piece in runs(as_drawn(harmless_line(mark.text))):
        wide = width_pt(piece, mark.size) * mark.squeeze
        y = mark.y - RAISED[face] * mark.size
        if not piece.isspace():
            look = f'font-family="{FACE_NAMES[face]}" font-size="{number(mark.size)}" fill="{_grey(mark.ink)}"'
            fits = ' lengthAdjust="spacingAndGlyphs"' if mark.squeeze != 1 else ""
            spaces = "" if piece == " ".join(piece.split()) else ' xml:space="preserve"'  # not passed down by a browser
            place = f'x="{number(x)}" y="{number(y)}" textLength="{number(wide)}"{fits}{spaces}'
            yield look, f"<text {place}>{words(piece)}</text>"
        x += wide


def _grey(ink: PaperInk) -> str:
    return "#" + 3 * f"{round(255 * ink.value):02x}"
