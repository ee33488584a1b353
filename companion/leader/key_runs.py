"""Keys in a run, with the songs they are for before it or in the order of the message.

"Keys 1 through 5: Eb, F, Gm, Db, Bb", "Second half, in order: D, Bm, waltz in C", "D - G - Am, after the break F - G".
"""

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final, NamedTuple

from companion.leader.key_words import FLATS, LETTER, MAJOR, MINOR, SHARPS, key_at
from companion.leader.phrase_lists import RECORDS
from companion.leader.reply_lines import ReplyLine
from companion.leader.reply_words import NUMBER, SIGN, WORD, ReplyWord, phrase_of, phrases, set_of, words_of
from companion.leader.show_says import song_says
from companion.leader.songs_meant import SongNames
from companion.setlist import Notation

LEAST: Final = 3  # fewer keys may be those of one song
MAX_STRAYS: Final = 3  # words beside a key of a run: waltz in C
MAX_ADDRESS: Final = 3  # words that speak to the player before a run: good morning Olga
_SENTENCES: Final = re.compile(r"(?<=[^\W\d])[.!]\s+(?=[^\W_])|\s*;\s*")
_BETWEEN: Final = re.compile(r"\s*[,/|]\s*|\s+[-–—]\s+|\s+(?:and|und|et|och|og|plus)\s+")
_ARROW: Final = re.compile(r"\s(?:→|->|=>|=)\s")
_IN_ORDER: Final = phrases(
    "in order | in that order | in this order | por orden | por ordem | en orden | dans lordre | der reihe nach | "
    "in ordine | op volgorde | i ordning | i raekkefolge | po kolei | po radu | from the top | in running order"
)
_LATER: Final = set_of("tbc tba ? ?? ??? later tbd unknown unsure dunno x")


class _Run(NamedTuple):
    """Keys one after the other: the places of their songs, if the words before them say it, and each key's text."""

    songs: tuple[int, ...]
    keys: tuple[str, ...]
    is_sure: bool
    in_order: bool


def runs_of_keys(lines: Sequence[ReplyLine], names: SongNames, notation: Notation) -> tuple[list[ReplyLine], list[str]]:
    """Put each key of a run after the number of its song; a line whose runs do not fit its songs stays as it is.

    Return the lines, and the text of those with other words beside their keys, which nobody has read.
    """
    kept: list[ReplyLine] = []
    beside: list[str] = []
    for line in lines:
        is_open = not line.is_quoted and line.field in ("", "key") and bool(line.text)
        numbered = _numbered(line, names, notation) if is_open else None
        kept += numbered or [line]
        if numbered and any(
            one.low not in _PLAIN and one.kind == WORD for one in words_of(line.text) if not _is_key(one)
        ):
            beside.append(line.text)
    return kept, beside


_PLAIN: Final = set_of(
    "keys key set sets first second third half part the in order songs for through to bis and und et "
    "that's thats all lot from top that this"
)


def _is_key(word: ReplyWord) -> bool:
    return LETTER.match(word.text) is not None or word.low in MINOR | MAJOR | FLATS | SHARPS


def _numbered(line: ReplyLine, names: SongNames, notation: Notation) -> list[ReplyLine] | None:
    texts = [part for part in _SENTENCES.split(line.text) if part.strip()]
    parts = [_run(part, names, notation) for part in texts]
    runs = [part for part in parts if part is not None]
    are_few = sum(len(run.keys) for run in runs) < LEAST and not all(run.is_sure and run.songs for run in runs)
    if not runs or are_few:
        return None
    others = [text for text, part in zip(texts, parts, strict=True) if part is None]
    if others and not (len(runs) == 1 and runs[0].in_order and not runs[0].songs):
        return None
    assigned = _assigned(runs, names)
    if assigned is None:
        return None
    numbers = {place: number for number, place in enumerate(names.numbers, 1) if place is not None}
    in_order = any(run.in_order for run in runs)
    numbered = [
        line._replace(
            text=f"{numbers[place]} {key}{'' if run.is_sure and (run.songs or in_order) else ' in that order?'}",
            field="",
        )
        for run, places in assigned
        for place, key in zip(places, run.keys, strict=True)
        if place in numbers
    ]
    return [*numbered, *(line._replace(text=text) for text in others)]


def _assigned(runs: Sequence[_Run], names: SongNames) -> list[tuple[_Run, Sequence[int]]] | None:
    """Return the songs of each run: those that are named, or the set before the next run's, or all songs in order."""
    sets = [names.in_set(at) for at in range(len(names.show.sets))]
    found: list[tuple[_Run, Sequence[int]]] = []
    for at, run in enumerate(runs):
        songs: Sequence[int] = run.songs
        follows = runs[at + 1].songs if at + 1 < len(runs) else ()
        if not songs and follows:
            songs = next((one for one, other in pairwise(sets) if tuple(other) == follows), [])
        found.append((run, songs))
    if not any(songs for _, songs in found):
        lacking = [
            at for at, (_, _, song) in enumerate(names.songs) if song_says(song, "key") is None and not song.tacet
        ]
        many = sum(len(run.keys) for run in runs)
        if many == len(names.songs) and any(run.in_order for run in runs):
            lacking = list(range(many))
        if many != len(lacking):
            return None
        begins = [sum(len(one.keys) for one in runs[:at]) for at in range(len(runs))]
        found = [(run, lacking[start : start + len(run.keys)]) for start, run in zip(begins, runs, strict=True)]
    return found if all(len(songs) == len(run.keys) for run, songs in found) else None


