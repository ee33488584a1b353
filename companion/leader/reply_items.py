"""Scan a line of a reply: which words name songs, which state facts, which are turns of phrase, which are unknown."""

import datetime as dt
import re
from collections.abc import Iterable, Sequence
from typing import Final, NamedTuple

from companion.leader.endings_said import INTO_NAMED
from companion.leader.fact_said import FactSaid
from companion.leader.fact_words import fact_said
from companion.leader.keys_said import key_said
from companion.leader.reply_dates import DaySaid, day_said
from companion.leader.reply_words import COUNTED, NUMBER, SIGN, TENS, ReplyWord, low, set_of, words_of
from companion.leader.songs_meant import CALLED, JOINS, SongNames, SongsMeant, joined
from companion.leader.turns_of_phrase import (
    CORRECT,
    DITTO,
    DROPPERS,
    EXCEPT,
    FILLER,
    HEDGE,
    NOT,
    REST,
    TurnSaid,
    turn_said,
)
from companion.leader.who_starts import PLAYERS, STARTS
from companion.music import read_key

SPEAKING: Final = set_of("# @ ♩ ~ -> => → >")  # signs that may begin a fact
SEPARATORS: Final = frozenset(";.!?…")
PIECES: Final = frozenset(
    [
        ",",
        "and",
        "but",
        "&",
        "(",
        ")",
        "–",
        "—",
        "[",
        "]",
        "und",
        "et",
        "aber",
        "+",
        "...",
        "then",
        "so",
        "because",
        "cos",
        "since",
        "weil",
    ]
)
AFTER_KEY: Final = set_of(
    "and but then not or instead rather to up into we you i it fade fades cold please thanks cheers for now "
    "maybe perhaps probably definitely as same with ends ending tag rit segue minor major flat sharp on is "
    "are at in too also sorry no yes capo key straight original last all both everyone count counts four "
    "click clicks the dropped starts start und aber ou mais oder per from this that ish lower higher oclock "
    "around about chart"
)


class ReplyItem(NamedTuple):
    """Some words of a line and what they are: songs, a fact, a turn of phrase, a separator, or unknown (None)."""

    at: int
    end: int
    what: "SongsMeant | FactSaid | TurnSaid | DaySaid | KeyFact | Separator | None"


class KeyFact(NamedTuple):
    """A key as a fact. ``then``: the words of two keys; ``denied``: the key that it replaces."""

    key: str
    firm: bool
    doubt: str = ""
    then: str = ""
    denied: str = ""


class Separator(NamedTuple):
    """What parts two pieces: ``is_strong`` ends a sentence, ``joins`` may stand within a list of songs."""

    is_strong: bool
    joins: bool = False


class ScannedLine(NamedTuple):
    """A line as its words and items. ``within``: the set that its numbers count in, if it names one."""

    text: str
    words: tuple[ReplyWord, ...]
    items: tuple[ReplyItem, ...]
    within: int | None

    def said(self, at: int, end: int) -> str:
        """Return the text of some words."""
        return self.text[self.words[at].start : self.words[end - 1].end] if end > at else ""


