"""Days as a player types them: 9 Dec, Wed 9 December, 9.12., 2026-12-09; the show file has the last of these."""

import datetime as dt
import re
from collections.abc import Iterator
from typing import Final

import msgspec

from companion.errors import CompanionError
from companion.files import shown
from companion.leader.reply_dates import day_in
from companion.show.date_words import date_words
from companion.show.practice_time import MAX_TEXT, NONE, read_days_off

USUAL_DAYS_AHEAD: Final = 14  # of an invented day in advice, where no show has one
BEFORE_SHOW: Final = (3, 1)  # days before the show on which a rehearsal is likely (common practice, no source)
_PARTED: Final = re.compile(r"[,;\n]|\s(?:and|&)\s")
_YEAR: Final = re.compile(r"\s*20\d\d\s*\Z")
_FIGURES: Final = re.compile(r"(\d{1,2})([./-])(\d{1,2})(?:\2(20\d\d|\d\d))?\.?\Z")
_YEAR_FIRST: Final = re.compile(r"(20\d\d)[-/.](\d{1,2})[-/.](\d{1,2})\Z")
_SHORT_YEAR: Final = re.compile(r"\s'?(\d\d)\Z")  # the second figure: 9 Dec 26
_BEFORE: Final = re.compile(r"(?:on|the|le|am|den|el|il)\s", re.IGNORECASE)


class TypedDays(msgspec.Struct, frozen=True):
    """Reads days as typed ``today``, for a show on this ``date``."""

    today: dt.date
    date: dt.date | None = None

    def day(self, typed: str) -> dt.date:
        """Return the one day that is typed. Raises CompanionError.

        >>> str(TypedDays(dt.date(2026, 11, 28)).day("Wed 9 Dec"))
        '2026-12-09'
        """
        return self._one_day(typed.strip(), last=None)

    def _one_day(self, text: str, *, last: dt.date | None) -> dt.date:
        """Return the day that is typed; of two that it may be, the only one from today to the ``last``."""
        figures = self._in_figures(text)
        likely = figures
        if len(figures) > 1:
            likely = [one for one in figures if self.today <= one <= (last or dt.date.max)]
        if len(likely) == 1:
            return likely[0]
        if figures:
            raise CompanionError(
                f"{shown(text)} may be {' or '.join(map(date_words, figures))}. Write: {self.examples}"
            )
        named = text[before.end() :] if (before := _BEFORE.match(text)) else text
        if len(re.findall(r"\d+", named)) == 2:
            named = _SHORT_YEAR.sub(r" 20\1", named)
        read = day_in(named, self.today, asked=True)
        if read is None or f"{named[: read.start]}{named[read.end :]}".strip(" ."):
            raise CompanionError(f"{shown(text)} is not a date. Write: {self.examples}")
        if read.day is None or read.doubt:
            raise CompanionError(f"{shown(text)}: {read.doubt}. Write: {self.examples}")
        return read.day

    def _in_figures(self, text: str) -> list[dt.date]:
        """Return the days that figures alone may be: one with dots or the year first, up to two with other signs."""
        if first := _YEAR_FIRST.match(text):
            orders = [(first[1], first[2], first[3])]
        elif found := _FIGURES.match(text):
            year = found[4] and f"20{found[4][-2:]}"
            orders = [(year, found[3], found[1])] + [(year, found[1], found[3])] * (found[2] != ".")
        else:
            return []
        return sorted({day for order in orders if (day := self._valid(*order)) is not None})

    def _valid(self, year: str | None, month: str, day: str) -> dt.date | None:
        """Return a day that exists; without a year, the next such day."""
        for one in [int(year)] if year else range(self.today.year, self.today.year + 2):
            try:
                found = dt.date(one, int(month), int(day))
            except ValueError:
                continue
            if year or found >= self.today:
                return found
        return None

    def days(self, typed: str, *, weekdays: bool) -> str:
        """Return days as the show file has them, whichever way they are typed. Raises CompanionError.

        ``weekdays``: days of every week may be among them, as in "sun, 9 Dec".
        """
        if len(typed) > MAX_TEXT:
            raise CompanionError(f"{len(typed)} characters, at most {MAX_TEXT} fit here. Write: {self.examples}")
        return ", ".join(self._written(piece, weekdays=weekdays) for piece in _pieces(typed, weekdays=weekdays))

    def _written(self, piece: str, *, weekdays: bool) -> str:
        """Return one day, or several without a sign between them, as the show file has them."""
        if piece.casefold() == NONE or (weekdays and _is_read(piece)):
            return piece
        words = piece.split()
        if all(_YEAR_FIRST.match(word) for word in words):
            return ", ".join(self.day(word).isoformat() for word in words)
        try:
            day = self._one_day(piece, last=self._last)
        except CompanionError as no:
            if weekdays:
                raise CompanionError(str(no).replace("a date. Write: ", "a date or a weekday. Write: sun, ")) from None
            raise
        if self._last is not None and day > self._last:
            raise CompanionError(f"{date_words(day)} is after the show. Write: {self.examples}")
        return day.isoformat()

    @property
    def examples(self) -> str:
        """Likely days of rehearsals, as they may be typed."""
        return ", ".join(date_words(day) for day in self._likely)

    @property
    def _last(self) -> dt.date | None:
        """The day of a show that is still to come: no day that matters is after it."""
        return self.date if self.date is not None and self.date >= self.today else None

    @property
    def _likely(self) -> tuple[dt.date, ...]:
        """Days before the show that are still to come; the show's own day where there is none."""
        if self._last is None:
            return (self.today + dt.timedelta(USUAL_DAYS_AHEAD),)
        days = (self._last - dt.timedelta(before) for before in BEFORE_SHOW)
        return tuple(day for day in days if day >= self.today) or (self._last,)


def _pieces(typed: str, *, weekdays: bool) -> Iterator[str]:
    """Yield each day that is typed, with its year or weekday beside a comma: Dec 9, 2026; Wednesday, 9 December."""
    pieces: list[str] = []
    for piece in filter(None, map(str.strip, _PARTED.split(typed))):
        if pieces and (_YEAR.match(piece) or (not weekdays and pieces[-1].casefold() != NONE and _is_read(pieces[-1]))):
            pieces[-1] += f" {piece}"
        else:
            pieces.append(piece)
    yield from pieces


def _is_read(piece: str) -> bool:
    try:
        read_days_off(piece)
    except ValueError:
        return False
    return True
