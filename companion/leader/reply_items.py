"""The items of a line: which words name songs, which state facts, which are turns of phrase, which are unknown."""

from collections.abc import Sequence
from typing import NamedTuple

from companion.leader.reply_dates import DayReading
from companion.leader.reply_words import SIGN, ReplyWord
from companion.leader.songs_meant import SongsMeant
from companion.leader.stated_fact import StatedFact
from companion.leader.turns_of_phrase import FILLER, TurnOfPhrase


class ReplyItem(NamedTuple):
    """Some words of a line and what they are: songs, a fact, a turn of phrase, a separator, or unknown (None)."""

    at: int
    end: int
    what: "SongsMeant | StatedFact | TurnOfPhrase | DayReading | KeyFact | Separator | None"


class KeyFact(NamedTuple):
    """A key as a fact. ``then``: the words of two keys, ``second`` the later one; ``denied``: the key it replaces."""

    key: str
    firm: bool
    doubt: str = ""
    then: str = ""
    denied: str = ""
    second: str = ""


class Separator(NamedTuple):
    """What separates two pieces: ``is_strong`` ends a sentence, ``joins`` may be within a list of songs."""

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


def is_word(item: ReplyItem, words: Sequence[ReplyWord]) -> bool:
    """Return whether an item has letters or figures."""
    return any(words[at].kind != SIGN for at in range(item.at, item.end))


def is_filler(item: ReplyItem) -> bool:
    """Return whether an item means nothing: well, you know."""
    return isinstance(item.what, TurnOfPhrase) and item.what.kind == FILLER


def names_songs(item: ReplyItem) -> bool:
    """Return whether an item names songs one by one, not a set."""
    return isinstance(item.what, SongsMeant) and not item.what.sets
