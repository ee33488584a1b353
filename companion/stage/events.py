"""What can happen on stage. Each event carries its time; the journal is a list of events."""

import msgspec

from companion.rig import Action
from companion.show import Song


class Event(msgspec.Struct, frozen=True, tag_field="do"):
    """An event. ``at_ms`` counts from the start of the show; the caller sets it, the core reads no clock."""

    at_ms: int


class Next(Event, frozen=True, tag="next"):
    """One step forward in the road map."""


class Back(Event, frozen=True, tag="back"):
    """One step back in the road map."""


class Again(Event, frozen=True, tag="again"):
    """Repeat this pass."""


class TakeItOut(Event, frozen=True, tag="take it out"):
    """Straight to the ending."""


class Skip(Event, frozen=True, tag="skip"):
    """Leave this section, however many passes are left."""


class StartOver(Event, frozen=True, tag="start over"):
    """Start this song over from its first section."""


class TakeBack(Event, frozen=True, tag="take back"):
    """Undo the last step of any kind.

    With ``of_ms``, only if it was made at that time: the press that began a hold may not have stepped.
    """

    of_ms: int | None = None


class NextSong(Event, frozen=True, tag="next song"):
    """Leave this song; the next one is up."""


class FromTheTop(Event, frozen=True, tag="from the top"):
    """Start the whole show over, as on a new night: an interrupted night was continued, and it was another one's."""


class PreviousSong(Event, frozen=True, tag="previous song"):
    """Go to the song before this one; it is up next."""


class AllOff(Event, frozen=True, tag="all off"):
    """Silence every instrument now, then send the current sounds again."""


class KeyUp(Event, frozen=True, tag="key up"):
    """The band plays this song one semitone higher, relative to the hands."""


class KeyDown(Event, frozen=True, tag="key down"):
    """The band plays this song one semitone lower, relative to the hands."""


class LeaveOut(Event, frozen=True, tag="leave out"):
    """Skip the section that comes next, this time."""


class Call(Event, frozen=True, tag="call"):
    """Play this song now, by its number in the book; the running order continues after it."""

    song: int


class PutIn(Event, frozen=True, tag="put in"):
    """Play a song now that was not on the list."""

    song: Song


class Drop(Event, frozen=True, tag="drop"):
    """Drop the song that comes next."""


class Swap(Event, frozen=True, tag="swap"):
    """Swap the song that comes next with the one after it."""


class ToEncore(Event, frozen=True, tag="to encore"):
    """Keep the song that comes next for the encore."""


class Tap(Event, frozen=True, tag="tap tempo"):
    """A tapped beat; from the second tap on, the taps set this song's tempo."""


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
"""Events that need nothing but their time: a pedal can trigger them."""

AnyEvent = PlainEvent | Call | PutIn | FromTheTop


EVENT_OF: dict[Action, type[PlainEvent]] = {  # "nothing", "sound now" and "chart" do not step the show
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
