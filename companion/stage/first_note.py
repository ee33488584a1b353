"""Songs that begin with the player's first note. Pure."""

from companion.show import Begins
from companion.stage.gestures import is_pedals
from companion.stage.place import PositionKind
from companion.stage.state import State

NOTE_ON = 0x90  # MIDI 1.0, Table II


def begins_with(state: State, port: str, message: bytes) -> bool:
    """Return whether this message is the first note of such a song, played on a keyboard of the rig.

    A pad on that keyboard that is mapped as a pedal does not count as a note.
    """
    song = state.song
    return (
        state.place.where is PositionKind.UP_NEXT
        and song is not None
        and song.song.begins is Begins.FIRST_NOTE
        and len(message) == 3
        and message[0] & 0xF0 == NOTE_ON
        and message[2] > 0
        and any(board.port == port for board in state.book.rig.keyboards)
        and not is_pedals(state.book.rig.pedals, port, message)
    )
