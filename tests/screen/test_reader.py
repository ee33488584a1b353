"""An independent reader at the players' distance: one arc minute is one pixel."""

import os
import subprocess
import unicodedata
from pathlib import Path

import pygame
import pytest
from examples import seldom
from PIL import Image
from real.program import NotThere, needs
from screen.nights import Night

from companion.screen.blocks import ScreenBlock
from companion.screen.layout import lay_out
from companion.screen.pictures import Painting
from companion.screen.screen_fonts import typeface
from companion.stage import PositionKind, Surroundings
from companion.view import Light, LineRole, View, view
from companion.view.looks import Looks

ENOUGH = 0.97
SIZE = (1920, 1080)
ASKED = (LineRole.SECTION, LineRole.NEXT, LineRole.WATCH)


def folded(text: str) -> str:
    """Letters and digits only: a reader of one alphabet has no word for a star or an ellipsis."""
    return "".join(sign for sign in unicodedata.normalize("NFKD", text).casefold() if sign.isalnum())


def seen_from_afar(painting: Painting, seen: View) -> Image.Image:
    """Return the screenshot as the eye has it: its brightness, one pixel an arc minute."""
    surface = painting.paint(seen, seen.light)
    whole = Image.frombytes("RGB", SIZE, pygame.image.tobytes(surface, "RGB")).convert("L")
    shrunk = 1 / painting.page.px_per_arcmin
    return whole.resize((round(SIZE[0] * shrunk), round(SIZE[1] * shrunk)), Image.Resampling.LANCZOS)


def line_of(blocks: list[ScreenBlock], picture: Image.Image, px_per_arcmin: float) -> Image.Image:
    """Cut out the line where the eye is: the reader's own guess at columns is not what is asked here."""
    left = min(block.left for block in blocks) / px_per_arcmin - 4
    right = max(block.x + block.width - (block.left - block.x) for block in blocks) / px_per_arcmin + 4
    top = min(block.baseline - 1.12 * block.cap_px for block in blocks) / px_per_arcmin
    bottom = max(block.baseline + 0.30 * block.cap_px for block in blocks) / px_per_arcmin
    return picture.crop((max(0, round(left)), max(0, round(top)), round(right), round(bottom)))


@pytest.mark.real
@pytest.mark.parametrize("many", [12, seldom(200)])
def test_a_text_reader_recognizes_section_next_and_watch(tmp_path: Path, many: int) -> None:
    try:
        needs("tesseract")
    except NotThere as missing:
        pytest.skip(str(missing))
    asked: list[tuple[int, LineRole, str]] = []
    paths: list[Path] = []
    painting: Painting | None = None
    seed = states = 0
    while states < many:
        seed += 1
        night = Night(seed, latin=True)
        state = night.state()
        if state.place.where is not PositionKind.PLAYING:
            continue
        states += 1
        seen = view(state, Surroundings(), Looks(light=night.one(tuple(Light))))
        painting = painting or Painting(state.book, SIZE)
        picture = seen_from_afar(painting, seen)
        blocks = lay_out(seen, painting.page, typeface())
        for part in ASKED:
            line = [block for block in blocks if block.part is part and block.text]
            for row in sorted({block.baseline for block in line}):  # a wrapped line is read row by row
                of_row = [block for block in line if block.baseline == row]
                asked.append((seed, part, " ".join(block.text for block in of_row)))
                paths.append(tmp_path / f"{len(paths)}.png")
                line_of(of_row, picture, painting.page.px_per_arcmin).save(paths[-1])
    read = pages_read(paths, tmp_path)
    missed = [f"{one} read as {text!r}" for one, text in zip(asked, read, strict=True) if not right(one[2], text)]
    assert len(asked) > 2 * many
    assert 1 - len(missed) / len(asked) >= ENOUGH, "\n".join(missed)


def right(shown: str, text: str) -> bool:
    """The star is often read as a letter x: what is asked for is the words."""
    before, _, after = shown.partition("★")
    return folded(before) in folded(text) and folded(after) in folded(text)


def pages_read(paths: list[Path], directory: Path) -> list[str]:
    """Let tesseract read each picture as one line of text."""
    listed = directory / "pictures.txt"
    listed.write_text("\n".join(str(path) for path in paths), encoding="utf-8")
    done = subprocess.run(
        ["tesseract", str(listed), "-", "--psm", "7"],
        capture_output=True,
        text=True,
        check=True,
        env={**os.environ, "OMP_THREAD_LIMIT": "1"},
    )
    return done.stdout.split("\f")[: len(paths)]
