"""A plan of the days until the show: each day's work, what does not fit, what would help."""

import datetime as dt
import enum
from typing import Final

import msgspec

from companion.planning.earlier_shows import KnownBefore
from companion.planning.hearings import ListeningTask
from companion.planning.priority import Ranked
from companion.show import PracticeTime


class BlockKind(enum.Enum):
    """The kind of a block."""

    LEARN = "learn"
    RECALL = "recall, then play"
    RUN = "run the whole set"


class Cut(enum.Enum):
    """The cheapest way to get by with less time for a song; the value is what the player reads."""

    INTRO = "learn the intro only"
    FEATURE = "learn the feature only"
    HEAR = "hear it while you learn it"
    LISTEN = "listen only"
    DROP = "ask to drop"


class SpentToday(msgspec.Struct, frozen=True):
    """Minutes of today that are gone: at the keyboard, and listening."""

    minutes: int = 0
    listening: int = 0


NOTHING_SPENT: Final = SpentToday()


class PracticeBlock(msgspec.Struct, frozen=True):
    """Minutes at the keyboard on one song, or on a set in one go."""

    kind: BlockKind
    title: str
    minutes: int
    what: str = ""  # the features to work on
    cut: Cut | None = None  # it is shorter than the song needs


class Day(msgspec.Struct, frozen=True):
    """One day. ``minutes`` are available, ``used`` are planned."""

    date: dt.date
    minutes: int
    blocks: tuple[PracticeBlock, ...]
    listening: tuple[ListeningTask, ...]
    is_light: bool = False
    is_rehearsal: bool = False

    @property
    def used(self) -> int:
        """Planned minutes at the keyboard."""
        return sum(block.minutes for block in self.blocks)

    @property
    def listened(self) -> float:
        """Planned minutes of listening."""
        return sum(one.minutes for one in self.listening)


class LeftOut(msgspec.Struct, frozen=True):
    """What did not fit of a song, or the run of a set: minutes at the keyboard, and minutes of listening.

    ``cut``: how to get by, if the song is not even covered; None if it only gets fewer repeats than it needs.
    """

    title: str
    what: str
    minutes: float
    listening: float = 0
    cut: Cut | None = None
    is_run: bool = False


class Plan(msgspec.Struct, frozen=True):
    """The whole plan, and the time that it was made for.

    ``helps`` names the changes that help most, the best first, where ``advised`` found some. ``known_before``: songs
    that an earlier show knew.
    """

    show_title: str
    show_date: dt.date
    order: tuple[Ranked, ...]
    days: tuple[Day, ...]
    left_out: tuple[LeftOut, ...] = ()
    helps: tuple[str, ...] = ()
    time: PracticeTime = PracticeTime()
    known_before: tuple[KnownBefore, ...] = ()

    @property
    def cuts(self) -> tuple[LeftOut, ...]:
        """The songs that are not covered, each with its cut."""
        return tuple(one for one in self.left_out if one.cut is not None)

    @property
    def short_minutes(self) -> float:
        """Minutes missing at the keyboard to fit everything."""
        return sum(one.minutes for one in self.left_out)

    @property
    def runs_left_out(self) -> tuple[LeftOut, ...]:
        """The runs of sets for which no day has room in one go."""
        return tuple(one for one in self.left_out if one.is_run)

    @property
    def untouched(self) -> tuple[tuple[dt.date, tuple[str, ...]], ...]:
        """Each rehearsal with the songs, by importance, that nobody has played before it."""
        found = []
        for day in (one.date for one in self.days if one.is_rehearsal):
            played = {block.title for one in self.days if one.date < day for block in one.blocks}
            titles = tuple(one.song.title for one in self.order if one.is_new and one.song.title not in played)
            found += [(day, titles)] if titles else []
        return tuple(found)

    @property
    def short_listening(self) -> float:
        """Minutes of listening missing to fit everything."""
        return sum(one.listening for one in self.left_out)
