"""What a night taught, lesson by lesson, so that each can be taken or left; and the player's own note on a song."""

import datetime as dt
import re
from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import Final

import msgspec

from companion.debrief.called_songs import called_words
from companion.debrief.learned import songs_in
from companion.debrief.night_report import Debrief, Learned, LengthLearned, OpenLearned, debrief
from companion.debrief.songs_known import KnownLearned
from companion.edits import Edit, EditClash, SetValue, open_text, save
from companion.errors import CompanionError
from companion.files import SourceFile, nearest
from companion.music import shown_length
from companion.practice_log.records import LogKind, PracticeRecord, add_records, read_records
from companion.show import Show, Song
from companion.show.show_file import show_in
from companion.show.titles import folded

ALL: Final = "all"
MAX_NAMED: Final = 4  # titles in one line
_NUMBERS: Final = re.compile(r"([0-9]{1,4})(?:\s*-\s*([0-9]{1,4}))?\Z")


class OrderLearned(msgspec.Struct, frozen=True):
    """The songs were played in another order: each set as (title, occurrence); ``lines`` say it in words."""

    order: tuple[tuple[tuple[str, int], ...], ...]
    lines: tuple[str, ...] = ()


class CalledLearned(msgspec.Struct, frozen=True):
    """A song that was called on the night: it can go into the songbook."""

    song: Song


Lesson = LengthLearned | OpenLearned | OrderLearned | CalledLearned | KnownLearned


def lessons_of(learned: Learned) -> tuple[Lesson, ...]:
    """Return the lessons in the order in which the debrief numbers them, from 1."""
    order = (OrderLearned(learned.order, learned.order_lines),) if learned.order else ()
    known = (learned.known,) if learned.known.songs else ()
    return (*learned.lengths, *learned.opened, *order, *map(CalledLearned, learned.called), *known)


def lesson_words(lesson: Lesson) -> str:
    """Return a lesson as one line."""
    match lesson:
        case LengthLearned():
            was = f", not {shown_length(lesson.was_s)}" if lesson.was_s else ""
            nights = f", the median of {lesson.nights} nights" if lesson.nights > 1 else ""
            return f"{lesson.song} takes {shown_length(lesson.now_s)}{was}{nights}"
        case OpenLearned():
            return f"{lesson.song}, {lesson.section} is open"
        case CalledLearned():
            return f"{': '.join(filter(None, (lesson.song.title, called_words(lesson.song))))}, for the songbook"
        case KnownLearned():
            return f"known now: {songs_named(lesson.songs)}"
    return "the songs were played in a different order"


def more_of(lesson: Lesson) -> tuple[str, ...]:
    """Return what a lesson would write where its line does not say it: the order, a line for each set that differs."""
    return lesson.lines if isinstance(lesson, OrderLearned) else ()


def is_written(lesson: Lesson, show: Show) -> bool:
    """Whether a show says already what a lesson would write, or has no such song any more."""
    songs: dict[tuple[str, int], Song] = {}
    order = []
    for one in show.sets:
        names = []
        for song in one.songs:
            names.append((song.title, 1 + sum(title == song.title for title, _ in songs)))
            songs[names[-1]] = song
        order.append(tuple(names))
    match lesson:
        case LengthLearned():
            found = songs.get((lesson.song, lesson.occurrence))
            return found is None or found.length_s == lesson.now_s
        case OpenLearned():
            found = songs.get((lesson.song, lesson.occurrence))
            return found is None or lesson.number >= len(found.road_map) or found.road_map[lesson.number].open
        case OrderLearned():
            return lesson.order == tuple(order)
    return False


def still_open(night: Debrief, show: Show) -> Debrief:
    """Return the debrief without the lessons that the show follows already."""
    lessons = (one for one in lessons_of(night.learned) if not is_written(one, show))
    return msgspec.structs.replace(night, learned=taken(lessons))


