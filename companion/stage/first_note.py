"""A song that begins with the player's first note. Pure."""

from companion.show import Begins

from .gestures import is_pedals
from .place import Where
from .state import State

NOTE_ON = 0x90  # MIDI 1.0, Table II


def begins_with(state: State, port: str, message: bytes) -> bool:
    """Tell whether this is the first note of a song that begins with it, played on a keyboard of the rig.

    A pad of that keyboard which is a pedal of the rig plays no note.
    """
    song = state.song
    return (
        state.place.where is Where.UP_NEXT
        and song is not None
        and song.song.begins is Begins.FIRST_NOTE
        and len(message) == 3
        and message[0] & 0xF0 == NOTE_ON
        and message[2] > 0
        and any(board.port == port for board in state.book.rig.keyboards)
        and not is_pedals(state.book.rig.pedals, port, message)
    )
