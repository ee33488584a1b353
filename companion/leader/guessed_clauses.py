"""Clauses that may each hold a guess: the words about one song or one group of songs, in lines that the reader read."""

import re
from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from companion.leader.corrected_items import may_be_tempo
from companion.leader.guess_words import DENIES, EVERY, EXCEPTS, PAST, PAST_PHRASES, POINTING, SMALL, STATES
from companion.leader.lead_ins import lead_in
from companion.leader.near_titles import is_form
from companion.leader.reply_dates import DayReading
from companion.leader.reply_items import KeyFact, ReplyItem, ScannedLine, Separator
from companion.leader.reply_readings import NOWHERE
from companion.leader.reply_words import SIGN, WORD, ReplyWord, low, phrase_of, set_of
from companion.leader.songs_meant import SongNames, SongsMeant
from companion.leader.stated_fact import StatedFact
from companion.leader.turns_of_phrase import NOT, UNKNOWN_TO_LEADER, TurnOfPhrase

MAX_CLAUSES: Final = 120  # of one line; what lies beyond is only kept


class ReadLine(NamedTuple):
    """A line as the reader read it: the songs being spoken of before it, and the question that its heading asks.

    ``answers``: whether that question is quoted right above it.
    """

    line: ScannedLine
    about: SongsMeant = NOWHERE
    field: str = ""
    answers: bool = False


class GuessClause(NamedTuple):
    """The words about some songs. ``free``: the places of words that name no song, key or date.

    ``sentence``: the words of its sentence, for comparison; ``field``: the question that the heading asks.
    """

    about: SongsMeant
    line: ScannedLine
    items: tuple[ReplyItem, ...]
    free: tuple[int, ...]
    sentence: frozenset[str]
    field: str
    is_carried: bool = False  # whether its songs are named in a sentence before
    keyed: bool = False  # whether its sentence has a key
    answers: bool = False  # whether it answers a quoted question about its song

    @property
    def said(self) -> str:
        """The text of the clause."""
        return self.line.said(self.items[0].at, self.items[-1].end)

    @property
    def lows(self) -> tuple[str, ...]:
        """The free words, for comparison."""
        return tuple(self.line.words[at].low for at in self.free)

    @property
    def denies(self) -> bool:
        """Whether it denies or limits what it says: not, unless, lose the tag."""
        turns = (one.what for one in self.items)
        if set(self.lows) & STATES - {"no"}:  # no princípio
            return False
        return bool(set(self.lows) & DENIES) or any(isinstance(one, TurnOfPhrase) and one.kind == NOT for one in turns)

    @property
    def is_beside_key(self) -> bool:
        """Whether its sentence has a key in another clause, as a line about one song has."""
        return self.keyed and not self.keys

    def stated(self, field: str) -> StatedFact | None:
        """Return the one fact of a field that the scanner reads here; None if there is none or several."""
        found = [one.what for one in self.items if isinstance(one.what, StatedFact) and one.what.field == field]
        return found[0] if len(found) == 1 else None

    @property
    def keys(self) -> list[KeyFact]:
        """The keys that are named here."""
        return [one.what for one in self.items if isinstance(one.what, KeyFact)]


def clauses_of(read: ReadLine, names: SongNames) -> Iterator[GuessClause]:
    """Yield the clauses of a line, without those that ask, tell of the past, or pass a question on."""
    owner = read.about
    field = read.field or ("starts_with" if _asks_who(read.line) else "")
    for many, (items, asks) in enumerate(_sentences(read.line)):
        if many >= MAX_CLAUSES:
            return
        lows = frozenset(read.line.words[at].low for one in items for at in range(one.at, one.end))
        skips = asks or _is_no_statement(read.line, items)
        keyed = any(isinstance(one.what, KeyFact) for one in items)
        is_carried = not any(_names(one) for one in items)
        if is_carried and (inflected := named_by_stem(items, read.line, names)):
            owner, is_carried = inflected, False
        pieces = _with_owners(read.line, list(_pieces(items, read.line)), owner)
        for about, part in pieces:
            owner = about
            free = _free(part, read.line)
            is_past = any(read.line.words[at].low in PAST for at in free)
            is_unknown = any(_is_unknown(one, read.line) for one in part)
            if about is not NOWHERE and not about.no_song and not (skips or is_past or is_unknown):
                yield GuessClause(about, read.line, part, free, lows, field, is_carried, keyed, read.answers)


