"""Join titles that continue on the next lines of a page."""

import itertools
from collections import defaultdict
from collections.abc import Sequence

import msgspec

from companion.setlist.model import LineKind, ListRow
from companion.setlist.parsing import line_kinds
from companion.setlist.parsing.doubts import note_or_song
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.keys_in_notes import begins_with_key
from companion.setlist.parsing.labels import label_of
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.list_style import DEEPER, Style
from companion.setlist.parsing.patterns import UNFINISHED
from companion.setlist.parsing.remarks import is_remark
from companion.setlist.parsing.song_line import read_song

MAX_WRAPPED = 2  # lines below a title that continue it
MOST_KEYED = 0.5
FEWEST_BROKEN = 2  # titles
SAME_EDGE = 3.0  # points; lines of a column begin no further apart


def join_wrapped(found: list[Classified], style: Style) -> None:
    """Join a title that continues on the next lines: they have neither number nor bullet, and the last has the key."""
    keys = sum(_is_lone_key(one) or bool(one.draft and one.draft.has_key) for one in found)
    if keys < MOST_KEYED * sum(one.draft is not None and not _is_lone_key(one) for one in found):
        if not keys:
            _join_by_width(found, style)
        return
    limits = _right_edges(found)
    at = 0
    while at < len(found):
        over = found[at].line.row.is_large and at + 1 < len(found) and not found[at + 1].line.row.is_large
        count = 0 if over else _wrapped_lines(found, at, style, limits)
        if count:
            _join(found[at], found[at + 1 : at + 1 + count], style)
        at += 1 + count


def _join(first: Classified, below: Sequence[Classified], style: Style) -> None:
    is_open = UNFINISHED.search(first.line.text) or _is_lone_key(below[0])
    for one in below if not is_open else ():
        one.doubts = (*one.doubts, note_or_song(one.line.text))
    text = " ".join([first.line.text, *map(_rest, below)])
    first.line = msgspec.structs.replace(first.line, text=text)
    first.draft = read_song(first.line, style)
    for one in below:
        one.took, one.line = LineKind.NOTE, msgspec.structs.replace(one.line, text="")


def _join_by_width(found: Sequence[Classified], style: Style) -> None:
    """Join titles without keys that a narrow page broke: no first word below a number fits on the line above it."""
    pairs = [
        (above, one)
        for above, one in itertools.pairwise(found)
        if above.line.number is not None and one.line.number is None and one.line.text and not one.line.row.blank_before
    ]
    widest = max((len(one.line.row.text.rstrip()) for one in found if one.line.number is not None), default=0)
    if len(pairs) < FEWEST_BROKEN or not all(_is_broken(above, one, widest) for above, one in pairs):
        return
    for above, one in pairs:
        _join(above, [one], style)


def _is_broken(above: Classified, one: Classified, widest: int) -> bool:
    text = one.line.text
    is_title = above.draft and not above.draft.has_fact and not above.draft.notes and not above.line.text.endswith(":")
    return bool(
        is_title
        and one.line.row.indent > above.line.row.indent
        and not (one.line.is_marked or one.heading or label_of(text) or is_remark(text) or line_kinds.is_chat(text))
        and text[-1:] not in ".!)"
        and len(text) <= widest
        and len(f"{above.line.row.text.rstrip()} {text.split()[0]}") > widest
    )


def _is_lone_key(one: Classified) -> bool:
    """Return whether a line holds a key and nothing else: the rest of a title's line."""
    return plain_key(one.line.text.strip("()–- ")) is not None


def _rest(one: Classified) -> str:
    """Return the words of a line that continues a title; a key alone separated from them."""
    text = one.line.text.strip()
    return f"– {text.strip('()–- ')}" if _is_lone_key(one) else text


def _right_edges(found: Sequence[Classified]) -> list[float]:
    """Return for each line how far the lines of its column reach to the right; inf where the page has one column."""
    column, columns = 0, []
    for at, one in enumerate(found):
        above = found[at - 1].line.row.place if at else one.line.row.place
        column += above.page == one.line.row.place.page and one.line.row.place.line < above.line
        columns.append(column)
    ends: dict[int, float] = defaultdict(float)
    for number, one in zip(columns, found, strict=True):
        if one.line.row.spans and not one.line.row.is_large:
            ends[number] = max(ends[number], one.line.row.spans[-1].end)
    return [ends[number] if column else float("inf") for number in columns]


def _would_not_fit(above: ListRow, below: ListRow, limit: float) -> bool:
    """Return whether the first word below would reach over the edge of the column after the words above."""
    if not above.spans or not below.spans or abs(above.spans[0].begin - below.spans[0].begin) > SAME_EDGE:
        return False
    span = below.spans[0]
    letter = (span.end - span.begin) / max(len(span.text), 1)
    return above.spans[-1].end + letter * (len(span.text.split()[0]) + 1) > limit


def _wrapped_lines(found: Sequence[Classified], at: int, style: Style, limits: Sequence[float]) -> int:
    """Return how many lines below this one continue its title; 0 if it is whole."""
    first = found[at]
    whole = first.draft
    if whole is None or (style.is_shaped and not style.marks(first.line)):
        return 0
    if first.line.whole[:1] == "(" and first.line.whole.rstrip()[-1:] == ")":
        return 0  # (guitar change)
    if first.line.whole.rstrip().endswith(":") or (style.capitals and first.line.text[:1].islower()):
        return 0  # words about the song above
    if first.line.row.indent + DEEPER < style.indent:
        return 0  # it stands outside the songs, as headings do
    if (
        first.line.is_framed
        or _is_lone_key(first)
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
        above = found[at + count - 1].line
        if one.took in (LineKind.NOTE, None) and _is_lone_key(one):
            return count  # its key is on a line of its own
        if (
            draft is None
            or label_of(line.text)
            or line.is_marked
            or style.marks(line)
            or line.row.blank_before
            or line.row.indent + DEEPER <= first.line.row.indent
            or one.heading
            or begins_with_key(line.text, style.notation)
        ):
            return 0
        in_small = line.text[:1].islower() and not first.line.text[:1].islower()
        goes_on = UNFINISHED.search(above.text) or in_small or line.row.indent > first.line.row.indent
        goes_on = goes_on or _would_not_fit(above.row, line.row, limits[at])
        if not draft.title or is_remark(draft.title) or not (goes_on or style.is_shaped):
            return 0
        if draft.has_key:
            return count
    return 0


def _ends_in_key(text: str, style: Style) -> bool:
    """Return whether the line ends in a key, though it may be a word: Long Way to the Chippy A."""
    end = key_at_end(text, style.notation)
    return end is not None and end.written[0].isupper()