def _run(part: str, names: SongNames, notation: Notation) -> _Run | None:
    words = words_of(part)
    orders = [(at, many) for at in range(len(words)) if (many := phrase_of(words, at, _IN_ORDER))]
    for at, many in reversed(orders):
        part = f"{part[: words[at].start]}{part[words[at + many - 1].end :]}"
    part, many_said = _without_total(part)
    if ":" not in part and len(_ARROW.findall(part)) == 1:
        part = _ARROW.sub(": ", part)
    head, colon, keys = part.rpartition(":") if ":" in part else _of_set(part, names)
    keys = keys if colon else part
    pieces = _BETWEEN.split(keys.strip(" .!"))
    if orders and not colon and _is_address(pieces[0], names, notation):
        pieces = pieces[1:]
    entries = [one for piece in pieces for one in _entries(piece, notation)]
    if len(entries) < 2 or any(key is None for key, _ in entries) or not any(is_clear for _, is_clear in entries):
        return None
    songs = _songs(words_of(head), names) if colon else ()
    if songs is None:
        return None
    is_sure = all(is_clear for _, is_clear in entries) and many_said in (0, len(entries))
    return _Run(songs, tuple(key or "" for key, _ in entries), is_sure, bool(orders))


def _is_address(text: str, names: SongNames, notation: Notation) -> bool:
    """Return whether the words before a run only speak to the player: "Olga - F, G, D in that order"."""
    words = words_of(text)
    if not 0 < len(words) <= MAX_ADDRESS or any(word.kind != WORD for word in words):
        return False
    is_named = any(
        names.titled(words, at, haste=True) is not None or names.set_meant(words, at) is not None
        for at in range(len(words))
    )
    return not is_named and all(key is None for key, _ in _entries(text, notation))


def _without_total(part: str) -> tuple[str, int]:
    """Return a run without the "that's all 24" at its end, and the number said there; 0 for none."""
    words = words_of(part)
    for at in range(len(words)):
        if many := phrase_of(words, at, _ALL_OF_THEM):
            rest = [word for word in words[at + many :] if word.kind != SIGN]
            numbers = [int(word.text) for word in rest if word.kind == NUMBER]
            if len(numbers) <= 1 and all(word.kind == NUMBER or word.low in _PLAIN for word in rest):
                return part[: words[at].start].rstrip(" ,-–—"), sum(numbers)
    return part, 0


_ALL_OF_THEM: Final = phrases(
    "that's all | thats all | that's it | thats it | that's the lot | thats the lot | all of them | all | "
    "das sind alle | das waren alle | c'est tout | son todas | sono tutte | dat zijn ze alle | dat is alles"
)


def _of_set(part: str, names: SongNames) -> tuple[str, str, str]:
    """Part "Encores in C, C and G" after the set, as a colon would."""
    words = words_of(part)
    meant = names.set_meant(words, 0) if words and "order" not in part else None
    end = meant.end if meant is not None and len(meant.sets) == 1 else 0
    while 0 < end < len(words) and words[end].low in _IN:
        end += 1
    if not 0 < end < len(words) or words[end - 1].low not in _IN:
        return part, "", ""
    return part[: words[end].start], ":", part[words[end].start :]


_IN: Final = set_of("in are is sind sont sono son em en i w v som keys tonarten")


def _songs(words: Sequence[ReplyWord], names: SongNames) -> tuple[int, ...] | None:
    """Return the songs that the words before a colon name, () for none; None if they name several things."""
    found: list[tuple[int, ...]] = []
    at = 0
    while at < len(words):
        if (of_set := names.set_meant(words, at)) is not None and of_set.sets:
            found.append(tuple(place for one in of_set.sets for place in names.in_set(one)))
            at = of_set.end
        elif (words[at].kind == NUMBER or words[at].low in _ENDS) and (
            many := names.numbered(words, at, None)
        ) is not None:
            found.append(many.songs)
            at = many.end
        else:
            at += 1
    return found[0] if len(found) == 1 else None if found else ()


_ENDS: Final = set_of("first last")  # the first 8


def _entries(text: str, notation: Notation) -> Iterator[tuple[str | None, bool]]:
    """Yield the keys of a part of a run, and whether each is alone; None for a part that is no key."""
    words = words_of(text)
    known = frozenset(word.low for word in words)
    found: list[tuple[int, int]] = []
    at = 0
    while at < len(words):
        key = key_at(words, at, known, notation=notation, after_song=not found and at == 0)
        if key is not None and key.then:  # two songs, or one that changes its key: G then Em
            yield None, False
            return
        if key is not None and key.key is not None:
            found.append((at, key.end))
            at = key.end
        else:
            at += 1
    strays = [word for word in words if word.kind != SIGN]
    many = len(strays) - sum(end - start for start, end in found)
    are_too_many = many > (MAX_STRAYS * len(found) + 2 if len(found) < LEAST else 0)
    if words and not found and all(word.low in _LATER for word in words):
        yield "tbc", False
    elif words and not found and phrase_of(words, 0, RECORDS) == len(words):
        yield "record", True
    elif not found or are_too_many or any(word.kind == NUMBER for word in words):
        yield None, False
    else:
        yield from ((text[words[start].start : words[end - 1].end], many == 0) for start, end in found)
