"""Where a program begins that was built to need no Python: a double click, a file dropped on it, its own children."""

import re
import runpy
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from companion.child import OWN_MODULE
from companion.cli import main as command_line

_OURS: Final = re.compile(r"companion(\.[a-z_]+)+")
_SHOWS: Final = (".yaml", ".yml")


def words_of(words: Sequence[str]) -> tuple[str, ...]:
    """Return the words of the command line that are meant: a double click has none, a show dropped on it is one.

    >>> words_of([])
    ('demo',)
    """
    if not words:
        return ("demo",)
    if len(words) == 1 and words[0].lower().endswith(_SHOWS) and Path(words[0]).is_file():
        return ("play", words[0])
    return tuple(words)


def main() -> int:
    """Run one of our own modules, as ``python -m`` would, or a command."""
    words = sys.argv[1:]
    if words[:1] == [OWN_MODULE] and len(words) > 1 and _OURS.fullmatch(words[1]):
        module = words[1]
        sys.argv = [module, *words[2:]]
        runpy.run_module(module, run_name="__main__", alter_sys=True)
        return 0
    meant = words_of(words)
    code = command_line(meant)
    if code and meant != tuple(words) and sys.stdin is not None and sys.stdin.isatty():
        sys.stderr.write("Press enter to close this window.\n")  # it was opened by the double click, and goes with it
        sys.stdin.readline()
    return code


if __name__ == "__main__":
    sys.exit(main())
