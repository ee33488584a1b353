"""Each song's progress: hearings, practice, runs and answers, counted from the records."""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Mapping

import msgspec

from companion.practice_log.records import LogKind, PracticeRecord
from companion.show import Show, Song
from companion.show.titles import folded

HEARD_ENOUGH = 0.8  # share of a recording; less does not count as a hearing (common practice, no source)
BLOCK_MINUTES = 4  # minutes; less practice than this does not count as a block


class QuizAnswered(msgspec.Struct, frozen=True):
    """One answer in the quiz. ``grade`` 1 (wrong) to 4 (at once)."""

    at: dt.datetime
    question: str
    grade: int


class Progress(msgspec.Struct, frozen=True):
    """One song's progress. Days are in order.

    ``counted``: the blocks, runs and hearings that ``known`` in the show file already includes.
    """

    heard: tuple[dt.date, ...] = ()
    practised: tuple[dt.date, ...] = ()
    minutes: float = 0
    ran: tuple[dt.date, ...] = ()
    quiz_answers: tuple[QuizAnswered, ...] = ()
    counted: tuple[int, int, int] = (0, 0, 0)


NONE = Progress()


def progress_of(records: Iterable[PracticeRecord]) -> dict[str, Progress]:
    """Count the records by folded title; work under an older title counts for the new one."""
    records = list(records)
    now = _titles_now(records)
    heard: dict[str, list[dt.date]] = defaultdict(list)
    practised: dict[str, list[dt.date]] = defaultdict(list)
    minutes: dict[str, float] = defaultdict(float)
    ran: dict[str, list[dt.date]] = defaultdict(list)
    asked: dict[str, list[QuizAnswered]] = defaultdict(list)
    counted: dict[str, tuple[int, int, int]] = {}
    for record in sorted(records, key=lambda one: one.at):
        title = now.get(folded(record.title), folded(record.title))
        if record.did is LogKind.HEARD and record.share >= HEARD_ENOUGH:
            heard[title].append(record.day)
        elif record.did is LogKind.PRACTISED:
            minutes[title] += record.minutes
            if record.minutes >= BLOCK_MINUTES:
                practised[title].append(record.day)
        elif record.did is LogKind.RAN:
            ran[title].append(record.day)
        elif record.did is LogKind.ASKED and 1 <= record.grade <= 4:
            asked[title].append(QuizAnswered(record.at, record.question, record.grade))
        elif record.did is LogKind.KNOWN:
            counted[title] = (len(practised[title]), len(ran[title]), len(heard[title]))
    titles = {*heard, *practised, *minutes, *ran, *asked}
    return {
        title: Progress(
            tuple(heard[title]),
            tuple(practised[title]),
            minutes[title],
            tuple(ran[title]),
            tuple(asked[title]),
            counted.get(title, (0, 0, 0)),
        )
        for title in titles
    }


def known_written(records: Iterable[PracticeRecord]) -> dict[str, dt.datetime]:
    """Return when ``known`` was last written for each song, by folded title; an older title counts for the new one."""
    found: dict[str, dt.datetime] = {}
    records = tuple(records)
    now = _titles_now(records)
    for one in records:
        if one.did is LogKind.KNOWN:
            title = now.get(folded(one.title), folded(one.title))
            found[title] = max(one.at, found.get(title, one.at))
    return found


def _titles_now(records: Iterable[PracticeRecord]) -> dict[str, str]:
    """Return what each renamed song is called now; both titles are folded."""
    now: dict[str, str] = {}
    for record in records:
        if record.did is LogKind.RENAMED:
            for old, new in list(now.items()):
                if new == folded(record.title):
                    now[old] = folded(record.to)
            now[folded(record.title)] = folded(record.to)
            now.pop(folded(record.to), None)
    return now


def minutes_on(records: Iterable[PracticeRecord], day: dt.date, length_s: Mapping[str, int]) -> tuple[float, float]:
    """Return the minutes spent on a day: at the keyboard, and listening. ``length_s`` of songs, by folded title."""
    played = heard = 0.0
    for record in records:
        if record.day == day:
            length = length_s.get(folded(record.title), 0) / 60
            if record.did is LogKind.PRACTISED:
                played += record.minutes
            elif record.did is LogKind.RAN:
                played += length
            elif record.did is LogKind.HEARD:
                heard += record.share * length
    return played, heard


def of_song(progress: Mapping[str, Progress], song: Song) -> Progress:
    """Return a song's progress."""
    return progress.get(folded(song.title), NONE)


def named_songs(show: Show, words: str) -> tuple[Song, ...]:
    """Return the songs that the player names: one by its title or the nearest to it, or all of a set ("set 1")."""
    from rapidfuzz import fuzz, process  # noqa: PLC0415  only a typed name needs it

    from companion.setlist.parsing.set_headings import read_set  # noqa: PLC0415  same

    heading = read_set(words)
    for at, one in enumerate(show.sets, start=1):
        if folded(one.name) == folded(words) or (heading and heading.name in (one.name, f"Set {at}")):
            return one.songs
    songs = [song for one in show.sets for song in one.songs]
    exact = [song for song in songs if folded(song.title) == folded(words)]
    if exact:
        return (exact[0],)
    best = process.extractOne(
        folded(words), [folded(song.title) for song in songs], scorer=fuzz.WRatio, score_cutoff=75
    )
    return (songs[best[2]],) if best else ()
