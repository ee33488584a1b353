"""The stage screen as SVG: the same blocks and shapes that the stage window paints."""

from collections.abc import Iterator
from typing import Final

from companion.picture.svg_text import document, number, points, words
from companion.right_to_left import as_drawn
from companion.screen.beat import BeatMark, beat_mark
from companion.screen.blocks import ScreenBlock
from companion.screen.layout import lay_out
from companion.screen.legibility import Rgb
from companion.screen.mark_shapes import InkBar, InkLine, InkPatch, InkRing, MarkShape, mark_shapes, slash_shapes
from companion.screen.page import PageSize, sizes_of
from companion.screen.palette import Inks, ScreenInk, inks
from companion.screen.screen_fonts import typeface
from companion.shown import harmless_line
from companion.view import Light, View

FACE_NAMES: Final = ("companion letters", "companion signs", "companion others")
"""Families of the shipped faces, in the order of ``screen_fonts.FACES``; the page's style sheet defines them."""
OTHER_FACE: Final = "sans-serif"  # a face of this computer: the browser finds one too
NUMBER_SHARE: Final = 0.9  # of the count-off's box


def stage_svg(view: View, page: PageSize, light: Light | None = None, inked: int | None = 0) -> str:
    """Return the picture of a view on a page of this size.

    ``light``: the view's own if None. ``inked``: the beat that is on, from 0, where the view has a beat.
    """
    colours = inks(light or view.light)
    blocks = lay_out(view, page, typeface())
    mark = beat_mark(view, page, sizes_of(page))
    label = "; ".join(f"{line.label} {line.text}".strip() for line in view.lines)
    inside = _inside(blocks, (mark, inked), (page.width, page.height), colours)
    return document(page.width, page.height, label, inside, "stage")


def _inside(
    blocks: tuple[ScreenBlock, ...], beat: tuple[BeatMark | None, int | None], size: tuple[int, int], colours: Inks
) -> Iterator[str]:
    yield _box((0, 0, *size), colours[ScreenInk.PAPER])
    for block in blocks:
        yield from (_shape(shape, colours) for shape in mark_shapes(block))
        if block.text:
            yield from _line(block.text, (block.left, block.baseline), block.em_px, _rgb(colours[block.ink]))
    mark, inked = beat
    if mark is None:
        return
    if not mark.counts_off:
        yield from (_shape(shape, colours) for shape in slash_shapes(mark, inked))
    elif inked is not None:
        yield from _count(mark, str(inked + 1), _rgb(colours[ScreenInk.INK]))


def _shape(shape: MarkShape, colours: Inks) -> str:
    colour = colours[shape.ink]
    match shape:
        case InkPatch():
            edge = shape.edge
            line = f' stroke="{_rgb(colours[edge.ink])}" stroke-width="{edge.width}"' if edge else ""
            return f'<polygon points="{points(shape.corners)}" fill="{_rgb(colour)}"{line}/>'
        case InkBar():
            return _box(shape.box, colour)
        case InkLine():
            left, top = shape.begin[0], shape.begin[1] - shape.width / 2
            return _box((left, top, shape.end[0] - left, shape.width), colour)
        case InkRing():
            (x, y), radius = shape.centre, shape.radius - shape.width / 2
            place = f'cx="{number(x)}" cy="{number(y)}" r="{number(radius)}"'
            return f'<circle {place} fill="none" stroke="{_rgb(colour)}" stroke-width="{shape.width}"/>'


def _box(box: tuple[float, float, float, float], colour: Rgb) -> str:
    """Return a rectangle on whole px, as the window paints it."""
    x, y, width, height = (int(value) for value in box)
    return f'<rect x="{x}" y="{y}" width="{width}" height="{height}" fill="{_rgb(colour)}"/>'


def _line(text: str, origin: tuple[float, float], em_px: int, colour: str) -> Iterator[str]:
    """Yield the text's pieces, one per typeface. The browser kerns within a piece, as the window does."""
    face = typeface()
    x, baseline = origin
    for at, piece in face.runs(as_drawn(harmless_line(text))):
        family = FACE_NAMES[at] if at < len(FACE_NAMES) else OTHER_FACE
        y = baseline - round(face.faces[at].raised * em_px)
        yield (
            f'<text x="{number(x)}" y="{number(y)}" font-family="{family}" font-size="{em_px}" fill="{colour}" '
            f'xml:space="preserve">{words(piece)}</text>'
        )
        x += sum(face.faces[at].width(sign) or face.faces[0].missing for sign in piece) * em_px


def _count(mark: BeatMark, text: str, colour: str) -> Iterator[str]:
    """Yield the number of a count-off, in the middle of its box."""
    face, em_px = typeface(), round(mark.height * NUMBER_SHARE)
    width = face.width_px(text, em_px)
    one = face.faces[0]
    top = mark.y + (mark.height - (one.ascent + one.descent) * em_px) / 2
    yield from _line(text, (mark.x + (mark.width - width) / 2, top + one.ascent * em_px), em_px, colour)


def _rgb(colour: Rgb) -> str:
    return "#{:02x}{:02x}{:02x}".format(*colour)
