"""Titles whose numbers are written as digits in one version of a list, and as words in the next."""

import pytest

from companion.setlist.revising.matching import match
from companion.show import Song


@pytest.mark.parametrize(
    ("old", "new", "is_same"),
    [
        ("99 Umbrellas", "Ninety-Nine Umbrellas", True),
        ("Seven Tins", "7 Tins", True),
        ("Twenty One Candles", "21 Candles", True),
        ("98 Umbrellas", "Ninety-Nine Umbrellas", False),
        ("Moth", "Ten", False),
    ],
)
def test_a_number_in_words_is_the_same_as_in_digits(old: str, new: str, *, is_same: bool) -> None:
    pairs = match([Song(old)], [Song(new)])
    assert bool(pairs) is is_same
    assert all(pair.alike < 100 for pair in pairs)  # so that the player is asked
