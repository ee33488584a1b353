"""Cut the stage's typefaces into small files for the browser, which asks only for those whose letters it shows.

``python tests/pages/web_faces.py`` writes them into the page's assets again, with the style sheet that names them.
"""

import io
from pathlib import Path
from typing import Final

import msgspec
from fontTools import subset
from fontTools.ttLib import TTFont

from companion.picture import FACE_NAMES
from companion.screen.screen_fonts import FACES

ASSETS: Final = Path(__file__).resolve().parents[2] / "companion" / "pages" / "assets"
STYLE: Final = "faces.css"


class WebFace(msgspec.Struct, frozen=True):
    """One file: the number of its typeface in ``FACES``, and the ranges that it holds as far as the typeface does."""

    name: str
    face: int
    ranges: tuple[tuple[int, int], ...]


PUNCTUATION: Final = ((0x2010, 0x2027), (0x2030, 0x205E), (0x20A0, 0x20BF), (0x2122, 0x2122), (0x2212, 0x2212))
WEB_FACES: Final = (  # blocks of the Unicode Standard
    WebFace("letters.woff2", 0, ((0x20, 0x7E), (0xA0, 0x17F), *PUNCTUATION, (0xFFFD, 0xFFFD))),
    WebFace("letters-more.woff2", 0, ((0x180, 0x24F), (0x300, 0x36F), (0x1E00, 0x1EFF))),
    WebFace("letters-greek.woff2", 0, ((0x370, 0x3FF),)),
    WebFace("letters-cyrillic.woff2", 0, ((0x400, 0x52F),)),
    WebFace("signs.woff2", 1, ((0x2190, 0x2199), (0x2400, 0x243F), (0x2669, 0x266F), (0x1D100, 0x1D1FF))),
    WebFace(
        "others.woff2",
        2,
        ((0x2190, 0x2199), (0x2205, 0x2205), (0x2212, 0x2212), (0x25A0, 0x25FF), (0x2605, 0x2606), (0x2669, 0x266F)),
    ),
    WebFace(
        "others-more.woff2",
        2,
        ((0x2070, 0x209F), (0x2300, 0x23FF), (0x2600, 0x2604), (0x2607, 0x2668), (0x2670, 0x27BF)),
    ),
)


def letters_of(one: WebFace) -> tuple[int, ...]:
    """Return the code points in a file: those of its ranges that its typeface has."""
    there = TTFont(str(FACES[one.face])).getBestCmap()
    return tuple(code for first, last in one.ranges for code in range(first, last + 1) if code in there)


def made(one: WebFace) -> bytes:
    """Return a file: the letters with their widths and kerning, without hints."""
    options = subset.Options(hinting=False, layout_features=["kern", "mark", "mkmk", "ccmp", "locl"])
    options.flavor = "woff2"
    options.drop_tables += ["FFTM"]  # when the editor saved it
    font = subset.load_font(str(FACES[one.face]), options)
    cut = subset.Subsetter(options)
    cut.populate(unicodes=letters_of(one))
    cut.subset(font)
    font.flavor = "woff2"
    out = io.BytesIO()
    font.save(out)
    return out.getvalue()


def ranges_text(codes: tuple[int, ...]) -> str:
    """Return code points as CSS ranges.

    >>> ranges_text((0x20, 0x21, 0x22, 0x41))
    'U+20-22, U+41'
    """
    runs: list[list[int]] = []
    for code in codes:
        if runs and code == runs[-1][1] + 1:
            runs[-1][1] = code
        else:
            runs.append([code, code])
    return ", ".join(f"U+{first:X}" + (f"-{last:X}" if last > first else "") for first, last in runs)


def style() -> str:
    """Return the style sheet. The whole typefaces come first: a browser asks for one only where no small file does."""
    whole = (
        f'@font-face {{ font-family: "{name}"; src: url("/assets/face-{number}.ttf") format("truetype"); }}\n'
        for number, name in enumerate(FACE_NAMES)
    )
    small = (
        f'@font-face {{ font-family: "{FACE_NAMES[one.face]}"; src: url("/assets/{one.name}") format("woff2");\n'
        f"  unicode-range: {ranges_text(letters_of(one))}; }}\n"
        for one in WEB_FACES
    )
    return "".join(
        (
            "/* The stage's typefaces. tests/pages/web_faces.py writes this file and those that it names. */\n",
            *whole,
            *small,
        )
    )


if __name__ == "__main__":
    for face in WEB_FACES:
        (ASSETS / face.name).write_bytes(made(face))
    (ASSETS / STYLE).write_text(style(), encoding="utf-8")
