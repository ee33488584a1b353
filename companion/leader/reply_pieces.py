"""Pieces of a line: which fact is about which song, how sure it is, and what was not understood."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final, NamedTuple

from companion.leader.fact_said import FactSaid
from companion.leader.reply_dates import DaySaid
from companion.leader.reply_items import KeyFact, ReplyItem, ScannedLine, Separator, is_word
from companion.leader.reply_words import set_of
from companion.leader.songs_meant import SongsMeant
from companion.leader.times_said import SetTime
from companion.leader.turns_of_phrase import (
    AS_RECORD,
    ASKED_FOR,
    CORRECT,
    DITTO,
    FILLER,
    HEDGE,
    NOT,
    UNKNOWN_TO_LEADER,
    TurnSaid,
)

MAX_UNKNOWN: Final = 4  # words beside a fact that still lands, with a doubt
MAX_BACK: Final = 12  # facts of a sentence that a later doubt may be about
NOWHERE: Final = SongsMeant((), 0, 0)


class Claim(NamedTuple):
    """One fact about songs, sets, or the show: as said, its doubt, and whether it corrects what was said before."""

    about: SongsMeant
    fact: FactSaid | KeyFact
    words: str
    doubt: str = ""
    corrects: bool = False


class DayClaim(NamedTuple):
    """A date of the show."""

    day: DaySaid
    words: str


class Passed(NamedTuple):
    """A question that the leader passes on: ``to`` somebody, the record, or nobody yet. ``field`` where it is named."""

    about: SongsMeant
    to: str
    words: str
    field: str = ""


class Unread(NamedTuple):
    """Words that were not understood, and the songs that they are about."""

    about: SongsMeant
    words: str


class VenueClaim(NamedTuple):
    """The place of the show."""

    venue: str
    doubt: str = ""


class TimeClaim(NamedTuple):
    """When a set starts, or how long it is."""

    time: SetTime


SaidInReply = Claim | DayClaim | TimeClaim | VenueClaim | Passed | Unread


class _Piece(NamedTuple):
    """The items between two separators."""

    items: tuple[ReplyItem, ...]
    begins_sentence: bool

    @property
    def span(self) -> tuple[int, int]:
        return self.items[0].at, self.items[-1].end

    def turns(self, kind: str) -> list[TurnSaid]:
        return [one.what for one in self.items if isinstance(one.what, TurnSaid) and one.what.kind == kind]

    @property
    def facts(self) -> list[ReplyItem]:
        return [one for one in self.items if isinstance(one.what, FactSaid | KeyFact)]

    @property
    def songs(self) -> list[ReplyItem]:
        return [one for one in self.items if isinstance(one.what, SongsMeant)]


class PieceReader:
    """Reads the pieces of lines; remembers which songs are being spoken of."""

    def __init__(self) -> None:
        self.about = NOWHERE  # the songs that the last words were about
        self.is_correcting = False  # after "no wait", until the next fact
        self.is_lost = False  # whether something about these songs was not understood
        self.last: list[Claim] = []  # the last facts, which "so is Rain Delay" repeats

    def read(self, line: ScannedLine, group: str) -> list[SaidInReply]:
        """Read a line. ``group``: the field that the heading above asks for, or ""."""
        found: list[SaidInReply] = []
        sentence: list[SaidInReply] = []  # what this sentence said so far
        for piece in (_without_strays(one, line) for one in _parted(_pieces(line))):
            if piece.begins_sentence:
                found, sentence = [*found, *sentence], []
            new = list(self._piece(piece, line, group, sentence[-MAX_BACK:]))
            sentence = [*sentence[:-MAX_BACK], *_replaced(sentence[-MAX_BACK:], new), *new]
            if claims := [one for one in new if isinstance(one, Claim)]:
                self.last = claims
        found += sentence
        if self.is_correcting and found and isinstance(last := found[-1], Claim):
            found[-1] = last._replace(corrects=True)  # 2 A, sorry
        self.is_correcting = self.is_correcting and not found
        return list(dict.fromkeys(found))

    def _piece(self, piece: _Piece, line: ScannedLine, group: str, before: list[SaidInReply]) -> Iterator[SaidInReply]:
        said = line.said(*piece.span)
        for item in piece.items:
            if isinstance(item.what, DaySaid):
                yield DayClaim(item.what, said)
        unknown = [one for one in piece.items if one.what is None and is_word(one, line.words)]
        named = next((turn.says for turn in piece.turns(ASKED_FOR)), "")
        if not piece.songs and not piece.facts and not unknown:
            yield from self._turns_alone(piece, said, named or group, before)
            return
        owners = self._owners(piece)
        passed = [*piece.turns(UNKNOWN_TO_LEADER), *piece.turns(AS_RECORD)]
        if owners or piece.begins_sentence:
            self.is_lost = False
        of_section = bool({line.words[one.at].low for one in unknown} & SECTIONS)
        if unknown and not owners and not of_section and {line.words[one.at].low for one in unknown} & RELATIVE:
            yield from (one._replace(doubt=one.doubt or said) for one in self._of_now(before))
        if _is_unread(piece, unknown):
            self.is_lost = True
            yield Unread(_all_of(owners) or self.about, said)
            self._remember(owners)
            return
        if piece.turns(DITTO) and not piece.facts and owners:
            yield from self._again(owners, said, unknown)
            self._remember(owners)
            return
        doubt = _doubt(piece, unknown, line)
        if self.is_lost and not owners:
            doubt = doubt or "what stands before it is not understood"
        corrects = bool(piece.turns(CORRECT)) or self.is_correcting
        self.is_correcting = self.is_correcting and not piece.facts
        told: set[tuple[SongsMeant, str]] = set()
        for item, about in _facts_with_owners(piece, owners, self.about):
            if about is NOWHERE or about.no_song:
                yield Unread(about, said)
            else:
                fact = item.what
                assert isinstance(fact, FactSaid | KeyFact)  # noqa: S101  facts hold nothing else
                is_second = isinstance(fact, KeyFact) and (about, "key") in told
                told.add((about, "key" if isinstance(fact, KeyFact) else fact.field))
                if is_second or (
                    isinstance(fact, KeyFact) and not owners and self._is_of_a_section(unknown, line, before)
                ):
                    yield Claim(about, FactSaid("notes", said, item.end), said)
                    continue
                reasons = [doubt, fact.doubt, about.doubt]
                denied = isinstance(fact, KeyFact) and bool(fact.denied)
                yield Claim(about, fact, said, "; ".join(filter(None, reasons)), corrects or denied)
        if piece.turns(HEDGE) and owners and not piece.facts and not passed and not unknown:
            yield Passed(_all_of(owners) or self.about, "", said, named or group)
        elif passed and not piece.facts:
            about = _all_of(owners) or self.about
            to = " ".join(dict.fromkeys(turn.says for turn in passed if turn.says))
            yield Passed(about, to, said, named or group) if about is not NOWHERE else Unread(about, said)
        elif (unknown or any(one.is_rest for one in owners)) and not piece.facts:
            yield Unread(_all_of(owners) or self.about, said)
        self._remember(owners)

    def _is_of_a_section(self, unknown: Sequence[ReplyItem], line: ScannedLine, before: list[SaidInReply]) -> bool:
        """Return whether a second key is only that of a part of the song: (G in the bridge)."""
        said = {line.words[one.at].low for one in unknown}
        return bool(said & SECTIONS) and any(isinstance(one.fact, KeyFact) for one in self._of_now(before))

    def _again(self, owners: Sequence[SongsMeant], said: str, unknown: Sequence[ReplyItem]) -> Iterator[SaidInReply]:
        """Say the last facts again of other songs: "and so is Rain Delay"."""
        last = [one for one in self.last if not one.about.is_rest]
        about = _all_of(owners) or NOWHERE
        if not last:
            yield Unread(about, said)
        for one in last:
            yield one._replace(about=about, words=said, doubt=one.doubt or (said if unknown else ""))

    def _of_now(self, before: list[SaidInReply]) -> list[Claim]:
        """Return what this sentence said of the songs being spoken of."""
        return [one for one in before if isinstance(one, Claim) and one.about == self.about]

    def _owners(self, piece: _Piece) -> list[SongsMeant]:
        return [one.what for one in piece.songs if isinstance(one.what, SongsMeant)]

    def _remember(self, owners: Sequence[SongsMeant]) -> None:
        if owners:
            self.about = owners[-1]

    def _turns_alone(self, piece: _Piece, said: str, field: str, before: list[SaidInReply]) -> Iterator[SaidInReply]:
        """Read a piece without facts: a doubt about what was just said, or a question passed on."""
        passed = [*piece.turns(UNKNOWN_TO_LEADER), *piece.turns(AS_RECORD)]
        named = bool(piece.turns(ASKED_FOR))
        if passed and (named or not any(isinstance(one, Claim) for one in before)):
            to = " ".join(dict.fromkeys(turn.says for turn in passed if turn.says))
            if self.about is not NOWHERE:
                yield Passed(self.about, to, said, field)
            else:
                yield Unread(NOWHERE, said)
        elif passed or piece.turns(HEDGE):
            for one in before:
                if isinstance(one, Claim) and one.about == self.about:
                    yield one._replace(doubt="; ".join(filter(None, (one.doubt, said))))
        if piece.turns(CORRECT):
            self.is_correcting = True


def _replaced(before: list[SaidInReply], new: list[SaidInReply]) -> list[SaidInReply]:
    """Leave out claims that the new ones say again with a doubt."""
    again = {(one.about, one.fact) for one in new if isinstance(one, Claim)}
    return [one for one in before if not (isinstance(one, Claim) and (one.about, one.fact) in again)]


def _pieces(line: ScannedLine) -> Iterator[_Piece]:
    """Split a line's items at separators. Each piece has at least one item."""
    items: list[ReplyItem] = []
    begins = True
    for item in line.items:
        if isinstance(item.what, Separator):
            if items:
                yield _Piece(tuple(items), begins)
                items, begins = [], False
            begins = begins or item.what.is_strong
        else:
            items.append(item)
            if (
                isinstance(item.what, TurnSaid)
                and item.what.kind == HEDGE
                and line.said(item.at, item.end).startswith("?")
            ):
                yield _Piece(tuple(items), begins)
                items, begins = [], False
    if items:
        yield _Piece(tuple(items), begins)


