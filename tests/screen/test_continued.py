"""A continued night names the key that starts from the top, wherever in the show it continues."""

from pathlib import Path

import pytest

from companion.night.notices import continued_forms
from companion.rig import read_rig
from companion.screen.layout import lay_out
from companion.screen.page import page_of
from companion.screen.screen_fonts import typeface
from companion.show import read_show
from companion.stage import Next, Surroundings, at_start, make_book, step
from companion.view import view

ROOT = Path(__file__).resolve().parents[2]
LAPTOP_MM, LAPTOP_M = 345, 1.8


@pytest.mark.parametrize("dry_run", [None, "no keyboard is there"])
@pytest.mark.parametrize("size", [(1920, 1080), (1280, 720)])
def test_the_key_for_the_top_is_on_the_page(size: tuple[int, int], dry_run: str | None) -> None:
    show, rig = read_show(ROOT / "shows/pier-street.yaml").show, read_rig(ROOT / "config/two-tiers.yaml").rig
    state = at_start(make_book(show, rig)[0])
    page = page_of(size, size, LAPTOP_MM, LAPTOP_M)
    around = Surroundings(resumed=continued_forms("continued at Gasworks Corner, Verse", "0"), dry_run=dry_run)
    for press in range(60):
        words = " ".join(block.text for block in lay_out(view(state, around), page, typeface()) if block.text)
        assert "0 starts from the top" in words or "0: from the top" in words, (press, words)
        state, _ = step(state, Next(1000 * (press + 1)))
