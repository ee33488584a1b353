"""When each song of a show was last played on a night."""

import datetime as dt
from pathlib import Path

from companion.debrief.night_kinds import moment_of
from companion.debrief.night_report import night_parts, was_played
from companion.ports import shelf_of
from companion.rig import data_path
from companion.show.titles import folded


def last_played(show_path: Path) -> dict[str, dt.datetime]:
    """Return when the last night ended on which each song was played, by folded title; rehearsals do not count."""
    found: dict[str, dt.datetime] = {}
    for part in night_parts(show_path, shelf_of(show_path, data_path())):
        ended = moment_of(part.journal.last_s)
        if ended is None:
            continue
        for one in part.played.songs:
            if was_played(part.book, one):
                found[folded(one.title)] = max(ended, found.get(folded(one.title), ended))
    return found
