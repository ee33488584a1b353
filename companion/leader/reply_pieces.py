"""Pieces of a line: which fact is about which song, how sure it is, and what was not understood."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final, NamedTuple

from companion.leader.fact_said import FactSaid
from companion.leader.reply_dates import DaySaid
from companion.leader.reply_items import KeyFact, ReplyItem, ScannedLine, Separator, is_word
from companion.leader.songs_meant import SongsMeant
from companion.leader.turns_of_phrase import (
    AS_RECORD,
    ASKED_FOR,
    CORRECT,
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


SaidInReply = Claim | DayClaim | VenueClaim | Passed | Unread


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

    def read(self, line: ScannedLine, group: str) -> list[SaidInReply]:
        """Read a line. ``group``: the field that the heading above asks for, or ""."""
        found: list[SaidInReply] = []
        sentence: list[SaidInReply] = []  # what this sentence said so far
        for piece in _parted(_pieces(line)):
            if piece.begins_sentence:
                found, sentence = [*found, *sentence], []
            new = list(self._piece(piece, line, group, sentence[-MAX_BACK:]))
            sentence = [*sentence[:-MAX_BACK], *_replaced(sentence[-MAX_BACK:], new), *new]
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
        if _is_unread(piece, unknown):
            yield Unread(_all_of(owners) or self.about, said)
            self._remember(owners)
            return
        doubt = _doubt(piece, unknown, line)
        corrects = bool(piece.turns(CORRECT)) or self.is_correcting
        self.is_correcting = self.is_correcting and not piece.facts
        for item, about in _facts_with_owners(piece, owners, self.about):
            if about is NOWHERE or about.no_song:
                yield Unread(about, said)
            else:
                fact = item.what
                assert isinstance(fact, FactSaid | KeyFact)  # noqa: S101  facts hold nothing else
                reasons = [doubt, fact.doubt, about.doubt]
                denied = isinstance(fact, KeyFact) and bool(fact.denied)
                yield Claim(about, fact, said, "; ".join(filter(None, reasons)), corrects or denied)
        if passed and not piece.facts:
            about = _all_of(owners) or self.about
            to = " ".join(dict.fromkeys(turn.says for turn in passed if turn.says))
            yield Passed(about, to, said, named or group) if about is not NOWHERE else Unread(about, said)
        elif unknown and not piece.facts:
            yield Unread(_all_of(owners) or self.about, said)
        self._remember(owners)

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
            if isinstance(item.what, TurnSaid) and item.what.kind == HEDGE and line.said(item.at, item.end) == "?":
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
