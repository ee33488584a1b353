"""A song's title in large letters for a terminal: half blocks, two dots to a cell, in the program's own typeface."""

from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from PIL.ImageFont import FreeTypeFont

DOTS: Final = 14  # height of a line of letters in dots; two dots are one line of the terminal
MAX_LINES: Final = 3  # lines of large letters
INK: Final = 110  # of 255: darker dots are drawn
BLOCKS: Final = {(False, False): " ", (True, False): "▀", (False, True): "▄", (True, True): "█"}


def large_title(title: str, columns: int) -> tuple[str, ...]:
    """Return the lines of a title in large letters, at most this wide; the plain title if it does not fit.

    Letters that the typeface lacks make the title plain too.
    """
    from companion.screen.screen_fonts import FACES, Face

    face = Face(FACES[0])
    if any(face.width(letter) is None for letter in title if not letter.isspace()):
        return (title,)
    rows: list[str] = []
    lines = _wrapped(title, columns)
    for line in lines or ():
        rows += _drawn(line)
    return tuple(rows) or (title,)


def _wrapped(title: str, columns: int) -> list[str] | None:
    """Break a title into lines that fit; None if it takes more than ``MAX_LINES``."""
    lines: list[str] = []
    for word in title.split():
        joined = f"{lines[-1]} {word}" if lines else word
        if lines and _width(joined) <= columns:
            lines[-1] = joined
        elif _width(word) <= columns and len(lines) < MAX_LINES:
            lines.append(word)
        else:
            return None
    return lines


def _width(line: str) -> int:
    return int(_font().getlength(line)) + 1


def _font() -> "FreeTypeFont":
    from PIL import ImageFont

    from companion.screen.screen_fonts import FACES

    return ImageFont.truetype(str(FACES[0]), DOTS)


def _drawn(line: str) -> list[str]:
    """Draw one line of letters and return its rows, without empty ones above and below."""
    from PIL import Image, ImageDraw

    image = Image.new("L", (_width(line), 2 * DOTS))  # of even height
    ImageDraw.Draw(image).text((0, 0), line, fill=255, font=_font())
    box = image.getbbox()
    if box is None:
        return []
    top, bottom = box[1] - box[1] % 2, box[3] + box[3] % 2
    dots = image.tobytes()
    ink = [[dots[y * image.width + x] > INK for x in range(image.width)] for y in range(top, bottom)]
    return [
        "".join(BLOCKS[above, below] for above, below in zip(*ink[at : at + 2], strict=True)).rstrip()
        for at in range(0, len(ink) - 1, 2)
    ]
