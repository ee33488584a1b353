"""Which tests share a process: those on real ports stand in two lines, which begin first and go before the others.

Next come the modules that wait for other programs or read the whole source: begun last, they would leave a processor
without work at the end.

The plugin's own groups are not used: with the newest versions of pytest they group nothing, and say nothing of it.
"""

import contextlib
import os
import re
from functools import cache
from pathlib import Path

from xdist.scheduler import LoadScopeScheduling

ROOT = Path(__file__).resolve().parents[1]
LINES = 2  # with a third test on real ports at the same time, one of them lost a message now and then
POLITE = 5  # by which all other tests leave the processors to them

_PLAYS = re.compile(r"^from real\.(?!program )", re.MULTILINE)
_WAITS = re.compile(
    r"^(?:import subprocess|from (?:playwright|real\.program|pages\.serving|patterns\.package)\b)", re.MULTILINE
)
_READS_SOURCE = re.compile(r"^from (?:source_trees|test_house) import", re.MULTILINE)


class Lines(LoadScopeScheduling):  # type: ignore[misc]  # the plugin ships no types
    """Hands out a whole module of tests at a time, or a line of those on real ports; in the order of the tests."""

    def _split_scope(self, nodeid: str) -> str:
        """Return the line; in the long profiles there is one, since the soak is on real ports beside them."""
        is_long = "long" in self.config.option.markexpr
        return "line 1" if is_long and is_real(nodeid) else line_of(nodeid)


def line_of(nodeid: str) -> str:
    """Return the line that a test on real ports stands in; for any other test, its module.

    >>> line_of("tests/music/test_key.py::test_a_key")
    'tests/music/test_key.py'
    """
    module = nodeid.partition("::")[0]
    real = on_real_ports()
    if module in real:
        return f"line {real.index(module) % LINES + 1}"
    return "the source" if module in with_text(_READS_SOURCE) else module  # its trees are kept in the process


def turn_of(nodeid: str) -> tuple[int, str]:
    """Return what sorts a test among all: the lines, then what waits or takes long, then the rest as collected."""
    module = nodeid.partition("::")[0]
    if is_real(nodeid):
        return 0, line_of(nodeid)
    return (1 if module in with_text(_READS_SOURCE) else 2 if module in with_text(_WAITS) else 3), ""


def is_real(nodeid: str) -> bool:
    """Return whether a test stands in one of the lines."""
    return nodeid.partition("::")[0] in on_real_ports()


def on_real_ports() -> tuple[str, ...]:
    """Return the modules of tests that use real servers, instruments and windows, by their paths in the repository."""
    return with_text(_PLAYS)


@cache
def with_text(pattern: re.Pattern[str]) -> tuple[str, ...]:
    """Return the modules of tests in whose text a pattern is found, by their paths in the repository."""
    modules = sorted((ROOT / "tests").rglob("test_*.py"))
    return tuple(
        path.relative_to(ROOT).as_posix() for path in modules if pattern.search(path.read_text(encoding="utf-8"))
    )


@cache
def step_back() -> None:
    """Leave the processors to the tests on real ports, for the rest of this process."""
    if hasattr(os, "nice"):
        with contextlib.suppress(OSError):
            os.nice(POLITE)
