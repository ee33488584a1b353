"""Lengths in a list, each right after its song: "lengths: 1 3:20, 2 is 4 min", and such lines below a heading."""

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from companion.leader.phrase_lists import FILLERS
from companion.leader.reply_lines import ReplyLine
from companion.leader.reply_words import CLOCK, NUMBER, SIGN, WORD, ReplyWord, low, set_of, words_of
from companion.leader.song_lengths import LENGTHS, LONGEST_SAID, minutes_said
from companion.leader.songs_meant import SongNames

_OF: Final = set_of("of for de del della di da do du la le l van von vom der den av af pa for fur")
_LASTS: Final = set_of("lasts lasting runs dura dure duurt dauert varar varer")
_UNITS: Final = set_of("min mins minutes minuten long lang")
_JOINS: Final = set_of(
    "- – — : = is ist est es e ar er @ ( ca circa about etwa ungefahr environ unos cerca ongeveer omkring ungefar casi"
)
_PARTS: Final = set_of(", ; / | ) . · • and und et y e en og och")
LONGEST_CLOCK: Final = 9  # minutes; a time of the day that is no longer than that is early
MAX_HEADING: Final = 8  # words
LEAST: Final = 2  # pairs in a line without a heading


class SongLength(NamedTuple):
    """A song and its length in seconds, and their words. ``is_said``: a unit or a verb says that it is a length."""

    song: str
    seconds: int
    at: int
    end: int
    is_said: bool


def lengths_listed(lines: Sequence[ReplyLine], names: SongNames) -> list[ReplyLine]:
    """Say of each length of a list that it is its song's, on a line of its own; in doubt where no heading says it."""
    kept: list[ReplyLine] = []
    is_below = False  # whether a heading above says that lengths follow
    for line in lines:
        if line.ends_block or line.is_quoted or line.field or names.set_named(line.text) is not None:
            is_below = is_below and not (line.is_quoted or line.field)
            kept.append(line)
            continue
        words = words_of(line.text)
        head = _heading(words)
        is_told = is_below or head > 0
        found = list(_pairs(words, head, names))
        is_said = any(one.is_said for one in found)
        are_all = len(found) >= (1 if is_said else LEAST) and _are_all(words, found)
        if found and (is_told or are_all):
            kept += _apart(line, words, found, is_told=is_told or is_said)
        elif not (one := _length_of(words, names)):
            kept.append(line)
        else:
            kept.append(line._replace(text=_said(one, is_told=True) + line.text[words[one.end - 1].end :]))
        is_below = (is_below and bool(found)) or (not found and _announces(words))
        if is_below and not found and _is_plain(words):
            kept.pop()
    return kept


def _heading(words: Sequence[ReplyWord]) -> int:
    """Return where the list begins behind words that name lengths: 2 in "lengths: 1 3:20"; 0 if it does not."""
    colon = next((at for at, one in enumerate(words) if one.text == ":"), 0)
    is_head = 0 < colon <= MAX_HEADING and any(one.low in LENGTHS for one in words[:colon])
    is_head = is_head and not any(one.kind == NUMBER for one in words[:colon])
    if is_head:
        return colon + 1
    first = next((at for at, one in enumerate(words) if one.kind == NUMBER), 0)
    return first if any(one.low in LENGTHS for one in words[:first]) and _is_plain(words[:first]) else 0


def _announces(words: Sequence[ReplyWord]) -> bool:
    """Return whether a line is a heading of lengths: "lengths for the radio:", "Längen"."""
    is_head = any(one.low in LENGTHS for one in words) and not any(one.kind == NUMBER for one in words)
    return is_head and len(words) <= MAX_HEADING and (words[-1].text == ":" or _is_plain(words))


def _is_plain(words: Sequence[ReplyWord]) -> bool:
    return all(one.low in LENGTHS | FILLERS or one.kind == SIGN for one in words)


def _length_of(words: Sequence[ReplyWord], names: SongNames) -> SongLength | None:
    """Read "length of 4: 3:45", "durée de la 7 : 3 min 30"."""
    at = next((place + 1 for place, one in enumerate(words[:2]) if one.low in LENGTHS), 0)
    if not at or low(words, at) not in _OF:
        return None
    while low(words, at) in _OF:
        at += 1
    return _pair(words, at, names) if at < len(words) else None


def _pairs(words: Sequence[ReplyWord], at: int, names: SongNames) -> Iterator[SongLength]:
    """Yield the lengths that stand right after a song at the beginning of a part of a line."""
    while at < len(words):
        if (pair := _pair(words, at, names)) is not None:
            yield pair
            at = pair.end
        next_part = next((one for one in range(at, len(words)) if words[one].low in _PARTS), len(words))
        while next_part < len(words) and words[next_part].low in _PARTS:
            next_part += 1
        at = next_part


def _pair(words: Sequence[ReplyWord], at: int, names: SongNames) -> SongLength | None:
    begins = at + (low(words, at) in ("#", "nr", "no", "num", "number", "song"))
    meant = None
    if begins < len(words) and words[begins].kind == NUMBER and not words[begins].is_ordinal:
        meant = names.numbered(words, begins, None)
    elif begins < len(words) and words[begins].kind == WORD:
        meant = names.titled(words, begins, haste=False)
    if meant is None or len(meant.songs) != 1:
        return None
    value = meant.end
    while low(words, value) in _JOINS | _LASTS:
        value += 1
    lasts = any(one.low in _LASTS for one in words[meant.end : value])
    said = "".join(f" {one.text}" for one in words[at : meant.end]).strip()
    if value < len(words) and words[value].kind == CLOCK and (seconds := _of_clock(words[value].text)):
        has_unit = low(words, value + 1) in _UNITS
        return SongLength(said, seconds, at, value + 1 + has_unit, lasts or has_unit)
    found = minutes_said(words, value)
    if found is None or not 0 < found[0] <= LONGEST_SAID * 60:
        return None
    return SongLength(said, found[0], at, found[1], is_said=True)


def _of_clock(text: str) -> int:
    """Return the seconds of 3:20; 0 if it is longer than songs are."""
    minutes, _, seconds = text.replace(".", ":").partition(":")
    is_length = minutes.isdecimal() and seconds.isdecimal() and len(seconds) == 2
    return 60 * int(minutes) + int(seconds) if is_length and 0 < int(minutes) <= LONGEST_CLOCK else 0


def _are_all(words: Sequence[ReplyWord], found: Sequence[SongLength]) -> bool:
    """Return whether a line is only such pairs."""
    within = {at for one in found for at in range(one.at, one.end)}
    return all(at in within or one.low in _PARTS for at, one in enumerate(words))


def _apart(
    line: ReplyLine, words: Sequence[ReplyWord], found: Sequence[SongLength], *, is_told: bool
) -> Iterator[ReplyLine]:
    """Yield each pair with the words behind it as a line of its own."""
    for one, following in zip(found, (*found[1:], None), strict=True):
        begins = words[one.end - 1].end
        ends = words[following.at].start if following else len(line.text)
        yield line._replace(text=_said(one, is_told=is_told) + line.text[begins:ends].rstrip(" ,;/|·•"))


def _said(one: SongLength, *, is_told: bool) -> str:
    minutes, seconds = divmod(one.seconds, 60)
    maybe = "" if is_told else "maybe "
    return f"{one.song} lasts {maybe}{minutes} min{f' {seconds} seconds' if seconds else ''}"
