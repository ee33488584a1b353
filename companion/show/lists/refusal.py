"""A file that is no set list, or too much of one: the one error for it."""

from companion.errors import Fault, FaultyFile


def no_list(path: str, problem: str, write: str = "") -> FaultyFile:
    """Make the error of a file that cannot be brought in."""
    return FaultyFile((Fault(path, 0, 0, problem, write),))
