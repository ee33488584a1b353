"""The printed typeface, measured: the bundled fonts, each character from the first font that has it."""

from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any, Final

FONTS: Final = Path(__file__).resolve().parents[1] / "screen" / "fonts"
FACES: Final = (
    ("letters", FONTS / "NotoSans-SemiCondensedSemiBold.ttf"),
    ("signs", FONTS / "NotoSansSymbols-Bold.ttf"),  # flats and sharps as heavy as the letters
    ("others", FONTS / "DejaVuSansCondensed-Bold.ttf"),
)
SIGNS: Final = "♭♮♯"  # the only characters taken from the second font: its notes and arrows are too small
RAISED: Final = (0.0, 0.12, 0.0)  # share of the size: raises flats and sharps to the height of a capital
CAP_HEIGHT: Final = 0.714  # share of the size, from the font's own table
ASCENT: Final = 1.069  # same, the tallest character
DESCENT: Final = 0.293  # same, below the baseline
ELLIPSIS: Final = "…"


@cache
def faces() -> tuple[Any, ...]:
    """Open the fonts once, for both measuring and embedding."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    opened = tuple(TTFont(name, str(path)) for name, path in FACES)
    for font in opened:
        pdfmetrics.registerFont(font)
    return opened


@cache
def _sign(sign: str) -> tuple[int, float]:
    """Return the font for a character and its width as a share of the size; the first font's box where none has it."""
    for number, font in enumerate(faces()):
        if ord(sign) in font.face.charToGlyph and (number != 1 or sign in SIGNS):
            return number, font.face.charWidths[ord(sign)] / 1000
    return 0, faces()[0].face.defaultWidth / 1000


@cache
def lacks(sign: str) -> bool:
    """Return whether no font has this character, so that a box is printed."""
    return (
        not sign.isspace()
        and sign not in SIGNS
        and all(ord(sign) not in font.face.charToGlyph for font in faces()[::2])
    )


@cache
def _share(text: str) -> float:
    return sum(_sign(sign)[1] for sign in text)


def width_pt(text: str, size: float) -> float:
    """Return the width of one line in points."""
    return _share(text) * size


@cache
def runs(text: str) -> tuple[tuple[int, str], ...]:
    """Cut a text into pieces of one font each: (font, text)."""
    pieces: list[tuple[int, str]] = []
    for sign in text:
        number = _sign(sign)[0]
        if pieces and pieces[-1][0] == number:
            pieces[-1] = (number, pieces[-1][1] + sign)
        else:
            pieces.append((number, sign))
    return tuple(pieces)


def cut(text: str, size: float, room: float) -> str:
    """Return as much of the text as fits, with … for the rest; whole words if that keeps at least half of it."""
    if width_pt(text, size) <= room:
        return text
    kept, used = 0, width_pt(ELLIPSIS, size)
    for sign in text:
        used += width_pt(sign, size)
        if used > room:
            break
        kept += 1
    short = text[:kept].rstrip()
    at_word = short.rpartition(" ")[0].rstrip(" ,;:–-")
    return (at_word if kept < len(text) and text[kept] != " " and len(at_word) * 2 >= len(short) else short) + ELLIPSIS


def wrapped(text: str, size: float, room: float, lines: int, first: float | None = None) -> list[str]:
    """Break a text into lines of this width, the first of width ``first``; text beyond the last allowed line is cut."""
    return list(_lines(text.split(), size, room, lines, room if first is None else first))


def _lines(words: list[str], size: float, room: float, lines: int, first: float) -> Iterator[str]:
    line, here = "", first
    for place, word in enumerate(words):
        longer = f"{line} {word}" if line else word
        if width_pt(longer, size) <= here:
            line = longer
            continue
        if lines == 1:
            yield cut(" ".join([*([line] if line else []), *words[place:]]), size, here)
            return
        if line or here < room:
            yield line
            lines, here, line = lines - 1, room, ""
            if width_pt(word, size) <= here:
                line = word
                continue
            if lines == 1:
                yield cut(" ".join(words[place:]), size, here)
                return
        yield cut(word, size, here)  # one word wider than the line
        lines, here, line = lines - 1, room, ""
    if line:
        yield line
