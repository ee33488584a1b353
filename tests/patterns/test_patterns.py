"""No pattern of the package tries more than a line's length squared: nothing that is typed can hold it up."""

import re
import sys
from collections.abc import Iterator
from functools import cache

import pytest
from patterns.package import patterns
from patterns.steps import Counter, TooManyError, texts

SHORT = 12
GROWTH = 5.9  # twice as long is four times the steps, and some more where the texts are short; cubic is eight times
FEW = 600  # steps that are not looked at
BOUND = 30_000
PARTS = 8  # of the long test

all_patterns = cache(patterns)  # not where the module is imported: each of the tests' processes imports it


@pytest.fixture(autouse=True)
def _deep() -> Iterator[None]:
    """Let the counter go as deep as a text is long."""
    before = sys.getrecursionlimit()
    sys.setrecursionlimit(8_000)
    yield
    sys.setrecursionlimit(before)


def growth(pattern: re.Pattern[str], *, search: bool, thorough: bool, length: int = SHORT) -> tuple[float, str]:
    """Return by how much the steps grow where a text gets twice as long, on the worst of the texts."""
    counter = Counter(pattern, BOUND)
    worst, on = 0.0, ""
    for short, long in zip(
        texts(counter, length, thorough=thorough), texts(counter, 2 * length, thorough=thorough), strict=True
    ):
        try:
            many = counter.count(long, search=search)
        except (TooManyError, RecursionError):
            return float("inf"), long
        if many > FEW and (grown := many / counter.count(short, search=search)) > worst:
            worst, on = grown, long
    return worst, on


@pytest.mark.long  # as the next one, which would check nothing if none were found
def test_the_patterns_are_found() -> None:
    assert len(all_patterns()) > 150
    assert any("midi_file" not in place and ":" in place for place in all_patterns())


@pytest.mark.long
@pytest.mark.parametrize("part", range(PARTS))
def test_no_pattern_is_worse_than_quadratic(part: int) -> None:
    worst = {
        place: growth(pattern, search=search, thorough=True)
        for place, (pattern, search) in list(all_patterns().items())[part::PARTS]
    }
    assert not {place: (grown, on) for place, (grown, on) in worst.items() if grown >= GROWTH}


@pytest.mark.parametrize("pattern", [r"(?:a+)+$", r"a*a*a*a*b", r"(a|a)*$", r"[^;]*k[^;]*k[^;]*x", r"(?:\s*a?\s*)*b"])
def test_a_pattern_that_backtracks_is_found(pattern: str) -> None:
    assert growth(re.compile(pattern), search=True, thorough=True)[0] >= GROWTH


@pytest.mark.parametrize(
    ("pattern", "text"),
    [
        (r"(a+)b\1", "aabaa"),
        (r"(?i)k(?=ey)\w{2}\b", "a KEY"),
        (r"^[^\W\d]+?(?<=a)\s*$", "moa  "),
        (r"x|yz?|[a-c]\d", "b7"),
    ],
)
def test_the_step_counter_matches_what_the_regex_engine_matches(pattern: str, text: str) -> None:
    counted = Counter(re.compile(pattern), BOUND)
    counted.text = text
    assert [counted.sequence(list(counted.tree), at, lambda _: True) for at in range(len(text))] == [
        re.compile(pattern).match(text, at) is not None for at in range(len(text))
    ]
