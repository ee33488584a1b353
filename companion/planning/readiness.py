"""How ready the player is, for each song and the night, by a stated rule, and what to do in the next half hour.

A song's readiness, 0 to 100, is 30 for what the player knew and has worked on since (``known_now`` of 5), 30
for the blocks done of those needed, 20 for hearings, 20 for the quiz (the share of right answers among the last five;
half of it if nothing was asked). Gaps limit it: without a key at most 40, a feature without a road map or a sound
at most 70. From 80 it is ready, from 50 nearly. The night is the mean of its songs, weighted by how much people would
miss the keys in them; it is ready at 80 where no feature song is below 60. (Common practice, no source.)
"""

import datetime as dt
import enum
from collections.abc import Mapping, Sequence
from typing import Final

import msgspec

from companion.how_many import how_many
from companion.planning.priority import READY, UNRATED_KNOWN, Ranked, rank
from companion.practice_log.song_progress import Progress, of_song
from companion.show import Show, Song
from companion.show.titles import folded

FROM_READY, FROM_NEARLY, LEAST_FOR_A_FEATURE = 80, 50, 60
WITHOUT_KEY, WITHOUT_FORM = 40, 70
HALF_HOUR: Final = 30
ASKED_LATELY: Final = 5


class Readiness(enum.Enum):
    """How ready a song is."""

    READY = "ready"
    NEARLY = "nearly"
    NOT_YET = "not yet"


class SongReady(msgspec.Struct, frozen=True):
    """One song: its score, and what limits it."""

    song: Song
    ranked: Ranked
    score: int
    lacks: tuple[str, ...]

    @property
    def state(self) -> Readiness:
        """The score in a word."""
        return (
            Readiness.READY
            if self.score >= FROM_READY
            else Readiness.NEARLY
            if self.score >= FROM_NEARLY
            else Readiness.NOT_YET
        )


class NightReady(msgspec.Struct, frozen=True):
    """The night: its score, whether it is ready, and what to do now."""

    songs: tuple[SongReady, ...]  # in show order
    score: int
    is_ready: bool
    now: tuple[str, ...]


def song_ready(one: Ranked, done: Progress) -> SongReady:
    """Return how ready a song is."""
    needed = one.blocks + one.blocks_done
    heard = len(done.heard)
    answers = [answer.grade > 1 for answer in done.quiz_answers[-ASKED_LATELY:]]
    score = 30 * one.known_now / 5
    score += 30 * (min(1.0, one.blocks_done / needed) if needed else 1.0)
    score += 20 * (min(1.0, heard / (heard + one.hearings)) if heard + one.hearings else 1.0)
    score += 20 * (sum(answers) / len(answers) if answers else 0.5)
    if one.known_now >= READY and not done.quiz_answers:
        score = max(score, float(FROM_READY))  # the player says that it could be played tonight
    lacks = []
    if one.song.key is None:
        score = min(score, WITHOUT_KEY)
        lacks.append("no key")
    if one.features and not one.song.road_map:
        score = min(score, WITHOUT_FORM)
        lacks.append("a feature, but no road map")
    if one.features and not (one.song.sounds or any(section.sounds for section in one.song.road_map)):
        score = min(score, WITHOUT_FORM)
        lacks.append("a feature, but no sound")
    if one.blocks:
        lacks.append(f"{one.blocks_done} of {how_many(needed, 'block')} played")
    if answers and not all(answers):
        lacks.append(f"{answers.count(False)} wrong of the last {len(answers)} quiz answers")
    return SongReady(one.song, one, round(score), tuple(lacks))


def night_ready(
    show: Show, days_left: int, progress: Mapping[str, Progress], due: int = 0, today: dt.date | None = None
) -> NightReady:
    """Return how ready the night is. ``due`` is the number of quiz questions to brush up today."""
    order = rank(show, max(days_left, 1), progress)
    ready = {one.number: song_ready(one, of_song(progress, one.song)) for one in order}
    songs = tuple(ready[number] for number in sorted(ready))
    weight = sum(one.ranked.times_features for one in songs)
    score = round(sum(one.score * one.ranked.times_features for one in songs) / weight) if weight else 0
    holes = [one for one in songs if one.ranked.features and one.score < LEAST_FOR_A_FEATURE]
    return NightReady(
        songs,
        score,
        bool(songs) and score >= FROM_READY and not holes,
        half_hour(_next_blocks(order, progress, today), ready, due),
    )


def _next_blocks(
    order: Sequence[Ranked], progress: Mapping[str, Progress], today: dt.date | None
) -> tuple[Ranked, ...]:
    """Return the songs to play next as the plan does: those never practised first, none for the second time today."""
    rested = [one for one in order if today is None or today not in of_song(progress, one.song).practised]
    return tuple(sorted(rested, key=lambda one: not one.is_new))


def half_hour(order: Sequence[Ranked], ready: Mapping[int, SongReady], due: int) -> tuple[str, ...]:
    """Return what to do in the next 30 minutes: quiz questions, then the most urgent blocks, then listening."""
    todo, left = [], HALF_HOUR
    if due:
        todo.append(f"5 min: companion quiz, {how_many(due, 'question')} to brush up")
        left -= 5
    for one in order:
        minutes = one.block_minutes(one.blocks_done)
        if one.blocks and one.song.key is not None and minutes <= left:
            todo.append(f"{minutes} min: {'recall, then play' if one.blocks_done else 'learn'} {one.song.title}")
            left -= minutes
        if left < 5:
            break
    weak = sorted(
        (one for one in ready.values() if one.ranked.hearings), key=lambda one: (one.score, one.ranked.number)
    )
    if left >= 4 and weak:
        todo.append(f"{left} min: listen to {', '.join(one.song.title for one in weak[: max(1, left // 4)])}")
    return tuple(todo)


def known_offers(show: Show, progress: Mapping[str, Progress]) -> tuple[tuple[Song, int | None, int], ...]:
    """Offer a new ``known`` where the work done differs from the show file: (song, as written, offered)."""
    offers = []
    for one in rank(show, 1, progress):
        offered = round(one.known_now)
        written = UNRATED_KNOWN if one.song.known is None else one.song.known
        if folded(one.song.title) in progress and offered != written:
            offers.append((one.song, one.song.known, offered))
    return tuple(offers)
