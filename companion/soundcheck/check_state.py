"""The state of a sound check: what was heard, pressed and found, and the player's possible replies. Pure."""

import enum
from collections.abc import Mapping
from typing import Final

import msgspec

from companion.ports import Direction
from companion.rig import Action, Rig
from companion.stage import Book, Feet, feet_of

from .identity import Identity
from .levels import level_of
from .talk import Wants
from .trials import Trial, trials_of


class Stage(enum.Enum):
    """How far the sound check is."""

    FACTS = "facts"
    CAUTION = "caution"
    SOUNDS = "sounds"
    PEDALS = "pedals"
    LEVELS = "levels"
    KEEPING = "keeping"
    OVER = "over"


class Verdict(enum.Enum):
    """What the player heard. LATER: not heard yet, left for another time."""

    RIGHT = "right"
    WRONG = "wrong"
    LATER = "left for later"


class Word(enum.Enum):
    """The player's possible replies to a sound, by key or pedal."""

    RIGHT = "right"
    WRONG = "wrong"
    TOO_LOUD = "too loud"
    TOO_SOFT = "too soft"
    AGAIN = "send it again"
    BACK = "the one before"
    LATER = "leave it for later"
    ON = "on to the pedals"
    ALL_OFF = "all off"
    STOP = "stop here; you can continue later"


KEYS: Final[Mapping[str, Word]] = {  # where the night has a key for it, the same
    "enter": Word.RIGHT,
    "space": Word.RIGHT,
    "w": Word.WRONG,
    "-": Word.TOO_LOUD,
    "+": Word.TOO_SOFT,
    "=": Word.TOO_SOFT,  # the + key without shift
    "a": Word.AGAIN,
    "backspace": Word.BACK,
    "s": Word.LATER,
    "t": Word.ON,
    "o": Word.ALL_OFF,
    "q": Word.STOP,
}

BY_PEDAL: Final[Mapping[Action, Word]] = {
    Action.NEXT: Word.RIGHT,
    Action.BACK: Word.BACK,
    Action.TAKE_BACK: Word.BACK,
    Action.AGAIN: Word.AGAIN,
    Action.SOUND_NOW: Word.AGAIN,
    Action.SKIP: Word.LATER,
    Action.TAKE_IT_OUT: Word.ON,
    Action.ALL_OFF: Word.ALL_OFF,
}


class Answer(msgspec.Struct, frozen=True):
    """What is known of one trial. ``level``: the volume that it was nudged to; ``kept``: it is in the rig file."""

    verdict: Verdict | None = None
    level: int | None = None
    kept: bool = False


class Standing(msgspec.Struct, frozen=True):
    """The status of one port: ``name`` as the system lists it, or None and ``why`` not."""

    port: str
    direction: Direction
    name: str | None = None
    why: str = ""


class Check(msgspec.Struct, frozen=True):
    """One sound check. ``at`` is the trial that sounds, ``history`` those answered, the last one last.

    ``missed`` are the sounds that the show asks for and the rig lacks, in words; ``pressed`` the pressed pedals, by
    their numbers in the rig; ``sustained`` likewise. ``walk_ends_ms``: after it no further sound is begun.
    """

    book: Book
    trials: tuple[Trial, ...]
    answers: tuple[Answer, ...]
    feet: Feet
    missed: tuple[str, ...] = ()
    minutes: float | None = None
    stage: Stage = Stage.FACTS
    at: int = 0
    history: tuple[int, ...] = ()
    ports: tuple[Standing, ...] = ()
    identities: tuple[tuple[str, Identity], ...] = ()
    pressed: frozenset[int] = frozenset()
    sustained: frozenset[int] = frozenset()
    walk_ends_ms: int | None = None
    stopped: str | None = None
    not_kept: tuple[str, ...] = ()
    no_midi: str | None = None

    @property
    def wants(self) -> Wants:
        """What the terminal reads next."""
        return Wants.NOTHING if self.stage is Stage.OVER else Wants.KEY

    @property
    def turned(self) -> tuple[int, ...]:
        """The trials whose volume is another now than the rig file has."""
        return tuple(
            number
            for number, (answer, trial) in enumerate(zip(self.answers, self.trials, strict=True))
            if not answer.kept and answer.level is not None and answer.level != level_of(trial.sound)
        )

    @property
    def rig(self) -> Rig:
        """The rig."""
        return self.book.rig

    @property
    def trial(self) -> Trial | None:
        """The sound that is being heard."""
        return self.trials[self.at] if self.stage is Stage.SOUNDS else None

    @property
    def level(self) -> int | None:
        """Its present volume, if known."""
        own = level_of(self.trials[self.at].sound)
        nudged_to = self.answers[self.at].level
        return own if nudged_to is None else nudged_to

    def standing(self, port: str, direction: Direction) -> Standing | None:
        """Return a port's status; None where nothing is known yet."""
        return next((one for one in self.ports if (one.port, one.direction) == (port, direction)), None)


def at_start(book: Book, *, missed: tuple[str, ...] = (), minutes: float | None = None) -> Check:
    """Begin a sound check. With ``minutes``, features come first, and it ends in time."""
    trials = trials_of(book, features_first=minutes is not None)
    return Check(book, trials, tuple(Answer() for _ in trials), feet_of(book.rig), missed=missed, minutes=minutes)
