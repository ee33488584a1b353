"""The state of a sound check: what was heard, pressed and found, and the player's possible replies. Pure."""

import enum
from collections.abc import Mapping
from typing import Final

import msgspec

from companion.night.keyboards import port_word
from companion.ports import Direction
from companion.rig import Action, Rig
from companion.soundcheck.check.identity import Identity
from companion.soundcheck.check.levels import level_of
from companion.soundcheck.check.trials import Trial, trials_of
from companion.soundcheck.talk import TerminalRead
from companion.stage import Book, Feet, feet_of


class CheckStage(enum.Enum):
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


class SoundReply(enum.Enum):
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


KEYS: Final[Mapping[str, SoundReply]] = {  # where the night has a key for it, the same
    "enter": SoundReply.RIGHT,
    "space": SoundReply.RIGHT,
    "w": SoundReply.WRONG,
    "-": SoundReply.TOO_LOUD,
    "+": SoundReply.TOO_SOFT,
    "=": SoundReply.TOO_SOFT,  # the + key without shift
    "a": SoundReply.AGAIN,
    "backspace": SoundReply.BACK,
    "s": SoundReply.LATER,
    "t": SoundReply.ON,
    "o": SoundReply.ALL_OFF,
    "q": SoundReply.STOP,
}

BY_PEDAL: Final[Mapping[Action, SoundReply]] = {
    Action.NEXT: SoundReply.RIGHT,
    Action.BACK: SoundReply.BACK,
    Action.TAKE_BACK: SoundReply.BACK,
    Action.AGAIN: SoundReply.AGAIN,
    Action.SOUND_NOW: SoundReply.AGAIN,
    Action.SKIP: SoundReply.LATER,
    Action.TAKE_IT_OUT: SoundReply.ON,
    Action.ALL_OFF: SoundReply.ALL_OFF,
}


class TrialAnswer(msgspec.Struct, frozen=True):
    """What is known of one trial. ``level``: the volume that it was nudged to; ``kept``: it is in the rig file.

    ``unsent``: no MIDI reached its keyboard when it was judged, so what was heard was chosen on the panel.
    """

    verdict: Verdict | None = None
    unsent: bool = False
    level: int | None = None
    kept: bool = False


class Standing(msgspec.Struct, frozen=True):
    """The status of one port: ``name`` as the system lists it, or None and ``why`` not."""

    port: str
    direction: Direction
    name: str | None = None
    why: str = ""


class SoundCheck(msgspec.Struct, frozen=True):
    """One sound check. ``at`` is the trial that sounds, ``history`` those answered, the last one last.

    ``missed`` are the sounds that the show asks for and the rig lacks, in words; ``pressed`` the pressed pedals, by
    their numbers in the rig; ``sustained`` likewise. ``walk_ends_ms``: after it no further sound is begun.
    """

    book: Book
    trials: tuple[Trial, ...]
    answers: tuple[TrialAnswer, ...]
    feet: Feet
    missed: tuple[str, ...] = ()
    minutes: float | None = None
    stage: CheckStage = CheckStage.FACTS
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
    def wants(self) -> TerminalRead:
        """What the terminal reads next."""
        return TerminalRead.NOTHING if self.stage is CheckStage.OVER else TerminalRead.KEY

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
        return self.trials[self.at] if self.stage is CheckStage.SOUNDS else None

    @property
    def level(self) -> int | None:
        """Its present volume, if known."""
        own = level_of(self.trials[self.at].sound)
        nudged_to = self.answers[self.at].level
        return own if nudged_to is None else nudged_to

    def reaches(self, number: int) -> bool:
        """Return whether MIDI reaches the keyboard of a trial, or none need: its sound is set by hand."""
        trial = self.trials[number]
        standing = self.standing(port_word(self.rig.keyboards[trial.keyboard]), Direction.OUT)
        by_hand = trial.sound.program is None and trial.sound.by_hand is not None
        return by_hand or (standing is not None and standing.name is not None)

    def standing(self, port: str, direction: Direction) -> Standing | None:
        """Return a port's status; None if nothing is known yet."""
        return next((one for one in self.ports if (one.port, one.direction) == (port, direction)), None)


def at_start(book: Book, *, missed: tuple[str, ...] = (), minutes: float | None = None) -> SoundCheck:
    """Begin a sound check. With ``minutes``, features come first, and it ends in time."""
    trials = trials_of(book, features_first=minutes is not None)
    return SoundCheck(
        book, trials, tuple(TrialAnswer() for _ in trials), feet_of(book.rig), missed=missed, minutes=minutes
    )
