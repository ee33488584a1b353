"""Lines of a pasted chat that hold no more than who wrote the message below, or when: Kai, 19.02; Mon 23/11 20:41."""

import re
from collections import Counter
from collections.abc import Sequence
from typing import Final

from companion.setlist.parsing.cells import NAMES_OF_MONTHS
from companion.setlist.parsing.gig_days import WEEKDAYS_SAID
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.set_headings import read_heading

MAX_TALKERS: Final = 6
FEWEST_TIMES: Final = 2  # lines with a day and a time alone
_SHORT: Final = (  # as programs for chats shorten weekdays; Danish and Norwegian ones whole too
    "mo|di|mi|do|fr|sa|so|lun|mar|mer|mié|jeu|jue|gio|ven|vie|sam|sáb|sab|dim|dom|man(?:dag)?|tir(?:sdag)?|ons|tor|fre|"
    "lør(?:dag)?|lör|søn(?:dag)?|sön"
)
_WEEKDAY: Final = "|".join((*WEEKDAYS_SAID, _SHORT))
_NEAR: Final = (
    "today|yesterday|heute|gestern|aujourd'hui|hier|hoy|ayer|oggi|ieri|hoje|ontem|vandaag|gisteren|"
    "idag|igår|i dag|i går"
)
_DAY: Final = (  # Mon 23/11; Nov 28; Samstag, 28. November 2026; gestern
    rf"(?:(?:{_WEEKDAY})\.?,?\s)?(?:\d{{1,4}}[./-]\d{{1,2}}(?:[./-]\d{{2,4}}|\.)?"
    rf"|\d{{1,2}}\.?\s(?:{NAMES_OF_MONTHS})\.?(?:\s\d{{4}})?|(?:{NAMES_OF_MONTHS})\.?\s\d{{1,2}}(?:,?\s\d{{4}})?)"
    rf"|(?:{_WEEKDAY})\.?|{_NEAR}"
)
_CLOCK: Final = r"\d{1,2}[:.h]\d{2}(?:[:.]\d{2})?(?:\s?[ap]\.?m\.?|\suhr)?"
_WHEN: Final = rf"[\[(]?(?:(?:{_DAY}),?\s(?:at\s|um\s|à\s)?)?{_CLOCK}[\])]?:?"
_DAY_AND_TIME: Final = rf"[\[(]?(?:{_DAY}),?\s(?:at\s|um\s|à\s)?{_CLOCK}[\])]?:?"
_WHO: Final = r"[^\W\d_][\w.'’-]{0,20}(?:\s[^\W\d_][\w.'’-]{0,20}){0,2}?(?:\s\([^()]{1,24}\))?"
_PARTS: Final = r"(?:,?\s{1,12}|\s[–—|•·-]\s)"
_NAME_AND_TIME: Final = re.compile(rf"^(?P<who>{_WHO}){_PARTS}{_WHEN}$", re.IGNORECASE)
_NAME_AND_NEAR: Final = re.compile(
    rf"^(?P<who>{_WHO}){_PARTS}(?:{_NEAR}),?\s(?:at\s|um\s|à\s)?{_CLOCK}$", re.IGNORECASE
)
_TIME_AND_NAME: Final = re.compile(rf"^{_DAY_AND_TIME}[,\s]\s?(?:[-–—]\s)?(?P<who>{_WHO}):?$", re.IGNORECASE)
_DAY_ALONE: Final = re.compile(
    rf"^[-–—\s]{{0,8}}(?:{_WEEKDAY})\.?,?\s(?:\d{{1,2}}(?:st|nd|rd|th|\.)?\s(?:{NAMES_OF_MONTHS})\.?"
    rf"|(?:{NAMES_OF_MONTHS})\.?\s\d{{1,2}}(?:st|nd|rd|th)?|\d{{1,2}}[./-]\d{{1,2}}\.?)(?:,?\s\d{{4}})?[-–—\s]{{0,8}}$",
    re.IGNORECASE,
)
_TIME_ALONE: Final = re.compile(rf"^{_DAY_AND_TIME}$", re.IGNORECASE)
_NAME_ALONE: Final = re.compile(rf"^(?P<who>{_WHO}):?$")
_ASSENT: Final = re.compile(
    r"^(?:yes|yep|yeah|no|nope|ok(?:ay)?|sure|ta|cool|thanks|cheers|lol|haha|ja|nein|oui|non|sí|si|sì|nee|nej|hi|hey)(?!\w)",
    re.IGNORECASE,
)
_SELF: Final = frozenset(("me", "you", "ich", "du", "moi", "yo", "io", "eu", "ik", "jag", "jeg", "já", "ja", "minä"))


def sender_lines(texts: Sequence[str], blanks: Sequence[bool]) -> dict[int, str]:
    """Return such lines with the sender's name, which is empty where only the time stands there.

    ``blanks``: whether an empty line stands above. A few names have several such lines; one song with a length has not.
    """
    found = _of_few(_NAME_AND_TIME, texts) or _of_few(_TIME_AND_NAME, texts) or _of_near_days(texts)
    times = {at: "" for at, text in enumerate(texts) if _TIME_ALONE.match(text)}
    found |= times if len(times) >= FEWEST_TIMES or found else {}
    return found or _names_alone(texts, blanks)


def is_assent(text: str) -> bool:
    """Return whether words begin as an answer or a greeting does."""
    return bool(_ASSENT.match(text))


def is_day_alone(text: str) -> bool:
    """Return whether a line is a weekday with its date, as a program for chats has one above the messages of a day.

    >>> [is_day_alone(text) for text in ("Thu 26 Nov", "Freitag, 27. November 2026", "Monday", "Friday 5 Blues")]
    [True, True, False, False]
    """
    return bool(_DAY_ALONE.match(text))


def _of_few(form: re.Pattern[str], texts: Sequence[str]) -> dict[int, str]:
    """Return the lines of this form with their names, if a few names have many such lines."""
    found = {
        at: one["who"].strip()
        for at, text in enumerate(texts)
        if (one := form.match(text)) and not _TIME_ALONE.match(text)
    }
    return found if 0 < len(set(found.values())) <= min(MAX_TALKERS, len(found) / 2) else {}


def _of_near_days(texts: Sequence[str]) -> dict[int, str]:
    """Return the lines with a name and a time of today or yesterday, of which two tell a chat: Kai — Today at 14:03."""
    found = {at: one["who"].strip() for at, text in enumerate(texts) if (one := _NAME_AND_NEAR.match(text))}
    is_chat = len(found) >= FEWEST_TIMES and not any(read_heading(who) for who in found.values())
    return found if is_chat else {}


def _names_alone(texts: Sequence[str], blanks: Sequence[bool]) -> dict[int, str]:
    """Return the lines with a name alone, each at the top of a message, where two names or more come again."""
    named = {
        at: one["who"]
        for at, text in enumerate(texts)
        if (at == 0 or blanks[at]) and at + 1 < len(texts) and not blanks[at + 1] and (one := _NAME_ALONE.match(text))
    }
    counts = Counter(named.values())
    again = {who for who, count in counts.items() if count > 1}
    again |= {who for who in counts if who.lower() in _SELF}
    again = {who for who in again if (who[:1].isupper() or who.lower() in _SELF) and plain_key(who) is None}
    again = {who for who in again if read_heading(who) is None}
    is_chat = 2 <= len(again) <= MAX_TALKERS and any(counts[who] > 1 for who in again)
    is_chat = is_chat and any(text.rstrip().endswith("?") or _ASSENT.match(text) for text in texts)
    return {at: who for at, who in named.items() if who in again} if is_chat else {}
