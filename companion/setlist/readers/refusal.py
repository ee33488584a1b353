"""The error for a file that is not a set list, or is too large for one."""

from companion.errors import Fault, FaultyFile


def no_list(path: str, problem: str, write: str = "") -> FaultyFile:
    """Make the error for a file that cannot be imported."""
    return FaultyFile((Fault(path, 0, 0, problem, write),))
