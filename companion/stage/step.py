"""The show is one pure function: ``step(state, event) -> state, effects``."""

from typing import assert_never

from msgspec.structs import replace

from companion.changes import Change
from companion.stage.book import with_song
from companion.stage.effects import Clock, Effect, Notify, SendSound, SilenceAll, Tune
from companion.stage.events import (
    Again,
    AllOff,
    AnyEvent,
    Back,
    Call,
    Drop,
    FromTheTop,
    KeyDown,
    KeyUp,
    LeaveOut,
    Next,
    NextSong,
    PreviousSong,
    PutIn,
    Skip,
    StartOver,
    Swap,
    TakeBack,
    TakeItOut,
    Tap,
    ToEncore,
)
from companion.stage.moves import (
    Order,
    back_place,
    ending_place,
    next_place,
    next_song_place,
    previous_song_place,
    runs_on,
    section_after,
    skip_place,
)
from companion.stage.order import called, coming, dropped, moved_to_encore, swapped
from companion.stage.place import PositionKind, ShowPosition
from companion.stage.state import MAX_TAPS, State, at_start, called_for, clock_due
from companion.stage.tonight import SongTonight, song_tonight, with_song_left
from companion.stage.tuning import tuning_due

FURTHEST_SHIFT = 11  # semitones; for an octave, players use the keyboard's octave button


def step(state: State, event: AnyEvent) -> tuple[State, tuple[Effect, ...]]:
    """Return the state after this event, and the effects to carry out.

    Never raises: an event that leads nowhere from here (an accidental press) leaves the state unchanged.
    """
    book, order, place = state.book, state.order, state.place
    match event:
        case Next():
            return _moved(state, next_place(book, order, place, state.left_out), event.at_ms)
        case Back():
            there = back_place(book, order, place, state.left_out, {one.song: one.left_out for one in state.tonight})
            return _moved(state, there, event.at_ms, afresh=False)
        case Skip():
            return _moved(state, skip_place(book, order, place, state.left_out), event.at_ms)
        case TakeItOut():
            return _moved(state, ending_place(book, order, place), event.at_ms)
        case NextSong():
            return _moved(state, next_song_place(order, place), event.at_ms)
        case PreviousSong():
            return _moved(state, previous_song_place(order, place), event.at_ms)
        case Again():
            once_more = replace(place, rounds=place.rounds + 1) if place.where is PositionKind.PLAYING else place
            return _moved(state, once_more, event.at_ms)
        case StartOver():
            top = (
                ShowPosition(PositionKind.PLAYING, place.set, place.at)
                if place.where is PositionKind.PLAYING
                else place
            )
            return _moved(state, top, event.at_ms, even_if_here=place.where is PositionKind.PLAYING)
        case FromTheTop():
            return _from_the_top(state, event.at_ms)
        case LeaveOut():
            return _left_out(state, event.at_ms)
        case Call():
            return _called(state, event)
        case PutIn():
            with_it = replace(state, book=with_song(book, event.song))
            return _reordered(with_it, called(order, place, len(book.songs)), event.at_ms, past=state)
        case Drop():
            return _reordered(state, dropped(order, place), event.at_ms, "is dropped")
        case Swap():
            return _reordered(state, swapped(order, place), event.at_ms, "has changed places")
        case ToEncore():
            return _reordered(state, moved_to_encore(order, place, book.show), event.at_ms, "is in the encore")
        case KeyUp():
            return _shifted(state, +1, event.at_ms)
        case KeyDown():
            return _shifted(state, -1, event.at_ms)
        case Tap():
            return _tapped(state, event.at_ms)
        case TakeBack():
            return _taken_back(state, event.of_ms)
        case AllOff():
            return state, (SilenceAll(), *all_due(state))
        case _:
            assert_never(event)


def all_due(state: State) -> tuple[SendSound | Tune | Clock, ...]:
    """Return all effects of this state, as if for the first time: at start, after a crash, when a port returns."""
    sounds = (SendSound(number, sound) for number, sound in enumerate(state.on) if sound is not None)
    return (*sounds, Tune(tuning_due(state)), clock_due(state))


def _moved(
    state: State, place: ShowPosition, at_ms: int, *, even_if_here: bool = False, afresh: bool = True
) -> tuple[State, tuple[Effect, ...]]:
    """Step to another place. A song reached ``afresh`` starts fresh; otherwise it is as it was left."""
    if place == state.place and not even_if_here:
        return state, ()
    arrives = place.where is PositionKind.UP_NEXT or _song_number(state, place) != _song_number(state, state.place)
    begins = place.where is PositionKind.PLAYING and (
        arrives or state.place.where is not PositionKind.PLAYING or even_if_here
    )
    moved = replace(
        state,
        place=place,
        stepped_ms=at_ms,
        section_began_ms=at_ms,
        song_began_ms=at_ms if begins else None if place.where is not PositionKind.PLAYING else state.song_began_ms,
        past=state.remembered(),
    )
    if arrives or even_if_here or (place.set, place.at) != (state.place.set, state.place.at):
        moved = _at_its_song(state, moved, afresh=afresh)
    moved = replace(moved, on=called_for(moved))
    return moved, changes(state, moved, arriving=arrives, begins=begins)


