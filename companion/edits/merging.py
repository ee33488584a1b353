"""Merge two changes of one text line by line; and a change as hunks of lines."""

import difflib
from collections.abc import Sequence
from typing import Final, NamedTuple

from companion.edits.equal_ends import equal_ends

MAX_COMPARED: Final = 9_000_000  # old lines times new ones: two seconds where all of them are alike


class Hunk(NamedTuple):
    """Lines ``start`` to ``end`` (from 0, ``end`` not included) of the older text become ``lines``."""

    start: int
    end: int
    lines: tuple[str, ...]


def hunks(before: str, after: str) -> list[Hunk]:
    """Return the hunks that turn the first text into the second; a single hunk if a full comparison would be slow."""
    old, new = before.split("\n"), after.split("\n")
    head, tail = equal_ends(old, new)
    inner_old, inner_new = old[head : len(old) - tail], new[head : len(new) - tail]
    if len(inner_old) * len(inner_new) > MAX_COMPARED:
        return [Hunk(head, len(old) - tail, tuple(inner_new))]
    matcher = difflib.SequenceMatcher(None, inner_old, inner_new, autojunk=False)
    return [
        Hunk(head + begin, head + end, tuple(inner_new[to_begin:to_end]))
        for tag, begin, end, to_begin, to_end in matcher.get_opcodes()
        if tag != "equal"
    ]


def patched(text: str, changes: Sequence[Hunk]) -> str:
    """Return the text with these hunks applied."""
    lines = text.split("\n")
    for start, end, new in sorted(changes, reverse=True):
        lines[start:end] = new
    return "\n".join(lines)


def merged(base: str, one: str, other: str) -> str | None:
    """Return the text with both changes; None if they change the same lines differently."""
    if base == other:
        return one
    ours, theirs = hunks(base, one), hunks(base, other)
    for mine in ours:
        for yours in theirs:
            if mine != yours and max(mine.start, yours.start) <= min(mine.end, yours.end):
                return None
    return patched(base, list({*ours, *theirs}))