def _parted(pieces: Iterable[_Piece]) -> Iterator[_Piece]:
    """Split a piece that names songs more than once: before each of them, or after each where the facts come first."""
    for piece in pieces:
        names = [at for at, item in enumerate(piece.items) if _names_songs(item)]
        if len(names) < 2:
            yield piece
            continue
        first_fact = next((at for at, item in enumerate(piece.items) if isinstance(item.what, FactSaid | KeyFact)), 0)
        last_fact = max(
            (at for at, item in enumerate(piece.items) if isinstance(item.what, FactSaid | KeyFact)), default=0
        )
        cuts = names[1:] if first_fact > names[0] or last_fact > names[-1] else [at + 1 for at in names[:-1]]
        begins = piece.begins_sentence
        for start, end in zip([0, *cuts], [*cuts, len(piece.items)], strict=True):
            yield _Piece(piece.items[start:end], begins)
            begins = False


RELATIVE: Final = set_of("up down lower higher tone tones semitone semitones step steps halftone")
SECTIONS: Final = set_of(
    "intro verse verses chorus choruses bridge solo outro middle8 middle eight coda ending end tag refrain break"
)
QUIET: Final = set_of("is its thats that are do does for and on : = - – — . ( ) , the # in it 's one")


def _without_strays(piece: _Piece, line: ScannedLine) -> _Piece:
    """Take "you" and the like for words between where more is said, and players beside a capo, who do not start."""
    has_capo = any(isinstance(one.what, FactSaid) and one.what.field in ("capo", "shapes") for one in piece.items)
    talks = any(
        isinstance(one.what, TurnSaid)
        and one.what.kind == FILLER
        and any(line.words[at].low not in QUIET for at in range(one.at, one.end))
        for one in piece.items
    )
    says_anew = piece.begins_sentence and not piece.songs and piece.items[0].at > 0
    kept = []
    for item in piece.items:
        what = item.what
        if isinstance(what, FactSaid) and (
            (what.is_lone and (talks or says_anew)) or (has_capo and what.field == "starts_with")
        ):
            item = item._replace(what=TurnSaid(FILLER, item.end))  # noqa: PLW2901  the same words, read anew
        kept.append(item)
    return piece._replace(items=tuple(kept))


