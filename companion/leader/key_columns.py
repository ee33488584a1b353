"""Keys one below the other under the name of a set, as many as it has songs: each is that of the next song."""

from collections.abc import Callable, Sequence
from typing import Final

from companion.leader.reply_lines import ReplyLine
from companion.leader.reply_words import words_of
from companion.leader.songs_meant import SongNames

LEAST: Final = 3  # fewer keys may be those of one song


def columns_numbered(lines: Sequence[ReplyLine], names: SongNames, lone_key: Callable[[str], str]) -> list[ReplyLine]:
    """Put the place in its set before each key of a column below the heading of that set.

    ``lone_key``: the key that a line is, "" for any other line.
    """
    kept: list[ReplyLine] = []
    at = 0
    while at < len(lines):
        of_set = _set_headed(lines[at], names)
        keys = _keys_below(lines, at + 1, lone_key) if of_set is not None else []
        kept.append(lines[at])
        at += 1
        if of_set is None or len(keys) < LEAST or len(keys) != len(names.in_set(of_set)):
            continue
        if names.set_named(lines[at - 1].text) != of_set:
            kept.append(lines[at]._replace(text=f"{names.show.sets[of_set].name}:", field=""))
        kept += [lines[at]._replace(text=f"{place} {key}", field="") for place, key in enumerate(keys, start=1)]
        at += len(keys)
    return kept


def _keys_below(lines: Sequence[ReplyLine], at: int, lone_key: Callable[[str], str]) -> list[str]:
    keys: list[str] = []
    while at < len(lines) and not lines[at].is_quoted and (key := lone_key(lines[at].text)):
        keys.append(key)
        at += 1
    return keys


def _set_headed(line: ReplyLine, names: SongNames) -> int | None:
    """Return the one set that a line names at its end, as the heading of what is below it: "Keys, first set:"."""
    if line.is_quoted or not line.text:
        return None
    if (named := names.set_named(line.text)) is not None:
        return named
    words = words_of(line.text.rstrip(" :-–—"))
    sets = {one for at in range(len(words)) if (said := names.set_meant(words, at)) is not None for one in said.sets}
    ends = any((said := names.set_meant(words, at)) is not None and said.end == len(words) for at in range(len(words)))
    return sets.pop() if len(sets) == 1 and ends else None
