"""Split shorthand into sections: commas and line breaks separate them, except inside brackets and between hits."""

import re
from typing import Final

_BEAT: Final = r"(?:[0-9]{1,2}(?:e|&|\+|a|and)?|[&+])"
LONGEST_HITS: Final = 400  # characters, as in the form of a section
_BRACKETS: Final = re.compile(r"[()\n]")
_HITS_SO_FAR: Final = re.compile(rf"\shits(?:(?:\s+|\s*,\s*){_BEAT})+\s*\Z")
_SIGN_BEFORE: Final = re.compile(r"[0-9*]|\b(?:open|tacet|in|watch)\b")
_FIRST_BEAT: Final = re.compile(rf"\s*{_BEAT}(?=[\s,@|(]|\Z)")
_TIMES: Final = re.compile(r"[ \t]*[x×][0-9]")
_HOLDS_TEXT: Final = re.compile(r"(?:\*|\b(?:hits|watch|words)\s)\s*\Z")
_GOES_ON: Final = re.compile(r"\s*(?:[|@*(]|(?:[0-9]*[x×]?[0-9]+|open|tacet)(?=[\s*]|\Z))")


def parts_of(line: str) -> list[tuple[int, int]]:
    r"""Return where each section of a line begins and ends, separators excluded; some may be blank.

    Commas and line breaks separate sections, except commas in brackets or between hits, and a break before a sign.

    >>> line = "Intro 4, Solo 8 (slow, then fast)\nChorus 8 hits 4, 4&"
    >>> [line[start:end] for start, end in parts_of(line)]
    ['Intro 4', ' Solo 8 (slow, then fast)', 'Chorus 8 hits 4, 4&']
    """
    parts = []
    start = 0
    for at in [*outside(line, ",\n"), len(line)]:
        if at < len(line):
            if line[at] == "," and _is_between_hits(line, start, at):
                continue
            if line[at] == "\n" and line[start:at].strip() and _GOES_ON.match(line, at + 1):
                continue
            if line[at] == "\n" and not line[start:at].strip():  # a blank line, or a comma at the end of one
                start = at + 1
                continue
        parts.append((start, at))
        start = at + 1
    return parts


def _is_between_hits(line: str, start: int, at: int) -> bool:
    if "hits" not in line or not _FIRST_BEAT.match(line, at + 1):
        return False
    near = max(start, at - LONGEST_HITS)
    hits = _HITS_SO_FAR.search(line[near:at])
    return bool(hits and _SIGN_BEFORE.search(line[start : near + hits.start()]))


def brackets_of(line: str) -> dict[int, int]:
    """Return where each outermost bracket opens and closes; one that is not closed on its line does not count."""
    opened: list[int] = []
    closed: list[tuple[int, int]] = []
    for sign in _BRACKETS.finditer(line):
        if sign[0] == "(":
            opened.append(sign.start())
        elif sign[0] == "\n":
            opened = []
        elif opened:
            closed.append((opened.pop(), sign.start()))
    outer: dict[int, int] = {}
    last = -1
    for start, end in sorted(closed):
        if start > last:
            outer[start] = last = end
    return outer


def repeated_bars(part: str) -> int | None:
    """Return where a section's chords begin if bars in brackets begin them, which are repeated: (1 | 4) x2.

    Only before an @ and the first bar line; brackets after a word that holds a text, or after a *, are that text.
    """
    if "|" not in part:
        return None
    end = min([*outside(part, "|@"), len(part)])
    for opens, closes in brackets_of(part).items():
        if opens < end and "|" in part[opens:closes] and _TIMES.match(part, closes + 1):
            return None if _HOLDS_TEXT.search(part[:opens]) else opens
    return None


def outside(line: str, signs: str) -> list[int]:
    """Return where these signs stand, except inside brackets."""
    inside = sorted(brackets_of(line).items(), reverse=True) if "(" in line else []
    found = []
    for at, letter in enumerate(line):
        if letter in signs:
            while inside and inside[-1][1] < at:
                inside.pop()
            if not (inside and inside[-1][0] < at):
                found.append(at)
    return found
