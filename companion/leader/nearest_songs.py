"""The last check of who owns a fact: the songs that stand nearest to its words, whichever way its line was read.

It does not ask how a line was read either. A value of a song that is named in its line, though others stand nearer to
the value's words, lands in doubt.
"""

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from companion.leader.reply_items import KeyFact, ReplyItem, ScannedLine, Separator
from companion.leader.reply_words import counted
from companion.leader.settled_claims import SettledClaim
from companion.leader.songs_meant import SongNames, SongsMeant
from companion.leader.stated_fact import StatedFact
from companion.leader.turns_of_phrase import AS_RECORD, TurnOfPhrase

SHORTEST: Final = 3  # letters of a word that may be one of a title
CHECKED: Final = ("key", "tempo", "starts_with", "ending", "dropped")


class _Owners(NamedTuple):
    """The songs that a fact may be about. ``sets``: those of the message and of each set, by number."""

    sets: Sequence[Sequence[int | None]]
    title_words: frozenset[str]

    def may_own(self, place: int, one: SettledClaim, line: ScannedLine) -> bool:
        """Return whether a song stands nearest to the words of a value, at one of their places in the line."""
        stating = [at for at, item in enumerate(line.items) if _states(item, one)]
        if stating and one.field != "key" and all(self._is_of_title(line.items[at], line) for at in stating):
            return False  # the hat starts, or is it the song "The Hat Comes Off"?
        owners = [self._nearest(at, line) for at in stating]
        return not owners or any(not some or place in some for some in owners)

    def _is_of_title(self, item: ReplyItem, line: ScannedLine) -> bool:
        """Return whether every long word of an item is a word of a title."""
        long = [word.low for word in line.words[item.at : item.end] if len(word.low) >= SHORTEST]
        return bool(long) and self.title_words.issuperset(long)

    def _nearest(self, at: int, line: ScannedLine) -> set[int]:
        """Return the songs before a fact and those right behind it; none if it may be about any song."""
        meant = [*_before(line.items[:at]), *_behind(line.items[at + 1 :])]
        if any(item.what.is_rest or not item.what.songs for item in meant if isinstance(item.what, SongsMeant)):
            return set()
        return {song for item in meant for song in self._songs(item, line)}

    def _songs(self, item: ReplyItem, line: ScannedLine) -> Iterator[int]:
        """Yield the songs that an item may mean, with those of its numbers in each set."""
        if isinstance(item.what, SongsMeant):
            yield from item.what.songs
        words = list(line.words)
        numbers = [said[0] for at in range(item.at, item.end) if (said := counted(words, at)) is not None]
        for number in range(min(numbers, default=1), max(numbers, default=0) + 1):
            alike = [songs[number - 1] for songs in self.sets if 0 < number <= len(songs)]
            yield from (song for song in alike if song is not None)


def with_owners_doubted(
    found: Sequence[SettledClaim], lines: Sequence[ScannedLine], names: SongNames
) -> Iterator[SettledClaim]:
    """Yield the claims, in doubt where the words of one stand nearer to other songs than to its own."""
    by_text = {line.text: line for line in lines}
    sets = [names.numbers, *(names.in_set(at) for at in range(len(names.show.sets)))]
    owners = _Owners(sets, frozenset(word for title in names.titles for word in title.split()))
    for one in found:
        line = by_text.get(one.line)
        if line is None or one.doubt or one.field not in CHECKED or one.set_at is None or one.song_at is None:
            yield one
            continue
        place = names.in_set(one.set_at)[one.song_at]
        yield one if owners.may_own(place, one, line) else one._replace(doubt=one.words or line.text)


def _states(item: ReplyItem, one: SettledClaim) -> bool:
    match item.what:
        case KeyFact():
            return one.field == "key" and one.value == item.what.key
        case StatedFact(field, value):
            return field == one.field and str(value) == str(one.value)
        case TurnOfPhrase(kind):
            return one.field == "key" and kind == AS_RECORD
    return False


def _before(items: Sequence[ReplyItem]) -> Iterator[ReplyItem]:
    """Yield the nearest songs before a fact, up to the fact before them."""
    has_songs = False
    for item in reversed(items):
        if isinstance(item.what, SongsMeant):
            has_songs = True
            yield item
        elif has_songs and (
            isinstance(item.what, KeyFact | StatedFact) or (isinstance(item.what, Separator) and item.what.is_strong)
        ):
            return


def _behind(items: Sequence[ReplyItem]) -> Iterator[ReplyItem]:
    """Yield the songs behind a fact up to a separator, and those of clauses that state nothing: 8 isn't either."""
    for at, item in enumerate(items):
        if isinstance(item.what, SongsMeant):
            yield item
        parts = isinstance(item.what, Separator) and (not item.what.joins or _states_something(items[at + 1 :]))
        if parts or isinstance(item.what, KeyFact | StatedFact):
            return


def _states_something(items: Sequence[ReplyItem]) -> bool:
    """Return whether a fact follows before the next separator."""
    for item in items:
        if isinstance(item.what, Separator):
            return False
        if isinstance(item.what, KeyFact | StatedFact):
            return True
    return False
