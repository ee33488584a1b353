"""Import a set list into a show file, new or existing; work in an existing one is kept."""

import os
from collections.abc import Callable, Sequence
from pathlib import Path

from companion.edits import Appended
from companion.setlist.accepting import Choose, import_settled
from companion.setlist.imported import Imported
from companion.setlist.list_questions import Ask
from companion.setlist.notation import Notation
from companion.setlist.revising.dropped_songs import slug_of
from companion.setlist.settling import settled_list


def import_list(  # noqa: PLR0913  by name, each with a default
    list_path: str | os.PathLike[str],
    show_path: str | os.PathLike[str] | None = None,
    *,
    raw: bytes | None = None,
    notation: Notation | None = None,
    chosen: str | None = None,
    folder: Path | None = None,
    ask: Ask | None = None,
    choose: Choose = lambda _imported, choice: choice,
    agree: Callable[[Imported], bool] = lambda imported: True,  # noqa: ARG005  always yes
    also: Callable[[Imported], Sequence[Appended]] = lambda imported: (),  # noqa: ARG005  nothing more
) -> Imported:
    """Import a list into a show file. ``agree`` is called with the result before anything is written.

    It is called again if the show was changed meanwhile and the result differs. ``also``: lines to append to other
    files in the same step. ``ask`` answers doubts about the list; the answers are kept beside the show for the list's
    next version. ``chosen``: which of the file's lists. ``raw``: the list's bytes if they are in no file;
    ``list_path`` is then only its name. ``folder`` holds the undo lists; default: the user's data folder. Without a
    path, the show takes the list's name, in the current folder. Raises FaultyFile for a list or a show with faults,
    CompanionError if the file cannot be written.
    """
    target = Path(show_path) if show_path else Path(f"{slug_of(Path(list_path).stem)}.yaml")
    settled = settled_list(list_path, target, raw=raw, notation=notation, chosen=chosen, ask=ask)
    says = f"import {Path(list_path).name}"
    return import_settled(settled, target, says, folder=folder, choose=choose, agree=agree, also=also)
