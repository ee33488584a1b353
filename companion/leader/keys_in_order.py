"""Keys that stand alone, as many as there are songs to answer for: "D, E, C, G, Em, A in that order"."""

import re
from collections.abc import Mapping, Sequence
from typing import Final

from companion.leader.hour_words import folded_phrases
from companion.leader.key_columns import columns_numbered
from companion.leader.key_words import key_at
from companion.leader.reply_lines import ReplyLine
from companion.leader.reply_words import SIGN, ReplyWord, low, phrase_of, set_of, words_of
from companion.leader.show_says import song_says
from companion.leader.songs_meant import SongNames
from companion.setlist import Notation

LEAST: Final = 3  # fewer keys may be those of one song
_IN_ORDER: Final = folded_phrases(
    "in that order | in this order | in order | in the order you asked | in your order | in the order of your list | "
    "in the same order | from the top | der reihe nach | dans l'ordre | dans lordre | por orden | en ese orden | "
    "in die volgorde | in deze volgorde | op volgorde | in dieser reihenfolge | in der reihenfolge | dans cet ordre | "
    "en este orden | en orden | in quest'ordine | in questo ordine | in ordine | nessa ordem | por ordem | em ordem | "
    "i den ordningen | i ordning | i den rækkefølge | i rækkefølge | i den rekkefølgen | i rekkefølge | "
    "w tej kolejności | po kolei | v tomto pořadí"
)
_BETWEEN: Final = set_of(
    "and then puis poi luego dann danach sen plus und et y e og och keys the are is it its it's all so here "
    "okay ok please thanks"
)
_LINE_SIGNS: Final = re.compile(r"^[-*•·.\s]{0,4}|[.,;\s]{0,4}$")


def keys_in_order(lines: Sequence[ReplyLine], names: SongNames, notation: Notation) -> list[ReplyLine]:
    """Put each key after the number of its song, where a reply has as many keys alone as songs lack one.

    They are in one line or one below the other. Unless the reply says that they are in order, each is in doubt.
    """

    def lone_key(text: str) -> str:
        keys = _keys(_LINE_SIGNS.sub("", text), names, notation)[0]
        return keys[0] if len(keys) == 1 else ""

    lines = columns_numbered(lines, names, lone_key)
    lines = _of_sets([part for line in lines for part in _sentences(line, names, notation)], names, notation)
    spoken = [at for at, line in enumerate(lines) if line.text and not line.is_quoted]
    one_line = next((at for at in spoken if len(_keys(lines[at].text, names, notation)[0]) >= LEAST), None)
    if one_line is not None:
        keys, is_in_order = _keys(lines[one_line].text, names, notation)
        if (whole := _of_all(lines, one_line, names, notation)) is not None:
            return whole
        if (heading := _heading(lines, one_line)) is not None and (every := _every(names, len(keys))):
            kept = [line for at, line in enumerate(lines[:one_line]) if at != heading]
            is_sure = is_in_order or _says_order(lines[heading].text)
            return [*kept, *_numbered(lines[one_line], keys, every, names, sure=is_sure), *lines[one_line + 1 :]]
        songs = _songs(names, len(keys))
        if not songs or lines[one_line].field not in ("", "key") or _follows_song(lines, one_line, names):
            return list(lines)
        return [
            *lines[:one_line],
            *_numbered(lines[one_line], keys, songs, names, sure=is_in_order),
            *lines[one_line + 1 :],
        ]
    alone = [at for at in spoken if len(_keys(_LINE_SIGNS.sub("", lines[at].text), names, notation)[0]) == 1]
    songs = _every(names, len(alone))
    if len(alone) < LEAST or not songs or alone[-1] - alone[0] >= 2 * len(alone) or any(one.is_quoted for one in lines):
        return list(lines)
    kept = list(lines)
    for at, song in zip(alone, songs, strict=True):
        key = _keys(_LINE_SIGNS.sub("", lines[at].text), names, notation)[0][0]
        kept[at] = _numbered(lines[at], [key], [song], names, sure=False)[0]
    return kept


def _sentences(line: ReplyLine, names: SongNames, notation: Notation) -> list[ReplyLine]:
    """Part a line after a first sentence of only keys: "D A G E, in that order. 4 fades"."""
    first, stop, rest = line.text.partition(". ")
    if line.is_quoted or not stop or not rest.strip() or len(_keys(first, names, notation)[0]) < LEAST:
        return [line]
    return [line._replace(text=first), line._replace(text=rest.strip(), field="")]


