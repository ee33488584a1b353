"""Times of sets in one sentence of a line that speaks of other things too: always in doubt."""

from collections.abc import Iterator, Sequence
from typing import Final

from companion.leader.claimed_values import LONGEST
from companion.leader.clear_times import IT_STARTS, clear_times
from companion.leader.days_and_times import times_in
from companion.leader.guess_words import PAST, PAST_PHRASES
from companion.leader.guessed_clauses import ReadLine
from companion.leader.line_scanner import LineScanner
from companion.leader.numbers_meant import CALLED
from companion.leader.reply_items import KeyFact, ReplyItem, ScannedLine, Separator
from companion.leader.reply_readings import TimeClaim
from companion.leader.reply_words import NUMBER, low, phrase_of, phrases, set_of
from companion.leader.settled_claims import ClaimedValue, ReplySettling
from companion.leader.songs_meant import SongsMeant

MAX_SENTENCES: Final = 60  # of one line
# Where a sentence about times may begin in dictation, without a sign before it.
_BEGINS: Final = phrases(
    "were on at | we are on at | were on from | we play from | we play at | we start at | we begin at | "
    "we kick off at | first set starts | wir fangen um | wir spielen um | we beginnen om | on joue a | "
    "on commence a | empezamos a las | si comincia alle | cominciamo alle | vi borjar kl | vi spelar kl | "
    "vi starter kl | music from | music at"
)


def guessed_times(lines: Sequence[ReadLine], scanner: LineScanner) -> Iterator[tuple[TimeClaim, str]]:
    """Yield the times that single sentences of a reply tell, each with its line."""
    for read in lines:
        parts = list(_parts(read.line))
        for many, (start, end) in enumerate(parts):
            if many >= MAX_SENTENCES or (start, end) == (0, len(read.line.text)):
                continue
            text = read.line.text[start:end].strip(" ,;")
            line = scanner.scan(text, None)
            is_of_songs = any(_sets(item) or isinstance(item.what, KeyFact) for item in line.items)
            if start and not is_of_songs and (heading := _heading(read.line)):
                line = scanner.scan(f"{heading}: {text}", None)  # Set two: 1 Eb, 2 Ab. 60 minutes, from 22:15
            is_bare = not any(word.text.isalpha() for word in line.words)  # Moth 6:40
            is_of_song = low(line.words, 0) in IT_STARTS and read.line.text[:start].rstrip()[-1:].isalnum()
            if is_bare or is_of_song or line.text[-1:] == "?" or _is_of_past(line):
                continue
            times = times_in(line, scanner.names)
            is_clear = clear_times(line.words, scanner.names.named_sets) is not None
            yield from ((TimeClaim(one, text, is_clear), read.line.text) for one in times.times)


def _heading(line: ScannedLine) -> str:
    """Return the name of the one set that a line begins with; "" if it begins otherwise."""
    first = line.items[0] if line.items else None
    return line.said(first.at, first.end) if first is not None and len(_sets(first)) == 1 else ""


def _sets(item: ReplyItem) -> tuple[int, ...]:
    return item.what.sets if isinstance(item.what, SongsMeant) and not item.what.songs else ()


def _is_of_past(line: ScannedLine) -> bool:
    return any(
        (word.low in PAST and word.text.casefold() == word.low) or phrase_of(line.words, at, PAST_PHRASES)
        for at, word in enumerate(line.words)  # not: we're
    )


def _parts(line: ScannedLine) -> Iterator[tuple[int, int]]:
    """Yield where the sentences of a line begin and end, as places in its text; a song ends one too."""
    begins = 0
    for item in line.items:
        if item.end == item.at:
            continue
        start = line.words[item.at].start
        is_cut = (isinstance(item.what, Separator) and item.what.is_strong) or _names_song(item, line)
        is_cut = is_cut or _ends_after_hour(item, line)
        if is_cut or phrase_of(line.words, item.at, _BEGINS):
            if start > begins:
                yield begins, start
            begins = line.words[item.end - 1].end if is_cut else start
    if len(line.text) > begins:
        yield begins, len(line.text)


def _ends_after_hour(item: ReplyItem, line: ScannedLine) -> bool:
    """Return whether a full stop stands after an hour that "at" announces: kl 18. Kaffe finns."""
    return low(line.words, item.at) == "." and low(line.words, item.at - 2) in _AT


_AT: Final = set_of("kl klo klockan klokken at um om alle las from ab vanaf")


def _names_song(item: ReplyItem, line: ScannedLine) -> bool:
    """Return whether an item names a song by more than a plain number, which may be a time."""
    meant = item.what
    if not isinstance(meant, SongsMeant) or not meant.songs:
        return False
    words = line.words[item.at : item.end]
    return any(word.low in CALLED for word in words) or all(word.kind != NUMBER for word in words)


def take_times(settling: ReplySettling, times: Sequence[tuple[TimeClaim, str]]) -> None:
    """Add guessed times where nothing else says when that set starts, or how long it is.

    A sentence of which every word is explained replaces what only single words of its line suggested.
    """
    for claim, line in times:
        time = claim.time
        values: list[ClaimedValue] = []
        if time.starts_min is not None:
            starts = f"{time.starts_min // 60 % 24}:{time.starts_min % 60:02}"
            values.append(ClaimedValue("starts", starts, claim.doubt, corrects=False, line=line))
        if time.minutes is not None:
            values.append(ClaimedValue("minutes", time.minutes, claim.doubt, corrects=False, line=line))
        for value in values:
            said = settling.values.get((time.set_at, None, value.field), ())
            if said and claim.is_clear and all(one.doubt and one.line == line for one in said):
                del settling.values[time.set_at, None, value.field]
            if (time.set_at, None, value.field) not in settling.values:
                settling.add(time.set_at, None, value)
        if values:
            _without_long_songs(settling, line)


def _without_long_songs(settling: ReplySettling, line: str) -> None:
    """Take back lengths that no song has, where their line tells the times of a set."""
    for place, values in list(settling.values.items()):
        if place[-1] != "length":
            continue
        kept = [one for one in values if one.line != line or int(str(one.value).partition(":")[0]) <= LONGEST]
        if kept:
            settling.values[place] = kept
        else:
            del settling.values[place]
