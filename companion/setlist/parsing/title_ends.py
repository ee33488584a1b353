"""How titles begin and end: signs that belong to them, and ends so odd that something may be missing."""

import re
from collections.abc import Sequence
from typing import Final

from companion.setlist.model import Doubt, DoubtAnswer, FieldCorrection, LineKind
from companion.setlist.parsing.doubts import YES, doubtful_field, doubtful_label
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.patterns import TAIL, UNFINISHED

MAX_POINTED: Final = 0.7  # share of the titles; where so many end in a point, a typist ends each field so
FEWEST: Final = 4  # titles
MIN_RISING: Final = 0.8  # share of the titles that begin with a capital
LEADERS: Final = 4  # points in a row lead to a column on the right
_SHORTENED = re.compile(  # A.M., Co., Jr.: the point belongs to the word
    r"(?:\b\w\.\w|\b(?:co|jr|sr|mr|mrs|ms|dr|st|ltd|inc|bros|no|vs|vol|op|etc|ave|rd|sgt|rev|feat|pt))$", re.IGNORECASE
)
LABELLED = re.compile(r"\w: \S")
_SMALL_BEFORE: Final = re.compile(r"^([a-z][a-z' ]{0,30}?)\s+([A-Z]\w.*)$")
_QUOTED = re.compile(r"^(['’‘])([^'’‘]{2,80})['’]$")
_ARROW = re.compile(r"\s*(?:[-–—=~]+>|→|>>)\s*$")  # it led to the key: Moth -> G
_POINTS = re.compile(r"(?:\.{3}|…)(?![.…])")


def level_ends(found: Sequence[Classified]) -> None:
    """Restore signs that titles lost to the pattern of a line, and remove a point that ends every title."""
    songs = [one for one in found if one.took is None and one.draft and one.draft.title]
    has_leaders = any("." * LEADERS in one.line.text for one in songs)
    for one in songs:
        if one.draft:
            one.draft.title = _ARROW.sub("", one.draft.title) or one.draft.title
            one.draft.title += _lost_sign(one.line.text, one.draft.title, has_leaders=has_leaders)
            one.draft.title = _QUOTED.sub(r"\2", one.draft.title)
    pointed = [one.draft for one in songs if one.draft and re.search(r"[^.]\.$", one.draft.title)]
    if len(pointed) >= max(FEWEST, MAX_POINTED * len(songs)):
        for draft in pointed:
            draft.title = draft.title[:-1]


def _lost_sign(text: str, title: str, *, has_leaders: bool) -> str:
    """Return what came right after the title and belongs to it: the point of A.M., three points."""
    _, is_there, behind = text.partition(title)
    if not is_there or not behind or title[-1:] in ".…":
        return ""
    if behind[0] == "." and behind[1:2] != "." and _SHORTENED.search(title):
        return "."
    points = _POINTS.match(behind)
    return points[0] if points and not has_leaders and behind[points.end() :].strip() else ""


def doubt_odd_ends(found: Sequence[Classified]) -> None:
    """Doubt each title that begins or ends as none of the others do."""
    songs = [one for one in found if one.took is LineKind.SONG and one.draft and one.draft.title]
    rising = sum(one.draft.title[:1].isupper() for one in songs if one.draft)
    if len(songs) < FEWEST or rising < MIN_RISING * len(songs):
        return
    small = [one for one in songs if one.draft and one.draft.title[:1].islower()]
    for one in songs:
        draft = one.draft
        if draft is None or draft.doubts or one.doubts:
            continue
        title, last = draft.title, draft.title.split()[-1]
        if title[:1].islower() and len(small) <= len(songs) // 3:
            draft.doubts.append(_small(title))
        elif UNFINISHED.search(title) and last.islower() and len(last) > 1 and not one.line.is_struck:
            draft.doubts.append(_odd(title, "ends as if more followed"))
        elif LABELLED.search(title):
            draft.doubts.append(doubtful_label(*title.split(": ", 1)))
        elif (bracket := TAIL.match(title)) and bracket[2][:1].islower():
            draft.doubts.append(_bracket(title, bracket[1].rstrip(), bracket[2]))


def _odd(title: str, why: str) -> Doubt:
    return doubtful_field(f"{why}: {title}", f"Is {title!r} the whole title?", "title")


def _small(title: str) -> Doubt:
    """Doubt a title that begins in small letters; where it goes on with a capital, no takes what is before it off."""
    why = "begins with a small letter, unlike the others"
    found = _SMALL_BEFORE.match(title)
    if not found:
        return _odd(title, why)
    no = DoubtAnswer("no", (FieldCorrection("title", found[2]), FieldCorrection("notes", found[1])))
    return Doubt(f"{why}: {title}", f"Is {title!r} the whole title?", (YES, no), "title")


def _bracket(title: str, before: str, inside: str) -> Doubt:
    no = DoubtAnswer("no", (FieldCorrection("title", before), FieldCorrection("notes", inside)))
    return Doubt(f"({inside}): read as part of the title", f"Is {title!r} the whole title?", (YES, no), "title")
