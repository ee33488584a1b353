"""Read the lines of a reply in turn: what each says, by the heading above it and the set whose numbers count from 1."""

import functools
import logging
import re
from collections.abc import Collection, Container, Iterator, Sequence
from typing import Final

from companion.leader.accounted_words import unaccounted
from companion.leader.asked_back import without_questions
from companion.leader.asked_values import AskedOf, asked_about, asked_of, asked_value, without_yes
from companion.leader.corrections_below import corrected_key, corrects_above, numbered_as_above, speaks_of_it
from companion.leader.courtesies import is_courtesy
from companion.leader.days_and_times import at_times, doubted_day, names_day, times_beside, times_in
from companion.leader.guessed_clauses import ReadLine
from companion.leader.heading_lines import is_half_read, misses_set, set_heading, speaks_of_set
from companion.leader.line_scanner import LineScanner
from companion.leader.new_songs import swapped, without_new_song
from companion.leader.numbering import CountedOn, TimedSets
from companion.leader.numbers_answered import FIELD_ASKED, bare_numbers, numbers_answer, yes_to_all
from companion.leader.numbers_in_passing import own_lines, without_passing_numbers
from companion.leader.parted_lines import asked_and_denied, parted_times, times_apart
from companion.leader.piece_reader import PieceReader
from companion.leader.places_beside import PlacesBeside
from companion.leader.places_said import (
    TAKEN,
    as_place,
    first_place,
    is_place,
    is_place_by_noun,
    place_beside,
    place_claim,
    without_place,
)
from companion.leader.players import LEADER_COUNTS, THE_LEADER
from companion.leader.quoted_questions import asks
from companion.leader.reply_dates import ANY_DAY, DayReading, day_in
from companion.leader.reply_items import KeyFact, ScannedLine, Separator, is_word
from companion.leader.reply_lines import CHARTS_FOR, FORM_ONLY, MAIL_DAY, YOU_START, ReplyLine
from companion.leader.reply_readings import (
    NOWHERE,
    Claim,
    DayClaim,
    Passed,
    ReplyReading,
    TimeClaim,
    Unread,
    VenueClaim,
    in_doubt,
)
from companion.leader.reply_words import NUMBER
from companion.leader.songs_meant import SongsMeant
from companion.leader.stated_fact import StatedFact
from companion.leader.sure_facts import with_clauses_explained
from companion.leader.times_of_sets import SetTimes
from companion.leader.turns_of_phrase import COLOUR, CORRECT, FILLER, HEDGE, TurnOfPhrase
from companion.leader.who_starts import COUNTS_IN

LOG: Final = logging.getLogger("companion.leader")
LOG.addHandler(logging.NullHandler())  # for those who look; the player sees the line that is kept
LineReading = tuple[ReplyLine, ReplyReading]
_NUMBERED: Final = re.compile(r"#?\d{1,2}\b")
_NO_KEYS: Final = ("starts_with", "ending", "chart", YOU_START, CHARTS_FOR)
MAY_SING: Final = "the leader may start it, or sing it"
QUOTED: Final = "it stands in what is quoted"
_STARRED: Final = re.compile(
    r"\*(?=(?:in )?[A-Ha-h](?:[b#♭♯]|is|es|s)?(?:m|min|moll)?"
    r"(?:$|[.,!]|\s(?:sorry|i meant|meant|not|typo|oops|my bad|scusa|pardon|perdon|entschuldigung)\b))",
    re.IGNORECASE,
)


