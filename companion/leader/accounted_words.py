"""Account for every word of a reply: keep what no reading of its line uses as not understood."""

from collections import Counter
from collections.abc import Iterator, Sequence

from companion.leader.courtesies import is_courtesy
from companion.leader.reply_dates import DayReading
from companion.leader.reply_items import KeyFact, ReplyItem, ScannedLine, Separator, is_word
from companion.leader.reply_readings import Claim, ReplyReading, Unread
from companion.leader.songs_meant import SongsMeant
from companion.leader.stated_fact import StatedFact
from companion.leader.turns_of_phrase import COLOUR, NOT, TurnOfPhrase


def unaccounted(line: ScannedLine, said: Sequence[ReplyReading], about: SongsMeant) -> Iterator[Unread]:
    """Yield the sentences of a line that state something, or that nothing explains, and that no reading has.

    ``about``: the songs being spoken of, to which these words belong.
    """
    quoted = quoted_places(line.text, said)
    for sentence in sentences(line):
        text = line.said(sentence[0].at, sentence[-1].end)
        lost = [item for item in sentence if _says_something(item, line) and not is_quoted(item, line, quoted)]
        lost += [item for item in sentence if _is_of_nothing(item, said) and not is_quoted(item, line, quoted)]
        if lost and not is_courtesy(text):
            yield Unread(about, text)


def quoted_places(text: str, said: Sequence[ReplyReading]) -> list[tuple[int, int]]:
    """Return the places of a line (from, to) that its readings quote: in their words, or in why they are in doubt."""
    found: list[tuple[int, int]] = []
    quoted: Counter[str] = Counter()
    for reading in said:
        named = (getattr(reading, "words", ""), getattr(reading, "venue", ""), getattr(reading, "doubt", ""))
        quoted.update({words for words in named if words})
    for words, many in quoted.items():
        first, last = -1, len(text)
        for _ in range(many):  # the same words of two songs are there twice: G D G
            first, last = text.find(words, first + 1), text.rfind(words, 0, last + len(words) - 1)
            if first < 0 or last < 0:
                break
            found += [(first, first + len(words)), (last, last + len(words))]
    return found


def is_quoted(item: ReplyItem, line: ScannedLine, quoted: Sequence[tuple[int, int]]) -> bool:
    """Return whether an item is in one of these places of its line."""
    start, end = line.words[item.at].start, line.words[item.end - 1].end
    return any(at <= start and end <= to for at, to in quoted)


def sentences(line: ScannedLine) -> Iterator[list[ReplyItem]]:
    """Yield the items of each sentence of a line."""
    sentence: list[ReplyItem] = []
    for item in line.items:
        if isinstance(item.what, Separator) and item.what.is_strong:
            if sentence:
                yield sentence
            sentence = []
        elif item.end > item.at:
            sentence.append(item)
    if sentence:
        yield sentence


def _is_of_nothing(item: ReplyItem, said: Sequence[ReplyReading]) -> bool:
    """Return whether an item names songs of which nothing is said."""
    meant = item.what
    if not isinstance(meant, SongsMeant) or not meant.songs:
        return False
    spoken = {song for one in said if (about := getattr(one, "about", None)) is not None for song in about.songs}
    spoken |= {one.fact.value for one in said if isinstance(one, Claim) and isinstance(one.fact, StatedFact)}
    return not spoken & set(meant.songs)


def _says_something(item: ReplyItem, line: ScannedLine) -> bool:
    """Return whether an item states a fact, or has words that nothing explains."""
    what = item.what
    if isinstance(what, TurnOfPhrase):
        return what.kind in (COLOUR, NOT)
    if isinstance(what, StatedFact):
        return not what.is_lone
    return isinstance(what, KeyFact | DayReading) or (what is None and is_word(item, line.words))
