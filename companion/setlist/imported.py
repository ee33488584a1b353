"""The result of an import: what the list says, the show that it makes, and what differs."""

import msgspec

from companion.edits import NewText
from companion.setlist.model import SetList
from companion.setlist.revising.differences import Difference
from companion.show import Show


class Imported(msgspec.Struct, frozen=True):
    """The result of an import: the list's account, the show, the differences, and the files.

    ``kept_beside``: a copy of the old file, made only where its comments could not be kept.
    """

    listed: SetList
    show: Show
    show_path: str
    differences: tuple[Difference, ...] = ()
    is_new: bool = True
    is_written: bool = False
    dropped_to: str | None = None
    kept_beside: str | None = None
    answered_before: int = 0  # questions that an answer to an earlier version of the list settled
    known: tuple[str, ...] = ()  # titles that a new show takes from the songbooks beside it

    @property
    def terms(self) -> tuple[object, ...]:
        """What the player agrees to: another result with the same terms need not be asked about again."""
        return self.differences, self.kept_beside, self.is_new


class Proposal(msgspec.Struct, frozen=True):
    """The result of importing a list, not written yet, and the texts to write; none if nothing differs."""

    imported: Imported
    changes: tuple[NewText, ...]
