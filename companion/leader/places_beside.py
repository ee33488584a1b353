"""The place of the show in the lines that name its day or its times, where the reply does not say which words it is."""

from collections.abc import Iterable, Iterator

from companion.leader.places_said import TAKEN
from companion.leader.places_told import told_place
from companion.leader.probable_places import probable_place
from companion.leader.reply_dates import ANY_DAY, day_in
from companion.leader.reply_lines import ReplyLine
from companion.leader.reply_readings import DayClaim, ReplyReading, TimeClaim, Unread, VenueClaim
from companion.leader.songs_meant import SongNames
from companion.show.titles import folded


class PlacesBeside:
    """Adds a place to the readings of lines, until one line has named it."""

    def __init__(self, names: SongNames) -> None:
        self._names = names
        self._has_place = False

    def read(self, readings: list[tuple[ReplyLine, ReplyReading]]) -> Iterator[tuple[ReplyLine, ReplyReading]]:
        """Yield the readings of one line, and the place that is probably named beside its day or times."""
        yield from readings
        self._has_place = self._has_place or any(isinstance(one, VenueClaim) for _, one in readings)
        timed = dict.fromkeys(line for line, one in readings if isinstance(one, DayClaim | TimeClaim))
        if not (timed or self._has_place):
            yield from self._told([(line, one.words) for line, one in readings if isinstance(one, Unread)])
        for line in timed:
            if not (self._has_place or line.is_quoted or line.doubts_day):
                day = day_in(line.text, ANY_DAY)
                dated = [(day.start, day.end)] if day else []
                place = told_place(line.text, self._is_named, dated) or probable_place(line.text, dated, self._is_named)
                if place:
                    self._has_place = True
                    yield line, VenueClaim(place, TAKEN)

    def _told(self, lines: Iterable[tuple[ReplyLine, str]]) -> Iterator[tuple[ReplyLine, ReplyReading]]:
        """Yield the place that a line, or its words that are not understood, tells, where it names no day."""
        for line, unread in lines:
            if line.is_quoted or self._has_place:
                continue
            place = told_place(line.text, self._is_named) or told_place(unread, self._is_named)
            if place:
                self._has_place = True
                yield line, VenueClaim(place, TAKEN)

    def _is_named(self, words: str) -> bool:
        """Return whether words name a set, or have the title of a song."""
        said = folded(words)
        return self._names.named_sets.named(words) is not None or any(one and one in said for one in self._names.titles)
