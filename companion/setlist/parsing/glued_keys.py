"""Keys that nothing but a sign parts from their titles: Moth-A, Weeds:C, Tidal Clock- D, and Fog..Em."""

import re

import msgspec

from companion.setlist.parsing.text_lines import TextLine

LONGEST = 120  # characters
_GLUED = re.compile(
    r"^(.*[^\W\d_]{2,}['’!?.)]?)(?:\s?[-–—:=]|[-–—:=]\s)([A-G](?:#|b|♯|♭)?(?:m|min|maj)?)(\s?\?{1,3}|\s[-–—(].*)?$"
)
_BEHIND_DOTS = re.compile(  # Moth..C?
    r"^(.*[^\W\d_]{2}['’!?)]?)\s?(?:\.{2,5}|…)\s?([A-G](?:#|b|♯|♭)?(?:m|min|maj)?)(\s?\?{1,3})?$"
)


def with_space_before_key(line: TextLine) -> TextLine:
    """Return the line with a dash between spaces before its key, where dots, a number or a bullet tell of a song."""
    if len(line.text) >= LONGEST:
        return line
    is_song = line.is_marked or line.text[:1].isdecimal()
    found = _BEHIND_DOTS.match(line.text) or (_GLUED.match(line.text) if is_song else None)
    if found is None:
        return line
    text = f"{found[1]} - {found[2]}{found[3] or ''}"
    return msgspec.structs.replace(line, text=text, whole=line.whole.replace(line.text, text))
