"""Which letters of a typeface confuse at small sizes, as a figure: run with font files to compare them.

Each sign is drawn large and shrunk by area to a capital height of ten pixels (one arc minute a pixel; 10.3' was read
by 90 % in the field, Smith 1979, Human Factors 21(6) 661-670), blurred like an eye that is not quite focused, and laid
over the other at the shift that makes them most alike. The difference is 0 for the same picture, 1 for no common ink.
"""

import sys
from pathlib import Path
from typing import Final

import numpy as np
import numpy.typing as npt
from PIL import Image, ImageDraw, ImageFont

PAIRS: Final = (
    *("Il", "I1", "l1", "l|", "I|", "O0", "OQ", "OD", "0D", "B8", "S5", "56", "Z2", "GC", "G6", "38"),
    *(
        "17",
        "EF",
        "PR",
        "FP",
        "UV",
        "VY",
        "ce",
        "oc",
        "ao",
        "hb",
        "un",
        "ij",
        "gq",
        "ft",
        "6b",
        "b♭",
        "#♯",
    ),
    *("89", "HN", "MN", "KX", "vy", "ea", "hn", "rn", "♭6", "4A"),
)
WIDTH_SAMPLE: Final = "Intro Verse Chorus Bridge Solo Outro Pre-ch. tonewheel organ drummer 112 4/4"
CAP_PIXELS, OVER, BLUR_PIXELS = 10, 12, 1.2

Grey = npt.NDArray[np.float64]


def drawn(sign: str, font: ImageFont.FreeTypeFont) -> Grey:
    size = CAP_PIXELS * 3
    large = Image.new("L", (size * OVER, size * OVER))
    ImageDraw.Draw(large).text((size * OVER // 3, size * OVER * 3 // 4), sign, fill=255, font=font, anchor="ls")
    small = large.resize((size, size), Image.Resampling.BOX)
    return blurred(np.asarray(small, dtype=np.float64) / 255)


def blurred(grey: Grey) -> Grey:
    reach = np.arange(-4, 5)
    kernel = np.exp(-(reach**2) / (2 * BLUR_PIXELS**2))
    kernel /= kernel.sum()
    for axis in (0, 1):
        grey = np.apply_along_axis(lambda row: np.convolve(row, kernel, mode="same"), axis, grey)
    return grey


def difference(one: Grey, other: Grey) -> float:
    shifts = (np.roll(other, across, axis=1) for across in range(-6, 7))
    return min(float(np.abs(one - shifted).sum()) for shifted in shifts) / float(one.sum() + other.sum())


def measured(path: Path) -> tuple[float, float, list[tuple[float, str]], float]:
    """Return the least difference, the mean of the ten least, all by size, and the mean width in capital heights."""
    large = ImageFont.truetype(str(path), 1000)
    cap = -large.getbbox("H", anchor="ls")[1]
    font = ImageFont.truetype(str(path), round(CAP_PIXELS * OVER * 1000 / cap))
    missing = drawn("\U0010ffff", font)
    found = []
    for pair in PAIRS:
        pictures = drawn(pair[0], font), drawn(pair[1], font)
        if any(np.array_equal(picture, missing) for picture in pictures):
            continue  # a sign that the face lacks comes from another one
        found.append((difference(*pictures), pair))
    found.sort()
    width = large.getlength(WIDTH_SAMPLE) / cap / len(WIDTH_SAMPLE)
    return found[0][0], sum(score for score, _ in found[:10]) / 10, found, width


if __name__ == "__main__":
    for name in sys.argv[1:]:
        least, mean, pairs, wide = measured(Path(name))
        worst = " ".join(f"{pair}:{score:.2f}" for score, pair in pairs[:6])
        print(f"{least:.3f} {mean:.3f} {wide:.3f} {mean / wide:.3f} {Path(name).stem:34} {worst}")  # noqa: T201
