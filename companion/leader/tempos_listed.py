"""Tempos in a list, each right after its song: "Tempos: 1 - 128, 2 - 96", and such lines below a heading."""

from collections.abc import Iterator, Sequence
from typing import Final

from companion.leader.phrase_lists import FILLERS
from companion.leader.reply_lines import ReplyLine
from companion.leader.reply_words import NUMBER, SIGN, ReplyWord, low, set_of, words_of
from companion.leader.songs_meant import SongNames

_TEMPOS: Final = set_of(
    "tempo tempos tempi tempoer tempoet tempon tempa tempot temper bpm bpms click clicks clics klick klicks metronome "
    "metronom metronomo métronome tempoangaben geschwindigkeiten"
)
_LIST: Final = set_of("list sheet file files track tracks map numbers are is so here")
_JOINS: Final = set_of("- – — : = . ) @ → -> => mit at à a bei auf op på con with is")
_PARTS: Final = set_of(", ; / | ( · • and und et y e en og och")
SLOWEST, FASTEST = 40, 280
LEAST: Final = 3  # fewer pairs of numbers without a heading may be anything
MAX_HEADING: Final = 8  # words


def tempos_listed(lines: Sequence[ReplyLine], names: SongNames) -> list[ReplyLine]:
    """Say of each tempo of a list that it is one; in doubt where no heading says it and the numbers only look so."""
    kept: list[ReplyLine] = []
    is_below = False  # whether a heading above says that tempos follow
    bare: list[int] = []  # the places in ``kept`` of lines right above that are only pairs of numbers
    for line in lines:
        if line.ends_block or line.is_quoted or line.field or names.set_named(line.text) is not None:
            is_below = is_below and not (line.is_quoted or line.field)
            kept.append(line)
            continue
        words = words_of(line.text)
        head = _heading(words)
        found = list(_pairs(words, head, names, is_told=is_below or head > 0))
        if found and (is_below or head > 0):
            text = _marked(line.text, [words[at] for at in found], "bpm")[words[head].start :]
            kept.append(line._replace(text=text))
        else:
            if found and _are_all(words, found):
                bare.append(len(kept))
            kept.append(line)
        is_below = (is_below and bool(found)) or (not found and _announces(words))
        if is_below and not found and all(one.kind == SIGN or one.low in _TEMPOS | _LIST | FILLERS for one in words):
            kept.pop()
    return _doubted(kept, bare, names)


def _doubted(lines: list[ReplyLine], bare: Sequence[int], names: SongNames) -> list[ReplyLine]:
    """Ask whether pairs of numbers are tempos, where there are enough of them below no other heading."""
    many = sum(len(list(_pairs(words_of(lines[at].text), 0, names, is_told=False))) for at in bare)
    first = min(bare, default=0)
    above = next((line.text for line in reversed(lines[:first]) if line.text), "")
    if many < LEAST or above.endswith(":"):
        return lines
    for at in bare:
        words = words_of(lines[at].text)
        found = [words[one] for one in _pairs(words, 0, names, is_told=False)]
        lines[at] = lines[at]._replace(text=_marked(lines[at].text, found, "bpm?"))
    return lines


def _heading(words: Sequence[ReplyWord]) -> int:
    """Return where the list begins in a line that names tempos before it: 2 in "clicks: 1 98"; 0 if it does not."""
    first = next((at for at, one in enumerate(words) if one.kind == NUMBER or one.text == ":"), 0)
    begins = first + (low(words, first) == ":")
    is_head = any(one.low in _TEMPOS for one in words[:first])
    is_plain = all(one.low in _TEMPOS | _LIST | FILLERS or one.kind == SIGN for one in words[:first])
    return begins if is_head and (is_plain or begins > first) and begins < len(words) else 0


def _announces(words: Sequence[ReplyWord]) -> bool:
    """Return whether a line is a heading of tempos: "tempos off the click file:", "BPM"."""
    is_head = any(one.low in _TEMPOS for one in words) and not any(one.kind == NUMBER for one in words)
    is_plain = all(one.low in _TEMPOS | _LIST | FILLERS or one.kind == SIGN for one in words)
    return is_head and len(words) <= MAX_HEADING and (words[-1].text == ":" or is_plain)


def _pairs(words: Sequence[ReplyWord], at: int, names: SongNames, *, is_told: bool) -> Iterator[int]:
    """Yield the places of numbers that stand right after a song at the beginning of a part of a line."""
    while at < len(words):
        song = _song_end(words, at, names, is_told=is_told)
        value = song + (low(words, song) in _JOINS) if song else 0
        behind = _song_end(words, at + 2, names, is_told=True) if is_told and _is_for(words, at, names) else 0
        if behind:  # 112 for 1
            yield at
            at = behind + _to_part(words, behind)
        elif song and _is_tempo(words, value, names):
            yield value
            at = value + 1
            is_next = at < len(words) and words[at].kind == NUMBER
            at += 0 if is_next else _to_part(words, at)
        else:
            at += max(1, _to_part(words, at))


def _is_for(words: Sequence[ReplyWord], at: int, names: SongNames) -> bool:
    """Return whether a number that is no song's stands before "for"."""
    is_number = words[at].kind == NUMBER and not words[at].is_ordinal
    is_fast = is_number and max(SLOWEST, len(names.numbers) + 1) <= int(words[at].text) <= FASTEST
    return is_fast and low(words, at + 1) in _FOR and at + 2 < len(words)


_FOR: Final = set_of("for on in bei fur pour para per voor til")


def _to_part(words: Sequence[ReplyWord], at: int) -> int:
    """Return how many words there are to the next part of a list."""
    return next((one + 1 - at for one in range(at, len(words)) if words[one].low in _PARTS), len(words) - at)


def _song_end(words: Sequence[ReplyWord], at: int, names: SongNames, *, is_told: bool) -> int:
    at += low(words, at) in ("#", "nr", "no", "num", "number", "song")
    if at >= len(words):
        return 0
    if words[at].kind == NUMBER:
        number = int(words[at].text)
        is_song = 1 <= number <= len(names.numbers) and names.numbers[number - 1] is not None
        return at + 1 if is_song and not words[at].is_ordinal else 0
    title = names.titled(words, at, haste=False) if is_told else None
    return title.end if title is not None and title.songs else 0


def _is_tempo(words: Sequence[ReplyWord], at: int, names: SongNames) -> bool:
    """Return whether a number is here that is no song's and has no unit of its own."""
    if at >= len(words) or words[at].kind != NUMBER or words[at].is_ordinal:
        return False
    ends = at + 1 >= len(words) or words[at + 1].kind in (SIGN, NUMBER) or low(words, at + 1) in _PARTS
    is_range = low(words, at + 1) in ("-", "–", "+") and at + 2 < len(words) and words[at + 2].kind == NUMBER
    return max(SLOWEST, len(names.numbers) + 1) <= int(words[at].text) <= FASTEST and ends and not is_range


def _are_all(words: Sequence[ReplyWord], found: Sequence[int]) -> bool:
    """Return whether a line has no numbers but those of pairs, and begins with one."""
    return found[0] <= 2 and sum(one.kind == NUMBER for one in words) == 2 * len(found)


def _marked(text: str, found: Sequence[ReplyWord], unit: str) -> str:
    for word in reversed(found):
        text = f"{text[: word.end]} {unit}{text[word.end :]}"
    return text
