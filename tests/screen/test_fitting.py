"""Words in rows: as even as they can be, in no more rows than they need."""

import pytest

from companion.screen.fitting import balanced, wrapped
from companion.screen.page import TypeMeasure, page_of
from companion.screen.screen_fonts import typeface

PEN = TypeMeasure(page_of((1920, 1080), (1920, 1080)), typeface())
EM = 100


@pytest.mark.parametrize(
    "text",
    ["two fingers up is one more round", "voice and bass only, back in on the snare", "Postcard to the Harbourmaster"],
)
def test_no_row_holds_a_single_word_and_none_is_added(text: str) -> None:
    for width in range(600, 2400, 60):
        rows = wrapped(PEN, text, width, EM, 4)
        if len(rows) < 2:
            continue
        even = balanced(PEN, rows, EM)
        assert (len(even), " ".join(even)) == (len(rows), text)
        lengths, before = ([PEN.face.width_px(row, EM) for row in found] for found in (even, rows))
        assert max(lengths) <= max(before)
        assert max(lengths) - min(lengths) <= max(before) - min(before)


def test_the_last_word_of_a_cue_never_stands_alone() -> None:
    rows = wrapped(PEN, "two fingers up is one more round", 1400, EM, 4)
    assert rows[-1] == "round"
    assert balanced(PEN, rows, EM) == ("two fingers up is", "one more round")
