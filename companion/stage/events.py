"""What can happen on stage. Each event carries its time; the journal is a list of these."""

import msgspec

from companion.rig import Action
from companion.show import Song


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


class LeaveOut(Event, frozen=True, tag="leave out"):
    """The section that comes next is not played this time."""


class Call(Event, frozen=True, tag="call"):
    """This song now, by its number in the book; the order goes on behind it."""

    song: int


class PutIn(Event, frozen=True, tag="put in"):
    """A song now that was not on the list."""

    song: Song


class Drop(Event, frozen=True, tag="drop"):
    """The song that comes next is not played."""


class Swap(Event, frozen=True, tag="swap"):
    """The song that comes next and the one after it change places."""


class ToEncore(Event, frozen=True, tag="to encore"):
    """The song that comes next is kept for the encore."""


class Tap(Event, frozen=True, tag="tap tempo"):
    """A beat, tapped: from the second on, the taps are this song's tempo."""


PlainEvent = (
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
    | LeaveOut
    | Drop
    | Swap
    | ToEncore
)
"""Those that need no more than their time: a pedal can ask for them."""

AnyEvent = PlainEvent | Call | PutIn


EVENT_OF: dict[Action, type[PlainEvent]] = {  # "nothing", "sound now" and "chart" leave the show where it is
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
    Action.LEAVE_OUT: LeaveOut,
    Action.DROP: Drop,
    Action.SWAP: Swap,
    Action.TO_ENCORE: ToEncore,
}