def songs_named(titles: Sequence[str]) -> str:
    """Return titles as one line; many only by their number.

    >>> songs_named(["Moth", "Weeds"]), songs_named(["Moth"] * 34)
    ('Moth, Weeds', '34 songs')
    """
    return ", ".join(titles) if len(titles) <= MAX_NAMED else f"{len(titles)} songs"


def songs_called(show_path: Path, *, with_refused: bool = False) -> tuple[Song, ...]:
    """Return the songs called on a show's newest night that are in no file yet, as a rule without those refused.

    There are none if its journal or the practice log has faults.
    """
    try:
        night = debrief(show_path)
        refused = {folded(one.title) for one in read_records(show_path).kept if one.did is LogKind.NOT_KEPT}
    except CompanionError:
        return ()
    called = night.learned.called if night else ()
    return called if with_refused else tuple(one for one in called if folded(one.title) not in refused)


def refuse(show_path: Path, lessons: Iterable[Lesson], at: dt.datetime) -> None:
    """Remember which songs called on the night the player does not want in the songbook. Raises CompanionError."""
    titles = [one.song.title for one in lessons if isinstance(one, CalledLearned)]
    add_records(show_path, [PracticeRecord(at, LogKind.NOT_KEPT, title) for title in titles])


def taken(lessons: Iterable[Lesson]) -> Learned:
    """Return what these lessons change in the show file."""
    kept = tuple(lessons)
    return Learned(
        tuple(one for one in kept if isinstance(one, LengthLearned)),
        tuple(one for one in kept if isinstance(one, OpenLearned)),
        next((one.order for one in kept if isinstance(one, OrderLearned)), ()),
        next((one.lines for one in kept if isinstance(one, OrderLearned)), ()),
        tuple(one.song for one in kept if isinstance(one, CalledLearned)),
        next((one for one in kept if isinstance(one, KnownLearned)), KnownLearned()),
    )


def numbers_in(answer: str, many: int, what: str, none: str) -> set[int]:
    """Return the numbers in "1, 3-5", each from 1 to ``many``. Raises CompanionError, which says what there is."""
    numbers: set[int] = set()
    for part in filter(None, map(str.strip, answer.split(","))):
        found = _NUMBERS.match(part)
        first, last = (int(found[1]), int(found[2] or found[1])) if found else (0, 0)
        if not 1 <= first <= last <= many:
            known = f"1 to {many}" if many else none
            raise CompanionError(f'there is no {what} "{part}". Write: numbers from the debrief ({known})')
        numbers.update(range(first, last + 1))
    return numbers


def chosen(lessons: tuple[Lesson, ...], answer: str) -> tuple[Lesson, ...]:
    """Return the lessons named by their numbers, as in "1, 3-5", or all of them for "all". Raises CompanionError."""
    if answer.strip().casefold() == ALL:
        return lessons
    numbers = numbers_in(answer, len(lessons), "lesson", "none: nothing was learned")
    return tuple(one for number, one in enumerate(lessons, 1) if number in numbers)


def add_note(show_path: Path, title: str, note: str, ask: Callable[[EditClash], bool] | None = None) -> str:
    """Add a line to a song's notes in the show file; return the song's title. Raises CompanionError."""
    file = open_text(show_path)
    path = str(show_path)
    songs = songs_in(file.text or "", path)
    titles = {name: name for name, occurrence in songs if occurrence == 1}
    wanted = next((one for one in titles if one.casefold() == title.strip().casefold()), "")
    if not wanted:
        near = nearest(title, titles)
        raise CompanionError(f'{path} has no song "{title}".' + (f" Write: {near}" if near else ""))
    named, song = songs[wanted, 1]
    edit: Edit = SetValue((named, "notes"), f"{song.notes.rstrip()}\n{note}" if song.notes else note)
    save(file, [edit], f"note on {wanted}", check=lambda text: show_in(SourceFile(path, text)), ask=ask)
    return wanted
