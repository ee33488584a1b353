"""Turn the leader's reply, typed in any form, into changes to the show file, doubts, and questions that stay open."""

import datetime as dt
import re
from collections.abc import Iterator, Sequence
from typing import Final

import msgspec

from companion.leader.claimed import Claimed, claims_on
from companion.leader.fact_said import FactSaid
from companion.leader.line_scanner import LineScanner
from companion.leader.piece_reader import PieceReader
from companion.leader.places_said import is_place
from companion.leader.quoted_songs import answers_in_turn
from companion.leader.reply_dates import DaySaid, day_said
from companion.leader.reply_items import KeyFact, ScannedLine, Separator
from companion.leader.reply_lines import CHARTS_FOR, YOU_START, ReplyLine, lines_of
from companion.leader.reply_records import NOT_YOU
from companion.leader.reply_words import CLOCK
from companion.leader.said_in_reply import (
    NOWHERE,
    Claim,
    DayClaim,
    Passed,
    SaidInReply,
    TimeClaim,
    Unread,
    VenueClaim,
)
from companion.leader.songs_meant import SongNames, SongsMeant
from companion.leader.times_said import CLOCK_WORDS, SetTime, set_times
from companion.leader.turns_of_phrase import FILLER, HEDGE, TurnSaid
from companion.music import read_key
from companion.setlist import Notation
from companion.setlist.tidy import cut, folded
from companion.show import Show, Song
from companion.show.chords import moved_words

# Names of keys that only German (and its neighbours) have; then B is most likely Bb.
IN_GERMAN: Final = re.compile(
    r"(?<![^\W_])(?:[HF]is|Cis|Dis|Gis|[CDG]es|H|Hm|[A-Ha-h](?:is|es|s)?[ -]?(?:[Mm]oll|[Dd]ur))(?![^\W_])"
)
ANY_DAY: Final = dt.date(2000, 1, 1)
SHOWN: Final = 200  # characters of a line that is not understood


class LeaderAnswer(msgspec.Struct, frozen=True):
    """One answer: the field of the show file and its value as written there. Without a song, it is about the show.

    ``doubt``: why it is uncertain. ``before``: what the show says now. "dropped" is a field too:
    the song is not played.
    """

    field: str
    value: str | bool | int
    set_at: int | None = None
    song_at: int | None = None
    title: str = ""
    before: str = ""
    also: str = ""  # a further change that follows from it
    doubt: str = ""
    words: str = ""  # the leader's, where it contradicts the show

    def __str__(self) -> str:
        shown = {True: "yes", False: "no"}.get(self.value, self.value) if isinstance(self.value, bool) else self.value
        said = f"{self.title}: {self.field} {self.before + ' → ' if self.before else ''}{shown}"
        said = "; ".join(filter(None, (said, self.also)))
        return f"{said} (not sure: {self.doubt})" if self.doubt else said


class OpenPiece(msgspec.Struct, frozen=True):
    """Words of the reply that were not understood, or that pass a question on.

    ``title`` and ``field``: the song and the question that they belong to, "" where none is known. ``to``: whom to ask
    instead, for a question that the leader cannot answer.
    """

    words: str
    title: str = ""
    field: str = ""
    to: str = ""
    set_at: int | None = None
    song_at: int | None = None

    def __str__(self) -> str:
        return f"{self.title}: {self.words}" if self.title else self.words


class LeaderAnswers(msgspec.Struct, frozen=True):
    """What a reply says.

    ``found``: the answers that land, some with a doubt. ``contradicts``: those that differ from what the show says and
    do not correct it; the player decides. ``left``: what was not understood. ``passed``: questions that somebody else
    answers. ``confirms``: what the show says already.
    """

    found: tuple[LeaderAnswer, ...]
    left: tuple[OpenPiece, ...] = ()
    contradicts: tuple[LeaderAnswer, ...] = ()
    passed: tuple[OpenPiece, ...] = ()
    confirms: tuple[OpenPiece, ...] = ()

    @property
    def says_nothing(self) -> bool:
        """Whether nothing is to be written or kept."""
        return not (self.found or self.left or self.contradicts or self.passed or self.confirms)


