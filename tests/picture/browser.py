"""Pictures of SVG as a browser paints them: one start of headless Chromium paints several, one above the other."""

import shutil
import subprocess
from collections.abc import Sequence
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image

from companion.picture import FACE_NAMES
from companion.screen.screen_fonts import FACES

Pixels = NDArray[np.int16]  # height, width, red green blue
TALLEST = 16_384  # px: of a taller window, Chromium paints the lower part wrong (measured, no source)


def painted(svgs: Sequence[str], size: tuple[int, int], folder: Path) -> list[Pixels]:
    """Return each picture at this size in px, with the shipped typefaces. Skips if there is no Chromium."""
    most = TALLEST // size[1]
    parts = [svgs[first : first + most] for first in range(0, len(svgs), most)]
    return [pixels for part in parts for pixels in painted_together(part, size, folder)]


def painted_together(svgs: Sequence[str], size: tuple[int, int], folder: Path) -> list[Pixels]:
    """Return pictures that fit one window of TALLEST px."""
    chromium = shutil.which("chromium") or shutil.which("chromium-browser")
    if chromium is None:
        pytest.skip("no Chromium on this computer")
    width, height = size
    fonts = "".join(
        f'@font-face{{font-family:"{name}";src:url("{path.as_uri()}")}}'
        for name, path in zip(FACE_NAMES, FACES, strict=True)
    )
    page, picture = folder / "pictures.html", folder / "pictures.png"
    page.write_text(
        f'<!doctype html><meta charset="utf-8"><style>{fonts}body{{margin:0}}'
        f"svg{{display:block;width:{width}px;height:{height}px}}</style>{''.join(svgs)}",
        encoding="utf-8",
    )
    subprocess.run(
        [
            *(chromium, "--headless", "--no-sandbox", "--hide-scrollbars", "--force-device-scale-factor=1"),
            *(f"--user-data-dir={folder / 'profile'}", f"--window-size={width},{height * len(svgs)}"),
            *(f"--screenshot={picture}", page.as_uri()),
        ],
        check=True,
        capture_output=True,
        timeout=100,
    )
    whole = np.asarray(Image.open(picture).convert("RGB"), dtype=np.int16)
    return [whole[number * height : (number + 1) * height] for number in range(len(svgs))]


def share_that_differs(one: Pixels, other: Pixels, by_more_than: int = 96) -> float:
    """Return the share of pixels, 0 to 1, of which some channel (0 to 255) differs by more than this."""
    return float((np.abs(one - other).max(axis=2) > by_more_than).mean())
