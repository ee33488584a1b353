"""Notes that name keys: once the song is in another key, each says which key it was written in."""

import re
from typing import Final

from companion.music import Key

_SIGN: Final = r"[b#♭♯]"
_MODE: Final = r"(?:m|min|minor|major|dur|moll|-[Dd]ur|-[Mm]oll)"
_LEAD: Final = r"(?:[>→⇒]|\b(?:in|into|to|key|of|from|on|nach|zu|auf|von|en|a|à|al|do|til|till|naar|na|i|w|v))\s?"
_NOTE: Final = rf"(?:[A-H](?:{_SIGN}|is|i?s|es)?|(?:Do|R[eé]|Mi|Fa|Sol|La|Si)(?:\s?{_SIGN})?)"
_NAMES_KEY: Final = re.compile(
    rf"\b[A-H]{_SIGN}{_MODE}?(?!\w)|\b[A-H]\s?(?:major|minor|-[Dd]ur|-[Mm]oll|[Dd]ur|[Mm]oll)\b|"
    rf"{_LEAD}{_NOTE}\s?{_MODE}?(?![\w'’]|\s[A-Z])"
)
_OF_RECORD: Final = re.compile(
    r"\b(?:record|album|original|orig\b|cd\b|opname|plaat|platte|aufnahme|disque|disco|skiv)", re.IGNORECASE
)
"""The record keeps its key, whatever the band plays."""
_CLAUSE: Final = re.compile(r"(;\s*|\n)")
_WRITTEN: Final = re.compile(r"\s\(written in ([^()]{1,40})\)\Z")


def notes_written_in(notes: str | None, old: Key, new: Key | None) -> str | None:
    """Return a song's notes once its key is new: each clause that names a key says that it was written in the old one.

    A clause that says so already keeps its key; back in that key, it needs no such words.

    >>> from companion.music import read_key
    >>> notes_written_in("up to C at the end; sax solo", read_key("G"), read_key("A"))
    'up to C at the end (written in G); sax solo'
    """
    if not notes or new is None or new == old:
        return notes
    return "".join(_clause(part, old, new) for part in _CLAUSE.split(notes))


def _clause(words: str, old: Key, new: Key) -> str:
    if said := _WRITTEN.search(words):
        return words[: said.start()] if said[1] == str(new) else words
    names_key = _NAMES_KEY.search(words) and not _OF_RECORD.search(words)
    return f"{words.rstrip()} (written in {old})" if names_key else words
