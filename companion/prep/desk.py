"""One function for each command of the days before: files in, what is told out. Clock, keys and sound are arguments."""

import datetime as dt
import os
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import msgspec

from companion.edits import Appended, Clash, FileText, open_text
from companion.errors import CompanionError
from companion.files import Source
from companion.files.opening import open_source
from companion.files.writing import write_whole
from companion.prep.advice import advised
from companion.prep.answers import Answer
from companion.prep.days import Hours, read_hours
from companion.prep.landing import land
from companion.prep.listen import Listened, Now, Player, Press, listen, records_of
from companion.prep.plan import Plan, place_of
from companion.prep.plan_told import calendar, explain
from companion.prep.playlist import playlist_of
from companion.prep.progress import Progress, named_songs, progress_of
from companion.prep.questions import Message, ask
from companion.prep.quiz import Sitting, due_cards
from companion.prep.quiz_cards import Card
from companion.prep.ready import NightReady, known_offers, night_ready
from companion.prep.records import Did, Record, add_records, lines_of, read_records, records_path
from companion.regular import is_regular
from companion.setlist import Differs, Imported
from companion.show import Set, Show, Song
from companion.show.reading import show_in

Path_ = str | os.PathLike[str]


def read(show_path: Path_) -> tuple[Show, dict[str, Progress]]:
    """Read a show and how far its songs are. Raises FaultyFile, CompanionError."""
    show = show_in(open_source(show_path)).show
    return show, progress_of(read_records(show_path).kept)


def questions(show_path: Path_) -> Message:
    """Make the message to the band leader."""
    return ask(read(show_path)[0])


def planned(
    show_path: Path_,
    today: dt.date,
    minutes: str = "60",
    off: Sequence[str] = (),
    listening: int = 45,
    date: dt.date | None = None,
) -> Plan:
    """Plan the days until the show, or until ``date``; what was done is taken from the records."""
    hours: Hours = read_hours(minutes, off, listening, today=today)
    show, progress = read(show_path)
    show = msgspec.structs.replace(show, date=date) if date else show
    return advised(show, today, hours, progress)


def why(made: Plan, words: str) -> str:
    """Explain the place of the song that is named by these words. Raises CompanionError where none is."""
    songs = Set("all", songs=tuple(one.song for one in made.order))
    named = named_songs(Show(made.show_title, sets=(songs,)), words)
    if not named:
        raise CompanionError(f"no song of this show is called {words!r}")
    return explain(made, place_of(made.order, named[0]))


def write_calendar(made: Plan, path: Path_, now: dt.datetime, at: dt.time = dt.time(18)) -> None:
    """Write the plan as a calendar file."""
    write_whole(path, calendar(made, now, at))


def ready(show_path: Path_, now: dt.datetime) -> NightReady:
    """Say how ready the player is, and what to do in the next half hour."""
    show, progress = read(show_path)
    days_left = (show.date - now.date()).days if show.date else 7
    due = len(due_cards(show, progress, now, most_new=0))
    return night_ready(show, days_left, progress, due)


# ------------------------------------------------------------------ what was done


def log(show_path: Path_, did: Did, words: str, at: dt.datetime, minutes: float = 0) -> tuple[Song, ...]:
    """Record what was heard, practised or run elsewhere: a song by its title, or "set 1". Raises CompanionError."""
    show, _ = read(show_path)
    songs = tuple(song for song in named_songs(show, words) if not song.tacet)
    if not songs:
        raise CompanionError(f"no song or set of this show is called {words!r}")
    share = 1.0 if did is Did.HEARD else 0.0
    each = minutes / len(songs)
    add_records(show_path, [Record(at, did, song.title, minutes=each, share=share) for song in songs])
    return songs


def renamed_records(imported: Imported, at: dt.datetime) -> tuple[Appended, ...]:
    """Return the records that let what was done follow the songs that a revised list has renamed."""
    renamed = [one for one in imported.differences if one.differs is Differs.RENAMED]
    lines = lines_of([Record(at, Did.RENAMED, one.old_title, to=one.title) for one in renamed])
    return (Appended(str(records_path(imported.show_path)), lines.decode()),) if lines else ()