class LineScanner:
    """Scans lines about one show. ``today`` completes dates without a year.

    ``may_be_german``: other keys of the reply are named as in German, so that B may be Bb.
    """

    def __init__(self, names: SongNames, today: dt.date, *, german: bool, may_be_german: bool = False) -> None:
        self.names = names
        self._today = today
        self._german = german
        self._may_be_german = may_be_german and not german
        self._known = AFTER_KEY | PLAYERS.keys() | STARTS | COUNTED.keys() | TENS.keys() | CALLED

    def scan(self, text: str, within: int | None, *, asks_day: bool = False) -> ScannedLine:
        """Scan a line. ``within``: the set whose numbers count from 1; ``asks_day``: it answers "what date?"."""
        words = words_of(text)
        day = day_said(text, self._today, asked=asks_day or "date" in text[:12].casefold())
        items: list[ReplyItem] = []
        at = 0
        while at < len(words):
            item = self._item(words, at, items, within, day)
            if isinstance(item.what, SongsMeant) and len(item.what.sets) == 1:
                within = item.what.sets[0]
                again = self._numbers_within(words, items, within)
                if again is not None:
                    items, item = again, item._replace(what=TurnSaid(FILLER, item.end))
            items.append(item)
            at = item.end
        return ScannedLine(
            text,
            tuple(words),
            tuple(self._combined(words, items)),
            within,
        )

    def _combined(self, words: list[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
        """Combine items that belong together: numbers with titles, lists, all but some, segues with their song."""
        named = _named_twice(_into_named(_dropped_by_name(words, _confirmed(words, items))), self.names)
        return _rests(words, _joined_lists(named))

    def _item(
        self, words: list[ReplyWord], at: int, before: list[ReplyItem], within: int | None, day: DaySaid | None
    ) -> ReplyItem:
        """Return the longest reading of the words from here; of two as long, the first of this list."""
        if day and words[at].start <= day.start < words[at].end:
            end = next((index for index in range(at, len(words)) if words[index].start >= day.end), len(words))
            return ReplyItem(at, end, day)
        if words[at].kind == SIGN and words[at].low not in SPEAKING:
            turn = turn_said(words, at)
            return ReplyItem(at, turn.end if turn else at + 1, _turn(words, at, turn) if turn else None)
        found: list[ReplyItem] = []
        after_unknown = bool(before) and before[-1].what is None
        title = self.names.titled(words, at, haste=not after_unknown)
        if title and (not after_unknown or title.end - title.at > 1 or not title.no_song):
            found.append(ReplyItem(at, title.end, title))
        if (meant := self.names.set_meant(words, at)) is not None:
            found.append(ReplyItem(at, meant.end, meant))
        after_song = bool(before) and isinstance(before[-1].what, SongsMeant)
        if (key := key_said(words, at, self._known, german=self._german, after_song=after_song)) is not None:
            if self._may_be_german and words[at].text in ("B", "b") and key.key and key.end == at + 1:
                key = key._replace(key=read_key("Bb"), doubt="B is Bb in German")
            told = KeyFact(str(key.key or ""), key.firm, key.doubt, key.then, str(key.denied or ""))
            found.append(ReplyItem(at, key.end, told if key.key else None))
        if (fact := fact_said(words, at)) is not None:
            found.append(ReplyItem(at, fact.end, fact))
        is_one = after_song and words[at].low in ("one", "ones")  # the tin roof one
        if not is_one and (number := self.names.numbered(words, at, within)) and _begins_number(words, at, before):
            found.append(ReplyItem(at, number.end, number))
        if (
            low(words, at) == "but"
            and before
            and isinstance(before[-1].what, TurnSaid)
            and before[-1].what.kind == REST
        ):
            return ReplyItem(at, at + 1, TurnSaid(EXCEPT, at + 1))
        if (turn := turn_said(words, at)) is not None:
            found.append(ReplyItem(at, turn.end, _turn(words, at, turn)))
        return max(found, key=lambda one: one.end, default=ReplyItem(at, at + 1, None))

    def _numbers_within(self, words: list[ReplyWord], items: list[ReplyItem], within: int) -> list[ReplyItem] | None:
        """Read the number or the rest right before a set again: 1 in set 2, the rest of the first set."""
        at = len(items) - 1
        while (
            at >= 0
            and isinstance(items[at].what, TurnSaid)
            and items[at].end == items[at].at + 1
            and low(words, items[at].at) in ("in", "of", "the", "(", "from")
        ):
            at -= 1
        what = items[at].what if 0 <= at < len(items) - 1 else None
        if isinstance(what, TurnSaid) and what.kind == REST:
            rest = SongsMeant((), items[at].at, items[at].end, sets=(within,), is_rest=True)
            return [*items[:at], items[at]._replace(what=rest), *items[at + 1 :]]
        if 0 <= at < len(items) - 1 and isinstance(meant := items[at].what, SongsMeant) and len(meant.songs) == 1:
            again = self.names.numbered(words, items[at].at, within)
            if again is not None:
                return [*items[:at], items[at]._replace(what=again), *items[at + 1 :]]
        return None


def _turn(words: list[ReplyWord], at: int, turn: TurnSaid) -> TurnSaid | Separator:
    """Return a separator for the signs and words that part pieces; a dot after a song's number parts nothing."""
    text = words[at].low
    if turn.end > at + 1:
        return turn
    if text in SEPARATORS:
        after_number = text == "." and at > 0 and words[at - 1].kind == NUMBER and _follows_close(words, at)
        if text == "?":
            return TurnSaid(HEDGE, at + 1)
        return turn if after_number or (text == "." and _is_short(words, at)) else Separator(is_strong=True)
    if text == ")" and words[at - 1].kind == NUMBER and not _in_brackets(words, at):
        return turn
    if text == "/" and 0 < at < len(words) - 1:
        return Separator(is_strong=False, joins=True)
    if text in PIECES and turn.kind != CORRECT:
        return Separator(is_strong=False, joins=text in JOINS)
    return turn


def _in_brackets(words: list[ReplyWord], at: int) -> bool:
    """Return whether a bracket is open before a word: "(capo 1)", not "1)"."""
    said = [word.low for word in words[:at]]
    return said.count("(") > said.count(")") - sum(
        1 for index in range(1, at) if words[index].low == ")" and words[index - 1].kind == NUMBER
    )


def _follows_close(words: list[ReplyWord], at: int) -> bool:
    """Return whether an answer follows the dot of a number, as in 2. G."""
    return at + 1 < len(words)


def _is_short(words: list[ReplyWord], at: int) -> bool:
    """Return whether a dot ends a shortened word: no. 4, approx. 112."""
    return at > 0 and words[at - 1].low in ("no", "nr", "approx", "ca", "orig", "vs")


SURE_KEY: Final = re.compile(r"[A-G](?:[b#♭♯]m?|m)$")


def _begins_number(words: list[ReplyWord], at: int, before: list[ReplyItem]) -> bool:
    """Return whether a number may begin here: not in the middle of words that are not understood."""
    if not before or before[-1].what is not None or words[at - 1].kind == SIGN:
        return True
    return low(words, at + 1) in ("in", "is", "=", ":", "are") or _is_flat_or_sharp(words, at + 1)


def _is_flat_or_sharp(words: list[ReplyWord], at: int) -> bool:
    """Return whether a word is a key and nothing else."""
    return at < len(words) and SURE_KEY.match(words[at].text) is not None


def _confirmed(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Take a number in words for a song only where a fact or "don't know" follows, or another number."""
    held: list[ReplyItem] = []
    for item in reversed(items):
        if isinstance(item.what, SongsMeant) and item.what.is_word:
            after = next((one.what for one in reversed(held) if not _is_between(one)), None)
            is_song = isinstance(after, FactSaid | KeyFact | SongsMeant) or (
                isinstance(after, TurnSaid) and after.kind not in (FILLER, NOT)
            )
            if not is_song:
                item = item._replace(what=TurnSaid(FILLER, item.end) if low(words, item.at) == "one" else None)  # noqa: PLW2901  the same words, read anew
        held.append(item)
    return list(reversed(held))


def _is_between(item: ReplyItem) -> bool:
    if isinstance(item.what, TurnSaid):
        return item.what.kind == FILLER
    return isinstance(item.what, Separator) and item.what.joins


def _joined_lists(items: list[ReplyItem]) -> list[ReplyItem]:
    """Join numbers that only commas and "and" part into one: 1, 2 and 5."""
    joined_up: list[ReplyItem] = []
    at = 0
    while at < len(items):
        run, end = [items[at]], at + 1
        while _is_song(run[-1]) and (following := _after_join(items, end)) is not None:
            run.append(items[following])
            end = following + 1
        if len(run) > 1 and _has_facts_on_both_sides(items, at, end):
            joined_up.append(_as_one(run[:-1]))
            at = items.index(run[-1])
            continue
        if len(run) > 1:
            joined_up.append(_as_one(run))
        else:
            joined_up.append(run[0])
        at = end
    return joined_up


def _as_one(run: Sequence[ReplyItem]) -> ReplyItem:
    meant = joined(one.what for one in run if isinstance(one.what, SongsMeant))
    return ReplyItem(run[0].at, run[-1].end, meant)


def _has_facts_on_both_sides(items: Sequence[ReplyItem], at: int, end: int) -> bool:
    """Return whether a list of songs has facts before and after it: Bb for 1, G for 2 and 4 in D."""
    return _has_fact(reversed(items[:at])) and _has_fact(items[end:])


def _has_fact(items: Iterable[ReplyItem]) -> bool:
    for item in items:
        if isinstance(item.what, Separator | SongsMeant):
            return False
        if isinstance(item.what, FactSaid | KeyFact) or (isinstance(item.what, TurnSaid) and item.what.kind == DITTO):
            return True
    return False


def _dropped_by_name(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Read "bin the tango" as a dropped song, where "lose the tag" is none."""
    kept = list(items)
    for at, item in enumerate(items[:-2]):
        is_dropper = isinstance(item.what, TurnSaid) and item.what.kind == NOT and low(words, item.at) in DROPPERS
        if is_dropper and low(words, items[at + 1].at) == "the" and isinstance(items[at + 2].what, SongsMeant):
            kept[at] = item._replace(what=FactSaid("dropped", True, item.end))
    return kept


def _into_named(items: list[ReplyItem]) -> list[ReplyItem]:
    """Put the song into the segue that names it: straight into 6."""
    kept: list[ReplyItem] = []
    for item in items:
        before = kept[-1] if kept else None
        fact = before.what if before else None
        if before and isinstance(fact, FactSaid) and fact.value == INTO_NAMED and fact.field == "into":
            if isinstance(item.what, SongsMeant) and len(item.what.songs) == 1:
                kept[-1] = ReplyItem(before.at, item.end, fact._replace(value=item.what.songs[0], end=item.end))
                continue
            kept[-1] = before._replace(what=None)
        kept.append(item)
    return kept


def _named_twice(items: list[ReplyItem], names: SongNames) -> list[ReplyItem]:
    """Join a number and the title behind it: 3 Moth. Where they are two songs, the title is right, with a doubt."""
    kept: list[ReplyItem] = []
    for item in items:
        before = kept[-1] if kept else None
        if before and _is_song(item) and _is_song(before):
            number, title = before.what, item.what
            assert isinstance(number, SongsMeant)  # noqa: S101  what _is_song says
            assert isinstance(title, SongsMeant)  # noqa: S101  same
            if len(title.songs) == 1 and len(number.songs) == 1:
                doubt = number.doubt if number.songs == title.songs else _other_number(number, title, names)
                kept[-1] = ReplyItem(before.at, item.end, title._replace(at=before.at, doubt=doubt))
                continue
            if len(title.songs) == 1 and number.no_song:
                kept[-1] = ReplyItem(before.at, item.end, title._replace(at=before.at, doubt=number.no_song))
                continue
        kept.append(item)
    return kept


def _other_number(number: SongsMeant, title: SongsMeant, names: SongNames) -> str:
    """Return the doubt about a title with another song's number; none where it is its number in its set."""
    place, other = title.songs[0], number.songs[0]
    in_set = names.in_set(names.songs[place][0])
    if in_set.index(place) == other:  # the number, counted from 0
        return ""
    return f"that number is {names.songs[other][2].title}"


def _is_song(item: ReplyItem) -> bool:
    return isinstance(item.what, SongsMeant) and not item.what.sets


def _after_join(items: list[ReplyItem], at: int) -> int | None:
    """Return the place of the next song of a list, after one or two joining words."""
    skipped = 0
    while at < len(items) and skipped < 2 and isinstance(part := items[at].what, Separator) and part.joins:
        at, skipped = at + 1, skipped + 1
    return at if skipped and at < len(items) and _is_song(items[at]) else None


def _rests(words: Sequence[ReplyWord], items: list[ReplyItem]) -> list[ReplyItem]:
    """Turn "the rest", and "all" before a fact, into songs; those after "except" are left out of them.

    The songs of a rest are those that it leaves out.
    """
    kept: list[ReplyItem] = []
    last: int | None = None
    for at, item in enumerate(items):
        if (isinstance(item.what, TurnSaid) and item.what.kind == REST) or _is_all(words, items, at):
            last = len(kept)
            kept.append(item._replace(what=SongsMeant((), item.at, item.end, is_rest=True)))
        elif isinstance(item.what, TurnSaid) and item.what.kind == EXCEPT:
            songs = next((one.what for one in items[at + 1 : at + 3] if isinstance(one.what, SongsMeant)), None)
            if last is None or songs is None or not songs.songs:
                kept.append(item._replace(what=None))
                continue
            rest = kept[last].what
            assert isinstance(rest, SongsMeant)  # noqa: S101  the rest that was kept
            kept[last] = kept[last]._replace(what=rest._replace(songs=(*rest.songs, *songs.songs)))
            kept.append(item._replace(what=Separator(is_strong=False)))
        else:
            kept.append(item)
    return kept


def _is_all(words: Sequence[ReplyWord], items: Sequence[ReplyItem], at: int) -> bool:
    """Return whether an item is the "all" of "all cold", and not of "1-4 all in E" or "all start"."""
    item = items[at]
    if item.end != item.at + 1 or low(words, item.at) not in ("all", "alle", "everyone"):
        return False
    after = next((one.what for one in items[at + 1 :] if not _is_between(one)), None)
    before = [one.what for one in items[:at] if not _is_between(one)]
    return not before and isinstance(after, FactSaid | KeyFact)


def is_word(item: ReplyItem, words: Sequence[ReplyWord]) -> bool:
    """Return whether an item has letters."""
    return any(words[at].kind != SIGN for at in range(item.at, item.end))
