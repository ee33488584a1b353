"""The time of day on stage: how the set runs, and what to drop. The computer's clock is read once."""

import time

from companion.show import Song
from companion.stage import State, Where
from companion.stage.pace import DAY_S, Pace, length_s, pace, to_drop

LOOK_EVERY_MS = 10_000
SAY_FROM_S = 60  # less than a minute over is no news


class Pacing:
    """How the set runs. From its beginning only the monotonic clock counts: nobody who sets the computer's moves it."""

    def __init__(self, at_ms: int, now_s: int | None = None) -> None:
        """Begin at this time of the show; ``now_s`` is the time of day, in seconds (None: by the computer's clock)."""
        local = time.localtime()
        clock_s = local.tm_hour * 3600 + local.tm_min * 60 + local.tm_sec
        self._zero_s = (clock_s if now_s is None else now_s) - at_ms / 1000
        self._set_began_s: dict[int, int] = {}
        self._looked_ms = -LOOK_EVERY_MS
        self._found: Pace | None = None
        self._lengths: dict[int, tuple[Song, int]] = {}  # by identity, which a song that is kept here does not lose

    def now_s(self, at_ms: int) -> int:
        """Give the time of day, seconds since midnight."""
        return round(self._zero_s + at_ms / 1000) % DAY_S

    def look(self, state: State, at_ms: int) -> bool:
        """Look again, if it is time to; tell whether what is to be said has changed."""
        if at_ms - self._looked_ms < LOOK_EVERY_MS:
            return False
        before = (self.over_min, self.ends)
        self.seen(state, at_ms)
        return (self.over_min, self.ends) != before

    def seen(self, state: State, at_ms: int) -> None:
        """Reckon from this state."""
        self._looked_ms = at_ms
        if state.place.where is Where.PLAYING:
            self._set_began_s.setdefault(state.place.set, self.now_s(at_ms))
        self._found = pace(state, self.now_s(at_ms), self._set_began_s.get(state.place.set), self._length_s)

    def _length_s(self, song: Song) -> int:
        """Give a song's planned length; reckoned once, since every press asks for all that are to come."""
        if id(song) not in self._lengths:
            self._lengths[id(song)] = song, length_s(song)
        return self._lengths[id(song)][1]

    @property
    def over_min(self) -> int | None:
        """Whole minutes that the set runs over, where it does."""
        over_s = self._found.over_s if self._found else None
        return None if over_s is None or over_s < SAY_FROM_S else round(over_s / 60)

    @property
    def ends(self) -> str | None:
        """The time of day when the set will end, as a clock shows it."""
        if self._found is None:
            return None
        minutes = round(self._found.ends_s / 60) % (24 * 60)
        return f"{minutes // 60}:{minutes % 60:02d}"

    def advice(self, state: State, at_ms: int) -> str:
        """Say how the set runs, and what to drop to end on time."""
        self.seen(state, at_ms)
        if self._found is None:
            return "no set is running"
        over_s = self._found.over_s
        if over_s is None:
            return f"the set ends at {self.ends}; its time is not written"
        if over_s <= 0:
            return f"on time: the set ends at {self.ends}, {-over_s // 60} min to spare"
        songs = to_drop(state, over_s)
        what = f"drop {', '.join(songs)}" if songs else "no song but the closer is left to drop"
        return f"{round(over_s / 60)} min over: {what}"
