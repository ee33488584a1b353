"""The one error of this room."""

import pickle

from companion.music import NotMusic
from companion.music.faults import LONGEST_QUOTE, nearest, quoted


def test_a_fault_says_what_is_wrong_and_what_to_write() -> None:
    assert str(NotMusic(3, 'no chord has a "x"', "Cmaj7")) == 'no chord has a "x". Write: Cmaj7'
    assert str(NotMusic(3, "nothing can be done")) == "nothing can be done"


def test_a_fault_moves_with_the_text_around_it() -> None:
    moved = NotMusic(3, "wrong", "right").moved(10)
    assert (moved.column, moved.problem, moved.write) == (13, "wrong", "right")


def test_a_fault_reaches_another_process_intact() -> None:
    again = pickle.loads(pickle.dumps(NotMusic(3, "wrong", "right")))  # noqa: S301 - our own bytes
    assert (again.column, again.problem, again.write) == (3, "wrong", "right")


def test_a_long_text_is_quoted_in_one_line() -> None:
    assert quoted("Bb") == '"Bb"'
    assert len(quoted("x" * 10_000)) == LONGEST_QUOTE + 2


def test_the_nearest_word_is_found_in_any_case_or_not_at_all() -> None:
    assert nearest("DORAIN", ("dorian", "lydian")) == "dorian"
    assert nearest("xyz", ("dorian", "lydian")) is None
    assert nearest("x" * 100_000, ("dorian",)) is None
