"""The next gig, begun from the one on the desk: its songs go into the songbook, and a new show uses them from there."""

from pathlib import Path
from typing import Final

from companion.edits import Edit, Remove, SetValue, applied, commit
from companion.pages.desk import INTO_BOOK, ShowDesk, Stack
from companion.pages.markup import Html, tag
from companion.pages.title_form import title_form_html
from companion.show.songbook import USE

OF_ITS_KEY: Final = ("key", "chords_in", "road_map")
OF_ITS_NIGHT: Final = ("date", "venue", "notes", "practice")
"""What belongs to one engagement; the times of its sets do too."""


def songs_kept(desk: ShowDesk) -> Stack:
    """Put all songs into the songbook beside the show, as ``companion songbook --yes`` does; return the show after it.

    Those that were called on its night go there too.

    Raises CompanionError or FaultyFile, and changes nothing then.
    """
    from companion.debrief.into_songbook import kept_unasked, offer, put_in, with_songs_called
    from companion.debrief.lessons import songs_called
    from companion.setlist.known_songs import FIRST

    offered = offer(desk.path, desk.path.with_name(FIRST))
    called = songs_called(desk.path)
    if offered.offers or called:
        changed = (
            put_in(offered, {one.name: kept_unasked(one, offered.band) for one in offered.offers})
            if offered.offers
            else ()
        )
        changed = with_songs_called(offered, changed, called)
        commit(changed, INTO_BOOK, folder=desk.folder)
    return desk.look()


def next_text(stack: Stack, title: str, path: Path) -> str:
    """Return a new show with the same band, sets and songs. Raises CompanionError or FaultyFile."""
    from companion.debrief.song_tables import song_tables

    show = stack.show
    edits: list[Edit] = [SetValue(("show",), title)]
    edits += [Remove((key,)) for key in OF_ITS_NIGHT if getattr(show, key) is not None]
    for one in stack.sets:
        times = {"starts": one.one.starts_min, "minutes": one.one.minutes}
        edits += [Remove((one.named, key)) for key, value in times.items() if value is not None]
    for named, table in song_tables(stack.file.text or "", str(path)):
        if {USE, "key"} <= {*table}:  # the key was this show's alone: the songbook has the usual one
            edits += [Remove((named, key)) for key in OF_ITS_KEY if key in table]
    return applied(stack.file.text or "", edits, str(path))


def next_gig_html() -> Html:
    """Return the place where the next gig begins."""
    return tag(
        "details",
        tag("summary", "The next gig"),
        tag(
            "p",
            "Its songs go into the songbook with all your work, and a new show begins with the same sets. Then bring "
            "the new list in.",
        ),
        *title_form_html(
            "next-gig", tag("p", tag("button", "Begin it from this one", type="submit"), class_="buttons")
        ),
        id="after",
    )