class ReplyReader:
    """Reads the lines of one reply in turn, and keeps what the lines so far were about."""

    def __init__(
        self,
        lines: Sequence[ReplyLine],
        scanner: LineScanner,
        at_once: Container[str] = (),
        asked: Collection[tuple[int, str]] = (),
    ) -> None:
        self._lines = lines
        self._asked = asked  # the songs and fields that it asked about to be sure
        self._at_once = at_once  # the fields that the last message asked about many songs at once
        self._scanner = scanner
        self._pieces = PieceReader()
        self._field = ""  # the question that the last heading asks
        self._heads = ""  # the question that the same line asks before its answers
        self._quoted_ask = AskedOf()  # what the quoted question right above asks
        self._asked_last = False  # whether the last line is such a question
        self._answers = ""  # the field that a line right below such a question answers
        self.answered: set[str] = set()  # lines that are only a value which such a question asks for
        self._placed = PlacesBeside(scanner.names)
        self._has_list = False  # whether the line below begins with a number
        self._is_beside_day = False  # whether the line above or below is only a date
        self._within: int | None = None  # the set whose numbers count from 1
        self._above: int | None = None  # the set that the line above spoke of
        self._timed = TimedSets(scanner.names)
        self._counted_on = CountedOn(scanner.names)
        self._lost_in = ""  # the heading of a set that is not understood: the numbers below it may count in it
        self._own_lines = own_lines(line.text for line in lines if not line.is_quoted)
        self._all_quoted = all(line.is_quoted for line in lines if not line.ends_block)
        # Whether a line that only names songs is the heading of the next ones, and had an answer.
        self._holds = self._has_said = False
        self.read_lines: list[ReadLine] = []  # those that are not quoted
        self._unused: LineReading | None = None  # a line that only names songs, until something is said of them

    def read(self) -> Iterator[LineReading]:
        """Yield each line's readings, with the question that the line answers."""
        for at, line in enumerate(self._lines):
            self._is_beside_day = any(
                _is_day_alone(one) for one in (*self._lines[max(at - 1, 0) : at], *self._lines[at + 1 : at + 2])
            )
            below = next((one.text for one in self._lines[at + 1 :] if one.text), "")
            self._has_list = not line.is_quoted and _NUMBERED.match(below) is not None
            if line.ends_block:
                self._holds = self._holds and not self._has_said
            else:
                yield from self._placed.read(self._kept(line))
        if self._unused:
            yield self._unused

    def _kept(self, line: ReplyLine) -> list[LineReading]:
        """Return a line's readings; a line on which a reader fails is kept whole, as not understood."""
        rest, asked = (line.text, ()) if line.is_quoted or line.field else without_questions(line.text)
        kept: list[LineReading] = [(line, Unread(NOWHERE, one)) for one in asked]
        if not rest and kept:
            return kept
        if not line.is_quoted and (form := FORM_ONLY.match(rest)) and not self._scanner.says_something(form[0]):
            return [*kept, (line, Unread(NOWHERE, rest))]  # Dress: black tie
        ask, self._quoted_ask = self._quoted_ask, AskedOf()
        self._answers = "" if line.is_quoted else ask.field
        self._asked_last = self._asked_last and line.is_quoted
        self._scanner.answers_song = bool(self._answers)
        rest = without_yes(rest) if self._answers == "key" else rest
        if not line.is_quoted and (value := asked_value(ask, rest)):
            self.answered.add(rest)
            return [*kept, (line, value)]
        try:
            return [*kept, *self._line(self._starred(line._replace(text=rest))), *self._asked_next(line)]
        except Exception:
            LOG.exception("a line of the reply could not be read")
            self._pieces.about = NOWHERE
            return [(line, Unread(NOWHERE, line.text))]

    def _asked_next(self, line: ReplyLine) -> tuple[LineReading, ...]:
        """Keep what a quoted line asks of one song, for the line below; it states nothing."""
        asked = asked_of(self._scanner.scan(line.text, self._within)) if line.is_quoted else AskedOf()
        self._asked_last, is_second = bool(asked.field), self._asked_last
        self._quoted_ask = AskedOf() if is_second else asked  # of several in a row it may answer any
        return ()

    def _line(self, line: ReplyLine) -> Iterator[LineReading]:
        if not (self._holds or line.goes_on):
            self._pieces.about = NOWHERE
        if line.field:
            self._field = line.field
        if not line.text:
            self._pieces.about = NOWHERE
            return
        if self._is_own_line(line):
            return
        named_sets = self._scanner.names.named_sets
        parts = None if line.is_quoted or line.field else parted_times(line.text, named_sets)
        if parts is None and not line.is_quoted and not line.field and "," in line.text:
            parts = times_apart(self._scanner.scan(line.text, self._within), named_sets)
        if parts is not None:
            denied, parts = asked_and_denied(parts)
            if denied:
                yield line, Unread(NOWHERE, denied)
            for part in parts:
                yield from self._line(line._replace(text=part))
            return
        is_asked = self._field == "venue" and not line.is_quoted
        kept, new = without_new_song(line.text, self._scanner.names.titles)
        if not kept:
            self._pieces.about = NOWHERE
            yield line, Unread(NOWHERE, new)
            return
        text, place = without_place(kept, self._scanner.names.titles, is_asked=is_asked)
        self._scanner.spoken_of = max(self._pieces.spoken_of.songs, default=-1)
        scanned = self._scanned(text, is_quoted=line.is_quoted)
        named = self._scanner.names.set_named(line.text)
        heading = (
            set_heading(scanned, has_list=self._has_list) if named is None else SongsMeant((), 0, 0, sets=(named,))
        )
        if heading is not None:
            self._lost_in = line.text if (is_lost := named is None and is_half_read(scanned)) else ""
            self._within, self._pieces.about = heading.sets[0] if len(heading.sets) == 1 else None, heading
            self._holds, self._has_said = True, False
            if is_lost:
                yield line, Unread(NOWHERE, line.text)
            return
        if new:
            yield line, Unread(NOWHERE, new)
        if (swap := swapped(scanned)) is not None:
            yield from ((line, one) for one in swap)
            return
        if self._pieces.about is NOWHERE and not line.is_quoted and speaks_of_it(scanned):
            self._pieces.about = self._pieces.spoken_of_in_doubt(self._scanner.names)
        self._heads = line.field
        asked = self._asked_in(line, is_beyond=bool(place and text))
        is_untimed = line.is_quoted or line.doubts_day == MAIL_DAY
        times = SetTimes() if is_untimed else times_in(scanned, self._scanner.names, self._pieces.about.sets)
        if times.times:
            yield from ((asked, one) for one in self._at_times(times, scanned, place))
            return
        if line.is_quoted and asks(line.text) and (about := asked_about(scanned)) is not None:
            self._pieces.ask_of(about)  # our own question, quoted: it states nothing
            self._holds, self._has_said = True, False
            return
        yield from self._said_in(asked, scanned, place)
        if line.is_quoted and line.text.endswith("?") and not any(one.songs for one in _meant(scanned)):
            self._field = _asked_by(line.text) or self._field

    def _asked_in(self, line: ReplyLine, *, is_beyond: bool) -> ReplyLine:
        """Return a line with the question that it answers; the place is one line, and what is beyond it none."""
        asked = "" if line.field == "venue" and is_beyond else FIELD_ASKED.get(self._field, self._field)
        self._field = "" if line.field == "venue" else self._field
        return line._replace(field=asked or self._answers)

    def _at_times(self, times: SetTimes, line: ScannedLine, place: str) -> Iterator[ReplyReading]:
        """Yield the times of a line, and take it as the heading of a list that counts the songs of its one set."""
        yield from at_times(times, line, place)
        sets = {one.sets for one in _meant(line)}
        if len(sets) == 1 and len(of_set := sets.pop()) == 1 and self._scanner.names.from_top.get(of_set[0]) is False:
            self._within, self._pieces.about = of_set[0], NOWHERE

    def _starred(self, line: ReplyLine) -> ReplyLine:
        """Return a line that only corrects the key above it, *Bbm, as one that names its song."""
        said, songs = _STARRED.match(line.text), self._pieces.spoken_of.songs
        key = line.text[said.end() :] if said else corrected_key(line.text)
        numbers = self._scanner.names.numbers
        if not key or line.is_quoted or len(songs) != 1 or songs[0] not in numbers:
            return line
        return line._replace(text=f"sorry {numbers.index(songs[0]) + 1} {key}{'' if said else ' ?'}")

    def _scanned(self, text: str, *, is_quoted: bool) -> ScannedLine:
        scanned = self._scanner.scan(text, self._within, asks_day=self._field == "date")
        if self._within is None and self._above is not None and corrects_above(scanned):
            scanned = numbered_as_above(self._scanner.scan(text, self._above), scanned)
        if self._within is None and not is_quoted and (counted := self._counted_on.set_of(scanned)) is not None:
            scanned = self._scanner.scan(text, counted)
        self._above = scanned.within
        self._timed.tell([one for meant in _meant(scanned) for one in meant.sets])
        scanned = scanned if is_quoted else without_passing_numbers(scanned, self._own_lines)
        if not is_quoted:
            self.read_lines.append(
                ReadLine(scanned, self._pieces.about, self._field or self._answers, bool(self._answers))
            )
        return scanned

    def _is_own_line(self, line: ReplyLine) -> bool:
        """Take a quoted line with the number and the title of a song, as the message writes it, for what follows."""
        own = self._scanner.names.own_line(line.text) if line.is_quoted else None
        if own is not None:
            self._pieces.ask_of(own)
            self._pieces.spoken_of = own
            self._holds, self._has_said = True, False
        return own is not None

    def _said_in(self, line: ReplyLine, scanned: ScannedLine, place: str) -> Iterator[LineReading]:
        """Yield the readings of a line that is neither a heading nor about the times of sets."""
        found = [] if line.is_quoted else bare_numbers(scanned, self._field)
        if not (found or line.is_quoted or line.field or self._field or self._pieces.about is not NOWHERE):
            is_last = line.text == next((one.text for one in reversed(self._lines) if one.text), "")
            scan = functools.partial(self._scanner.scan, within=self._within)
            found = numbers_answer(scanned, scan, self._at_once, is_last=is_last)
            found = found or yes_to_all(scanned, self._asked, self._at_once)
        found = found or list(
            with_clauses_explained(scanned, self._pieces.read(scanned, line.field), line.field or self._field)
        )
        found = found if line.doubts_day else _with_place_beside(scanned, found)
        if not place and self._may_be_place(line, scanned, found):
            yield line, VenueClaim(line.text.strip(" .!"), TAKEN)
            return
        if not place and self._is_beside_day and (beside := first_place(line.text)) and not line.is_quoted:
            yield line, VenueClaim(beside, TAKEN)
            yield line, Unread(NOWHERE, line.text)
            return
        if place:
            is_sure = not any(isinstance(one, Unread) or (isinstance(one, DayClaim) and one.day.doubt) for one in found)
            found.append(place_claim(place) if is_sure else in_doubt(place_claim(place), line.text))
        found += [] if line.is_quoted else times_beside(scanned, self._scanner.names)
        yield from self._after_songs_alone(line, scanned, found)
        if not (found or self._unused or line.is_quoted or is_courtesy(line.text)) and (
            line.field or _says_more(scanned)
        ):
            found.append(Unread(self._pieces.about, line.text))
        if not line.is_quoted and (found or not self._unused):
            found += unaccounted(scanned, found, self._pieces.about)
        states = any(isinstance(one, Claim | Passed | DayClaim | TimeClaim) and not _doubts_set(one) for one in found)
        if not line.is_quoted and (misses_set(scanned) or (not states and speaks_of_set(scanned))):
            self._lost_in = line.text
        has_day = any(isinstance(one, DayClaim) for one in found)
        for one in found:
            if has_day and names_day(one):
                continue
            said = doubted_day(one, line.doubts_day, self._scanner.today)
            why = self._why_doubted(said, line, scanned)
            if isinstance(said, DayClaim) and place and not is_place(place):
                why = place
            said = in_doubt(said, why) if why else said
            yield line, as_place(said, line.text) if has_day and not line.doubts_day else said

    def _may_be_place(self, line: ReplyLine, scanned: ScannedLine, found: Sequence[ReplyReading]) -> bool:
        """Return whether a line is only the name of a place: beside the date, or with a word for one; no song's."""
        if line.is_quoted or line.field or any(not isinstance(one, Unread) for one in found):
            return False
        if any(not isinstance(item.what, Separator | TurnOfPhrase | None) for item in scanned.items):
            return False
        return is_place_by_noun(line.text) or (self._is_beside_day and is_place(line.text))

    def _after_songs_alone(
        self, line: ReplyLine, scanned: ScannedLine, found: Sequence[ReplyReading]
    ) -> Iterator[LineReading]:
        """Yield a line that only named songs if nothing was said of them; keep such a line until the next one."""
        names_songs = any(one.songs for one in _meant(scanned))
        if self._unused and (found or names_songs):
            if names_songs:
                yield self._unused
            self._unused = None
        if names_songs and not found and not line.is_quoted:
            self._unused = line, Unread(self._pieces.about, line.text)
        if names_songs:
            self._holds, self._has_said = not found, False
        else:
            self._has_said = self._has_said or bool(found)

    def _why_doubted(self, reading: ReplyReading, line: ReplyLine, scanned: ScannedLine) -> str:
        """Return why a claim may be about another song, or be an old one; "" if it is clear."""
        if not isinstance(reading, Claim) or reading.about is NOWHERE:
            return ""
        if isinstance(reading.fact, KeyFact) and self._heads in _NO_KEYS:
            return line.text  # intro 2 G
        fact = reading.fact
        is_me = isinstance(fact, StatedFact) and fact.is_lone and fact.value == THE_LEADER
        if is_me and line.field != "starts_with" and any(isinstance(item.what, KeyFact) for item in scanned.items):
            return MAY_SING  # Moth = D, me
        counts = isinstance(fact, StatedFact) and fact.value == LEADER_COUNTS
        if counts and self._answers not in ("", "starts_with"):
            return COUNTS_IN  # "G. I count it in" below "key?"
        named = [item for item in scanned.items if isinstance(item.what, SongsMeant) and item.what.songs]
        by_number = bool(named) and all(scanned.words[item.end - 1].kind == NUMBER for item in named)
        if by_number and self._lost_in:
            return f"{self._lost_in} is unclear"
        if by_number and line.is_quoted and not self._all_quoted:
            return QUOTED
        is_within = self._within is not None or scanned.within is not None
        return self._timed.why_doubted(scanned, named) if by_number and not is_within else ""


