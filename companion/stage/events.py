"""What can happen on stage. Each event carries its time; the journal is a list of these."""

import msgspec

from companion.rig import Action


class Event(msgspec.Struct, frozen=True, tag_field="do"):
    """Something that happened. ``at_ms`` counts from the beginning of the show; it comes in, it is never asked for."""

    at_ms: int


class Next(Event, frozen=True, tag="next"):
    """One step forward in the road map."""


class Back(Event, frozen=True, tag="back"):
    """One step back."""


class Again(Event, frozen=True, tag="again"):
    """The same pass once more."""


class TakeItOut(Event, frozen=True, tag="take it out"):
    """Straight to the ending."""


class Skip(Event, frozen=True, tag="skip"):
    """Leave this section, whatever passes are left."""


class StartOver(Event, frozen=True, tag="start over"):
    """The song from its first section."""


class TakeBack(Event, frozen=True, tag="take back"):
    """Undo the last step, whatever it was.

    With ``of_ms``, only if it was made then: the press of a hold may have led nowhere.
    """

    of_ms: int | None = None


class NextSong(Event, frozen=True, tag="next song"):
    """Leave this song; the next one is up."""


class PreviousSong(Event, frozen=True, tag="previous song"):
    """The song before this one is up."""


class AllOff(Event, frozen=True, tag="all off"):
    """Silence every instrument now; the sound of the place is sent again."""


class KeyUp(Event, frozen=True, tag="key up"):
    """The band plays this song a semitone higher than the hands do."""


class KeyDown(Event, frozen=True, tag="key down"):
    """The band plays this song a semitone lower than the hands do."""


class Tap(Event, frozen=True, tag="tap tempo"):
    """A beat, tapped: from the second on, the taps are this song's tempo."""


AnyEvent = (
    Next
    | Back
    | Again
    | TakeItOut
    | Skip
    | StartOver
    | TakeBack
    | NextSong
    | PreviousSong
    | AllOff
    | KeyUp
    | KeyDown
    | Tap
)

EVENT_OF: dict[Action, type[AnyEvent]] = {  # "nothing" and "sound now" leave the show where it is
    Action.NEXT: Next,
    Action.BACK: Back,
    Action.AGAIN: Again,
    Action.TAKE_IT_OUT: TakeItOut,
    Action.SKIP: Skip,
    Action.START_OVER: StartOver,
    Action.TAKE_BACK: TakeBack,
    Action.NEXT_SONG: NextSong,
    Action.PREVIOUS_SONG: PreviousSong,
    Action.ALL_OFF: AllOff,
    Action.KEY_UP: KeyUp,
    Action.KEY_DOWN: KeyDown,
    Action.TAP: Tap,
}
