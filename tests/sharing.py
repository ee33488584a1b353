"""Which tests share a process: those on real ports stand in two lines, which begin first and go before the others.

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
    return f"line {real.index(module) % LINES + 1}" if module in real else module


def is_real(nodeid: str) -> bool:
    """Return whether a test stands in one of the lines."""
    return nodeid.partition("::")[0] in on_real_ports()


@cache
def on_real_ports() -> tuple[str, ...]:
    """Return the modules of tests that use real servers, instruments and windows, by their paths in the repository."""
    modules = sorted((ROOT / "tests").rglob("test_*.py"))
    return tuple(
        path.relative_to(ROOT).as_posix() for path in modules if _PLAYS.search(path.read_text(encoding="utf-8"))
    )


@cache
def step_back() -> None:
    """Leave the processors to the tests on real ports, for the rest of this process."""
    if hasattr(os, "nice"):
        with contextlib.suppress(OSError):
            os.nice(POLITE)
