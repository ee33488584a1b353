"""Counting bars: which bar of the section it is since the press, and when the next one begins. Pure."""

from companion.music import Meter, bar_seconds
from companion.show import Steps

from .place import Where
from .state import State, tempo_due

COMMON_TIME = Meter(4, 4)


def bar_ms(state: State) -> float | None:
    """Give how long a bar of this song lasts; None where nothing plays or no tempo is known. No meter counts as 4/4."""
    tempo_bpm = tempo_due(state)
    if state.place.where is not Where.PLAYING or state.song is None or tempo_bpm is None:
        return None
    return bar_seconds(state.song.song.meter or COMMON_TIME, tempo_bpm) * 1000


def bar_now(state: State, at_ms: int) -> int | None:
    """Tell the bar of this section, from 1, counted from the press that led to it, early or late as it was."""
    lasts_ms = bar_ms(state)
    return None if lasts_ms is None else max(0, int((at_ms - state.section_began_ms) / lasts_ms)) + 1


def next_bar_ms(state: State, at_ms: int) -> int | None:
    """Tell when the next bar begins."""
    lasts_ms, bar = bar_ms(state), bar_now(state, at_ms)
    return None if lasts_ms is None or bar is None else round(state.section_began_ms + bar * lasts_ms + 0.5)


def steps_itself_ms(state: State) -> int | None:
    """Tell when this section is over, in a song that says ``steps: by bars``; an open one waits for its cue."""
    section, lasts_ms = state.section, bar_ms(state)
    if state.song is None or section is None or lasts_ms is None or state.song.song.steps is not Steps.BY_BARS:
        return None
    if section.section.bars is None or section.section.open:
        return None
    return round(state.section_began_ms + section.section.bars * lasts_ms)