def read_answers(
    text: str,
    show: Show,
    *,
    notation: Notation = Notation.LETTERS,
    today: dt.date | None = None,
    numbers: Sequence[int | None] | None = None,
    asked: frozenset[tuple[int, str]] = frozenset(),
) -> LeaderAnswers:
    """Read a reply. Songs are named by their number in the message, by title or by set.

    ``today`` completes a date without a year. ``numbers``: the song (its place in the show, from 0) of each number of
    the message, where the show has changed since it was sent. ``asked``: songs and fields that the message asked about
    although the show says something, so that the answer counts.
    """
    names = SongNames(show, numbers)
    day = today or dt.date.today()  # noqa: DTZ011  the player's own day
    german = notation is Notation.GERMAN
    scanner = LineScanner(names, day, german=german, may_be_german=bool(IN_GERMAN.search(text)))
    readings = [
        Claimed(reading, line.field, is_quoted=line.is_quoted)
        for line, reading in _readings(
            answers_in_turn(list(lines_of(text, names.titles, scanner.says_something)), names), scanner
        )
    ]
    return _answers(readings, names, asked)


class _Context:
    """What the lines so far were about: the heading, and the set whose numbers count from 1."""

    def __init__(self) -> None:
        self.field = ""
        self.within: int | None = None


def _readings(lines: Sequence[ReplyLine], scanner: LineScanner) -> Iterator[tuple[ReplyLine, SaidInReply]]:
    """Yield each line's readings, with the question that the line answers."""
    context, reader = _Context(), PieceReader()
    holds = has_said = False  # whether a line that only names songs is the heading of the next ones, and had an answer
    unused: tuple[ReplyLine, SaidInReply] | None = None  # a line that only names songs, until something is said of them
    for line in lines:
        if line.ends_block:
            holds = holds and not has_said
            continue
        if not holds:
            reader.about = NOWHERE
        if line.field:
            context.field = line.field
        if not line.text:
            reader.about = NOWHERE
            continue
        text, venue = _without_venue(
            line.text, scanner.names.titles, is_asked=context.field == "venue" and not line.is_quoted
        )
        scanned = scanner.scan(text, context.within, asks_day=context.field == "date")
        names_songs = any(one.songs for one in _meant(scanned))
        heading = _set_heading(scanned)
        if heading is not None:
            context.within, reader.about = heading.sets[0] if len(heading.sets) == 1 else None, heading
            holds, has_said = True, False
            continue
        field = FIELD_ASKED.get(context.field, context.field)
        asked = line._replace(field=field)
        times = () if line.is_quoted else _times(scanned, len(scanner.names.show.sets))
        if times:
            yield from ((asked, one) for one in _at_times(times, scanned, venue))
            continue
        found = [] if line.is_quoted else _bare_numbers(scanned, context.field)
        found = found or list(reader.read(scanned, field))
        found += [_venue(venue)] if venue else []
        if unused and (found or names_songs):
            if names_songs:
                yield unused
            unused = None
        if names_songs and not found and not line.is_quoted:
            unused = asked, Unread(reader.about, line.text)
        holds, has_said = (not found, False) if names_songs else (holds, has_said or bool(found))
        has_day = any(isinstance(reading, DayClaim) for reading in found)
        for reading in found:
            if has_day and _names_day(reading):
                continue
            dated = _doubted_day(reading, line.doubts_day, scanner.today)
            yield asked, _as_place(dated) if has_day and not line.doubts_day else dated
        if line.is_quoted and line.text.endswith("?") and not any(one.songs for one in _meant(scanned)):
            context.field = _asked_by(line.text) or context.field
    if unused:
        yield unused


def _at_times(times: Sequence[SetTime], line: ScannedLine, venue: str) -> Iterator[SaidInReply]:
    """Yield what a line about the times of sets says: the times, the day and the place."""
    yield from (TimeClaim(one) for one in times)
    yield from (DayClaim(item.what, line.text) for item in line.items if isinstance(item.what, DaySaid))
    says_length = any(isinstance(item.what, FactSaid) and item.what.field == "minutes" for item in line.items)
    if says_length and not any(one.minutes is not None for one in times):
        yield Unread(NOWHERE, line.text)
    if venue:
        yield _venue(venue)


def _venue(words: str) -> VenueClaim:
    return VenueClaim(words, "" if is_place(words) else "taken for the place")


