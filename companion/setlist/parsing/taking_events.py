"""Take the events of an evening out of a list of songs, by their words and by what the songs have and they lack."""

import itertools
import re
from collections.abc import Sequence

from companion.setlist.model import LineKind
from companion.setlist.parsing.doubts import parted_here, song_or_not
from companion.setlist.parsing.labels import role_of
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.list_style import Style
from companion.setlist.parsing.text_lines import TextLine
from companion.setlist.parsing.words_of_events import ends_a_set, is_event, may_be_event, names_event, names_meal

FEWEST_KEYS = 2  # songs with a key tell that a line without one may be something else
MOST_KEYED = 0.5  # share of the lines that may be songs
MOST_WITH_EVENTS = 0.7  # share of the lines with a key; a numbered line without one that names an event is one
FEWEST_EVENTS = 2  # lines that can only be events tell that the list is an evening's course
_TIME_AT_END = re.compile(r"\s\(?\d{1,2}[:.h]\d\d\s?(?:am|pm|uhr|h)?\)?$", re.IGNORECASE)


def take_events(found: Sequence[Classified], style: Style) -> None:
    """Keep lines that name an event, and have neither the key nor the mark of the songs, as notes of the show."""
    open_lines = [one for one in found if one.took is None and one.draft is not None]
    keyed = sum(one.draft.has_key for one in open_lines if one.draft)
    plain = [one for one in open_lines if one.draft and not one.draft.has_key and not one.heading]
    events = [one for one in plain if is_event(one.line.text) or is_event(one.line.whole)]
    if len(events) == len(open_lines):
        return  # nothing else would be left
    is_course = keyed >= FEWEST_KEYS or len(events) >= FEWEST_EVENTS
    most_keyed = keyed >= MOST_KEYED * len(open_lines)
    marked = [one for one in open_lines if style.is_shaped and style.marks(one.line)]
    others = [one for one in plain if not marked or one in marked]
    all_keyed = keyed > FEWEST_KEYS and (
        keyed >= MOST_WITH_EVENTS * len(marked or open_lines) or all(may_be_event(one.line.text) for one in others)
    )
    apart = _apart(found)
    has_sets = any(one.took is LineKind.SET for one in found)
    is_timed = style.clocks or any(one.draft and one.draft.length_s for one in open_lines if one not in plain)
    if marked and most_keyed and not is_timed:
        _take_timed(found, plain, marked)
    for one in plain:
        if one.took is not None:
            continue
        is_marked = style.is_shaped and style.marks(one.line)
        is_sure = one in events
        is_apart = id(one) in apart
        is_meal = is_apart and names_meal(one.line.text)
        may_be = is_meal or (is_course and may_be_event(one.line.text))
        may_be = may_be or (((is_apart and has_sets) or most_keyed) and names_event(one.line.text))
        if not is_sure and not may_be:
            continue
        if is_marked and not (is_sure and keyed >= FEWEST_KEYS) and not all_keyed:
            continue
        ends_set = (is_sure or is_meal) and not has_sets and not style.clocks and ends_a_set(one.line.text)
        is_frame = one.line.is_framed and not has_sets and not style.clocks  # - - - tea - - -
        one.took, one.draft = LineKind.BREAK if ends_set or is_frame else LineKind.LEFT, None
        if is_frame and not ends_set:
            one.doubts = (parted_here(),)
        elif is_marked or not is_sure:
            one.doubts = (song_or_not(one.line.text),)


def _take_timed(found: Sequence[Classified], plain: Sequence[Classified], marked: Sequence[Classified]) -> None:
    """Take lines apart above a heading, which end in a time and lack mark and key, for events: HOG ROAST 9:45."""
    for one, below in itertools.pairwise(found):
        is_apart = one.line.row.blank_before and below.took is LineKind.SET and below.line.row.blank_before
        if is_apart and one in plain and one not in marked and _TIME_AT_END.search(one.line.text):
            one.took, one.draft, one.doubts = LineKind.LEFT, None, (song_or_not(one.line.text),)


def _apart(found: Sequence[Classified]) -> frozenset[int]:
    """Return the lines, by their identity, that empty lines or headings part from what stands above and below."""
    below: Sequence[Classified | None] = (*found[1:], None)
    return frozenset(
        id(one)
        for one, other in zip(found, below, strict=True)
        if one.line.row.blank_before
        and (other is None or other.line.row.blank_before or other.took in (LineKind.SET, LineKind.BREAK))
    )


def names_course(lines: Sequence[TextLine]) -> bool:
    """Return whether the list is an evening's or a service's course: it names events, or what songs are played for."""
    return any(is_event(line.text) or role_of(line.text) is not None for line in lines)


def without_events(lines: Sequence[TextLine]) -> Sequence[TextLine]:
    """Return the lines that may be songs; all of them where nothing else is there."""
    return [line for line in lines if line.is_marked or not is_event(line.text)] or lines
