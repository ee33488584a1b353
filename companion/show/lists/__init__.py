"""Bringing in set lists: from a file in whatever form to a show, with an account of every line."""

from companion.show.lists.account import Line, Place, SetList, Took
from companion.show.lists.bringing_in import read_list

__all__ = [
    "Line",
    "Place",
    "SetList",
    "Took",
    "read_list",
]
