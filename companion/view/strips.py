"""The strips of tape: which sound is on which keyboard, and which stays on, waits for the hands or is set by hand."""

from collections.abc import Iterator
from typing import Final

from companion.stage import BookSong, State, Surroundings
from companion.view.glance import LIFT
from companion.view.view_lines import LineMark, LineRole, ViewLine

NOT_WRITTEN: Final = ("no sound written", "no sound")


def sound_lines(state: State, around: Surroundings) -> Iterator[ViewLine]:
    """Yield a line for each keyboard that has a sound, in the rig's order.

    A sound that this place calls for is on tape; one that only stays on from before is in pencil. With several
    keyboards, each line names its keyboard. The tape of a keyboard that is disconnected is ripped. Where no sound is
    written for the song, the first line says so, circled.
    """
    boards = state.book.rig.keyboards
    called = state.section.called if state.section else frozenset(range(len(boards)))
    are_gone = around.dry_run is not None and not around.never_there
    is_missing = _has_no_sound(state)
    if is_missing and not any(state.on):
        yield ViewLine(LineRole.SOUND, NOT_WRITTEN[0], shorter=NOT_WRITTEN[1:], mark=LineMark.CIRCLE)
    for number, (board, sound) in enumerate(zip(boards, state.on, strict=True)):
        if sound is None:
            continue
        label = board.name if len(boards) > 1 else ""
        is_lost = (board.port or "") in around.lost or are_gone
        reached = sound.program is not None and not is_lost
        if number < len(around.waiting) and around.waiting[number] is not None:
            lift = f"{label}, {LIFT}" if label else LIFT
            yield ViewLine(LineRole.SOUND, sound.name, lift, mark=LineMark.CIRCLE)
        elif is_missing:
            is_missing = False
            forms = tuple(f"{words}: still {sound.name}" for words in NOT_WRITTEN)
            yield ViewLine(LineRole.SOUND, forms[0], label, forms[1:], LineMark.CIRCLE)
        elif sound.by_hand and not reached and _is_asked(state, around, number):
            yield ViewLine(LineRole.SOUND, f"{sound.name}: {sound.by_hand}", label, (sound.by_hand,), LineMark.CIRCLE)
        elif number not in called:
            yield ViewLine(LineRole.SOUND, sound.name, label)
        else:
            yield ViewLine(LineRole.SOUND, sound.name, label, mark=LineMark.RIPPED if is_lost else LineMark.TAPE)


def _has_no_sound(state: State) -> bool:
    """Return whether this song has no sound, in a show whose songs have some: what is on was another song's."""
    song = state.song
    return (
        song is not None
        and not song.song.tacet
        and not _has_sound(song)
        and any(_has_sound(other) for other in state.book.songs)
    )


def _has_sound(song: BookSong) -> bool:
    return any(sound is not None for section in song.sections for sound in section.sounds)


def _is_asked(state: State, around: Surroundings, number: int) -> bool:
    """Return whether the player must still set this keyboard: the last step asked for it, and nothing confirmed it."""
    if number in around.by_hand_done:
        return False
    if state.past is None:
        return True
    before = state.past.last().on
    return number >= len(before) or before[number] != state.on[number]
