"""Events among the songs of an evening, in any words: 7.00 mince pies in the hall, Stovies and bar 8.45."""

import re
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.setlist.model import LineKind
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.list_style import Style
from companion.setlist.parsing.set_headings import clock_in_front
from companion.setlist.parsing.song_draft import Draft
from companion.setlist.parsing.text_lines import TextLine
from companion.setlist.parsing.words_of_events import is_event, may_be_event, names_event

FEWEST_EVENTS: Final = 2  # lines that tell that the list is an evening's course
FEWEST_KEYED: Final = 4  # songs with a key, beside which a line without one stands out
MOST_KEYED: Final = 0.7  # share of the lines with the mark of the songs
_ENDS_IN_TIME: Final = re.compile(
    r"[^\W\d_][\s,(–—-]+(?:at |ca\.? |um |à |alle |a las |kl\.? )?\d{1,2}[.:h][0-5]\d\)?$", re.IGNORECASE
)


class Course(msgspec.Struct, frozen=True):
    """What a list's sure songs and events tell of a line without a key.

    ``has_events``: others name events; ``titles_rise``: titles begin with capitals; ``marks_say_most``: nearly all
    lines with the mark of the songs have a key; ``indent``: how deep every song stands.
    """

    has_events: bool
    have_lengths: bool
    titles_rise: bool
    marks_say_most: bool
    indent: float = 0

    def goes_on_with(self, line: TextLine) -> bool:
        """Return whether a line without a key, where the songs have one, is less deep, or reads like one more event."""
        text = line.text
        if line.row.indent < self.indent:
            return True
        if not self.have_lengths and _ENDS_IN_TIME.search(text):
            return True
        words = clock_in_front(text)[1]
        words = words.partition(": ")[2] or words  # Recessional: organ, your choice
        return self.has_events and (names_event(words) or (self.titles_rise and words[:1].islower()))

    def is_marked_event(self, line: TextLine, draft: Draft) -> bool:
        """Return whether a line with the mark of the songs has neither their key nor their capital: notices & food."""
        return self.marks_say_most and self.titles_rise and line.text[:1].islower() and not draft.has_fact


def learn_course(found: Sequence[Classified], sure: Sequence[Draft], style: Style, *, titles_rise: bool) -> Course:
    """Return what the list tells of its course. ``sure``: certain songs."""
    keyed = sum(draft.has_key for draft in sure)
    others = [
        one.line.text
        for one in found
        if one.took in (LineKind.LEFT, LineKind.BREAK) or (one.took is None and one.draft and not one.draft.has_key)
    ]
    events = sum(is_event(text) or may_be_event(text) for text in others)
    return Course(
        has_events=events >= FEWEST_EVENTS and keyed >= FEWEST_KEYED,
        have_lengths=any(draft.length_s for draft in sure),
        titles_rise=titles_rise,
        indent=_indent(found),
        marks_say_most=style.is_shaped and keyed >= max(FEWEST_KEYED, MOST_KEYED * len(sure)),
    )


def _indent(found: Sequence[Classified]) -> float:
    """Return how deep the songs with a key stand, at least, where the headings of sets do not; else 0."""
    songs = [one.line.row.indent for one in found if one.took is None and one.draft and one.draft.has_key]
    heads = [one.line.row.indent for one in found if one.took is LineKind.SET]
    return min(songs) if len(songs) >= FEWEST_KEYED and heads and max(heads) < min(songs) else 0
