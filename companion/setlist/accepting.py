"""Let the player choose among the differences and agree, then write the show."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Final

import msgspec

from companion.edits import Appended, ChangedOnDisk, commit
from companion.setlist.imported import Imported
from companion.setlist.kept_answers import keep_answers, kept_lines
from companion.setlist.proposal import proposed
from companion.setlist.revising.revision import RevisionChoice
from companion.setlist.settling import SettledList

Choose = Callable[[Imported, RevisionChoice], RevisionChoice]
"""Decides which differences to leave, given those that are there under the choice so far; called until it is done."""

MAX_TRIES: Final = 20  # while another program keeps changing the show


def import_settled(
    settled: SettledList,
    target: Path,
    says: str,
    *,
    folder: Path | None = None,
    choose: Choose = lambda _imported, choice: choice,
    agree: Callable[[Imported], bool] = lambda imported: True,  # noqa: ARG005  always yes
    also: Callable[[Imported], Sequence[Appended]] = lambda imported: (),  # noqa: ARG005  nothing more
) -> Imported:
    """Import a list that is read and settled already, as ``import_list`` does. ``says`` names the step for undo."""
    answers = kept_lines(target, settled.answered)
    choice = RevisionChoice()
    agreed: tuple[object, ...] | None = None
    tries = 0
    while tries < MAX_TRIES:
        proposal = proposed(settled, target, choice, folder)
        imported = proposal.imported
        is_agreed = imported.terms == agreed
        if not is_agreed and (chosen := choose(imported, choice)) != choice:
            choice = chosen
            continue
        if not proposal.changes:
            keep_answers(answers)
            return imported
        if not is_agreed and not agree(imported):
            return imported
        agreed = imported.terms
        try:
            commit(proposal.changes, says, appends=(*also(imported), *answers), folder=folder)
        except ChangedOnDisk:
            tries += 1
            continue
        return msgspec.structs.replace(imported, is_written=True)
    raise ChangedOnDisk(f"another program keeps changing {target}; nothing was written")
