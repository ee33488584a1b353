"""Import set lists: turn a file in any form into a show, with an account of every line."""

from companion.show.lists.account import Line, Place, SetList, Took
from companion.show.lists.bringing_in import read_list

__all__ = [
    "Line",
    "Place",
    "SetList",
    "Took",
    "read_list",
]
