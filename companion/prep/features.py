"""Where people would miss the keys: marked in the road map, or said in the notes that came with the list."""

import re
from typing import Final

import msgspec

from companion.show import Song

# How much a missing one is heard, 1 to 3 (common practice, no source): alone or in front before a riff, before a fill.
WORDS: Final = (
    (3, re.compile(r"\b(?:solos?|alone|intro|starts?|opens|a ?cappella|unaccompanied)\b", re.IGNORECASE)),
    (2, re.compile(r"\b(?:riff|hook|lead|melody|theme|run|lick|break)\b", re.IGNORECASE)),
    (1, re.compile(r"\b(?:fills?|pad|stabs?|swell|part)\b", re.IGNORECASE)),
)
UNSAID: Final = 2  # a * in the margin
KEYS: Final = r"(?:keys?|keyboards?|piano|organ|synth|clav|hammond|accordion|strings|klavier|orgel|tasten)"
_SAID: Final = re.compile(
    rf"[^;,.\n]*\b{KEYS}\b[^;,.\n]*\b(?:solos?|intro|riff|alone|hook|fills?|lead|run|starts?|break|theme)\b[^;,.\n]*|"
    r"[^;,.\n]*\b(?:solos?|intro|riff|hook|fills?|lead|run|break|theme)\b[^;,.\n]*"
    rf"\b(?:on|by|for|for the)\s+{KEYS}\b[^;,.\n]*",
    re.IGNORECASE,
)
PLAYERS: Final = re.compile(rf"\b(?:me|i|myself|{KEYS})\b", re.IGNORECASE)


class Feature(msgspec.Struct, frozen=True):
    """A place where people listen to the keys. ``weight`` 1 to 3; ``section`` is empty where only the notes say it."""

    what: str
    weight: int
    section: str = ""

    def __str__(self) -> str:
        if not self.section or self.section.casefold() in self.what.casefold():
            return self.what
        return f"{self.section}: {self.what}" if self.what != "feature" else self.section


def features_of(song: Song) -> tuple[Feature, ...]:
    """Give a song's features: those of the road map, each once; else those that its notes and its start say."""
    if song.tacet:
        return ()
    found = {
        (section.name, section.feature): Feature(
            section.feature, weight_of(f"{section.feature} {section.name}"), section.name
        )
        for section in song.road_map
        if section.feature is not None and not section.tacet
    }
    if found:
        return tuple(found.values())
    said = [words[0].strip() for words in _SAID.finditer(song.notes or "")]
    if keys_start(song) and not any("intro" in words or "start" in words for words in said):
        said.append(f"{song.starts_with} start" if song.starts_with != "keys" else "the keys start")
    return tuple(Feature(words, weight_of(words)) for words in dict.fromkeys(said))


def weight_of(words: str) -> int:
    """Say how much a feature would be missed, by its words."""
    return next((weight for weight, pattern in WORDS if pattern.search(words)), UNSAID)


def keys_start(song: Song) -> bool:
    """Whether it is the player who starts: then nobody else can."""
    return bool(PLAYERS.search(song.starts_with or ""))
