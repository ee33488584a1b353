"""Paragraphs that a song begins, with what is said about it below, and sets that one line below a heading makes up."""

from collections.abc import Sequence
from typing import Final

from companion.setlist.model import LineKind
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.remarks import is_remark
from companion.setlist.parsing.words_of_events import is_event, may_be_event

FEWEST: Final = 3  # paragraphs of a song and words about it
MOST: Final = 0.8  # share of the songs that begin a paragraph
LONGEST: Final = 4  # lines below a song


def lines_about_songs(found: Sequence[Classified], sure: Sequence[bool]) -> frozenset[int]:
    """Return the open lines that stand below a song in its paragraph; none if the list has no such paragraphs."""
    begins = [at for at, one in enumerate(found) if at == 0 or one.line.row.blank_before]
    begun = [at for at in begins if sure[at]]
    if len(begun) < max(FEWEST, MOST * sum(sure)):
        return frozenset()
    about: set[int] = set()
    blocks = 0
    for at in begun:
        end = next((other for other in begins if other > at), len(found))
        below = range(at + 1, end)
        if below and len(below) <= LONGEST and not any(sure[one] or found[one].took is LineKind.SET for one in below):
            about.update(one for one in below if found[one].took is None)
            blocks += 1
    return frozenset(about) if blocks >= FEWEST else frozenset()


def is_all_of_set(found: Sequence[Classified], at: int) -> bool:
    """Return whether a line stands alone below a heading and may be a song: encore, and below it the only title."""
    line, below = found[at].line, found[at + 1] if at + 1 < len(found) else None
    is_last = below is None or below.line.row.blank_before or below.took is LineKind.SET
    is_below = at > 0 and found[at - 1].took is LineKind.SET and not found[at - 1].inline
    is_other = is_remark(line.text) or is_event(line.text) or may_be_event(line.text) or line.whole[:1] in "(["
    return is_last and is_below and not line.row.blank_before and not is_other