def _doubts_set(reading: ReplyReading) -> bool:
    """Return whether words only doubt a set: set 2 maybe."""
    return isinstance(reading, Passed) and not (reading.to or reading.about.songs)


def _is_day_alone(line: ReplyLine) -> bool:
    """Return whether a line has a date and no more than that."""
    day = day_in(line.text, ANY_DAY) if line.text and not line.is_quoted else None
    return day is not None and not any(one.isalnum() for one in line.text[: day.start] + line.text[day.end :])


def _with_place_beside(line: ScannedLine, found: list[ReplyReading]) -> list[ReplyReading]:
    """Return what a line says with the words beside its date as the place, where they are one name and no more."""
    days = [item for item in line.items if isinstance(item.what, DayReading)]
    if len(days) != 1 or any(isinstance(one, Claim | Passed | TimeClaim) for one in found):
        return found
    words = line.words[days[0].at : days[0].end]
    beside = place_beside(line.text, words[0].start, words[-1].end)
    days_read = [one for one in found if isinstance(one, DayClaim)]
    return [*days_read, VenueClaim(beside, TAKEN)] if beside and days_read else found


def _meant(line: ScannedLine) -> Iterator[SongsMeant]:
    return (item.what for item in line.items if isinstance(item.what, SongsMeant))


def _says_more(line: ScannedLine) -> bool:
    """Return whether a line has words beside those that mean nothing alone."""
    empty = (FILLER, COLOUR, HEDGE, CORRECT)
    return any(
        not (isinstance(item.what, Separator) or (isinstance(item.what, TurnOfPhrase) and item.what.kind in empty))
        for item in line.items
        if is_word(item, line.words)
    )


def _asked_by(text: str) -> str:
    low = text.casefold()
    return "date" if "date" in low else "venue" if "where" in low else ""
