"""The errors that a player can meet, each with its place and what to write."""

from typing import NamedTuple


class Fault(NamedTuple):  # not a msgspec struct: a command's help does not load msgspec
    """One fault in a file: where it is, what is wrong, what to write instead.

    ``line`` and ``column`` count from 1, in characters; 0 means the whole file.
    """

    path: str
    line: int
    column: int
    problem: str
    write: str = ""

    def __str__(self) -> str:
        """Return the line for the player: ``shows/pier.yaml:14:9: a song has no key "tempoo". Write: tempo``."""
        place = f"{self.path}:{self.line}:{self.column}" if self.line else self.path
        return f"{place}: {self.problem}" + (f". Write: {self.write}" if self.write else "")


UNREADABLE = (ValueError, RecursionError)
"""What decoders raise for unreadable bytes: invalid JSON or UTF-8, or endless nesting."""


class CompanionError(Exception):
    """An error that the program expects. The command line prints it without a traceback."""


class FaultyFile(CompanionError):  # noqa: N818 - named as a player would say it
    """A file that cannot be used as it is; carries all its faults, in line order."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        """Sort the faults by line."""
        self.faults = tuple(sorted(faults))
        super().__init__("\n".join(str(fault) for fault in self.faults))


class NotWritten(CompanionError):  # noqa: N818 - same
    """A file that cannot be written: full disk, missing folder ... An older file at that path stays untouched."""

    def __init__(self, problem: str, write: str = "") -> None:
        """Keep the problem and, if known, what to write instead."""
        self.problem, self.write = problem, write
        super().__init__(problem + (f". Write: {write}" if write else ""))


class NoStage(CompanionError):  # noqa: N818 - same
    """The night cannot start: no display, another copy running, a port that does not open."""
