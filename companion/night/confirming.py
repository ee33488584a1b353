"""What a key did to the order of the show, in a few words, and what takes it back."""

from typing import Final

from companion.rig import Action, Rig
from companion.stage import AnyEvent, Drop, FromTheTop, LeaveOut, State, Swap, ToEncore, coming
from companion.stage.order import ENCORE
from companion.view.section_names import name_forms
from companion.view.short_words import cut, lesser_titles

TAKE_BACK_KEY: Final = "backspace"
BEFORE: Final = " before "  # between the titles of two songs that were swapped
BRIEF_WORDS: Final = 2  # of a title, where its line has little room
TITLE_WORDS: Final = 4  # of a title; two of them, what was done and what takes it back are 14 words together


def done(before: State, event: AnyEvent, after: State) -> tuple[str, ...]:
    """Return what the event did, longest form first, with what takes it back; empty if a glance shows it anyway."""
    if before is after:
        return ()
    what = _what(before, event, after)
    if what is None:
        return ()
    key = _takes_back(after.book.rig)
    undo = f"; to undo: {key}" if key else ""
    verb, *songs = what
    named = (BEFORE.join(songs), BEFORE.join(cut(song, BRIEF_WORDS) for song in songs))
    forms = [f"{verb}: {words}{undo}" for words in named]
    if songs[1:]:  # both songs before the verb, and the one that is next now before the other
        forms += [f"{named[1]}{undo}", f"next: {songs[0]}{undo}", f"next: {cut(songs[0], BRIEF_WORDS)}{undo}"]
    return tuple(dict.fromkeys((*forms, f"{verb}{undo}", verb)))


def _what(before: State, event: AnyEvent, after: State) -> tuple[str, ...] | None:
    """Return what was done, and to which song, or to which two; None if nothing was."""
    match event:
        case Drop():
            return "dropped", _title(before)
        case Swap():
            return "swapped", _title(after), _title(before)
        case ToEncore():
            named = any(ENCORE in one.name.casefold() for one in after.book.show.sets)
            return "to the encore" if named else "to the end", _title(before)
        case FromTheTop():
            return "from the top", _title(after)
        case LeaveOut() if after.song is not None:
            left_out = min(after.left_out - before.left_out, default=None)
            return None if left_out is None else ("left out", name_forms(after.song, left_out)[0])
        case _:
            return None


def _title(state: State) -> str:
    """Return the title of the next song that has not begun, cut if it is long."""
    where = coming(state.order, state.place)
    title = "" if where is None else state.book.songs[state.order[where[0]][where[1]]].song.title
    return cut((title, *lesser_titles(title))[-1] if len(title.split()) > TITLE_WORDS else title, TITLE_WORDS)


def _takes_back(rig: Rig) -> str | None:
    """Return which key or pedal takes back; None if the rig uses that key otherwise and names no other."""
    named = [pedal.key or pedal.name for pedal in rig.pedals if pedal.press is Action.TAKE_BACK]
    is_taken = any(pedal.key == TAKE_BACK_KEY for pedal in rig.pedals)
    return next(iter(named), None if is_taken else TAKE_BACK_KEY)
