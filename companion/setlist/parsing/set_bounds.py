"""Where sets begin and end, where only the other lines of the list tell: lone numbers, lines of dashes."""

from collections.abc import Sequence

from companion.setlist.model import LineKind
from companion.setlist.parsing import line_kinds
from companion.setlist.parsing.breaks_between import names_break
from companion.setlist.parsing.doubts import break_or_not, heading_or_song, parted_here, song_or_not
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.set_headings import is_break, is_without_music
from companion.setlist.parsing.short_headings import short_headings

FEWEST_ABOVE = 3  # lines above a second set; fewer may name the list
FEWEST_NUMBERS = 3  # of a set after which 1 begins another
SECOND = "Second"
LAST_SETS = ("encore", "spare", "reserve", "extra", "if ")


def is_below_songs(found: Sequence[Classified], first_heading: int) -> bool:
    """Return whether songs are above the first heading: most of the list above encores or spares, or a first set."""
    heading = found[first_heading].heading
    if heading is None:
        return False
    if heading.name == SECOND:
        return first_heading >= FEWEST_ABOVE
    return heading.name.lower().startswith(LAST_SETS) and first_heading > 0.5 * len(found)


def settle_breaks(found: Sequence[Classified], *, is_course: bool = False) -> None:
    """Take lines of dashes between songs for breaks, in doubt, in a list that has neither headings nor breaks.

    Where headings part the sets, or every row of an evening's course has its time, an auction or a speech ends none.
    """
    kinds = [one.took for one in found]
    if kinds.count(LineKind.SET) > 1 or is_course:
        for one in found:
            if one.took is LineKind.BREAK and not (is_break(one.line.text) or names_break(one.line.text)):
                one.took = LineKind.LEFT
    for one in found:
        if one.took is LineKind.BREAK and one.line.number is not None and is_without_music(one.line.text):
            one.took = LineKind.LEFT  # 5. Raffle, where the numbers go on
    songs = [at for at, kind in enumerate(kinds) if kind is LineKind.SONG]
    for at, one in enumerate(found):
        is_event = one.took is LineKind.BREAK and not (is_break(one.line.text) or names_break(one.line.text))
        if is_event and songs and songs[0] < at < songs[-1] and not (one.doubts or _parts_sets(found, at)):
            one.doubts = (break_or_not(one.line.text),)  # *raffle*, right between two songs
    if not any(one.draft and (one.draft.has_fact or one.line.is_marked) for one in found):
        for one in found:  # Toast, among titles alone
            if one.took is LineKind.BREAK and not is_break(one.line.text) and not one.line.is_framed and not one.doubts:
                one.doubts = (song_or_not(one.line.text),)
    if LineKind.SET in kinds or LineKind.BREAK in kinds or not songs:
        return
    for at, one in enumerate(found):
        if one.took is LineKind.RULE and songs[0] < at < songs[-1] and line_kinds.is_line(one.line.text):
            one.took, one.doubts = LineKind.BREAK, (parted_here(),)


def _parts_sets(found: Sequence[Classified], at: int) -> bool:
    """Return whether more than its words tells that an event ends a set: empty lines, its time, a heading, a new 1."""
    one, below = found[at], found[at + 1]
    is_apart = one.line.row.blank_before and below.line.row.blank_before
    is_timed = any(map(str.isdigit, one.line.text)) or below.took in (LineKind.SET, LineKind.BREAK)
    return is_apart or is_timed or bool(below.draft and below.draft.number == 1)


def part_by_numbers(found: Sequence[Classified]) -> None:
    """Begin a set where the songs' numbers begin again at 1, and no heading and no break separates them."""
    above, songs = 0, 0
    for one in found:
        if one.took in (LineKind.SET, LineKind.BREAK) or (one.draft and one.draft.set_name):
            above = songs = 0
        elif one.took is LineKind.SONG and one.draft and one.draft.number is not None:
            one.begins_set = one.draft.number == 1 and min(above, songs) >= FEWEST_NUMBERS
            above, songs = one.draft.number, 1 if one.begins_set else songs + 1


def take_short_headings(found: Sequence[Classified]) -> None:
    """Take lone numbers such as 2nd, S2 and II for headings, in doubt where no other line confirms them."""
    texts = [one.line.whole if one.took is None else None for one in found]
    sets = sum(one.took is LineKind.SET for one in found)
    for at, (heading, sure) in short_headings(texts, sets).items():
        one = found[at]
        one.took, one.heading = LineKind.SET, heading
        one.doubts = () if sure else (heading_or_song(one.line.text),)
