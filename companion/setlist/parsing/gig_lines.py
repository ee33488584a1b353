"""The lines above a list that name the gig in a few words: Harvest dance, Village Hall, Mon 7 December."""

import datetime as dt
import re
from typing import Final

import msgspec

from companion.setlist.parsing.cells import MONTHS, NAMES_OF_MONTHS, date_in
from companion.setlist.parsing.said_days import next_day
from companion.setlist.tidy import lowered

_DAYS: Final = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_DAY: Final = re.compile(
    r"^(?:on\s+)?(?:(?P<weekday>mon|tue|wed|thu|fri|sat|sun)[a-z]{0,6}\.?,?\s+)?(?:the\s+)?"
    rf"(?:(?P<day>\d{{1,2}})(?:st|nd|rd|th|\.)?\s+(?:of\s+)?(?P<month>{NAMES_OF_MONTHS})\b\.?"
    rf"|(?P<month2>{NAMES_OF_MONTHS})\s+(?P<day2>\d{{1,2}})(?:st|nd|rd|th)?)(?:,?\s+(?P<year>\d{{4}}))?$",
    re.IGNORECASE,
)
_PARTS: Final = re.compile(r"\s*[,;|/•·]\s*|\s+[-–—]\s+|(?<=[!?:])\s+|(?<=[^\W\d_]{3}\.)\s+")
_VENUE: Final = re.compile(  # words for a house in which bands play (common practice, no source)
    r"\b(?:hall|club|hotel|inn|arms|tavern|barn|house|centre|center|theatre|theater|church|chapel|cathedral|school|"
    r"pavilion|ballroom|marquee|rooms?|bar|pub|lounge|castle|manor|abbey|park|farm|gardens?|stadium|arena|exchange|"
    r"institute|legion|lodge|brewery|boathouse|museum|gallery|festival site|saal|halle|kirche|gasthof|schloss)\b",
    re.IGNORECASE,
)
_OCCASION: Final = re.compile(  # behind a house's name: what is held there
    r"\b(?:ball|party|wedding|dance|do|fete|fair|festival|night|bash|birthday|dinner|christmas|xmas|gala|reception|"
    r"anniversary|ceilidh|concert|gig|show|fest|hochzeit|feier|konzert|bal|mariage|fête)\b",
    re.IGNORECASE,
)
_BAND: Final = re.compile(
    r"^(?:the\s+[A-Z]|.*\b(?:band|duo|trio|quartet|quintet|sextet|septet|octet|orchestra|collective|ensemble|combo)$)",
    re.IGNORECASE,
)
_BRACKET: Final = re.compile(r"\s*\([^()]*\)\s*$")
_SMALL_WORDS: Final = (
    "xmas christmas do party wedding gig ball dance fete night bash birthday dinner and of the at in for"
)
_SMALL: Final = frozenset(_SMALL_WORDS.split())  # words of a gig's name that are often written small
_POINTING_WORDS: Final = (
    "so it its it's that that's thats this is be i i'm we we're you're he's she's they're there's ok okay right well "
    "yes yeah also now then anyway und and es das ist wird sind wir ja c'est alors donc et nous on son somos pues "
    "entonces è sono allora dunque e é são então het dat dus det är er vi så og och no"
)
_POINTING: Final = frozenset(_POINTING_WORDS.split())  # they lead to a day or a house, and name none: so it's, c'est
MAX_WORDS: Final = 8  # of a gig's name
MAX_BAND: Final = 5
LONGEST: Final = 160


class GigLine(msgspec.Struct, frozen=True):
    """What a line says of the gig. ``is_whole``: it says nothing else."""

    title: str
    venue: str | None
    date: dt.date | None
    is_whole: bool

    @property
    def is_bare(self) -> bool:
        """Whether it holds no more than a name and perhaps a day: the name of a list may be written so too."""
        return self.is_whole and self.venue in (None, self.title)


def gig_line(text: str, sent: dt.date | None) -> GigLine | None:
    """Read a line that names a day and the gig or its house; None for any other line.

    ``sent``: when the message was sent. A day without its year is the next one from then on that falls on its weekday;
    where neither is known, its year stays open.
    """
    if len(text) > LONGEST:
        return None
    parts = gig_parts(text)
    days = [part for part in parts if _DAY.match(part)]
    names = [part for part in parts if part not in days and reads_as_name(part)]
    if len(days) != 1 or not names:
        return None
    venue = next((name for name in reversed(names) if reads_as_venue(name)), None)
    title = next((name for name in names if name != venue), None) or names[0]
    date = _date(days[0], sent)
    is_whole = date is not None and {*parts} == {*days, title, *([venue] if venue else [])}
    return GigLine(title, venue, date, is_whole)


def gig_parts(text: str) -> list[str]:
    """Return the parts of a line between commas, dashes and other signs."""
    return [stripped for part in _PARTS.split(text) if (stripped := part.strip(" .!-–—"))]


def reads_as_venue(name: str) -> bool:
    """Return whether a word of the name is one for a house in which bands play."""
    return _VENUE.search(name) is not None


def house_in(name: str) -> str:
    """Return the house whose name begins a gig's: Mill Hall of the Mill Hall summer ball; else the whole name.

    >>> house_in("Mill Hall summer ball"), house_in("The Lime Street Club"), house_in("Barn Dance")
    ('Mill Hall', 'The Lime Street Club', 'Barn Dance')
    """
    found = [one for one in _VENUE.finditer(name) if name[: one.start()].strip().lower() not in ("", "the")]
    behind = name[found[0].end() :] if found else ""
    return name[: found[0].end()] if _OCCASION.search(behind) else name


def band_line(text: str) -> str | None:
    """Return the band that a line below the gig's names: The Tin Whistle Seven (there are 7 of us)."""
    name = _BRACKET.sub("", text).strip(" .!")
    words = name.split()
    rises = all(word[:1].isupper() or word.lower() in ("of", "and", "the", "&") for word in words)
    return name if 1 < len(words) <= MAX_BAND and rises and _BAND.match(name) else None


def reads_as_name(part: str) -> bool:
    """Return whether a part reads like the name of a gig or a house: a capital in front, and no sentence."""
    words = part.split()
    names = [word for word in words if word[:1].isalpha() and word.lower() not in _SMALL]
    return (
        part[:1].isupper()
        and any(word.lower().replace("’", "'") not in _POINTING for word in names)
        and 1 < len(words) <= MAX_WORDS
        and not re.match(
            r"(?:hi|hey|hello|next|here|this|we|you|can|please|thanks|see|start|doors|load)\b", part, re.IGNORECASE
        )
        and sum(word[:1].isupper() for word in names) * 2 >= len(names) > 0
    )


def _date(said: str, sent: dt.date | None) -> dt.date | None:
    if found := date_in(said):
        return found[0]
    match = _DAY.match(said)
    if not match:
        return None
    month, day = MONTHS[lowered(match["month"] or match["month2"])], int(match["day"] or match["day2"])
    weekday = _DAYS.index(lowered(match["weekday"])) if match["weekday"] else None
    return next_day(month, day, weekday, sent)
