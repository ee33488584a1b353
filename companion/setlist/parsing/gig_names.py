"""What a show is called: by the parts of a headline such as Mill Ball - Sat 12 Dec - v2, or by band, house and day."""

import datetime as dt
import re
from typing import Final

from companion.setlist.parsing.gig_lines import GigLine, gig_parts, reads_as_venue
from companion.setlist.parsing.said_days import DAY_SAID, day_meant
from companion.setlist.tidy import day_text

UNNAMED: Final = "New show"
LONGEST: Final = 200  # characters of a headline
AT: Final = re.compile(r"^(?:at|@|in|im|bei|au|chez|en|presso|på|w|v|u)\s+(?:the\s)?(?=[^\W\d_a-z])")
_LEADS_ON: Final = re.compile(  # from a name to the day behind it: Bal du samedi 5 décembre
    r"(?:^|\s)(?:for|on|of|the|this|from|at|für|am|den|der|dem|vom|zum|pour|du|de|le|la|para|el|del|per|il|di|voor|op|van|"
    r"för|på|den|til|fra|na|za|dne)$",
    re.IGNORECASE,
)
_SIGNS_AROUND: Final = re.compile(r"^[^\w(\"“„«]+|[^\w)\"”“».!?]+$")
_VERSION: Final = re.compile(
    r"^(?:v\.?\s?\d+|ver(?:sion|\.)? ?\d+|final|draft|new|updated|(?:set ?|song ?)?lists?|set|everything|"
    r"setliste?|liste|lista|lijst|setlijst|scaletta|låtlista|programme?|programma|neu|\d+ songs)$",
    re.IGNORECASE,
)
_SAYS_NOTHING: Final = re.compile(  # names of files that say how a list came, and not what it is for
    r"^(?:_?chat|whats ?app chat.*|mails?|e-?mails?|messages?|msg|noname|untitled|nachricht|unbenannt)[\s\d()]*$",
    re.IGNORECASE,
)


def gig_in_headline(text: str) -> GigLine | None:
    """Read a headline with a day: the gig, its house, the list's version.

    ``GigLine.title`` is empty where its parts leave it open what the gig is called.
    """
    day = DAY_SAID.search(text[:LONGEST])
    date = day_meant(day, None) if day else None
    if day is None or date is None:
        return None
    names = [AT.sub("", part) for part in named_parts(text[: day.start()], text[day.end() :])]
    venue = next((name for name in reversed(names) if reads_as_venue(name)), None)
    others = [name for name in names if name != venue]
    title = others[0] if len(others) == 1 else "" if others else venue or ""
    return GigLine(title, venue if len(names) > 1 else None, date, is_whole=True)


def named_parts(before: str, behind: str) -> list[str]:
    """Return the parts of what stands before and behind a day, without the list's version and signs around a name."""
    before = before.rstrip(" ,:–—-")
    while found := _LEADS_ON.search(before):
        before = before[: found.start()]
    parts = (_SIGNS_AROUND.sub("", part) for part in gig_parts(f"{before} | {behind}"))
    return [part for part in parts if part and not _VERSION.match(part)]


def named_by_facts(file_name: str, band: str | None, venue: str | None, date: dt.date | None) -> str:
    """Return the title of a show that no line names: its file's name, unless that only says how the list came."""
    if not _SAYS_NOTHING.match(file_name):
        return file_name
    names = " at ".join(filter(None, (band, venue)))
    return ", ".join(filter(None, (names, day_text(date) if date else ""))) or UNNAMED
