"""The show: one engagement as the player wrote it. Frozen; unknown values are None."""

import datetime as dt
import enum

import msgspec

from companion.changes import Change
from companion.music import Key, Meter


class Ending(enum.Enum):
    """How a song ends."""

    COLD = "cold"
    RITARD = "ritard"
    FADE = "fade"
    TAG = "tag"
    VAMP_OUT = "vamp-out"
    SEGUE = "segue"


class Begins(enum.Enum):
    """What starts the song that is up next."""

    NEXT = "next"
    FIRST_NOTE = "first note"


class Steps(enum.Enum):
    """What moves a song on: the foot or the count of bars."""

    BY_FOOT = "by foot"
    BY_BARS = "by bars"


class SoundCall(msgspec.Struct, frozen=True):
    """A sound asked for by name. Without a keyboard it means the first one in the rig that has it."""

    sound: str
    keyboard: str | None = None


class Section(msgspec.Struct, frozen=True):
    """One section as written in the road map. ``bars`` counts one pass; ``passes`` is the written xN."""

    name: str
    bars: int | None = None  # 1..400
    passes: int = 1  # 1..32
    open: bool = False
    feature: str | None = None  # what people listen for; "feature" for a plain *
    sounds: tuple[SoundCall, ...] = ()
    change: Change | None = None
    chords: str | None = None
    hits: str | None = None
    cue: str | None = None
    watch: str | None = None
    key: Key | None = None
    first_words: str | None = None
    tacet: bool = False
    ending: bool = False  # "take it out" leads here; without one, to the last outro, tag or ending


class Song(msgspec.Struct, frozen=True):
    """One song. Tempo in the meter's beats a minute, length in seconds, known and hard 0..5."""

    title: str
    key: Key | None = None
    record_key: Key | None = None
    fingered_in: Key | None = None
    chords_in: Key | None = None  # the key of its letter chords, if not ``key``
    first_words: str | None = None
    tempo_bpm: float | None = None
    meter: Meter | None = None
    length_s: int | None = None
    starts_with: str | None = None
    count_off: str | None = None
    begins: Begins = Begins.NEXT
    steps: Steps = Steps.BY_FOOT
    ending: Ending | None = None
    sounds: tuple[SoundCall, ...] = ()
    change: Change | None = None
    chart: str | bool | None = None  # a file beside the show, or just whether there is one
    known: int | None = None
    hard: int | None = None
    recording: str | None = None
    artist: str | None = None
    notes: str | None = None
    road_map: tuple[Section, ...] = ()
    segue: str | None = None  # the title of the next song, which follows without a break
    tacet: bool = False


class Set(msgspec.Struct, frozen=True):
    """Songs played without a break. ``starts`` in minutes since midnight, past 24:00 for after midnight."""

    name: str
    starts_min: int | None = None
    minutes: int | None = None
    songs: tuple[Song, ...] = ()


class PracticeTime(msgspec.Struct, frozen=True):
    """Minutes a day at the keyboard by weekday (Monday first), days off, minutes of listening in the background.

    ``days_off`` holds weekdays (Monday is 0) and dates. ``rehearsals``: the days on which the band plays.
    """

    minutes: tuple[int, ...] = (60,) * 7
    days_off: tuple[int | dt.date, ...] = ()
    listening: int = 45
    rehearsals: tuple[dt.date, ...] = ()

    def is_off(self, day: dt.date) -> bool:
        """Return whether a day is a day off."""
        return day in self.days_off or day.weekday() in self.days_off

    def on(self, day: dt.date) -> int:
        """Return the minutes at the keyboard on a day; 0 on a day off, and on one with a rehearsal."""
        return 0 if self.is_off(day) or day in self.rehearsals else self.minutes[day.weekday()]

    def listening_on(self, day: dt.date) -> int:
        """Return the minutes of listening on a day, in the car or at the sink; 0 on a day off."""
        return 0 if self.is_off(day) else self.listening

    def more(self, by: int) -> "PracticeTime":
        """Return this time with more minutes on every day that has some; on all days if none has."""
        any_day = any(self.minutes)
        return msgspec.structs.replace(
            self, minutes=tuple(one + by if one or not any_day else 0 for one in self.minutes)
        )


class Show(msgspec.Struct, frozen=True):
    """One engagement: date, band, sets."""

    title: str
    band: str | None = None
    date: dt.date | None = None
    venue: str | None = None
    notes: str | None = None
    sets: tuple[Set, ...] = ()
    practice: PracticeTime | None = None
