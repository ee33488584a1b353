"""Import a set list into a show: the differences, the dropped songs, and the show file with all work kept."""

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
