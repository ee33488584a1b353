"""What may go wrong, in one short family: every error that a player can meet, with its place and what to write."""

from typing import NamedTuple


class Fault(NamedTuple):  # no msgspec here: a command's help is told without it
    """One fault of one file: where it is, what is wrong, and what to write instead.

    ``line`` and ``column`` count from 1, in characters; 0 means the whole file.
    """

    path: str
    line: int
    column: int
    problem: str
    write: str = ""

    def __str__(self) -> str:
        """Give the line that a player reads: ``shows/pier.yaml:14:9: a song has no key "tempoo". Write: tempo``."""
        place = f"{self.path}:{self.line}:{self.column}" if self.line else self.path
        return f"{place}: {self.problem}" + (f". Write: {self.write}" if self.write else "")


UNREADABLE = (ValueError, RecursionError)
"""What decoders raise for bytes that mean nothing to them: no JSON, no UTF-8, nested without end."""


class CompanionError(Exception):
    """Whatever the program can name. The command line prints it without a traceback."""


class FaultyFile(CompanionError):  # noqa: N818 - what it is, as a player would say
    """A file that cannot be used as it stands; all its faults, in line order."""

    def __init__(self, faults: tuple[Fault, ...]) -> None:
        """Keep the faults in line order."""
        self.faults = tuple(sorted(faults))
        super().__init__("\n".join(str(fault) for fault in self.faults))


class NotWritten(CompanionError):  # noqa: N818 - same
    """A file that cannot be written: the disk is full, or its place is none. An older file there is untouched."""

    def __init__(self, problem: str, write: str = "") -> None:
        """Keep what is wrong, and what to write where that is known."""
        self.problem, self.write = problem, write
        super().__init__(problem + (f". Write: {write}" if write else ""))


class NoStage(CompanionError):  # noqa: N818 - same
    """What the night needs and cannot have: no display, a second copy running, a port that cannot be opened."""
