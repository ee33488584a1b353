"""Set lists: from a file of any shape to a show, with an account of every line, and with all work kept."""

from typing import TYPE_CHECKING

from companion.late import late

if TYPE_CHECKING:
    from companion.setlist.imported import Imported
    from companion.setlist.importing import import_list
    from companion.setlist.list_file import read_list
    from companion.setlist.model import Doubt, DoubtAnswer, LineKind, ListLine, SetList, SourceLine
    from companion.setlist.notation import Notation
    from companion.setlist.revising.differences import Difference, Differs
    from companion.setlist.revising.dropped_songs import slug_of
    from companion.setlist.revising.revision import RevisionChoice

__all__ = [
    "Difference",
    "Differs",
    "Doubt",
    "DoubtAnswer",
    "Imported",
    "LineKind",
    "ListLine",
    "Notation",
    "RevisionChoice",
    "SetList",
    "SourceLine",
    "import_list",
    "read_list",
    "slug_of",
]

# Whoever only compares titles needs no reader of lists.
__getattr__ = late(
    __name__,
    (
        "model",
        "notation",
        "revising.dropped_songs",
        "revising.differences",
        "list_file",
        "revising.revision",
        "imported",
        "importing",
    ),
)
