"""The plan and the readiness for one show file and its records."""

import datetime as dt
from collections.abc import Callable
from typing import Final, TypeVar

import msgspec

from companion.edits import Edit, EditClash, Remove, SetValue, open_text, save
from companion.errors import CompanionError
from companion.files import InvalidValue, SourceFile
from companion.files.outputs import write_output
from companion.planning.advice import advised
from companion.planning.earlier_shows import LastPlayed, never_played, with_earlier
from companion.planning.hearings import USUAL_LENGTH_S
from companion.planning.place_explained import explain
from companion.planning.plan import place_of
from companion.planning.plan_model import BlockKind, Plan, SpentToday
from companion.planning.plan_text import calendar
from companion.planning.readiness import NightReady, night_ready
from companion.planning.typed_days import TypedDays
from companion.practice_log.logged import Path_, log_practice, show_and_progress
from companion.practice_log.records import LogKind, PracticeRecord, add_records, read_records
from companion.practice_log.song_progress import minutes_on, named_songs
from companion.show import PracticeTime, Set, Show
from companion.show.practice_time import MAX_MINUTES, read_days_off, read_minutes, read_rehearsals, written
from companion.show.show_file import show_in
from companion.show.titles import folded

T = TypeVar("T")
TODAY: Final = "today"  # what the player calls all that the plan has for this day


def practice_time(
    show_path: Path_,
    minutes: str | None = None,
    days_off: str | None = None,
    listening: int | None = None,
    rehearsals: str | None = None,
    *,
    today: dt.date,
) -> PracticeTime:
    """Return the practice time that is kept with the show, with what was typed in its place. Raises CompanionError."""
    show = show_and_progress(show_path)[0]
    typed = TypedDays(today, show.date)
    return time_typed(show.practice or PracticeTime(), typed, minutes, days_off, listening, rehearsals)


def time_typed(
    kept: PracticeTime,
    typed: TypedDays,
    minutes: str | None = None,
    days_off: str | None = None,
    listening: int | None = None,
    rehearsals: str | None = None,
) -> PracticeTime:
    """Return a practice time with what was typed in its place; ``typed`` reads the days. Raises CompanionError."""
    if minutes is not None:
        kept = msgspec.structs.replace(kept, minutes=_as_typed(read_minutes, minutes))
    if days_off is not None:
        kept = msgspec.structs.replace(kept, days_off=_as_typed(read_days_off, typed.days(days_off, weekdays=True)))
    if rehearsals is not None:
        kept = msgspec.structs.replace(
            kept, rehearsals=_as_typed(read_rehearsals, typed.days(rehearsals, weekdays=False))
        )
    if listening is not None:
        if not 0 <= listening <= MAX_MINUTES:
            raise CompanionError(f"{listening} minutes of listening do not fit in a day. Write: 45")
        kept = msgspec.structs.replace(kept, listening=listening)
    return kept


def _as_typed(read: Callable[[str], T], text: str) -> T:
    try:
        return read(text)
    except InvalidValue as no:
        raise CompanionError(f"{no.problem}. Write: {no.write}") from None


def is_kept(show_path: Path_, time: PracticeTime) -> bool:
    """Return whether the show file already holds this practice time, or says nothing and it is the usual one."""
    return (show_and_progress(show_path)[0].practice or PracticeTime()) == time


def keep_time(show_path: Path_, time: PracticeTime, ask: Callable[[EditClash], bool] | None = None) -> None:
    """Write the practice time into the show file. Raises CompanionError."""
    file = open_text(show_path)
    path = str(file.path)
    edits = time_edits(show_in(SourceFile(path, file.text or "")).show.practice, time)
    save(file, edits, "practice time", check=lambda text: show_in(SourceFile(path, text)), ask=ask)


def time_edits(earlier: PracticeTime | None, time: PracticeTime) -> tuple[Edit, ...]:
    """Return the edits that write a practice time into a show file that has this one."""
    after = written(time)
    if earlier is None:
        return (SetValue(("practice",), dict(after)),)
    before = written(earlier)
    edits: list[Edit] = [SetValue(("practice", key), value) for key, value in after.items() if before.get(key) != value]
    return (*edits, *(Remove(("practice", key)) for key in before if key not in after))


def plan_days(
    show_path: Path_,
    today: dt.date,
    time: PracticeTime | None = None,
    date: dt.date | None = None,
    last_played: LastPlayed = never_played,
) -> Plan:
    """Plan the days until the show, or until ``date``, in this ``time``, else the one that is kept with the show.

    Progress comes from the records; what an earlier show in the same folder knew is not learned again, nor what was
    ``last_played`` on its night.
    """
    show, progress = show_and_progress(show_path)
    show = msgspec.structs.replace(show, date=date) if date else show
    show, before = with_earlier(show_path, show, progress, last_played)
    made = advised(show, today, time or show.practice or PracticeTime(), progress, _spent(show_path, show, today))
    return msgspec.structs.replace(made, known_before=before)


def _spent(show_path: Path_, show: Show, today: dt.date) -> SpentToday:
    """Return what the practice log says of today: it is not planned again."""
    lengths = {folded(song.title): song.length_s or USUAL_LENGTH_S for one in show.sets for song in one.songs}
    played, heard = minutes_on(read_records(show_path).kept, today, lengths)
    return SpentToday(round(played), round(heard))


def means_today(show_path: Path_, words: str) -> bool:
    """Return whether these words mean all that is planned for today; a song of that title comes first."""
    titles = {folded(song.title) for one in show_and_progress(show_path)[0].sets for song in one.songs}
    return folded(words) == TODAY and TODAY not in titles


def log_today(show_path: Path_, did: LogKind, now: dt.datetime) -> tuple[str, ...]:
    """Record what the plan has for today as done: all its blocks and runs, or its listening. Return the titles."""
    made = plan_days(show_path, now.date())
    today = made.days[0]
    if did is LogKind.HEARD:
        heard = [one.title for one in today.listening for _ in range(one.times)]
        add_records(show_path, [PracticeRecord(now, did, title, share=1.0) for title in heard])
        return tuple(heard)
    blocks = [block for block in today.blocks if block.kind is not BlockKind.RUN]
    add_records(show_path, [PracticeRecord(now, did, block.title, minutes=block.minutes) for block in blocks])
    runs = [block.title for block in today.blocks if block.kind is BlockKind.RUN]
    for name in runs:
        log_practice(show_path, LogKind.RAN, name, now)
    return (*(block.title for block in blocks), *runs)


def explain_place(made: Plan, words: str) -> str:
    """Explain the place of the song named by these words. Raises CompanionError if none matches."""
    songs = Set("all", songs=tuple(one.song for one in made.order))
    named = named_songs(Show(made.show_title, sets=(songs,)), words)
    if not named:
        raise CompanionError(f"this show has no song called {words!r}")
    return explain(made, place_of(made.order, named[0]))


def write_calendar(made: Plan, path: Path_, now: dt.datetime) -> None:
    """Write the plan as a calendar file."""
    write_output(path, calendar(made, now))


def readiness(show_path: Path_, now: dt.datetime, due: int = 0, last_played: LastPlayed = never_played) -> NightReady:
    """Return how ready the player is, and what to do in the next half hour; ``due`` questions wait in the quiz."""
    show, progress = show_and_progress(show_path)
    show, _ = with_earlier(show_path, show, progress, last_played)
    days_left = (show.date - now.date()).days if show.date else 7
    return night_ready(show, days_left, progress, due, now.date())
