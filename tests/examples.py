"""How many examples a property is tried on: a part of them in the daily run, all of them in the long profiles."""

import pytest
from _pytest.mark import ParameterSet
from hypothesis import settings

ALL = 100  # hypothesis' own number, which its profile for the long run keeps
DAILY = 25


def seldom(*values: object) -> ParameterSet:
    """Return a case that is tried in the long profiles only, beside one like it that is tried daily."""
    return pytest.param(*values, marks=pytest.mark.long)


def examples(all_of_them: int) -> int:
    """Return how many examples this run tries, where the long one tries so many."""
    return max(1, all_of_them * settings().max_examples // ALL)