def _asks_who(line: ScannedLine) -> bool:
    """Return whether a line is about who starts: it says so, or says it of several songs."""
    stated = sum(isinstance(one.what, StatedFact) and one.what.field == "starts_with" for one in line.items)
    return stated > 2 or _WHO_STARTS.search(line.text) is not None


_WHO_STARTS: Final = re.compile(r"\b(?:who starts|starters|starts:|intros:|who counts)", re.IGNORECASE)


def _is_no_statement(line: ScannedLine, items: Sequence[ReplyItem]) -> bool:
    if any(_is_unknown(one, line) and isinstance(one.what, TurnOfPhrase) and one.what.says for one in items):
        return True  # up to you
    return any(phrase_of(line.words, at, PAST_PHRASES) for at in range(items[0].at, items[-1].end))


def _is_unknown(item: ReplyItem, line: ScannedLine) -> bool:
    """Return whether words leave a question open; "whatever the old list says" leaves none."""
    is_unknown = isinstance(item.what, TurnOfPhrase) and item.what.kind == UNKNOWN_TO_LEADER
    return is_unknown and not (line.words[item.at].low == "whatever" and low(line.words, item.end) in _DETERMINERS)


_DETERMINERS: Final = set_of("the that this your my his her our their any it he she they")


def _sentences(line: ScannedLine) -> Iterator[tuple[list[ReplyItem], bool]]:
    """Yield each sentence's items, and whether it asks."""
    sentence: list[ReplyItem] = []
    for item in line.items:
        if item.end == item.at:
            continue
        sign = line.words[item.at].text if item.end == item.at + 1 else ""
        asks = sign.startswith("?")
        if asks or (isinstance(item.what, Separator) and item.what.is_strong):
            if sentence := _without_lead_in(sentence, line):
                yield sentence, asks
            sentence = []
        else:
            sentence.append(item)
    if sentence := _without_lead_in(sentence, line):
        yield sentence, False


def _without_lead_in(sentence: list[ReplyItem], line: ScannedLine) -> list[ReplyItem]:
    end = lead_in(line.words, sentence[0].at) if sentence else 0
    return [one for one in sentence if one.at >= end]


def _names(item: ReplyItem) -> bool:
    what = item.what
    names = isinstance(what, SongsMeant) and bool(what.songs or what.sets or what.is_rest or what.no_song)
    return names and not may_be_tempo(item)


def _pieces(items: Sequence[ReplyItem], line: ScannedLine) -> Iterator[list[ReplyItem]]:
    """Split a sentence at separators and "except"; a piece that names songs twice is split again at the names."""
    piece: list[ReplyItem] = []
    for item in items:
        excepts = _excepts(item, line)
        is_article = line.words[item.at].low == "et" and bool(piece) and line.words[piece[-1].at].low == "med"  # Danish
        if is_article:
            piece.append(item._replace(what=None))
        elif excepts or isinstance(item.what, Separator):
            if piece:
                yield from _by_names(piece)
            piece = [item] if excepts else []
        else:
            piece.append(item)
    if piece:
        yield from _by_names(piece)


def _excepts(item: ReplyItem, line: ScannedLine) -> bool:
    return not isinstance(item.what, SongsMeant) and line.words[item.at].low in EXCEPTS


