"""Join titles that continue on the next lines of a page."""

from collections.abc import Sequence

import msgspec

from companion.setlist.model import LineKind
from companion.setlist.parsing import line_kinds
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.labels import label_of
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.list_style import Style
from companion.setlist.parsing.patterns import UNFINISHED
from companion.setlist.parsing.remarks import is_remark
from companion.setlist.parsing.song_line import read_song

MAX_WRAPPED = 2  # lines below a title that continue it
MOST_KEYED = 0.5


def join_wrapped(found: list[Classified], style: Style) -> None:
    """Join a title that continues on the next lines: they have neither number nor bullet, and the last has the key."""
    keyed = [one.draft.has_key for one in found if one.draft]
    if sum(keyed) < MOST_KEYED * len(keyed):
        return
    at = 0
    while at < len(found):
        count = _wrapped_lines(found, at, style)
        if count:
            below = found[at + 1 : at + 1 + count]
            text = " ".join([found[at].line.text, *(one.line.text for one in below)])
            found[at].line = msgspec.structs.replace(found[at].line, text=text)
            found[at].draft = read_song(found[at].line, style)
            for one in below:
                one.took, one.line = LineKind.NOTE, msgspec.structs.replace(one.line, text="")
        at += 1 + count


def _wrapped_lines(found: Sequence[Classified], at: int, style: Style) -> int:
    """Return how many lines below this one continue its title; 0 if it is whole."""
    first = found[at]
    whole = first.draft
    if whole is None or (style.is_shaped and not style.marks(first.line)):
        return 0
    if first.line.whole.rstrip().endswith(":") or (style.capitals and first.line.text[:1].islower()):
        return 0  # words about the song above
    if (
        first.line.is_framed
        or _ends_in_key(first.line.text, style)
        or first.heading
        or whole.has_fact
        or whole.tempo_bpm
        or whole.notes
        or line_kinds.is_chat(first.line.text)
    ):
        return 0
    for count, one in enumerate(found[at + 1 : at + 1 + MAX_WRAPPED], start=1):
        line = one.line
        if line.message.message != first.line.message.message:
            return 0
        draft = one.draft
        if count > 1 and one.took is LineKind.NOTE and plain_key(line.text.strip("() ")):
            return count - 1  # its key stands on a line of its own
        if (
            draft is None
            or label_of(line.text)
            or line.is_marked
            or style.marks(line)
            or line.row.blank_before
            or one.heading
        ):
            return 0
        above = found[at + count - 1].line
        in_small = line.text[:1].islower() and not first.line.text[:1].islower()
        goes_on = UNFINISHED.search(above.text) or in_small or line.row.indent > first.line.row.indent
        if not draft.title or is_remark(draft.title) or not (goes_on or style.is_shaped):
            return 0
        if draft.has_key:
            return count
    return 0


def _ends_in_key(text: str, style: Style) -> bool:
    """Return whether the line ends in a key, though it may be a word: Long Way to the Chippy A."""
    end = key_at_end(text, style.notation)
    return end is not None and end.written[0].isupper()
