"""Words for music beside the number of a set: Musik Teil 1, Live Music - Part 2, 2. Tanzrunde."""

import re
from typing import Final

# Dictionaries of each language; no single source.
_MUSIC: Final = (
    r"(?:live[- ]?)?(?:music|musikk?|muziek|musique|m[uú]sica|muzica|muzyka|hudba|glazba|glasba|musiikkia?|zene|"
    r"muusika|müzik|μουσική|музыка|музика|band|bandet|orchester|orchestre|orchestra|orquesta|orquestra|orkest|orkester|"
    r"programme?|programm|programma|programa|konzert|concert|koncert|konsert)"
)
_IN_FRONT = re.compile(rf"^{_MUSIC}(?:\s*[-–—:,|(]\s*|\s+)(?=\S)", re.IGNORECASE)
_BEHIND = re.compile(rf"(?:\s*[-–—:,|(]\s*|\s+){_MUSIC}$", re.IGNORECASE)
_JOINED = re.compile(  # Musikblock, Tanzrunde
    r"(?<!\w)(?:musik|tanz|muziek|dans)(?=(?:set|block|blok|teil|runde|ronde|deel|del)\b)", re.IGNORECASE
)


def without_word_for_music(text: str) -> str:
    """Return a line without a word for music in front or behind, or joined to the word for a set.

    >>> [without_word_for_music(text) for text in ("MUSIK TEIL 1", "Part 2: live music", "2. Tanzrunde", "Music")]
    ['TEIL 1', 'Part 2', '2. runde', 'Music']
    """
    return _BEHIND.sub("", _IN_FRONT.sub("", _JOINED.sub("", text)))
