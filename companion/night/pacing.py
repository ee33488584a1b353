"""The time of day on stage: how the set runs, and what to drop. The computer's clock is read once."""

import datetime as dt
from collections.abc import Callable
from typing import Any

import msgspec

from companion.show import Show, Song
from companion.stage import PositionKind, State
from companion.stage.pace import DAY_S, Pace, is_last, length_s, pace, to_drop

LOOK_EVERY_MS = 10_000
SAY_FROM_S = 60  # less than a minute over is not shown
ADVICE_MS = 8000  # a list of titles takes longer to read than a notice
NIGHT_ENDS = dt.timedelta(hours=6)  # until six in the morning it still counts as the night of the day before
NEAR_S = 2 * 3600  # without a date, a set whose written start is further away is not tonight's


class Advice(msgspec.Struct, frozen=True):
    """How the set runs, in words, and the songs to drop so that it ends on time, best cut first."""

    words: str
    drop: tuple[str, ...] = ()


class Pacing:
    """How the set runs. After the start only the monotonic clock counts, so setting the computer's clock has no effect.

    A set's times belong to its night: on another day than the show's, or without a date far from the set's written
    start, no set runs over.
    """

    def __init__(
        self, at_ms: int, as_if_at_s: int | None = None, now: Callable[[], dt.datetime] = dt.datetime.now
    ) -> None:
        """Begin at this time of the show.

        ``as_if_at_s`` is the time of day, in seconds since midnight, of a night played as if it were the show's own
        (None: day and time are the computer's).
        """
        began = now()
        clock_s = began.hour * 3600 + began.minute * 60 + began.second
        self._day = None if as_if_at_s is not None else (began - NIGHT_ENDS).date()
        self._zero_s = (clock_s if as_if_at_s is None else as_if_at_s) - at_ms / 1000
        self._set_began_s: dict[int, int] = {}
        self._looked_ms = -LOOK_EVERY_MS
        self._found: Pace | None = None
        self._is_night = True
        self._lengths: dict[int, tuple[Song, int]] = {}  # by identity, which stays the same for a song kept here
        self._advice: Advice | None = None
        self._advice_until_ms = 0

    def now_s(self, at_ms: int) -> int:
        """Return the time of day, seconds since midnight."""
        return round(self._zero_s + at_ms / 1000) % DAY_S

    def look(self, state: State, at_ms: int) -> bool:
        """Look again if it is due; return whether the advice has changed."""
        if at_ms - self._looked_ms < LOOK_EVERY_MS:
            return False
        before = (self.over_min, self.ends)
        self._calculate(state, at_ms)
        return (self.over_min, self.ends) != before

    def seen(self, state: State, at_ms: int) -> None:
        """Work it out for this state after a step; advice that was requested is then closed."""
        self._advice = None
        self._calculate(state, at_ms)

    def _calculate(self, state: State, at_ms: int) -> None:
        self._looked_ms = at_ms
        if state.place.where is PositionKind.PLAYING:
            self._set_began_s.setdefault(state.place.set, self.now_s(at_ms))
        elif state.place.where is PositionKind.UP_NEXT and state.place.at == 0:
            self._set_began_s.pop(state.place.set, None)  # it has not begun, or it begins again
        began_s = self._set_began_s.get(state.place.set)
        self._found = pace(state, self.now_s(at_ms), began_s, self._length_s)
        self._is_night = self._belongs(state, self.now_s(at_ms) if began_s is None else began_s)

    def _belongs(self, state: State, began_s: int) -> bool:
        """Return whether the written times are those of this evening."""
        show = state.book.show
        if self._day is None:
            return True
        if show.date is not None:
            return show.date == self._day
        return _is_near(show, state.place.set, began_s) if state.song else True

    def _length_s(self, song: Song) -> int:
        """Return a song's planned length, cached, since every press asks for all songs to come."""
        if id(song) not in self._lengths:
            self._lengths[id(song)] = song, length_s(song)
        return self._lengths[id(song)][1]

    @property
    def over_min(self) -> int | None:
        """Whole minutes that the set runs over, if it does."""
        over_s = self._found.over_s if self._found and self._is_night else None
        return None if over_s is None or over_s < SAY_FROM_S else round(over_s / 60)

    @property
    def ends(self) -> str | None:
        """The time of day when the set will end, as a clock shows it."""
        if self._found is None:
            return None
        minutes = round(self._found.ends_s / 60) % (24 * 60)
        return f"{minutes // 60}:{minutes % 60:02d}"

    def ask(self, state: State, at_ms: int) -> None:
        """Show how the set runs, for a while; a second request hides it."""
        if self._is_shown(at_ms):
            self._advice = None
            return
        self._advice, self._advice_until_ms = self.advice(state, at_ms), at_ms + ADVICE_MS

    def shown(self, at_ms: int) -> dict[str, Any]:
        """Return what the screen shows of it now."""
        advice = self._advice if self._advice and self._is_shown(at_ms) else Advice("")
        on_request = {"advice": advice.words or None, "to_drop": advice.drop}
        return {"over_min": self.over_min, "ends": self.ends, **on_request}

    def next_ms(self, at_ms: int) -> int | None:
        """Return when the requested advice disappears, while it is shown."""
        return self._advice_until_ms if self._is_shown(at_ms) else None

    def has_expired(self, at_ms: int) -> bool:
        """Return whether the requested advice is still shown but has expired."""
        if self._advice is None or self._is_shown(at_ms):
            return False
        self._advice = None
        return True

    def _is_shown(self, at_ms: int) -> bool:
        return self._advice is not None and at_ms < self._advice_until_ms

    def advice(self, state: State, at_ms: int) -> Advice:
        """Return how the set runs, and what to drop to end on time."""
        self._calculate(state, at_ms)
        if self._found is None:
            return Advice("no set is running")
        over_s = self._found.over_s
        if over_s is None:
            return Advice(f"the set ends at {self.ends}; the file has no minutes for it")
        if not self._is_night:
            return Advice(f"the set ends at {self.ends}; it is not the time of the show now")
        if over_s <= 0:
            return Advice(f"on time: the set ends at {self.ends}, {-over_s // 60} min to spare")
        return _over(state, over_s)


def _over(state: State, over_s: int) -> Advice:
    """Return by how much the set runs over, what to drop, and what that leaves over if it is not enough."""
    over = f"{_minutes(over_s)} min over"
    cut = to_drop(state, over_s)
    if not cut.songs:
        return Advice(f"{over}: this is the last song" if is_last(state) else f"{over}: only the closer is left")
    still = f", still {_minutes(cut.over_s)} over" if cut.over_s else ""
    return Advice(f"{over}, drop {len(cut.songs)}{still}:", cut.songs)


def _minutes(over_s: int) -> int:
    """Return whole minutes, rounded; never "0 min over"."""
    return max(1, round(over_s / 60))


def _is_near(show: Show, number: int, began_s: int) -> bool:
    starts_min = show.sets[number].starts_min
    if starts_min is None:
        return True
    return abs((began_s - starts_min * 60 + DAY_S // 2) % DAY_S - DAY_S // 2) <= NEAR_S