def exported(show_path: Path_) -> list[dict[str, object]]:
    """Give all records as plain data, for another program."""
    told: list[dict[str, object]] = []
    for one in read_records(show_path).kept:
        said: dict[str, object] = {"at": one.at.isoformat(), "did": one.did.value, "title": one.title}
        more = {"minutes": one.minutes, "share": one.share, "question": one.question, "grade": one.grade, "to": one.to}
        more |= {"recording": one.recording, "firsts": one.firsts, "beats": one.beats, "afresh": one.afresh}
        told.append({**said, **{name: value for name, value in more.items() if value}})
    return told


def offers(show_path: Path_) -> tuple[tuple[Song, int | None, int], ...]:
    """Offer a new ``known`` for songs that were worked on: (song, as written, offered)."""
    open_text(show_path)  # what was half written when the last run was killed is finished first
    return known_offers(*read(show_path))


def take_known(
    show_path: Path_,
    taken: Sequence[tuple[Song, int]],
    at: dt.datetime,
    file: FileText | None = None,
    ask: Callable[[Clash], bool] | None = None,
) -> None:
    """Write a new ``known`` into the show file. From then on it holds what was done until now.

    ``file``: the show as it was when the offer was made. The file and the records are written in one step.
    """
    file = file or open_text(show_path)
    show = show_in(Source(str(show_path), file.text or "")).show
    wanted = {song.title: known for song, known in taken}
    answers = [
        Answer("known", wanted[song.title], set_at, song_at, song.title)
        for set_at, one in enumerate(show.sets)
        for song_at, song in enumerate(one.songs)
        if song.title in wanted
    ]
    if answers:
        lines = lines_of([Record(at, Did.KNOWN, title) for title in wanted]).decode()
        land(file, answers, "known", ask=ask, appends=[Appended(str(records_path(show_path)), lines)])


# ------------------------------------------------------------------ quiz and listening


class Sat(msgspec.Struct, frozen=True):
    """What came of a sitting of the quiz."""

    right: int
    wrong: int
    due: int


def quiz(
    show_path: Path_,
    now: Callable[[], dt.datetime],
    answer: Callable[[Card], int | None],
    most: int = 20,
    only: str = "",
) -> Sat:
    """Ask what is due. ``answer`` puts a card to the player and gives the grade, or None to stop."""
    show, progress = read(show_path)
    titles = {song.title for song in named_songs(show, only)} if only else None
    due = [one.card for one in due_cards(show, progress, now()) if titles is None or one.card.song.title in titles]
    sitting = Sitting(tuple(due[:most]))
    while (card := sitting.card) is not None:
        grade = answer(card)
        if grade is None:
            break
        add_records(show_path, [Record(now(), Did.ASKED, card.song.title, question=card.name, grade=int(grade))])
        sitting = sitting.answered(grade)
    return Sat(sitting.right, sitting.wrong, len(due))


def listen_to(
    show_path: Path_,
    player: Player,
    presses: Callable[[], Iterator[Press]],
    tell: Callable[[Now], None],
    wait: Callable[[], None],
    now: Callable[[], dt.datetime],
    only: str = "",
) -> tuple[Listened, tuple[str, ...]]:
    """Play the recordings in set order and record what was heard; gives also what could not be played, with why."""
    show, _ = read(show_path)
    beside = Path(show_path).resolve().parent
    found = playlist_of(show, lambda recording: is_regular(beside / recording), only)
    files = [track for track in found.tracks if not track.is_link]
    listened = listen(files, lambda where: str(beside / where), player, presses, tell, wait)
    add_records(show_path, records_of(listened, now()))
    silent = [
        *(f"{track.song.title}: {track.where} is not there" for track in found.missing),
        *(f"{track.song.title}: a link; companion playlist writes it" for track in found.tracks if track.is_link),
        *(f"{song.title}: no recording" for song in found.without),
        *(f"{track.song.title}: {problem}" for track, problem in listened.unplayable),
    ]
    return listened, tuple(silent)
