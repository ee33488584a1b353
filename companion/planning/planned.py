"""The plan and the readiness for one show file and its records."""

import datetime as dt
from collections.abc import Sequence

import msgspec

from companion.errors import CompanionError
from companion.files.outputs import write_output
from companion.planning.advice import advised
from companion.planning.days import Hours, read_hours
from companion.planning.plan import Plan, place_of
from companion.planning.plan_text import calendar, explain
from companion.planning.readiness import NightReady, night_ready
from companion.practice_log.logged import Path_, show_and_progress
from companion.practice_log.song_progress import named_songs
from companion.show import Set, Show


def plan_days(
    show_path: Path_,
    today: dt.date,
    minutes: str = "60",
    off: Sequence[str] = (),
    listening: int = 45,
    date: dt.date | None = None,
) -> Plan:
    """Plan the days until the show, or until ``date``; progress comes from the records."""
    hours: Hours = read_hours(minutes, off, listening, today=today)
    show, progress = show_and_progress(show_path)
    show = msgspec.structs.replace(show, date=date) if date else show
    return advised(show, today, hours, progress)


def explain_place(made: Plan, words: str) -> str:
    """Explain the place of the song named by these words. Raises CompanionError where none matches."""
    songs = Set("all", songs=tuple(one.song for one in made.order))
    named = named_songs(Show(made.show_title, sets=(songs,)), words)
    if not named:
        raise CompanionError(f"this show has no song called {words!r}")
    return explain(made, place_of(made.order, named[0]))


def write_calendar(made: Plan, path: Path_, now: dt.datetime, at: dt.time = dt.time(18)) -> None:
    """Write the plan as a calendar file."""
    write_output(path, calendar(made, now, at))


def readiness(show_path: Path_, now: dt.datetime, due: int = 0) -> NightReady:
    """Return how ready the player is, and what to do in the next half hour; ``due`` questions wait in the quiz."""
    show, progress = show_and_progress(show_path)
    days_left = (show.date - now.date()).days if show.date else 7
    return night_ready(show, days_left, progress, due)