def _names_day(reading: SaidInReply) -> bool:
    """Return whether words are only about the day that is known by now: Date is Sat 28 Nov."""
    if not isinstance(reading, Unread) or reading.about is not NOWHERE:
        return False
    words = _DAY_NAMED.sub("", reading.words).strip(" .!")
    day = day_said(words, ANY_DAY, asked=True)
    return day is not None and (day.start, day.end) == (0, len(words))


def _doubted_day(reading: SaidInReply, doubt: str, today: dt.date) -> SaidInReply:
    """Doubt a date that may be that of the message, or that is past."""
    if not isinstance(reading, DayClaim) or reading.day.day is None:
        return reading
    doubt = doubt or ("it is past" if reading.day.day < today else "")
    return reading._replace(day=reading.day._replace(doubt="; ".join(filter(None, (reading.day.doubt, doubt)))))


def _as_place(reading: SaidInReply) -> SaidInReply:
    """Take capitalised words beside a date for the place: Sat 5 Dec, Corn Store in Hexley."""
    if isinstance(reading, Unread) and reading.about is NOWHERE and _names_place(reading.words):
        return VenueClaim(reading.words, "taken for the place")
    return reading


def _names_place(words: str) -> bool:
    return _PLACE.match(words) is not None and day_said(words, ANY_DAY) is None


FIELD_ASKED: Final = {YOU_START: "starts_with", CHARTS_FOR: "chart"}
_REST: Final = SongsMeant((), 0, 0, is_rest=True)


def _bare_numbers(line: ScannedLine, field: str) -> list[SaidInReply]:
    """Read numbers alone, all, or none, where that is an answer: "Do I start any of these?" "2 and 5"."""
    if field not in FIELD_ASKED:
        return []
    fact = FactSaid("starts_with", "keys", 0) if field == YOU_START else FactSaid("chart", True, 0)
    others = [item.what for item in line.items if not isinstance(item.what, Separator | SongsMeant)]
    if any(not (isinstance(one, TurnSaid) and one.kind in (FILLER, HEDGE)) for one in others):
        low = line.text.strip(" .!").casefold()
        if low in ("no", "none", "none of them", "nope", "no none", "nein", "keine", "non"):
            if field == YOU_START:
                return [Passed(_REST, NOT_YOU, line.text, "starts_with")]
            return [Claim(_REST, fact._replace(value=False), line.text)]
        return [Claim(_REST, fact, line.text)] if low in ("yes", "all", "all of them", "yes all", "ja", "alle") else []
    doubt = "; ".join(line.said(item.at, item.end) for item in line.items if _is_hedge(item.what))
    return [Claim(meant, fact, line.text, doubt) for meant in _meant(line) if meant.songs or meant.is_rest]


def _times(line: ScannedLine, sets: int) -> tuple[SetTime, ...]:
    """Return the times of sets that a line tells, where it says more so than word by word, and nothing of songs."""
    facts = [item.what for item in line.items if isinstance(item.what, FactSaid | KeyFact)]
    if any(fact.firm and not _is_time(fact) for fact in facts):
        return ()
    others = any(not (_is_time(fact) or (isinstance(fact, FactSaid) and fact.is_lone)) for fact in facts)
    if others and not any(word.kind == CLOCK or word.low in CLOCK_WORDS for word in line.words):
        return ()  # 1 to 4 are all D
    times = set_times(line.text, sets)
    names_set = any(isinstance(item.what, SongsMeant) and item.what.sets for item in line.items)
    told = sum(_is_time(fact) for fact in facts) if names_set else 0
    # from and to are three facts: when it starts, when it ends, how long it is
    more = sum(3 if one.starts_min is not None and one.minutes is not None else 1 for one in times)
    return times if more > told else ()


def _is_time(what: object) -> bool:
    return isinstance(what, FactSaid) and what.field in ("clock", "minutes", "tempo")


def _is_hedge(what: object) -> bool:
    return isinstance(what, TurnSaid) and what.kind == HEDGE