def _of_all(lines: Sequence[ReplyLine], at: int, names: SongNames, notation: Notation) -> list[ReplyLine] | None:
    """Return the lines with the keys of all songs of the show, in one line or one line for each set."""
    keys: list[str] = []
    is_sure, end = False, at
    while end < len(lines) and not lines[end].is_quoted:
        row = _keys(lines[end].text, names, notation)
        after = next((one for one in range(end + 1, len(lines)) if not _is_between_rows(lines[one], names)), len(lines))
        if not row[0]:
            break
        keys, is_sure, last = [*keys, *row[0]], is_sure or row[1], end + 1
        end = after if after < len(lines) and _keys(lines[after].text, names, notation)[0] else last
    every = [number for number, place in enumerate(names.numbers, start=1) if place is not None]
    if len(keys) < max(LEAST, len(every)) or lines[at].field not in ("", "key") or _follows_song(lines, at, names):
        return None
    if len(keys) != len(every) or (end == at + 1 and _songs(names, len(keys))):
        return None
    above = _heading(lines, at)
    is_sure = is_sure or (above is not None and _says_order(lines[above].text))
    kept = [line for place, line in enumerate(lines[:at]) if place != above]
    below = list(lines[end:])
    if below and not below[0].is_quoted and _says_order(below[0].text):
        is_sure, first = True, below[0]
        sentence, _, rest = first.text.partition(".")
        if all(word.kind == SIGN or word.low in _SAYS_SO or word.text.isdigit() for word in words_of(sentence)):
            below[0] = first._replace(text=rest.strip())
    return [*kept, *_numbered(lines[at], keys, every, names, sure=is_sure), *below]


def _is_between_rows(line: ReplyLine, names: SongNames) -> bool:
    """Return whether a line only stands between two rows of keys: blank, "and", "second set:"."""
    words = words_of(line.text)
    is_join = all(word.kind == SIGN or word.low in _BETWEEN for word in words)
    return not line.is_quoted and (line.ends_block or is_join or names.set_named(line.text) is not None)


_SAYS_SO: Final = set_of("that's thats that is these those are they all from to in order this the top s songs for keys")


def _of_sets(lines: Sequence[ReplyLine], names: SongNames, notation: Notation) -> list[ReplyLine]:
    """Put numbers before the keys of a row below the name of a set, from its first song, if it has as many songs."""
    kept: list[ReplyLine] = []
    above: int | None = None
    for line in lines:
        keys, is_in_order = (
            _keys(line.text, names, notation) if above is not None and not line.is_quoted else ([], False)
        )
        if above is None and len(_keys(line.text, names, notation)[0]) >= LEAST and not line.is_quoted:
            return list(lines)  # a row that no set stands above: one for each set
        songs = names.in_set(above) if above is not None else []
        if keys and len(keys) == len(songs) >= LEAST:
            numbers = [names.numbers.index(song) + 1 if song in names.numbers else 0 for song in songs]
            told = _numbered(line, keys, numbers, names, sure=is_in_order) if all(numbers) else [line]
            firsts = {f"{number} ": f"{at} " for at, number in enumerate(numbers, start=1)}
            kept += [one._replace(text=_renumbered(one.text, firsts)) for one in told]
        else:
            kept.append(line)
        if not line.ends_block or line.text:
            above = _set_alone(line, names)
    return kept


def _set_alone(line: ReplyLine, names: SongNames) -> int | None:
    """Return the set that is all of a line: First, Late set:, Set 1."""
    words = [word for word in words_of(line.text) if word.kind != SIGN]
    meant = names.set_meant(words, 0) if words and not line.is_quoted else None
    if meant is not None and meant.end == len(words) and len(meant.sets) == 1:
        return meant.sets[0]
    return names.set_named(line.text) if not line.is_quoted else None


def _renumbered(text: str, firsts: Mapping[str, str]) -> str:
    number, space, rest = text.partition(" ")
    return f"{firsts.get(number + space, number + space)}{rest}"


def _heading(lines: Sequence[ReplyLine], at: int) -> int | None:
    """Return the place of the line right above that says that all keys follow: "Keys in the order of your list:"."""
    above = next((one for one in range(at - 1, -1, -1) if not lines[one].ends_block), None)
    if above is None or lines[above].is_quoted or not lines[above].text.endswith(":"):
        return None
    return above if _KEYS.intersection(word.low for word in words_of(lines[above].text)) else None


