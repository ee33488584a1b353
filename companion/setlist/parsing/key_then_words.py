"""Find the key of a line that has a title, its key and then words: Moth - in C, 12 bar; Moth (Am) synth bit."""

import re

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


def title_before_key(text: str) -> str | None:
    """Return the title of such a line; None for other lines."""
    found = next((found for form in _FORMS if (found := form.match(text))), None)
    return found[1] if found and found[1][:1].isupper() else None
