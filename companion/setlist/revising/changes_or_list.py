"""Whether a message changes the list that is there, or is a whole list of its own; asked where neither is sure."""

import enum
import re
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.setlist.model import Doubt, DoubtAnswer, SaidLine
from companion.setlist.parsing.line_kinds import is_chat, is_sentence
from companion.setlist.parsing.list_talk import FEW, says_same_as_before
from companion.setlist.revising.change_words import ChangeKind, ListChange, clauses_of, says_rest_stays
from companion.setlist.revising.farewells import is_farewell_clause
from companion.show import Show

MAX_NAMED: Final = 6  # songs of the show in a message of changes; of a longer show, up to half
SHORT: Final = 8  # words; a longer line is no title
LONG_SHOW: Final = 3  # songs; a shorter show loses little to a list of one
PLAIN_BESIDE: Final = 3  # lines that may be songs beside each change, in a message that may be one of changes
MANY_TIMES: Final = 4  # as many songs in the show as in a list: such a list may not be the whole
OF_PART: Final = 3  # the same for a list of a few songs in any other words
_UPDATED: Final = re.compile(
    r"\b(?:updated?|amend(?:ed|ments?)|(?:some|few|small|last[- ]minute|these) changes?|changes:|corrections?)\b",
    re.IGNORECASE,
)
WHOLE: Final = "no"
CHANGES_OR_LIST: Final = "Is this message only about changes, rather than the whole list?"


class MessageKind(enum.Enum):
    """What a message may be to the show that is there."""

    CHANGES = "changes"
    UNSURE = "unsure"
    LIST = "list"


class _Said(msgspec.Struct, frozen=True):
    """What was counted in a message."""

    made: int  # clauses that change something
    others: int  # clauses not understood
    named: int  # songs of the show that the changes name
    orders: int  # clauses that no list has: drop Moth, Rest the same
    is_order: bool
    plain: int  # lines that may be songs of a list
    is_listed: bool  # numbers or headings, as a list has them


def kind_of(lines: Sequence[SaidLine], show: Show) -> MessageKind:
    """Return whether a message means the show's own songs: it refers to them, or it says little but what changes."""
    titles = [song.title for one in show.sets for song in one.songs]
    said = _counted(lines, titles)
    if not said.is_listed and _is_only_changes(lines, said, len(titles)):
        return MessageKind.CHANGES
    if _says_only_keys(said) and said.named * 2 <= len(titles):
        is_few = said.named * MANY_TIMES <= len(titles) and len(titles) >= LONG_SHOW
        return MessageKind.CHANGES if is_few else MessageKind.UNSURE
    is_short = said.plain * 2 <= len(titles) and said.plain <= PLAIN_BESIDE * said.orders
    if said.orders and is_short and len(titles) >= LONG_SHOW:
        return MessageKind.UNSURE
    return MessageKind.LIST


def may_be_part(songs: int, show: Show) -> bool:
    """Return whether a list of so many songs is so short beside the show that it may be a part of it."""
    there = sum(len(one.songs) for one in show.sets)
    return songs * OF_PART <= there and there >= LONG_SHOW


def is_counted(lines: Sequence[SaidLine]) -> bool:
    """Return whether a message has headings of sets, or numbers its lines, as a list does."""
    return any(line.is_heading for line in lines) or sum(line.is_numbered for line in lines) >= FEW


def changes_or_list() -> Doubt:
    """Doubt whether a message changes the list; until it is answered, it does, so that no song is dropped."""
    return Doubt(
        "it may be the whole list: read as changes to the show's songs",
        CHANGES_OR_LIST,
        (DoubtAnswer("yes"), DoubtAnswer(WHOLE)),
    )


def _is_only_changes(lines: Sequence[SaidLine], said: _Said, songs: int) -> bool:
    if any(says_same_as_before(line.text) for line in lines):
        return True
    is_short = said.named <= max(MAX_NAMED, songs // 2)
    return said.made > 0 and is_short and said.others <= said.made // 2 and said.is_order


def _says_only_keys(said: _Said) -> bool:
    """Return whether a message is about keys of the show's songs, in sentences: no line of it may be a title alone."""
    return bool(said.made) and not (said.is_order or said.is_listed or said.plain) and said.others <= said.made


def _counted(lines: Sequence[SaidLine], titles: Sequence[str]) -> _Said:
    made = others = orders = plain = numbered = 0
    named: set[int] = set()
    is_order = False
    for line in lines:
        clauses = [(clause, _sure(clause, changes)) for clause, changes in clauses_of(line.text, titles)]
        ordered = sum(any(one.is_order and one.kind is not ChangeKind.START for one in said) for _, said in clauses)
        ordered += _says_changed(line.text)
        made += sum(bool(said) for _, said in clauses)
        others += sum(not said and not is_farewell_clause(clause) for clause, said in clauses)
        named |= {number for _, said in clauses for one in said for number in one.songs}
        is_order = is_order or any(one.is_order for _, said in clauses for one in said)
        orders += ordered
        may_be_song = bool(clauses) and not any(said for _, said in clauses) and _reads_as_title(line.text)
        plain += may_be_song
        numbered += line.is_numbered and not ordered
    is_listed = numbered >= FEW or any(line.is_heading for line in lines)
    return _Said(made, others, len(named), orders, is_order, plain, is_listed)


def _sure(clause: str, changes: tuple[ListChange, ...]) -> tuple[ListChange, ...]:
    return tuple(one for one in changes if not _may_be_listed(one, clause))


def _says_changed(text: str) -> bool:
    """Return whether a line says that it changes something, or that the rest stays."""
    parts = re.split(r"[.,;!]\s*", text)
    return bool(_UPDATED.search(text)) or any(says_rest_stays(part.strip()) for part in parts)


def _reads_as_title(text: str) -> bool:
    return len(text.split()) <= SHORT and not is_chat(text) and not is_sentence(text)


def _may_be_listed(change: ListChange, clause: str) -> bool:
    """Return whether a clause could be a song in a list with its key just as well: Moth - G."""
    is_plain_key = change.kind is ChangeKind.KEY and not change.semitones
    return is_plain_key and not re.search(r"\b(?:in|now|tonight|to|goes|not|was|instead|no longer)\b", clause)
