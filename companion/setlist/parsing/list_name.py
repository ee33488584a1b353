"""What a line that names the list says: Hi all! Set list for Sat 5 December 2026 at the Boathouse, Pirton."""

import datetime as dt
import re

import msgspec

from companion.setlist.parsing.cells import date_in

_GREETING = re.compile(
    r"^(?:hi|hey|hello|hallo|hiya|morning|evening|dear|moin|salut|bonjour|ciao|hola|ok(?:ay)?|right)\b"
    r"[^!,.:;–—-]{0,30}[!,.:;–—-]+\s*",
    re.IGNORECASE,
)
_LEAD_IN = re.compile(
    r"^(?:and |so )?(?:(?:here(?:'s|’s| is| are| comes)|this is|attached(?: is)?|below(?: is)?|"
    r"hier(?: ist| kommt| is)?|voici|aquí (?:va|está)|ecco|här är|her er)\s+)?"
    r"(?:(?:the|our|my|your|die|unsere|la|de|a|final|latest|new|updated|full|draft|revised)\s+){0,3}"
    r"(?:set ?lists?|song ?lists?|lists?|songs|running order|repertoire|setliste|liste|lista|lijst|"
    r"scaletta|programme?)\s+"
    r"(?:for|from|of|für|pour|para|per|voor|för|til|on)\s+(?:the\s)?",
    re.IGNORECASE,
)
_WEEKDAY = re.compile(
    r"\b(?:mon|tues?|wed(?:nes)?|thu(?:rs)?|fri|sat(?:ur)?|sun)(?:day)?\b[\s,.]*(?:the\s)?$", re.IGNORECASE
)
_ON = re.compile(r"[\s,;(–—-]*\b(?:on|this|next|for|at|am|le)?\s*$", re.IGNORECASE)
_AT = re.compile(r"^(?:at|@|in|from|im|au|chez)\s+(?:the\s)?(?=\S)", re.IGNORECASE)
_VENUE_AT = re.compile(r"\s(?:at|@)\s+(?:the\s)?([A-Z][^:;!?]+)$")
LONGEST = 120
LONGEST_VENUE = 61


class NamedList(msgspec.Struct, frozen=True):
    """The facts of a line that names the list. ``title`` is never empty."""

    title: str
    date: dt.date | None = None
    venue: str | None = None


def without_lead_in(text: str) -> str:
    """Return the words without those that lead to what a list is for: hi Kim, here's the list for."""
    return _LEAD_IN.sub("", _GREETING.sub("", f"{text.rstrip()} ", count=1)).strip()


def named_list(text: str) -> NamedList | None:
    """Read a line that says which engagement the list is for; None if it says no such thing, or nothing of it."""
    if len(text) > LONGEST:
        return None
    rest = _GREETING.sub("", text, count=1)
    lead = _LEAD_IN.match(rest)
    if not lead:
        return None
    rest, date = rest[lead.end() :].rstrip(" :.!,;–—-"), None
    if found := date_in(rest):
        date, (begin, end) = found
        before = _ON.sub("", _WEEKDAY.sub("", rest[:begin]))
        behind = rest[end:].lstrip(" ,;:)–—-")
        rest = f"{before}, {behind}" if before and behind and not _AT.match(behind) else f"{before} {behind}".strip()
    venue = None
    if found_at := _AT.match(rest):
        venue = rest = rest[found_at.end() :].strip()
    elif (found_venue := _VENUE_AT.search(rest)) and len(found_venue[1]) <= LONGEST_VENUE:
        venue = found_venue[1].strip()
        rest = rest[: found_venue.start()].strip()
    rest = rest.strip(" ,;:–—-")
    if not rest or not (date or venue or rest[:1].isupper()):
        return NamedList(text, date) if date else None
    return NamedList(rest, date, venue)
