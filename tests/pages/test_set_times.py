"""The words on a set's tape: when it plays, how long its songs last."""

import pytest

from companion.pages.stack_view import set_times
from companion.show import Set, Song


@pytest.mark.parametrize(
    ("one", "words"),
    [
        (Set("First", starts_min=1215, songs=(Song("Moth"),)), ["20:15", "1 song", "1 without a length"]),
        (
            Set("First", starts_min=1215, minutes=45, songs=(Song("Moth"),)),
            ["20:15 to 21:00", "1 song", "45 minutes", "1 without a length"],
        ),
        (Set("First", starts_min=1215, songs=(Song("Moth", length_s=200),)), ["20:15 to 20:19", "1 song", "3:20"]),
    ],
)
def test_a_set_without_any_length_has_a_start_but_no_end(one: Set, words: list[str]) -> None:
    assert list(set_times(one)) == words
