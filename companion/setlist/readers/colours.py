"""The plain name of a colour behind a cell, and which colours mark something: not those of most rows."""

import colorsys
import re
from collections import Counter
from collections.abc import Sequence
from typing import Final

HEX: Final = re.compile(r"#?(?:[0-9A-Fa-f]{2})?([0-9A-Fa-f]{6})$")  # with or without opacity in front
# Hue circle in degrees, each name up to its bound (common practice, no source).
HUES: Final = (
    (16, "red"),
    (47, "orange"),
    (68, "yellow"),
    (165, "green"),
    (200, "turquoise"),
    (255, "blue"),
    (290, "purple"),
    (345, "pink"),
    (361, "red"),
)
PALE: Final = 0.75  # lightness
PALE_YELLOW: Final = 40  # degrees; a pale orange from here on is seen as yellow
GREY_BELOW: Final = 0.12  # saturation
WHITE_ABOVE: Final = 0.93  # lightness of a grey that nobody sees on paper
MAX_ROWS: Final = 0.4  # a colour of so many rows is the table's own: stripes, or a ground


def colour_name(code: str) -> str:
    """Return the plain name of a colour such as #ffff00; "" for white, and for what is no colour.

    >>> colour_name("FFFFF2CC"), colour_name("#c6efce"), colour_name("FFFFFF")
    ('yellow', 'green', '')
    """
    found = HEX.match(code)
    if not found:
        return ""
    red, green, blue = (int(found[1][at : at + 2], 16) / 255 for at in (0, 2, 4))
    hue, lightness, _ = colorsys.rgb_to_hls(red, green, blue)
    if max(red, green, blue) - min(red, green, blue) < GREY_BELOW * max(red, green, blue, 0.01):
        return "" if lightness > WHITE_ABOVE else "black" if lightness < 0.2 else "grey"
    if lightness > PALE and PALE_YELLOW < hue * 360 < HUES[1][0]:
        return "yellow"
    return next(name for bound, name in HUES if hue * 360 < bound)


def tinted(code: str, tint: float) -> str:
    """Return a colour made lighter, or darker where ``tint`` is below 0 (ECMA-376 part 1, 18.3.1.15)."""
    found = HEX.match(code)
    if not found:
        return ""
    hue, lightness, strong = colorsys.rgb_to_hls(*(int(found[1][at : at + 2], 16) / 255 for at in (0, 2, 4)))
    lightness = lightness * (1 + tint) if tint < 0 else lightness * (1 - tint) + tint
    parts = colorsys.hls_to_rgb(hue, min(max(lightness, 0.0), 1.0), strong)
    return "".join(f"{round(part * 255):02x}" for part in parts)


def marks_of(colours: Sequence[str]) -> list[str]:
    """Return each row's colour by name where it marks the row: not the colour of stripes or of the whole table.

    >>> marks_of(["", "#ffff00", "", "", "#cccccc", ""])
    ['', 'yellow', '', '', 'grey', '']
    """
    names = [colour_name(code) for code in colours]
    counts = Counter(name for name in names if name)
    common = {name for name, count in counts.items() if count > 2 and count >= MAX_ROWS * len(names)}
    return ["" if name in common else name for name in names]
