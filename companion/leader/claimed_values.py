"""The values that one claim means for one song: a key and its notes, a length, a segue, a yes by its question."""

from collections.abc import Iterator
from typing import Final

from companion.leader.reply_items import KeyFact
from companion.leader.reply_readings import Claim
from companion.leader.settled_claims import ClaimedValue
from companion.leader.songs_meant import SongNames
from companion.leader.stated_fact import MOVED_BY
from companion.leader.unlike_record import UNLIKE
from companion.setlist.parsing.cells import clock_cell, length_cell
from companion.show import Song

LONGEST: Final = 15  # minutes of one song; more may be those of a set (common practice, no source)


def clock_of(said: str, *, by_evening: bool) -> int | None:
    """Return minutes since midnight; a bare hour is one of the evening if ``by_evening``."""
    found = clock_cell(said)
    if found is None and by_evening and said.isdecimal() and int(said) <= 24:
        found = (int(said) + 12 if 1 <= int(said) < 12 else int(said)) * 60
    return found


def values_of(names: SongNames, place: int, claim: Claim, field: str) -> Iterator[ClaimedValue]:
    """Yield the values that a claim means for one song."""
    fact = claim.fact
    if isinstance(fact, KeyFact):
        if fact.second and str(names.songs[place][2].key or "") == fact.key:  # from what the show says to another
            doubt = "; ".join(one for one in claim.doubt.split("; ") if one and one != fact.doubt)
            yield ClaimedValue("key", fact.second, doubt, True, fact.key, claim.words)
            return
        yield ClaimedValue("key", fact.key, claim.doubt, claim.corrects, fact.denied, claim.words)
        if fact.then:
            yield ClaimedValue("notes", f"key: {fact.then}", "", corrects=False)
        return
    song = names.songs[place][2]
    match fact.field:
        case "clock":
            if (seconds := length_cell(str(fact.value))) and not str(fact.value)[-1:].isalpha():
                doubt = claim.doubt or (claim.words if seconds > LONGEST * 60 else "")
                yield ClaimedValue("length", f"{seconds // 60}:{seconds % 60:02}", doubt, claim.corrects)
        case "minutes" if isinstance(fact.value, str):  # 3 and a half minutes
            yield ClaimedValue("length", fact.value, claim.doubt, claim.corrects)
        case "minutes":
            if isinstance(fact.value, int) and 0 < fact.value < 60:
                doubt = claim.doubt or (claim.words if fact.value > LONGEST or len(claim.about.songs) > 1 else "")
                yield ClaimedValue("length", f"{fact.value}:00", doubt, claim.corrects)
        case _ if fact.field == MOVED_BY:
            return  # the rest, each from another key
        case "capo" | "shapes":
            yield ClaimedValue("notes", claim.words, "", corrects=False)
            yield ClaimedValue(fact.field, fact.value, "", corrects=False)
        case _ if fact.field == UNLIKE:
            yield ClaimedValue("notes", fact.value, claim.doubt, corrects=False, words=str(fact.value))
        case "version":
            yield ClaimedValue("version", str(fact.value), claim.doubt, claim.corrects, words=claim.words)
        case "into":
            yield from _segue(names, place, claim, int(fact.value))
        case "yes":
            yield from _yes(song, claim, field, is_yes=bool(fact.value))
        case _:
            yield ClaimedValue(fact.field, fact.value, claim.doubt, claim.corrects, words=claim.words)


def _yes(song: Song, claim: Claim, field: str, *, is_yes: bool) -> Iterator[ClaimedValue]:
    """Read a yes or no by the question that it answers."""
    if field == "starts_with" and is_yes:
        yield ClaimedValue("starts_with", "keys", claim.doubt, claim.corrects)
    elif field == "chart" or (not field and song.chart is None):
        doubt = claim.doubt or ("" if field else f"{'yes' if is_yes else 'no'} to which question?")
        yield ClaimedValue("chart", is_yes, doubt, claim.corrects)


def _segue(names: SongNames, place: int, claim: Claim, into: int) -> Iterator[ClaimedValue]:
    """Read the song that follows without a break; the next one if none is named."""
    following = into if into >= 0 else place + 1
    if following >= len(names.songs):
        return
    doubt = claim.doubt
    if into < 0 and names.songs[following][0] != names.songs[place][0]:
        doubt = "; ".join(filter(None, (doubt, "it is the last of its set")))
    elif following != place + 1:
        doubt = "; ".join(filter(None, (doubt, "that song does not come next")))
    yield ClaimedValue("segue", names.songs[following][2].title, doubt, claim.corrects)
