"""Shorter words: short forms that players know, keys with ♭ and ♯, and cut titles that stay recognizable."""

import re
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Final

ELLIPSIS: Final = "…"

SHORT_FORMS: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        # As players write them in the margins of charts (common practice, no source).
        "pre-chorus": ("Pre-ch.", "Pre"),
        "pre chorus": ("Pre-ch.", "Pre"),
        "post-chorus": ("Post-ch.", "Post"),
        "instrumental": ("Instr.",),
        "interlude": ("Interl.",),
        "breakdown": ("Brkdn.",),
        "introduction": ("Intro",),
        "turnaround": ("Turnar.",),
        "middle eight": ("Mid. 8",),
        "middle 8": ("Mid. 8",),
        "chorus": ("Ch.",),
        "verse": ("Vs.",),
        "bridge": ("Br.",),
        "ending": ("End",),
        "vamp-out": ("Vamp",),
        "modulation": ("Mod.",),
        "refrain": ("Refr.",),
    }
)

_PITCH_SIGN: Final = r"(?<![A-Za-z])([A-G])(bb|##|b|#)"
_DEGREE_SIGN: Final = r"(?<![\w])(b|#)(?=[1-7])"
_SIGNS: Final = str.maketrans({"b": "♭", "#": "♯"})


def shown_key(text: str) -> str:
    """Return the text with printed signs in keys and chords: B♭, F♯m, ♭7. Other words stay unchanged.

    >>> shown_key("Bb"), shown_key("F#m"), shown_key("1 | b7/5 | Eb"), shown_key("Baby blues")
    ('B♭', 'F♯m', '1 | ♭7/5 | E♭', 'Baby blues')
    """
    if "b" not in text and "#" not in text:
        return text
    text = re.sub(_PITCH_SIGN, lambda found: found[1] + found[2].translate(_SIGNS), text)
    return re.sub(_DEGREE_SIGN, lambda found: found[1].translate(_SIGNS), text)


def cut(text: str, words: int) -> str:
    """Return the first ``words`` words, with an ellipsis if there were more; empty for 0.

    >>> cut("riff alone, then the horns", 3), cut("Solo", 3), cut("Solo", 0)
    ('riff alone, then…', 'Solo', '')
    """
    kept: list[str] = []
    left = words
    for word in text.split():
        left -= any(sign.isalnum() for sign in word)
        if left < 0:
            return " ".join(kept).rstrip(",;:") + ELLIPSIS if words > 0 else ""
        kept.append(word)
    return text


def lesser_titles(title: str) -> tuple[str, ...]:
    """Return a title's shorter forms: without what follows a bracket, colon or dash.

    >>> lesser_titles("Kettle on the Jetty (reprise)")
    ('Kettle on the Jetty',)
    """
    bare = re.split(r"\s*[(\[–—:]|\s-\s", title, maxsplit=1)[0].strip()
    return (bare,) if bare and bare != title else ()


def middle_cut(text: str, keep: int) -> str:
    """Return a text of at most ``keep`` characters: both ends, round an ellipsis.

    >>> middle_cut("Gasworks Corner", 8)
    'Gasw…ner'
    """
    if len(text) <= keep:
        return text
    head = max(keep // 2, 1)
    tail = max(keep - head - 1, 0)
    end = text[len(text) - tail :] if tail else ""
    return text[:head].rstrip() + ELLIPSIS + end.lstrip()


def words_left_out(text: str) -> Iterator[str]:
    """Yield the text without one word from its middle, then two, and so on. The first and last words stay.

    >>> list(words_left_out("Seven Steps Down to the Slipway"))[:2]
    ['Seven Steps Down … the Slipway', 'Seven Steps … the Slipway']
    """
    words = text.split()
    for left_out in range(1, len(words) - 1):
        head = (len(words) - left_out + 1) // 2
        yield " ".join((*words[:head], ELLIPSIS, *words[head + left_out :]))


def named(word: str) -> str:
    """Return a word of the show file with spaces for underscores."""
    return word.replace("_", " ")


def ordinal(number: int) -> str:
    """Return 1st, 2nd, 3rd, 4th and so on.

    >>> [ordinal(number) for number in (1, 2, 3, 4, 11, 12, 13, 21, 102, 112)]
    ['1st', '2nd', '3rd', '4th', '11th', '12th', '13th', '21st', '102nd', '112th']
    """
    last = "th" if number // 10 % 10 == 1 else {1: "st", 2: "nd", 3: "rd"}.get(number % 10, "th")
    return f"{number}{last}"
