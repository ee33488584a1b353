"""The computer's keys: what they do on every rig, and their page."""

from pathlib import Path

import msgspec
import pytest
from night.evening import PEDALS, Evening
from stage.scenes import place_text, rig_of

from companion.night.default_keys import keys_page
from companion.night.preflight import make_ready
from companion.rig import Action, Pedal
from companion.screen.layout import lay_out
from companion.screen.page import page_of
from companion.screen.screen_fonts import typeface
from companion.stage import Surroundings, at_start
from companion.view import LineRole, Looks, view

ROOT = Path(__file__).resolve().parents[2]


@pytest.mark.parametrize("rig", ["general-midi", "one-board", "two-tiers"])
def test_a_small_screen_shows_every_key_and_every_word_in_full(rig: str) -> None:
    size = 1024, 600
    book = make_ready(ROOT / "shows" / "first-show.yaml", ROOT / "config" / f"{rig}.yaml").book
    page = page_of(size, size, book.rig.screen.width_mm, book.rig.screen.distance_m)
    keys, shown = keys_page(book.rig), 0
    for number in range(3):
        looks = Looks(keys_shown=True, keys_page=number, keys=keys)
        lines = [line for line in view(at_start(book), Surroundings(), looks).lines if line.part is LineRole.CHOICE]
        words = [block.text for block in lay_out(view(at_start(book), Surroundings(), looks), page, typeface())]
        assert all(line.label in words for line in lines)
        for line in lines:
            assert {line.text, *line.shorter} & set(words), line
        shown += sum(line.text != "more keys" for line in lines)
    assert shown > len(keys)


@pytest.mark.parametrize("key", ["page down", "right", "down"])
def test_the_computers_keys_still_step_after_a_pedal_fails(key: str) -> None:
    evening = Evening(rig=msgspec.structs.replace(rig_of("lower"), pedals=PEDALS[:2]))
    evening.key(key)
    assert place_text(evening.night.state) == "Intro of A"
    evening.key({"page down": "page up", "right": "left", "down": "up"}[key])
    assert place_text(evening.night.state) == "A up next"


def test_a_key_in_the_rig_file_does_what_the_rig_says() -> None:
    evening = Evening(
        rig=msgspec.structs.replace(rig_of("lower"), pedals=(Pedal("pad", key="right", press=Action.NEXT_SONG),))
    )
    evening.key("right")
    assert place_text(evening.night.state) == "B up next"