def _by_names(piece: list[ReplyItem]) -> Iterator[list[ReplyItem]]:
    names = [at for at, one in enumerate(piece) if _names(one)]
    if len(names) < 2:
        yield piece
        return
    says_first = any(one.what is None or isinstance(one.what, StatedFact | KeyFact) for one in piece[: names[0]])
    cuts = [at + 1 for at in names[:-1]] if says_first else names[1:]
    for start, end in zip([0, *cuts], [*cuts, len(piece)], strict=True):
        yield piece[start:end]


def _with_owners(
    line: ScannedLine, pieces: list[list[ReplyItem]], before: SongsMeant
) -> Iterator[tuple[SongsMeant, tuple[ReplyItem, ...]]]:
    """Yield each piece with the songs that it is about: its own, else those before it, else those after it."""
    owners = [next((one.what for one in piece if _names(one)), None) for piece in pieces]
    owner: SongsMeant | None = None
    first = next((one for one in owners if isinstance(one, SongsMeant)), None)
    for at, (own, piece) in enumerate(zip(owners, pieces, strict=True)):
        if (
            own is None
            and owner is not None
            and owner.is_rest
            and owner.songs
            and line.words[piece[0].at].low in POINTING
        ):
            owner = SongsMeant(owner.songs, 0, 0)
        owner = own if isinstance(own, SongsMeant) else owner
        follows = owners[at + 1] if at + 1 < len(pieces) and _excepts(pieces[at + 1][0], line) else None
        says_all = owner is None and (first is None or follows is not None) and _says_every(piece, line)
        if says_all:
            left_out = follows.songs if isinstance(follows, SongsMeant) else ()
            yield SongsMeant(left_out, 0, 0, sets=before.sets, is_rest=True), tuple(piece)
        else:
            yield owner or first or before, tuple(piece)


def _says_every(piece: Sequence[ReplyItem], line: ScannedLine) -> bool:
    places = (at for one in piece if not _is_everybody(one) for at in range(one.at, one.end))
    return any(line.words[at].low in EVERY and not is_quite(line.words, at) for at in places)


def _is_everybody(item: ReplyItem) -> bool:
    """Return whether "all" means the players: Gitarre, dann alle."""
    is_start = isinstance(item.what, StatedFact) and item.what.field == "starts_with"
    return is_start and isinstance(item.what, StatedFact) and "all" in str(item.what.value).split()


def is_quite(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether "all" only strengthens the next word: tout seul, tout doux, helt."""
    return words[at].low in ("tout", "toute") and low(words, at + 1) in _QUITE


_QUITE: Final = set_of("seul seule seuls doux douce doucement lentement net simple droit pres de en a petit")


def _free(items: Sequence[ReplyItem], line: ScannedLine) -> tuple[int, ...]:
    return tuple(
        at
        for one in items
        if not isinstance(one.what, SongsMeant | KeyFact | DayReading)
        for at in range(one.at, one.end)
        if line.words[at].kind != SIGN
    )


MIN_STEM: Final = 4  # letters


def named_by_stem(items: Sequence[ReplyItem], line: ScannedLine, names: SongNames) -> SongsMeant | None:
    """Return the one song, or set, that a sentence names in another form of a word: Lokomotivu for Lokomotiva."""
    said = [line.words[at] for one in items if one.what is None for at in range(one.at, one.end)]
    said = [word for word in said if word.kind == WORD and len(word.low) > MIN_STEM and word.low not in SMALL]
    songs = {at for word in said if word.text[:1].isupper() for at in _like(word.low, names.titles)}
    if len(songs) == 1:
        return SongsMeant((*songs,), 0, 0)
    sets = {at for word in said for at in _like(word.low, names.sets)}
    return SongsMeant((), 0, 0, sets=(*sets,)) if len(sets) == 1 and not songs else None


def _like(low: str, titles: Sequence[str]) -> Iterator[int]:
    for at, title in enumerate(titles):
        if any(is_form(low, word) for word in title.split()):
            yield at