def _at_its_song(before: State, after: State, *, afresh: bool) -> State:
    """Return the state with tonight's changes to the song it moves to, after storing those of the song it leaves.

    The band's key and tempo belong to the song. A section is left out "this time": until the song starts again.
    """
    left, song = _song_number(before, before.place), _song_number(after, after.place)
    tonight = before.tonight
    if left is not None:
        tonight = with_song_left(tonight, SongTonight(left, before.shift, before.left_out, before.taps_ms))
    there = SongTonight(-1) if song is None else song_tonight(tonight, song)
    left_out = frozenset[int]() if afresh else there.left_out
    return replace(after, shift=there.shift, taps_ms=there.taps_ms, left_out=left_out, tonight=tonight)


def _taken_back(state: State, of_ms: int | None) -> tuple[State, tuple[Effect, ...]]:
    before = state.before() if of_ms in (None, state.stepped_ms) else None
    return (state, ()) if before is None else (before, changes(state, before, arriving=False))


def _from_the_top(state: State, at_ms: int) -> tuple[State, tuple[Effect, ...]]:
    """Return to the first song of the show, in the written order, with nothing that was changed tonight."""
    top = replace(at_start(state.book), stepped_ms=at_ms, section_began_ms=at_ms, past=state.remembered())
    top = replace(top, on=tuple(due or on for due, on in zip(top.on, state.on, strict=True)))
    return top, changes(state, top, arriving=True)


def _called(state: State, event: Call) -> tuple[State, tuple[Effect, ...]]:
    if not 0 <= event.song < len(state.book.songs):
        return state, ()
    return _reordered(state, called(state.order, state.place, event.song), event.at_ms)


def _left_out(state: State, at_ms: int) -> tuple[State, tuple[Effect, ...]]:
    """Leave out the section that comes next. Before a song has begun this changes nothing."""
    song = state.song
    follows = section_after(song, state.place.section, state.left_out) if song else None
    if follows is None or state.place.where is not PositionKind.PLAYING:
        return state, ()
    return replace(state, left_out=state.left_out | {follows}, stepped_ms=at_ms, past=state.remembered()), ()


def _reordered(
    state: State, changed: tuple[Order, ShowPosition], at_ms: int, how: str = "", *, past: State | None = None
) -> tuple[State, tuple[Effect, ...]]:
    """Change the running order, and tell the player if a song used to segue into the one that moved."""
    order, place = changed
    before = past or state
    if changed == (state.order, state.place):
        return before, ()
    moved = replace(state, order=order, place=place, stepped_ms=at_ms, past=before.remembered())
    if place == state.place and _song_number(moved, place) == _song_number(state, state.place):
        return moved, _parted(before, how)
    there = _at_its_song(before, replace(moved, section_began_ms=at_ms, song_began_ms=None), afresh=True)
    there = replace(there, on=called_for(there))
    return there, (*changes(before, there, arriving=True), *_parted(before, how))


def _parted(state: State, how: str) -> tuple[Notify, ...]:
    where = coming(state.order, state.place)
    if not how or where is None or where[1] == 0 or not runs_on(state.book, state.order, where[0], where[1] - 1):
        return ()
    songs = [state.book.songs[number].song.title for number in state.order[where[0]][where[1] - 1 : where[1] + 1]]
    return (Notify(f"{songs[0]} ran straight into {songs[1]}, which {how}"),)


def _tapped(state: State, at_ms: int) -> tuple[State, tuple[Effect, ...]]:
    """Handle a tapped beat. It is not a step: nothing to take back, the next taps correct it."""
    if state.song is None:
        return state, ()
    tapped = replace(state, taps_ms=(*state.taps_ms, at_ms)[-MAX_TAPS:])
    return tapped, changes(state, tapped, arriving=False)


def _shifted(state: State, semitones: int, at_ms: int) -> tuple[State, tuple[Effect, ...]]:
    """Follow the band into another key, within what the tuning messages can reach with any ``fingered_in``."""
    shift = max(-FURTHEST_SHIFT, min(FURTHEST_SHIFT, state.shift + semitones))
    if state.song is None or shift == state.shift:
        return state, ()
    shifted = replace(state, shift=shift, stepped_ms=at_ms, past=state.remembered())
    return shifted, changes(state, shifted, arriving=False)


def _song_number(state: State, place: ShowPosition) -> int | None:
    if place.where in (PositionKind.UP_NEXT, PositionKind.PLAYING):
        return state.order[place.set][place.at]
    return None


def changes(
    before: State, after: State, *, arriving: bool = False, begins: bool = False
) -> tuple[SendSound | Tune | Clock, ...]:
    """Return effects for the sounds, tuning and clock that differ; a sound that is already on is not sent again."""
    sounds = tuple(
        SendSound(number, sound, _when(after, number, arriving=arriving))
        for number, (was, sound) in enumerate(zip(before.on, after.on, strict=True))
        if sound is not None and sound != was
    )
    tuning = () if tuning_due(after) == tuning_due(before) else (Tune(tuning_due(after)),)
    clock = replace(clock_due(after), from_the_top=begins)
    return (*sounds, *tuning) if clock == clock_due(before) else (*sounds, *tuning, clock)


def _when(state: State, keyboard: int, *, arriving: bool) -> Change:
    """Return when a change goes out: as section, song or rig say; by default on arriving at a song when hands lift."""
    song, section = state.song, state.section
    written = (
        (section.section.change if section else None)
        or (song.song.change if song else None)
        or state.book.rig.keyboards[keyboard].change
    )
    return written or (Change.WHEN_HANDS_LIFT if arriving else Change.AT_ONCE)
