"""Words before a colon that only open a list of keys: "vite fait entre deux trains : 1 Do / 2 Sol / 3 Ré m"."""

from collections.abc import Iterator, Sequence
from typing import Final

from companion.leader.line_scanner import LineScanner
from companion.leader.reply_items import KeyFact, ReplyItem, Separator, is_filler
from companion.leader.reply_lines import ReplyLine
from companion.leader.reply_words import words_of
from companion.leader.songs_meant import SongsMeant
from companion.leader.turns_of_phrase import COLOUR, FILLER, TurnOfPhrase

LEAST: Final = 3  # songs with their keys, so that the first is one of a list
MAX_WORDS: Final = 12  # before the colon


def with_lists_apart(lines: Sequence[ReplyLine], scanner: LineScanner) -> list[ReplyLine]:
    """Part such words from their list, so that they are no words about its first song."""
    return [part for line in lines for part in (_parts(line, scanner) or (line,))]


def _parts(line: ReplyLine, scanner: LineScanner) -> tuple[ReplyLine, ...]:
    head, colon, tail = line.text.partition(":")
    is_open = bool(colon and head.strip() and tail[:1].isspace()) and not (line.is_quoted or line.field)
    if not is_open or len(words_of(head)) > MAX_WORDS:
        return ()
    items = scanner.scan(head.strip(), None).items
    if not any(item.what is None for item in items) or not all(map(_says_nothing, items)):
        return ()
    if len(list(_keyed(scanner.scan(tail.strip(), None).items))) < LEAST:
        return ()
    return line._replace(text=f"{head.strip()}:"), line._replace(text=tail.strip())


def _says_nothing(item: ReplyItem) -> bool:
    """Return whether an item is of no weight for what follows: "forget these:" and "not sure:" have some."""
    if isinstance(item.what, TurnOfPhrase):
        return item.what.kind in (FILLER, COLOUR)
    return item.what is None or isinstance(item.what, Separator)


def _keyed(items: Sequence[ReplyItem]) -> Iterator[ReplyItem]:
    """Yield each song from the first word on that only its key follows."""
    items = [one for one in items if not is_filler(one)]
    for at in range(len(items) - 1):
        song, key = items[at].what, items[at + 1].what
        is_keyed = isinstance(song, SongsMeant) and len(song.songs) == 1 and isinstance(key, KeyFact)
        if is_keyed:
            yield items[at]
        elif at == 0:
            return