def _names_songs(item: ReplyItem) -> bool:
    return isinstance(item.what, SongsMeant) and not item.what.sets


def _all_of(owners: Sequence[SongsMeant]) -> SongsMeant | None:
    if not owners:
        return None
    songs = tuple(dict.fromkeys(song for one in owners for song in one.songs))
    return owners[-1]._replace(songs=songs)


def _is_unread(piece: _Piece, unknown: Sequence[ReplyItem]) -> bool:
    """Return whether a piece says something that must not be guessed: a "not", or many words beside a weak fact."""
    if piece.turns(NOT):
        return True
    if not unknown or not piece.facts:
        return False
    firm = all(isinstance(one.what, FactSaid | KeyFact) and one.what.firm for one in piece.facts)
    return not firm or len(unknown) > MAX_UNKNOWN


def _doubt(piece: _Piece, unknown: Sequence[ReplyItem], line: ScannedLine) -> str:
    hedges = [
        line.said(one.at, one.end) for one in piece.items if isinstance(one.what, TurnSaid) and one.what.kind == HEDGE
    ]
    passed = [
        line.said(one.at, one.end)
        for one in piece.items
        if isinstance(one.what, TurnSaid) and one.what.kind in (UNKNOWN_TO_LEADER, AS_RECORD)
    ]
    if unknown:
        return line.said(*piece.span)
    return ", ".join([*hedges, *passed]) if piece.facts else ""


def _facts_with_owners(
    piece: _Piece, owners: Sequence[SongsMeant], about: SongsMeant
) -> Iterator[tuple[ReplyItem, SongsMeant]]:
    """Yield each fact with its songs: those before it, or, where the facts come first, those after it."""
    places = [one.at for one in piece.songs]
    facts = piece.facts
    if not places:
        yield from ((fact, about) for fact in facts)
        return
    facts_first = bool(facts) and facts[0].at < places[0] and facts[-1].at < places[-1]
    for fact in facts:
        before = [owner for owner, at in zip(owners, places, strict=True) if at < fact.at]
        after = [owner for owner, at in zip(owners, places, strict=True) if at > fact.at]
        if facts_first:
            yield fact, after[0] if after else owners[-1]
        else:
            yield fact, before[-1] if before else after[0]


def is_only_filler(line: ScannedLine) -> bool:
    """Return whether a line says nothing: signs and words between."""
    return all(
        isinstance(one.what, Separator) or (isinstance(one.what, TurnSaid) and one.what.kind == FILLER)
        for one in line.items
    )
