"""Bringing in set lists: from a file in whatever form to a show, with an account of every line."""

from companion.show.lists.account import Line, Place, SetList, Took
from companion.show.lists.bringing_in import Imported, import_list, read_list
from companion.show.lists.revising import Difference, Differs, revise

__all__ = [
    "Difference",
    "Differs",
    "Imported",
    "Line",
    "Place",
    "SetList",
    "Took",
    "import_list",
    "read_list",
    "revise",
]
