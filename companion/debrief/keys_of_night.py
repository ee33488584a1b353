"""Keys that were changed on the day of a show: they may be for that night alone."""

import datetime as dt
from pathlib import Path

from companion.edits.undo_list import read_undo_list
from companion.errors import CompanionError
from companion.files import SourceFile
from companion.files.folders import data_path
from companion.music import Key
from companion.show.show_file import show_in
from companion.show.titles import folded


def keys_before(path: Path, day: dt.date | None, folder: Path | None = None) -> dict[str, Key]:
    """Return the keys that the songs had before the first change on the show's ``day``, by folded title.

    There are none if nothing was changed on that day, or nothing is known of the days before.
    """
    known = read_undo_list(path, folder or data_path())
    days = [dt.datetime.fromisoformat(step.at).astimezone().date() for step in known.steps]
    first = next((at for at, one in enumerate(days) if day is not None and one >= day), 0)
    if not first or days[first] != day:
        return {}
    try:
        show = show_in(SourceFile(str(path), known.texts[first])).show
    except CompanionError:
        return {}
    return {folded(song.title): song.key for one in show.sets for song in one.songs if song.key is not None}
