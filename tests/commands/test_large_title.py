"""A title in large letters of half blocks, at most as wide as the terminal."""

import pytest

from companion.commands.large_title import DOTS, large_title


def test_a_title_is_drawn_with_half_blocks() -> None:
    drawn = large_title("Moth", 79)
    assert 4 <= len(drawn) <= DOTS
    assert set("".join(drawn)) <= set(" ▀▄█")
    # The same letters, by hand from the lines of an L: an upright and a foot.
    letter = large_title("L", 79)
    assert [line[:3].strip() != "" for line in letter] == [True] * len(letter)
    assert len(letter[-1]) > len(letter[0])


@pytest.mark.parametrize("columns", [40, 60, 100])
def test_no_line_is_wider_than_the_terminal(columns: int) -> None:
    for title in ("Gasworks Corner", "Seven Steps Down to the Slipway", "A" * 40, "Crêpe Paper Armada"):
        assert all(len(line) <= max(columns, len(title)) for line in large_title(title, columns))


@pytest.mark.parametrize("title", ["W" * 60, "Moth 🎹", "A very long title indeed " * 6])
def test_a_title_that_cannot_be_drawn_is_plain(title: str) -> None:
    assert large_title(title, 60) == (title,)