_KEYS: Final = set_of(
    "keys tonarten tonalites tonalidades tonalita tonos toonsoorten tonarter tonearter tonacje toniny"
)


def _says_order(text: str) -> bool:
    words = words_of(text)
    return any(phrase_of(words, at, _IN_ORDER) for at in range(len(words)))


def _every(names: SongNames, many: int) -> list[int]:
    """Return the numbers of the songs that lack a key, or else of all songs, if there are so many."""
    every = [number for number, place in enumerate(names.numbers, start=1) if place is not None]
    return _songs(names, many) or (every if len(every) == many else [])


def _numbered(
    line: ReplyLine, keys: Sequence[str], songs: Sequence[int], names: SongNames, *, sure: bool
) -> list[ReplyLine]:
    """Return a line for each key with the number of its song; one that the show says already needs no question."""
    return [
        line._replace(text=f"{song} {key}{'' if sure or _is_said(names, song, key) else ' in that order?'}", field="")
        for song, key in zip(songs, keys, strict=True)
        if key
    ]


def _is_said(names: SongNames, number: int, key: str) -> bool:
    place = names.numbers[number - 1]
    return place is not None and str(song_says(names.songs[place][2], "key")) == key


def _songs(names: SongNames, many: int) -> list[int]:
    """Return the numbers of the songs that so many keys answer for: those that lack one, or else all of them."""
    asked = [
        number
        for number, place in enumerate(names.numbers, start=1)
        if place is not None and song_says(names.songs[place][2], "key") is None and not names.songs[place][2].tacet
    ]
    return asked if len(asked) == many else []


def _keys(text: str, names: SongNames, notation: Notation) -> tuple[list[str], bool]:
    """Return the keys of a line that has nothing else, and whether it says that they are in order.

    A dash between two of the signs that part the keys is a song without one: "" (C/F/-/Am). A set may be named between
    them if it has as many songs as keys follow.
    """
    words = words_of(text)
    keys: list[str] = []
    sets: list[tuple[int, int]] = []  # each set that is named, and how many keys stand before it
    at, is_in_order = 0, False
    while at < len(words):
        if many := phrase_of(words, at, _IN_ORDER):
            is_in_order, at = True, at + many
        elif _is_left_open(words, at):
            keys.append("")
            at += 1
        elif words[at].kind == SIGN or (low(words, at) in _BETWEEN and not words[at].text.isupper()):
            at += 1
        elif end := _key_end(words, at, notation):
            keys.append(text[words[at].start : words[end - 1].end])
            at = end
        elif keys and (meant := names.set_meant(words, at)) is not None and len(meant.sets) == 1:
            sets.append((meant.sets[0], len(keys)))
            at = meant.end
        else:
            return [], False
    ends = [before for _, before in sets[1:]] + [len(keys)] * bool(sets)
    is_fit = all(end - begin == len(names.in_set(of)) for (of, begin), end in zip(sets, ends, strict=True))
    return (keys, is_in_order) if is_fit else ([], False)


def _is_left_open(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a sign stands for the key of a song, between two that part keys: C/F/-/Am; D, E, ?, G."""
    beside = {low(words, at - 1), low(words, at + 1)} - {""}  # nothing is before the first and after the last
    return words[at].text in _OPEN and len(beside) == 1 and beside <= _PARTING


_OPEN: Final = set_of("- – — ? x X _")
_PARTING: Final = set_of("/ , ; |")


def _key_end(words: Sequence[ReplyWord], at: int, notation: Notation) -> int:
    stops = (one for one in range(at + 1, len(words)) if words[one].text in _PARTING or words[one].low in _BETWEEN)
    own = words[: next(stops, len(words))]
    found = key_at(own, at, frozenset(_BETWEEN | {"in"}), notation=notation, after_song=True)
    return found.end if found is not None and found.key is not None and not (found.then or found.doubt) else 0


def _follows_song(lines: Sequence[ReplyLine], at: int, names: SongNames) -> bool:
    """Return whether the line above names a song or a set, whose keys these may be."""
    above = next((line for line in reversed(lines[:at]) if not line.ends_block), None)
    if above is None:
        return False
    words = words_of(above.text)
    is_set = names.set_named(above.text) is not None
    return is_set or (bool(words) and names.titled(words, 0, haste=False) is not None) or above.is_quoted
