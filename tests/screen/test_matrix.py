"""Every scene with everything that may be wrong at once: what a player cannot do without is on the page, and whole."""

from collections.abc import Sequence

import pytest
from screen.matrix import Case, cases, faults

ENOUGH = 0.97
OF_A_SAMPLE = 0.95  # of 43 cases
EVERY = 431  # a prime, so that a sample meets every scene, trouble and page


def right_share(of: Sequence[Case]) -> tuple[float, str]:
    """Return the share of cases without a fault, and the first faults."""
    wrong = [(case.name, found) for case in of if (found := list(faults(case)))]
    return 1 - len(wrong) / len(of), "\n".join(f"{name}: {found}" for name, found in wrong[:20])


def test_section_next_watch_title_and_count_are_complete_whatever_else_is_wrong() -> None:
    share, told = right_share([*cases(EVERY)])
    assert share >= OF_A_SAMPLE, told


@pytest.mark.long
def test_they_are_complete_in_every_combination() -> None:
    share, told = right_share([*cases()])
    assert share >= ENOUGH, told


def test_with_names_of_usual_length_nothing_is_cut_or_left_out() -> None:
    usual = [case for case in cases(229) if "; short words" in case.name]
    assert len(usual) > 25
    share, told = right_share(usual)
    assert share == 1.0, told
