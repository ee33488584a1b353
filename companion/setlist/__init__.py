"""A set list brought into a show: what differs, the songs that are left out, and the show file with all work kept."""

from companion.setlist.importing import Imported, import_list
from companion.setlist.revising import Difference, Differs, revise
from companion.setlist.shelf import slug_of

__all__ = [
    "Difference",
    "Differs",
    "Imported",
    "import_list",
    "revise",
    "slug_of",
]
