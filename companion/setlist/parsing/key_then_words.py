"""Find the key of a line that has a title, its key and then words: Moth - in C, 12 bar; Moth (Am) synth bit."""

import re

from companion.setlist.parsing.remarks import is_remark

_STRONG = r"[A-G][b#♭♯]m?|[B-G]m"
_ANY = r"[A-G](?:[b#♭♯]|\s(?:flat|sharp))?(?:m|\s(?:minor|major))?"
_RISE = r"then|up to|down to|now|tonight"
_FORMS = (
    re.compile(rf"^([^()\[\]]+?)\s*[(\[](?:in\s)?{_ANY}[)\]][\s,;:–—-]+\S"),
    re.compile(rf"^(.+?)\s+[-–—|]+\s+(?:in\s+)?{_ANY}(?:\s*[,;:!]\s*\S|\s+[-–—(]\s*\S|\s+(?:{_RISE})\b)"),
    re.compile(rf"^(.+?)\s+[-–—|]+\s+(?:in\s+{_ANY}|{_STRONG})\s+[a-z\d]"),
    re.compile(rf"^(.+?)[.,;]\s+{_ANY}\.\s+[a-z\d]"),
    re.compile(rf"^(.+?)\s+(?:{_STRONG})[\s,;:–—-]+[a-z\d]"),
)
_BRACKET = re.compile(
    r"^(.*\S)\s*[(\[]([^()\[\]]+)[)\]](?:[.!;]\s+(?=\S)|\s+(?=[a-z0-9]|[-–—]\s))(?:[-–—]\s+(\S.*)|(.*))$"
)
_STRONG_BRACKET = re.compile(  # Moth (Em) NEW: no title has such a key within it
    rf"^([^()\[\]]*[^()\[\]\s])\s*[(\[](?:in\s)?({_STRONG}|[A-G]\s(?:flat|sharp|minor|major))[)\]]\s+()([^()\[\]]{{1,60}})$"
)
_LETTER_BRACKET = re.compile(r"^([^()\[\]]*[^()\[\]\s])\s*[(\[]((?:in\s)?[A-G])[)\]]\s+()([^()\[\]]{1,60})$")
MOST_SMALL = 1  # words with a small letter in a title that a sentence follows


def title_before_key(text: str) -> str | None:
    """Return the title of such a line; None for other lines."""
    found = next((found for form in _FORMS if (found := form.match(text))), None)
    return found[1] if found and found[1][:1].isupper() else None


def bracket_before_words(text: str) -> re.Match[str] | None:
    """Find a bracket with words behind it. In front of a new sentence, only a title stands: Moth (C). It has a solo."""
    found = _BRACKET.match(text)
    if found and text[found.end(2) + 1] in ".!;":
        small = sum(word[:1].islower() for word in found[1].split())
        return found if small <= MOST_SMALL and "," not in found[1] else None
    if found is None and (strong := _STRONG_BRACKET.match(text)):
        return strong
    lone = _LETTER_BRACKET.match(text) if found is None else None
    return lone if lone and (is_remark(lone[4]) or (lone[4].isupper() and not text.isupper())) else found
