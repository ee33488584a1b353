"""The last check of who owns a fact: the songs that stand nearest to its words, whichever way its line was read.

It does not ask how a line was read either. A value of a song that is named in its line, though others stand nearer to
the value's words, lands in doubt.
"""

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from companion.leader.reply_items import KeyFact, ReplyItem, ScannedLine, Separator, is_word
from companion.leader.reply_words import counted, set_of
from companion.leader.settled_claims import SettledClaim
from companion.leader.songs_meant import SongNames, SongsMeant
from companion.leader.starting_words import FOREIGN_STARTS, START_VERBS
from companion.leader.stated_fact import StatedFact
from companion.leader.turns_of_phrase import AS_RECORD, TurnOfPhrase

SHORTEST: Final = 3  # letters of a word that may be one of a title
_IT: Final = set_of("it this that")
CHECKED: Final = ("key", "tempo", "starts_with", "ending", "dropped")


class _Owners(NamedTuple):
    """The songs that a fact may be about. ``sets``: those of the message and of each set, by number."""

    sets: Sequence[Sequence[int | None]]
    title_words: frozenset[str]

    def may_own(self, place: int, one: SettledClaim, line: ScannedLine) -> bool:
        """Return whether a song stands nearest to the words of a value, at one of their places in the line."""
        stating = [at for at, item in enumerate(line.items) if _states(item, one)]
        if stating and one.field == "starts_with" and all(self._is_of_title(line.items[at], line) for at in stating):
            return False  # the hat starts, or is it the song "The Hat Comes Off"?
        owners = [self._nearest(at, line) for at in stating]
        return not owners or any(not some or place in some for some in owners)

    def _is_of_title(self, item: ReplyItem, line: ScannedLine) -> bool:
        """Return whether every long word of an item is a word of a title."""
        long = [word.low for word in line.words[item.at : item.end] if len(word.low) >= SHORTEST]
        return bool(long) and self.title_words.issuperset(long)

    def _nearest(self, at: int, line: ScannedLine) -> set[int]:
        """Return the songs that a fact stands by; none if it may be about any song."""
        before, behind = [*_before(line.items[:at])], [*_behind(line.items[at + 1 :], line)]
        fact = line.items[at]
        if before and behind and _points_back(line, fact):
            behind = []
        if before and behind:
            is_goal = _has_as_goal(line, fact, behind[0])
            is_parted_before = is_goal or _parted(line, before[0], fact, but_and=not _is_of_drop(fact))
            is_parted_behind = not is_goal and _parted(line, fact, behind[0])
            if not is_parted_behind:  # drums start 3; else by the order of the line: 1 G 2 D, or G 1 D 2
                before, behind = ([], behind) if is_parted_before or _begins_with_fact(line, at) else (before, [])
        meant = [*before, *behind]
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


def _behind(items: Sequence[ReplyItem], line: ScannedLine) -> Iterator[ReplyItem]:
    """Yield the songs behind a fact up to a separator, and those of clauses that state nothing: 8 isn't either."""
    for at, item in enumerate(items):
        if isinstance(item.what, SongsMeant):
            yield item
        parts = isinstance(item.what, Separator) and not (item.what.joins and _shares(items[at + 1 :], line))
        if parts or isinstance(item.what, KeyFact | StatedFact):
            return


def _parted(line: ScannedLine, one: ReplyItem, other: ReplyItem, *, but_and: bool = False) -> bool:
    """Return whether a separator stands between two items; ``but_and``: it is no word, which may go on: and, so."""
    return any(
        isinstance(item.what, Separator) and not (but_and and is_word(item, line.words))
        for item in line.items
        if one.end <= item.at < other.at
    )


def _points_back(line: ScannedLine, fact: ReplyItem) -> bool:
    """Return whether the words of a fact end with "it", which is a song named before: the fiddle starts it."""
    return fact.end - fact.at > 1 and line.words[fact.end - 1].low in _IT


def _has_as_goal(line: ScannedLine, fact: ReplyItem, song: ReplyItem) -> bool:
    """Return whether a song right behind a verb is what is dropped or started, as nothing else is said of it."""
    is_verb = line.words[fact.end - 1].low in START_VERBS | FOREIGN_STARTS
    if not (_is_of_drop(fact) or (_kind(fact) == "starts_with" and is_verb)) or any(
        is_word(item, line.words) for item in line.items if fact.end <= item.at < song.at
    ):
        return False
    after = next((item for item in line.items if item.at >= song.end and is_word(item, line.words)), None)
    joins = after is not None and isinstance(after.what, Separator) and after.what.joins
    return after is None or (isinstance(after.what, Separator | SongsMeant) and not joins)


def _is_of_drop(item: ReplyItem) -> bool:
    return isinstance(item.what, StatedFact) and item.what.field == "dropped"


def _begins_with_fact(line: ScannedLine, at: int) -> bool:
    """Return whether the sentence of a fact states one of its kind before it names a song."""
    begins = next((one + 1 for one in range(at - 1, -1, -1) if _ends_sentence(line.items[one])), 0)
    kind = _kind(line.items[at])
    said = (item for item in line.items[begins:] if isinstance(item.what, SongsMeant) or _kind(item) == kind)
    return _kind(next(said, line.items[at])) == kind


def _ends_sentence(item: ReplyItem) -> bool:
    return isinstance(item.what, Separator) and item.what.is_strong


def _kind(item: ReplyItem) -> str:
    is_record = isinstance(item.what, TurnOfPhrase) and item.what.kind == AS_RECORD
    if is_record or isinstance(item.what, KeyFact):
        return "key"
    return item.what.field if isinstance(item.what, StatedFact) else ""


def _shares(items: Sequence[ReplyItem], line: ScannedLine) -> bool:
    """Return whether words before the next separator name songs and state nothing of them: "and so is 6"."""
    ends = next((at for at, item in enumerate(items) if isinstance(item.what, Separator)), len(items))
    clause = [item.what for item in items[:ends] if is_word(item, line.words)]
    is_said = any(not isinstance(what, SongsMeant) for what in clause)
    return is_said and not any(isinstance(what, KeyFact | StatedFact) for what in clause)
