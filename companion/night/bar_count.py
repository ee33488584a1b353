"""The bars of the current section: shown if the player wants them, and the steps of a song that steps by bars."""

from collections.abc import Callable

from companion.show import Steps
from companion.stage import PositionKind, State
from companion.stage.counting import COMMON_TIME, bar_ms
from companion.stage.following import Count, Followed, bars_over, counted, due_ms

AGAIN_MS = 10  # a due tick may be late: look for it again after this long


class Bars:
    """Counts from the press that began the section: by the drummer's clock if it is received, else by the tempo."""

    def __init__(self, followed: Callable[[], Followed | None] = lambda: None) -> None:
        """``followed`` returns the drummer's clock; None while none is received."""
        self.shown = False
        self._followed = followed
        self._count: Count | None = None
        self._waits_since_ms: int | None = None  # a section that began earlier waits for a press

    def bar(self, state: State, at_ms: int) -> int | None:
        """Return the bar of this section, from 1; None if bars are not shown or the length of one is unknown."""
        over = self._over(state, at_ms) if self.shown else None
        return None if over is None else max(0, int(over)) + 1

    def next_ms(self, state: State, at_ms: int) -> int | None:
        """Return when to show the next bar."""
        over = self._over(state, at_ms) if self.shown else None
        due = None if over is None else self._due(state, max(0, int(over)) + 1, at_ms)
        return None if due is None else round(due + 0.5)

    def steps_itself_ms(self, state: State, at_ms: int) -> int | None:
        """Return when this section is over, in a song with ``steps: by bars``; an open section waits for its cue.

        After the computer has slept, the song waits for a press: the band's place is unknown. So it does where such a
        step was taken back: its bars are over, and it would be made again at once.
        """
        song, section = state.song, state.section
        if song is None or section is None or song.song.steps is not Steps.BY_BARS:
            return None
        if section.section.bars is None or section.section.open or self._over(state, at_ms) is None:
            return None
        if self._waits_since_ms is not None and state.section_began_ms < self._waits_since_ms:
            return None
        due = self._due(state, section.section.bars, at_ms)
        return None if due is None else round(due)

    def woken(self, at_ms: int) -> None:
        """Record that the computer slept until now."""
        self._waits_since_ms = at_ms

    def taken_back(self, state: State, at_ms: int) -> None:
        """Record that a step was taken back, to this state."""
        over_ms = self.steps_itself_ms(state, at_ms)
        if over_ms is not None and over_ms <= at_ms:
            self._waits_since_ms = at_ms

    def _over(self, state: State, at_ms: int) -> float | None:
        if state.place.where is not PositionKind.PLAYING or state.song is None:
            self._count = None
            return None
        followed = self._followed()
        meter, lasts_ms = state.song.song.meter or COMMON_TIME, bar_ms(state)
        self._count = counted(
            self._count,
            state.section_began_ms,
            followed=followed,
            at_ms=at_ms,
            meter=meter,
            bar_ms=lasts_ms,
            is_first=state.place.section == 0 and state.place.passed == 1 and not state.place.rounds,
        )
        return bars_over(self._count, followed, at_ms, meter, lasts_ms)

    def _due(self, state: State, bars: int, at_ms: int) -> float | None:
        if self._count is None or state.song is None:
            return None
        followed, meter, lasts_ms = self._followed(), state.song.song.meter or COMMON_TIME, bar_ms(state)
        due = due_ms(self._count, bars, followed=followed, at_ms=at_ms, meter=meter, bar_ms=lasts_ms)
        over = bars_over(self._count, followed, at_ms, meter, lasts_ms)
        if due is None or over is None:
            return None
        if self._count.tick is not None and over < bars:  # wait for the tick itself, however late it is
            return max(due, at_ms + AGAIN_MS)
        return due
