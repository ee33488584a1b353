"""What a line of a reply says: facts about songs and sets, the date, and what is passed on or not understood."""

from typing import Final, NamedTuple

from companion.leader.reply_dates import DayReading
from companion.leader.reply_items import KeyFact
from companion.leader.songs_meant import SongsMeant
from companion.leader.stated_fact import StatedFact
from companion.leader.times_of_sets import SetTime

NOWHERE: Final = SongsMeant((), 0, 0)


class Claim(NamedTuple):
    """One fact about songs, sets, or the show: as said, its doubt, and whether it corrects what was said before."""

    about: SongsMeant
    fact: StatedFact | KeyFact
    words: str
    doubt: str = ""
    corrects: bool = False


class DayClaim(NamedTuple):
    """A date of the show."""

    day: DayReading
    words: str


class Passed(NamedTuple):
    """A question that the leader passes on: ``to`` somebody, the record, or nobody yet. ``field`` where it is named.

    ``corrects``: it replaces what the reply said before.
    """

    about: SongsMeant
    to: str
    words: str
    field: str = ""
    doubt: str = ""
    corrects: bool = False


class Unread(NamedTuple):
    """Words that were not understood, the songs that they are about, and what they may say of them."""

    about: SongsMeant
    words: str
    fields: tuple[str, ...] = ()


class VenueClaim(NamedTuple):
    """The place of the show."""

    venue: str
    doubt: str = ""


class TimeClaim(NamedTuple):
    """When a set starts, or how long it is. ``is_clear``: every word of its sentence is explained."""

    time: SetTime
    doubt: str = ""
    is_clear: bool = False


class WordsTakenBack(NamedTuple):
    """Words that speak of what was said before them: "no, wrong"."""

    words: str


ReplyReading = WordsTakenBack | Claim | DayClaim | TimeClaim | VenueClaim | Passed | Unread


def in_doubt(said: ReplyReading, why: str) -> ReplyReading:
    """Return what is said with a further reason to doubt it."""
    match said:
        case Unread() | WordsTakenBack():
            return said
        case DayClaim(day):
            return said._replace(day=day._replace(doubt=_reasons(day.doubt, why)))
        case _:
            return said._replace(doubt=_reasons(said.doubt, why))


def _reasons(*doubts: str) -> str:
    return "; ".join(dict.fromkeys(one for one in doubts if one))
