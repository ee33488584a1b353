"""What to learn first: a product of six factors, each shown to the player.

urgency = features x opener x hard x little known x no chart x whether the days still suffice. The numbers are common
practice, no source; each is shown so that a player can disagree.

Songs fall into four groups, in this order: those with features and those that open a set; those where the player can
get by; those to skip if time runs out (hard, hardly known, no features); and those that are ready.
"""

import enum
import math
from collections.abc import Mapping, Sequence
from typing import Final

import msgspec

from companion.practice_log.song_progress import Progress, of_song
from companion.show import Set, Show, Song
from companion.show.features import Feature, features_of

UNRATED_HARD: Final = 2
UNRATED_KNOWN: Final = 1
HARD: Final = 4
OPENER: Final = 1.5
READY: Final = 4.5
MINUTES_NEEDED: Final = 40  # at the keyboard, for an average song without features, with a chart
MAX_BLOCKS: Final = 5
FEWEST_HEARINGS, MAX_HEARINGS = 5, 8  # common practice, no source; twice that if there is no chart
HEARINGS_OF_A_READY_SONG: Final = 2


class Group(enum.Enum):
    """The kind of work that a song is; the value is what the player reads."""

    FIRST = "learn first"
    GET_BY = "enough to get by"
    IF_TIME = "skip if time runs out"
    READY = "ready"


WORTH: Final = {Group.FIRST: 1.0, Group.GET_BY: 0.6, Group.IF_TIME: 0.25, Group.READY: 0.1}


class Ranked(msgspec.Struct, frozen=True):
    """A song with its weights. ``known_now``, 0 to 5: the player's ``known`` plus the work done since."""

    song: Song
    number: int  # in the show, from 1
    set_name: str
    group: Group
    features: tuple[Feature, ...]
    hard: int
    known_now: float
    times_features: float
    times_hard: float
    times_unknown: float
    times_chart: float
    times_days: float
    blocks: int  # still to do at the keyboard
    blocks_done: int
    hearings: int  # still to do
    hearings_done: int = 0
    opens: bool = False  # the first song of its set

    @property
    def times_opens(self) -> float:
        """How much more a song weighs that opens a set."""
        return OPENER if self.opens else 1.0

    @property
    def urgency(self) -> float:
        """How urgent it is: the product of the six factors."""
        times = self.times_features * self.times_opens * self.times_hard * self.times_unknown
        return times * self.times_chart * self.times_days

    @property
    def is_ready(self) -> bool:
        """Whether it needs no learning: the player knows it."""
        return self.group is Group.READY

    @property
    def was_known(self) -> bool:
        """Whether the player knew it before any work on it for this show."""
        return self.song.known is not None and self.song.known >= READY

    @property
    def is_new(self) -> bool:
        """Whether it needs learning and was never practised."""
        return self.blocks > 0 and not self.blocks_done

    @property
    def value(self) -> float:
        """The value of its first block to the plan."""
        return self.urgency * WORTH[self.group]

    def block_minutes(self, block: int) -> int:
        """Return the minutes of block number ``block``, from 0: the first is longer, later ones only recall."""
        if block == 0:
            return 15 if self.hard >= HARD else 10
        return 10 if self.hard >= HARD - 1 or self.features else 5


def rank(show: Show, days_left: int, progress: Mapping[str, Progress]) -> tuple[Ranked, ...]:
    """Return all songs that the keys play, in the order to learn them."""
    numbered = enumerate(((one, song) for one in show.sets for song in one.songs), start=1)
    openers = {opener(one) for one in show.sets}
    seen: set[str] = set()
    found = []
    for number, (within, song) in numbered:
        if not song.tacet and song.title.casefold() not in seen:
            seen.add(song.title.casefold())
            done = of_song(progress, song)
            found.append(ranked(song, number, within.name, days_left, done, opens=song.title in openers))
    order = list(Group)
    return tuple(sorted(found, key=lambda one: (order.index(one.group), -one.urgency, one.number)))


def opener(one: Set) -> str | None:
    """Return the title of the first song of a set that the keys play."""
    return next((song.title for song in one.songs if not song.tacet), None)


def ranked(song: Song, number: int, set_name: str, days_left: int, done: Progress, *, opens: bool = False) -> Ranked:
    """Weigh one song. ``opens``: it is the first of its set."""
    features = features_of(song)
    hard = UNRATED_HARD if song.hard is None else song.hard
    needed = _blocks(song, features, hard, UNRATED_KNOWN if song.known is None else song.known)
    known = known_now(song, done, needed)
    practised, _, heard = _since_written(done)
    blocks = max(0, needed - practised, int(is_weak(done)))
    hearings = max(0, _hearings(song, known) - heard)
    return Ranked(
        song=song,
        number=number,
        set_name=set_name,
        group=_group(features, hard, known, opens=opens),
        features=features,
        hard=hard,
        known_now=known,
        times_features=1 + min(sum(feature.weight for feature in features), 6) / 2,
        times_hard=0.5 + 0.3 * hard,
        times_unknown=max(0.05, (5 - known) / 5),
        times_chart=_times_chart(song),
        times_days=min(1.0, max(days_left, 0.5) / blocks) if blocks else 1.0,
        blocks=blocks,
        blocks_done=len(done.practised),
        hearings=hearings,
        hearings_done=len(done.heard),
        opens=opens,
    )


def is_weak(done: Progress) -> bool:
    """Return whether one of the last three quiz answers was wrong: then the song needs another block."""
    return any(answer.grade == 1 for answer in done.quiz_answers[-3:])


def _times_chart(song: Song) -> float:
    """Return how much more a song weighs without a chart."""
    return 1.25 if song.chart is None else 1.0 if song.chart else 1.5


def _group(features: Sequence[Feature], hard: int, known: float, *, opens: bool) -> Group:
    if known >= READY:
        return Group.READY
    if features or opens:
        return Group.FIRST
    return Group.IF_TIME if hard >= HARD and known < 3 else Group.GET_BY


def _blocks(song: Song, features: Sequence[Feature], hard: int, known: float) -> int:
    """Return the number of blocks that a song needs, counted from the player's own ``known``."""
    if known >= READY:
        return 0
    minutes = MINUTES_NEEDED * (0.5 + 0.3 * hard) * (5 - known) / 5
    minutes *= (1.25 if features else 1) * (1 if song.chart else 1.2)
    return max(1, min(MAX_BLOCKS, round(minutes / 10)))


def _hearings(song: Song, known: float) -> int:
    if known >= READY:
        return HEARINGS_OF_A_READY_SONG
    hearings = min(MAX_HEARINGS, max(FEWEST_HEARINGS, MAX_HEARINGS - math.floor(known)))
    return hearings * (2 if song.chart is False else 1)


def known_now(song: Song, done: Progress, blocks: int) -> float:
    """Return how well a song is known, 0 to 5: the player's ``known``, up to 3 for blocks and runs, 1 for hearings.

    A wrong answer among the last three in the quiz limits it to 4.
    """
    known = float(UNRATED_KNOWN if song.known is None else song.known)
    practised, ran, heard = _since_written(done)
    if blocks:
        known += 3 * min(1.0, (practised + ran) / blocks)
    known += min(1.0, heard / FEWEST_HEARINGS)
    if is_weak(done):
        known = min(known, 4.0)
    return min(5.0, known)


def _since_written(done: Progress) -> tuple[int, int, int]:
    """Count the blocks, runs and hearings that ``known`` in the show file does not include yet."""
    practised, ran, heard = done.counted
    return len(done.practised) - practised, len(done.ran) - ran, len(done.heard) - heard
