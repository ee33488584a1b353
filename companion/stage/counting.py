"""The duration of a bar at the song's own tempo. Pure."""

from companion.music import Meter, bar_seconds
from companion.stage.place import PositionKind
from companion.stage.state import State, tempo_due

COMMON_TIME = Meter(4, 4)


def bar_ms(state: State) -> float | None:
    """Return the duration of a bar in ms; None if nothing plays or no tempo is known. No meter counts as 4/4."""
    tempo_bpm = tempo_due(state)
    if state.place.where is not PositionKind.PLAYING or state.song is None or tempo_bpm is None:
        return None
    return bar_seconds(state.song.song.meter or COMMON_TIME, tempo_bpm) * 1000