_TOWN: Final = r"(?:, [A-Z][\w'’-]{2,20}(?: [A-Z][\w'’-]{1,20}){0,2}(?=[.!]?$))?"
_VENUE: Final = re.compile(rf"\b(?P<at>at) (?:the )?(?P<venue>[A-Z][^,.;:!?]{{1,60}}{_TOWN})")
_VENUE_IS: Final = re.compile(
    r"^(?i:(?:the |our )?(?:venue|place|location)(?:['’]s| is| will be))\s"
    rf"(?:at )?(?P<venue>(?:(?:the|a) )?(?!TB[ACD]\b)[A-Z][^,.;:!?]{{1,60}}{_TOWN})"
)
_AT_A_PLACE: Final = re.compile(
    r"^[Aa]t (?:the )?(?P<venue>[A-Z][\w'’-]{0,20}(?: (?:[A-Z][\w'’-]{0,20}|of|the|on|in|and|&)){0,5}"
    rf"{_TOWN})[.!]?$"
)
_DAY_NAMED: Final = re.compile(r"^(?:the )?(?:date|day|datum)\b(?: is| ist|:|'s)?\s*", re.IGNORECASE)
_PLACE: Final = re.compile(r"^[A-Z][\w'’.& -]{2,60}$")
_PLAYED: Final = re.compile(
    r"^(?:it'?s|it is|we'?re|we are|we play|playing|the gig|gig|show|the show|see you)\b", re.IGNORECASE
)


def _without_venue(text: str, titles: Sequence[str], *, is_asked: bool) -> tuple[str, str]:
    """Split off the place of the show: "5 December at the Old Mill"; the whole line where the question asks for it."""
    if is_asked and len(text) <= 120 and not text.endswith("?"):
        return "", text
    if told := _VENUE_IS.match(text):
        return text[told.end() :].lstrip(" .!,"), told["venue"].strip()
    if (whole := _AT_A_PLACE.match(text)) and not folded(whole["venue"]).startswith(tuple(filter(None, titles))):
        return "", whole["venue"]
    if (found := _VENUE.search(text)) and (_PLAYED.match(text) or day_said(text[: found.start("venue")], ANY_DAY)):
        return text[: found.start("at")] + text[found.end() :], found["venue"].strip()
    return text, ""


def _meant(line: ScannedLine) -> Iterator[SongsMeant]:
    return (item.what for item in line.items if isinstance(item.what, SongsMeant))


def _asked_by(text: str) -> str:
    low = text.casefold()
    return "date" if "date" in low else "venue" if "where" in low else ""


def _set_heading(line: ScannedLine) -> SongsMeant | None:
    """Return the set that a line is only the heading of: Second set, Set 2:."""
    meant = [item for item in line.items if isinstance(item.what, SongsMeant)]
    letters = [item for item in line.items if any(word.kind != "sign" for word in line.words[item.at : item.end])]
    facts = [item for item in line.items if isinstance(item.what, FactSaid | KeyFact)]
    announces = line.text.endswith(":") and not facts  # Second set, numbers from the top:
    if (
        len(meant) == 1
        and (letters == meant or announces)
        and isinstance(what := meant[0].what, SongsMeant)
        and what.sets
    ):
        return what
    return None


def _answers(readings: Sequence[Claimed], names: SongNames, asked: frozenset[tuple[int, str]]) -> LeaderAnswers:
    """Settle what the readings come to."""
    settled = claims_on(readings, names, asked)
    found: list[LeaderAnswer] = []
    contradicts: list[LeaderAnswer] = []
    for claim in settled.claims:
        answer = LeaderAnswer(
            claim.field,
            claim.value,
            claim.set_at,
            claim.song_at,
            claim.title,
            claim.before,
            _also(names, claim.set_at, claim.song_at, claim.field, claim.value),
            claim.doubt,
            claim.words if claim.contradicts else "",
        )
        (contradicts if claim.contradicts else found).append(answer)
    return LeaderAnswers(
        tuple(found),
        tuple(_open(names, one.song, one.words, one.field) for one in settled.left),
        tuple(contradicts),
        tuple(_open(names, one.song, one.words, one.field, one.to) for one in settled.passed),
        tuple(_open(names, one.song, one.words, one.field) for one in settled.confirms),
    )


def _open(names: SongNames, song: int | None, words: str, field: str, to: str = "") -> OpenPiece:
    set_at, song_at, one = names.songs[song] if song is not None else (None, None, None)
    return OpenPiece(cut(words, SHOWN), one.title if one else "", field, to, set_at, song_at)


def _also(names: SongNames, set_at: int | None, song_at: int | None, field: str, value: object) -> str:
    if field != "key" or set_at is None or song_at is None:
        return ""
    song: Song = names.show.sets[set_at].songs[song_at]
    return moved_words(song, read_key(str(value)))
