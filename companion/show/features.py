"""Features: marked in the road map, or mentioned in the notes that came with the list."""

import re
from typing import Final

import msgspec

from companion.show.model import Song

# How much a missing feature is noticed, 1 to 3 (common practice, no source): solos most, then riffs, then fills.
WORDS: Final = (
    (3, re.compile(r"\b(?:solos?|alone|intro|starts?|opens|a ?cappella|unaccompanied)\b", re.IGNORECASE)),
    (2, re.compile(r"\b(?:riff|hook|lead|melody|theme|run|lick|break)\b", re.IGNORECASE)),
    (1, re.compile(r"\b(?:fills?|pad|stabs?|swell|part)\b", re.IGNORECASE)),
)
STAR_ALONE: Final = 2  # a * in the margin
KEYS: Final = r"(?:keys?|keyboards?|piano|organ|synth|clav|hammond|accordion|strings|klavier|orgel|tasten)"
# Clauses are matched one by one, each at most twice: one pattern for the whole note would take cubic time.
_CLAUSE: Final = re.compile(r"[^;,.\n]+")
_KEYS: Final = re.compile(rf"\b{KEYS}\b", re.IGNORECASE)
_THEIR_PART: Final = re.compile(
    r"\b(?:solos?|intro|riff|alone|hook|fills?|lead|run|starts?|break|theme)\b", re.IGNORECASE
)
_PART: Final = re.compile(r"\b(?:solos?|intro|riff|hook|fills?|lead|run|break|theme)\b", re.IGNORECASE)
_ON_KEYS: Final = re.compile(rf"\b(?:on|by|for|for the)\s{{1,9}}{KEYS}\b", re.IGNORECASE)
PLAYERS: Final = re.compile(rf"\b(?:me|i|myself|{KEYS})\b", re.IGNORECASE)


class Feature(msgspec.Struct, frozen=True):
    """A place where people listen to the keys. ``weight`` 1 to 3; ``section`` is empty for one from the notes."""

    what: str
    weight: int
    section: str = ""

    def __str__(self) -> str:
        if not self.section or self.section.casefold() in self.what.casefold():
            return self.what
        return f"{self.section}: {self.what}" if self.what != "feature" else self.section


def features_of(song: Song) -> tuple[Feature, ...]:
    """Return a song's features: those of the road map, each once; else those from its notes and its start."""
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
    clauses = [words[0].strip() for words in _CLAUSE.finditer(song.notes or "") if _says_feature(words[0])]
    if keys_start(song) and not any("intro" in words or "start" in words for words in clauses):
        clauses.append(f"{song.starts_with} start" if song.starts_with != "keys" else "the keys start")
    return tuple(Feature(words, weight_of(words)) for words in dict.fromkeys(clauses))


def _says_feature(clause: str) -> bool:
    """Return whether a clause gives the keys a part: "organ solo" or "solo on organ"."""
    keys, part = _KEYS.search(clause), _PART.search(clause)
    return bool((keys and _THEIR_PART.search(clause, keys.end())) or (part and _ON_KEYS.search(clause, part.end())))


def weight_of(words: str) -> int:
    """Return how much a feature would be missed, 1 to 3, by its words."""
    return next((weight for weight, pattern in WORDS if pattern.search(words)), STAR_ALONE)


def keys_start(song: Song) -> bool:
    """Return whether the keys start the song."""
    return bool(PLAYERS.search(song.starts_with or ""))
