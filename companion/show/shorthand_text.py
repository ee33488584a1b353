"""Write a section in shorthand: the one way that reads back to the same section."""

import re
from collections.abc import Mapping
from typing import Final

from companion.files import Reading, SourceFile, Text
from companion.files.nodes import plainly
from companion.show.roadmap import cut
from companion.show.shorthand import TEXTS

KEYS: Final = (
    *("section", "bars", "passes", "open", "tacet", "ending", "feature", "key", "change", "watch", "hits", "cue"),
    *("first_words", "sound", "chords"),
)
LONG_TEXTS: Final = ("cue", "hits", "first_words", "chords")
"""What makes a road map easier to read with each section on its own line."""
WIDE_FEATURE: Final = 12  # characters; a longer one makes a long line too
_SAFE: Final = re.compile(r"[^,;|@*()\n]+\Z")


def short_section(section: Mapping[str, object]) -> str:
    """Write a section, given as plain keys and texts, in shorthand; "" if shorthand cannot hold all of it.

    >>> short_section({"section": "Solo", "bars": "16", "feature": "yes", "watch": "drummer", "sound": "lead"})
    'Solo 16* watch drummer @lead'
    >>> short_section({"section": "Bridge", "bars": "8", "cue": "bass only, back in on the snare", "chords": "1 | 4"})
    'Bridge 8 (bass only, back in on the snare) | 1 | 4'
    """
    if not set(section) <= set(KEYS) or any(section.get(key, "yes") != "yes" for key in ("open", "tacet", "ending")):
        return ""
    for in_brackets in (False, True):
        text = _written(section, in_brackets=in_brackets)
        if _read(text) == [dict(section)]:
            return text
    return ""


def short_map(sections: list[Mapping[str, object]]) -> str:
    """Write a road map in shorthand, one section a line if they hold long texts; "" if it cannot hold all of it."""
    parts = [short_section(one) for one in sections]
    if not all(parts):
        return ""
    long = any(key in one for one in sections for key in LONG_TEXTS)
    long = long or any(len(str(one.get("feature", ""))) > WIDE_FEATURE for one in sections)
    for join in ("\n", ", ") if long else (", ", "\n"):
        text = join.join(parts)
        if _read(text) == [dict(one) for one in sections]:
            return text
    return ""


def _written(section: Mapping[str, object], *, in_brackets: bool) -> str:
    def text(key: str) -> str:
        value = str(section[key])
        return f"({value})" if in_brackets or (not _SAFE.match(value) and key != "hits") else value

    words = [str(section.get("section", ""))]
    if "bars" in section:
        words.append(str(section["bars"]))
    if "passes" in section:
        words.append(f"x{section['passes']}")
    words += [key for key in ("open", "tacet") if key in section]
    feature = section.get("feature")
    if feature == "yes":
        words[-1] += "*"
    words += ["ending"] if "ending" in section else []
    words += [f"*{text('feature')}"] if feature not in ("yes", None) else []
    words += [f"in {section['key']}"] if "key" in section else []
    words += [str(section["change"])] if "change" in section else []
    words += [f"{key} {text(key)}" for key in TEXTS if key in section and key != "words"]
    words += [f"({section['cue']})"] if "cue" in section else []
    words += [f"words {text('first_words')}"] if "first_words" in section else []
    sound = section.get("sound", ())
    if isinstance(sound, Mapping):
        words += [f"@{board}={called}" for board, called in sound.items()]
    elif sound:
        words.append(f"@{sound}")
    if "chords" in section:
        lines = str(section["chords"]).split("\n")
        words.append("\n".join(f"| {line}" for line in lines))
    return " ".join(words)


def _read(text: str) -> list[object]:
    reading = Reading()
    tables = cut(Text(text, SourceFile("", text), 1, 1, "|"), reading)
    return [] if reading.faults or reading.warnings else [plainly(one) for one in tables]
