"""The error for a file that is not a set list, or is too large for one."""

from companion.errors import Fault, FaultyFile


class OnlyPictures(FaultyFile):
    """A file whose pages are pictures of text: another reader may still read it."""


def no_list(path: str, problem: str, write: str = "") -> FaultyFile:
    """Make the error for a file that cannot be imported."""
    return FaultyFile((Fault(path, 0, 0, problem, write),))


def only_pictures(path: str, problem: str, write: str = "") -> OnlyPictures:
    """Make the error for a file that holds no text, only pictures."""
    return OnlyPictures((Fault(path, 0, 0, problem, write),))
