"""The process that draws a song's own chart: reads a PDF or a picture, writes screenfuls in the screen's inks.

``python -m companion.screen.chart_pages FILE WIDTH HEIGHT LIGHT``. Its first line is ``{"turns": 3}`` or
``{"problem": "..."}``. For each screenful's number on standard input, from 0, it then writes a line of JSON with the
size, and the pixels, four bytes each. It is a separate process because a hostile file can hang or crash the drawing.
"""

import contextlib
import faulthandler
import json
import math
import os
import sys
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO, Final

from companion.child import MAX_MEMORY, limit_this_process
from companion.regular import require_regular
from companion.screen.palette import ScreenInk, inks
from companion.view import Light

if TYPE_CHECKING:
    from PIL.Image import Image

OVERLAP: Final = 0.12  # of a screenful: about one staff, so that each staff is whole on at least one screenful
LOOK_PX: Final = 200  # width of the small copy that is searched for ink
BLANK: Final = 16  # of 255: anything closer to white is not ink
EDGE: Final = 0.02  # of the width: white kept above and below the ink
MAX_PAGES: Final = 40  # a song has ten at most (common practice, no source)
MAX_PX: Final = 64_000_000  # of one page; A4 across a screen of 3840 has 21 million
MAX_BYTES: Final = 100_000_000
BYTES_A_PIXEL: Final = 24  # of a page while drawn and cut: four copies of it, and the file read
USUAL_PAGE: Final = 1.5  # height by width; A4 has 1.41
MAX_S: Final = 5.0  # for one screenful
PICTURES: Final = ("PNG", "JPEG", "GIF", "WEBP", "BMP", "TIFF")  # formats allowed; EPS would start another program
PDF_BEGINS: Final = b"%PDF-"
LOOKED_AT: Final = 1024  # bytes at the beginning in which a PDF has its header (ISO 32000-2, Annex I)

Drawn = Callable[[int], "Image"]  # draws a page, by its number from 0, as wide as the screen


class NotShown(Exception):  # noqa: N818 - named like NoStage
    """Why a file cannot be shown, in a player's words."""


def cuts(page_px: int, room_px: int) -> tuple[int, ...]:
    """Return where the screenfuls of a page begin, in px from its top; each overlaps the one before.

    >>> cuts(900, 1000)
    (0,)
    >>> cuts(2715, 990)
    (0, 862, 1725)
    """
    if page_px <= room_px:
        return (0,)
    overlap = room_px * OVERLAP
    many = math.ceil((page_px - overlap) / (room_px - overlap))
    return tuple(int((page_px - room_px) * number / (many - 1)) for number in range(many))


def turns_of(pages_px: Sequence[int], room_px: int) -> tuple[tuple[int, int], ...]:
    """Return all screenfuls of a chart as (page from 0, top in px), from its pages' heights."""
    return tuple((page, top) for page, high in enumerate(pages_px) for top in cuts(high, room_px))


def max_memory(width: int) -> int:
    """Return the bytes of memory for drawing at this width in px: any reader's limit, and room for one page."""
    return MAX_MEMORY + round(BYTES_A_PIXEL * USUAL_PAGE * width * width)


def opened(path: Path, width: int) -> tuple[tuple[int, ...], Drawn]:
    """Return the heights of a chart's pages in px at this width, and a function that draws one. Raises NotShown."""
    try:
        if require_regular(path) > MAX_BYTES:
            raise NotShown("the chart's file is too large")
        with path.open("rb") as file:
            is_pdf = PDF_BEGINS in file.read(LOOKED_AT)
    except FileNotFoundError:
        raise NotShown("the chart's file is not there") from None
    except (OSError, ValueError):
        raise NotShown("the chart's file cannot be read") from None
    return _pdf(path, width) if is_pdf else _picture(path, width)


def inked(page: "Image") -> tuple[float, float]:
    """Return top and bottom of the part of a page that is not blank, as shares of its height; 0 and 1 if all blank."""
    from PIL import ImageOps

    box = ImageOps.invert(page.convert("L")).point([0] * BLANK + [255] * (256 - BLANK)).getbbox()
    if box is None:
        return 0.0, 1.0
    edge = EDGE * page.width
    return max(0.0, (box[1] - edge) / page.height), min(1.0, (box[3] + edge) / page.height)


