"""What a list would make of a show file, new or existing, and the texts that would be written. Nothing is."""

from pathlib import Path

from companion.edits import CannotArrange, FileText, NewText, no_file, open_text
from companion.errors import CompanionError
from companion.files import SourceFile
from companion.setlist.imported import Imported, Proposal
from companion.setlist.known_songs import known_songs
from companion.setlist.new_show import new_show
from companion.setlist.revising.diff import revise
from companion.setlist.revising.dropped_songs import on_the_shelf, shelf_path, songs_on, with_songs
from companion.setlist.revising.reordering import Rearranged, rearranged, written
from companion.setlist.revising.revision import Revision, RevisionChoice
from companion.setlist.settling import SettledList
from companion.show import Show
from companion.show.show_file import show_in


def proposed(
    settled: SettledList, target: Path, choice: RevisionChoice | None = None, folder: Path | None = None
) -> Proposal:
    """Return what importing a list into a show would come to. Raises FaultyFile or CompanionError.

    ``choice``: what the player leaves of it; a new show has no choices. ``folder`` holds the undo lists; default: the
    user's data folder.
    """
    listed = settled.listed
    file = open_text(target, folder) if target.exists() else no_file(target)
    old = None if file.text is None else show_in(SourceFile(str(target), file.text)).show
    known = known_songs(target, listed.titles, (old and old.band) or listed.show.band)
    if old is None:
        return new_show(settled, target, known)
    text = file.text or ""
    revision = revise(old, listed, on_the_shelf(target), known, choice)
    new, beside = _new_text(text, old, revision, target)
    imported = Imported(
        listed,
        revision.show,
        str(target),
        revision.differences,
        is_new=False,
        dropped_to=str(shelf_path(target)) if new.dropped else None,
        kept_beside=beside,
        answered_before=len(settled.kept),
    )
    if new.text == text:
        return Proposal(imported, ())
    copy = (NewText(no_file(beside), text, target),) if beside else ()
    shelf = (_shelved(target, new, folder),) if new.dropped else ()
    return Proposal(imported, (*copy, *shelf, NewText(file, new.text)))


def _new_text(text: str, old: Show, revision: Revision, target: Path) -> tuple[Rearranged, str | None]:
    """Return the show's new text, and a path for a copy of the old one if its comments cannot be kept."""
    try:
        return rearranged(text, old, revision, str(target)), None
    except CannotArrange:
        number = 1
        while (beside := target.with_name(f"{target.stem}.before-{number}.yaml")).exists():
            number += 1
        return written(old, revision), str(beside)


def _shelved(target: Path, new: Rearranged, folder: Path | None) -> NewText:
    """Return the new text of the songbook of dropped songs. Raises CompanionError if it would lose one."""
    shelf = shelf_path(target)
    if shelf.is_symlink():
        raise CompanionError(f"{shelf} is a link: replace it with a regular file")
    file: FileText = open_text(shelf, folder) if shelf.exists() else no_file(shelf)
    after = with_songs(file.text or "", str(shelf), new.dropped)
    missing = {title for title, _ in new.dropped} - {song.title for song in songs_on(after, target)}
    if missing:
        raise CompanionError(f"{shelf} cannot hold {', '.join(sorted(missing))}; nothing was changed")
    return NewText(file, after, target)