def _pdf(path: Path, width: int) -> tuple[tuple[int, ...], Drawn]:
    import pypdfium2

    try:
        document = pypdfium2.PdfDocument(path)
        if len(document) > MAX_PAGES:
            raise NotShown(f"the chart has more than {MAX_PAGES} pages")
        sizes = [document.get_page_size(number) for number in range(len(document))]
    except pypdfium2.PdfiumError as fault:
        raise NotShown("the chart is locked" if "password" in str(fault).lower() else "the chart is broken") from None
    if not sizes or any(wide < 1 or high < 1 for wide, high in sizes):
        raise NotShown("the chart has no pages")
    if any(high / wide * width * width > MAX_PX for wide, high in sizes):
        raise NotShown("the chart has a page that is too long")

    def rendered(number: int, px: int) -> "Image":
        try:
            page = document[number].render(scale=px / sizes[number][0], rev_byteorder=True)
        except pypdfium2.PdfiumError:
            raise NotShown("the chart is broken") from None
        image: Image = page.to_pil()
        return image.convert("RGB")

    shares = [inked(rendered(number, LOOK_PX)) for number in range(len(sizes))]
    scaled = [high * width / wide for wide, high in sizes]
    boxes = [(round(top * high), round(end * high)) for (top, end), high in zip(shares, scaled, strict=True)]

    def drawn(number: int) -> "Image":
        top, end = boxes[number]
        return rendered(number, width).crop((0, top, width, end))

    return tuple(max(1, end - top) for top, end in boxes), drawn


def _picture(path: Path, width: int) -> tuple[tuple[int, ...], Drawn]:
    from PIL import Image, ImageOps

    try:
        with Image.open(path, formats=PICTURES) as picture:
            if picture.width * picture.height > MAX_PX:
                raise NotShown("the chart's picture is too large")
            picture.draft("RGB", (width, width * 2))  # decode a photograph no larger than it is shown
            upright = ImageOps.exif_transpose(picture).convert("RGBA")  # a phone records how it was held
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError):
        raise NotShown("the chart is neither a PDF nor a picture") from None
    paper = Image.new("RGBA", upright.size, "white")
    paper.alpha_composite(upright)
    size = width, max(1, round(upright.height * width / upright.width))
    if size[0] * size[1] > MAX_PX:
        raise NotShown("the chart has a page that is too long")
    whole = paper.convert("RGB").resize(size, Image.Resampling.LANCZOS)
    return (size[1],), lambda _: whole


def in_inks(page: "Image", light: Light) -> "Image":
    """Recolour a page in the inks of the screen: black as its ink, white as its paper.

    For the dark stage, light becomes dark and colours keep their hue: a highlighter stays yellow.
    """
    from PIL import Image, ImageChops

    bands = page.split()
    if light is Light.DARK:
        lightest, darkest = bands[0], bands[0]
        for band in bands[1:]:
            lightest, darkest = ImageChops.lighter(lightest, band), ImageChops.darker(darkest, band)
        lifted = ImageChops.invert(lightest)  # all bands move by the same amount: lightness inverts, hue stays
        page = Image.merge("RGB", [ImageChops.add(lifted, ImageChops.subtract(band, darkest)) for band in bands])
    colours = inks(light)
    low, high = sorted((colours[ScreenInk.PAPER], colours[ScreenInk.INK]))
    table = [round(a + (b - a) * value / 255) for a, b in zip(low, high, strict=True) for value in range(256)]
    return page.point(table)


def answer(path: Path, size: tuple[int, int], light: Light, requests: BinaryIO, out: BinaryIO) -> None:
    """Write how many screenfuls there are, then each requested one, until the input ends."""
    with _in_time():
        try:
            heights, drawn = opened(path, size[0])
            turns = turns_of(heights, size[1])
        except (NotShown, MemoryError) as why:
            _say(out, {"problem": str(why) or "the chart is too large"})
            return
        _say(out, {"turns": len(turns)})
    here, whole = None, None
    for line in requests:
        with _in_time():
            number = int(line)
            page, top = turns[number]
            try:
                if page != here or whole is None:
                    here, whole = page, drawn(page)
                part = in_inks(whole.crop((0, top, size[0], min(top + size[1], whole.height))), light)
            except (NotShown, MemoryError, OSError) as why:
                _say(out, {"problem": str(why) or "the chart is too large"})
                return
            _say(out, {"turn": number, "size": part.size}, part.tobytes("raw", "RGBX"))


@contextlib.contextmanager
def _in_time() -> Iterator[None]:
    """End this process, even if a library hangs, when the block takes longer than ``MAX_S``."""
    with Path(os.devnull).open("w", encoding="utf-8") as nowhere:
        faulthandler.dump_traceback_later(MAX_S, exit=True, file=nowhere)
        try:
            yield
        finally:
            faulthandler.cancel_dump_traceback_later()


def _say(out: BinaryIO, answer: dict[str, object], pixels: bytes = b"") -> None:
    out.write(json.dumps(answer).encode() + b"\n" + pixels)
    out.flush()


def main(argv: Sequence[str]) -> int:
    """Draw until standard input ends. Memory is limited to what a chart needs, if the system supports limits."""
    path, width, height, light = argv
    limit_this_process(max_memory(int(width)), max_cpu_s=None)
    with contextlib.suppress(OSError):
        answer(Path(path), (int(width), int(height)), Light(light), sys.stdin.buffer, sys.stdout.buffer)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
