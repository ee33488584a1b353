"""One page laid out with given sizes: its rows from the top and from the bottom, and what it misses."""

import enum
from collections.abc import Iterator, Sequence
from typing import Final

from msgspec.structs import replace

from companion.screen.beat import beat_mark
from companion.screen.blocks import ScreenBlock, form_block
from companion.screen.fitting import Fitted, Fitting, joined
from companion.screen.foot import Foot
from companion.screen.packing import advised, packed
from companion.screen.page import Sizes, TypeMeasure
from companion.screen.rows import LineRow, height, placed, row_px
from companion.view import LineMark, LineRole, Picture, View, ViewLine
from companion.view.glance import is_leftover

EDGE: Final = 0.35  # of the margin, above and below the page
NOMINAL_MIDDLE: Final = 2  # rows in the middle of a usual page
AIR: Final = 0.5  # of a row: space above the middle, if there is room
FORM_HIGH: Final = 0.5  # of a row in the smallest size: height of the line that shows the song's form
LARGE_STEPS: Final = (50.0, 45.0, 40.0)  # arc minutes of a long section name, before it gets its short form
SMALL_STEPS: Final = (34.0, 28.0)  # and after that
TITLE_STEP: Final = 0.7  # of a title's size, before it takes a third row
SMALL_TITLE: Final = 1.2  # of the smallest legible size: a long title on a narrow page still is the largest

ARROW: Final = "→"  # replaces the label of what comes next if that has no room

MISSED: Final = {
    **dict.fromkeys((LineRole.SECTION, LineRole.NEXT, LineRole.TITLE, LineRole.WATCH, LineRole.COUNT), 1000),
    LineRole.START: 300,
    LineRole.TEMPO: 300,
    LineRole.SOUND: 100,
    LineRole.FEATURE: 60,
    LineRole.ENDING: 60,
    LineRole.KEY: 40,
    LineRole.CUE: 40,
    LineRole.BARS: 20,
    LineRole.CHORDS: 20,  # if the player asked for them
    LineRole.ADVICE: 20,
}
"""What a page loses without this line. Lines not listed go before others shrink."""
ADVICE_ROWS: Final = 4  # how the set runs, and a song or two to drop: for these the groups move together
TO_DROP: Final = (60, 20, 20)  # for the first songs to drop: without one, advice is no help
ALARM: Final = 100  # for a missing line that says what is wrong
CUT: Final = 0.8  # share of these, if the line is cut


class Main(enum.Enum):
    """Where the count of rounds and bars goes."""

    BESIDE = "beside the section"
    UNDER = "on its own row"
    SHORT = "beside it, as short as can be"


class Desk:
    """One page laid out, in px from the top left. ``misses`` is 0 if nothing that matters is missing or cut."""

    def __init__(self, view: View, pen: TypeMeasure, sizes: Sizes, usual: Sizes, main: Main, *, tight: bool) -> None:
        """Lay the page out in ``sizes``. ``usual``: the page's full sizes; ``tight``: short forms, no edges."""
        self._view, self._pen, self._sizes, self._main, self._tight = view, pen, sizes, main, tight
        self._usual = usual
        self._left, self._right = sizes.margin, pen.page.width - sizes.margin
        self._room = self._right - self._left
        edge = 0.0 if tight else sizes.margin * EDGE
        top, bottom = edge, pen.page.height - edge
        self._mark = beat_mark(view, pen.page, usual)
        self._shown: list[Fitted] = []
        self.blocks = tuple(self._composed(usual, top, bottom))
        self.misses = self._missed()

    def _composed(self, usual: Sizes, top: float, bottom: float) -> Iterator[ScreenBlock]:
        head, large, row = (row_px(self._pen, size) for size in (usual.least, self._sizes.large, self._sizes.follows))
        shown = None if self._tight else self._view.form  # the first to go
        form = FORM_HIGH * row_px(self._pen, usual.least) if shown else 0.0
        playing = self._view.picture is Picture.PLAYING
        # A higher page than usual spreads its groups. Their places do not depend on the words, so the eye finds them.
        cue = row_px(self._pen, self._sizes.cue)
        spare = max(0.0, bottom - top - 2 * head - form - large - row - cue * (1 + NOMINAL_MIDDLE)) / 4
        heads = self._head()
        yield from self._rows(heads, top)
        y = top + max(head, height(heads))
        if shown:
            yield form_block(self._pen, shown, (self._left, y, self._room, form * 0.8), usual.least)
        y += form + spare
        main = self._large(bottom - y, self._room_at(y))
        while len(main) > 1 and y + height(main) > bottom:
            main = main[:-1]
        few = sum(not one.if_room for one in self._view.lines) <= 4
        most_rows = 2 if spare > row / 4 or few else 1
        beside = self._room_at(y + max(large, height(main)))
        follows = self._follows(bottom - y - height(main), beside, most_rows=most_rows)
        alarm = self._alarm(1 if playing and not self._pen.page.is_portrait else 2)
        foot = self._foot(may_stack=spare > row / 4 or not playing or self._tight)
        if not self._has_names(foot) or self._is_small(foot):
            foot = self._stacked(foot, y + max(large, height(main)) + max(row, height(follows)), bottom - height(alarm))
        below = y + max(large, height(main)) + max(row if playing else 0.0, height(follows)) + spare
        if playing and alarm:
            alarm = self._whole_alarm(alarm, below, bottom - height(foot))
        watch = [line for line in self._view.lines if line.part is LineRole.WATCH]
        needed = height(packed(watch, self._pen, self._sizes, (self._room, bottom - top)))
        advice = ADVICE_ROWS * row_px(self._pen, self._sizes.least) if self._view.of(LineRole.ADVICE) else 0.0
        if below + needed + advice + height(alarm) + height(foot) > bottom:
            spare, below = 0.0, below - spare
        if below + needed + height(alarm) + height(foot) > bottom:
            foot = self._foot(may_stack=False) or foot
        if below + needed + height(alarm) + height(foot) > bottom:
            alarm = self._alarm(1)
        while (alarm or foot) and below + needed + height(alarm) + height(foot) > bottom:
            alarm, foot = ((), foot) if alarm else ((), foot[:-1])
        yield from self._rows(main, y)
        y += max(large, height(main)) + spare / 2
        if y + height(follows) > bottom:
            follows = ()  # the page is too small even for the next section
        yield from self._rows(follows, y)
        y += max(row if playing else 0.0, height(follows)) + spare / 2
        below = bottom - height(foot)
        yield from self._rows(foot, below)
        below -= height(alarm)
        yield from self._rows(alarm, below)
        yield from self._middle(y, below)

    def _has_names(self, foot: Sequence[LineRow]) -> bool:
        """Return whether every strip with a keyboard's name shows it."""
        wanted = [line for line in self._view.lines if line.part is LineRole.SOUND and line.label]
        return sum(bool(one.line.label) for row in foot for one in row.left) >= len(wanted)

    def _is_small(self, foot: Sequence[LineRow]) -> bool:
        """Return whether words of the foot are small while no chords that the player asked for take the room."""
        chords = self._view.of(LineRole.CHORDS)
        if chords is not None and not chords.if_room:
            return False
        usual = self._pen.em_px(self._sizes.cue)
        return any(one.em_px < usual for row in foot for one in row.all)

    def _stacked(self, foot: tuple[LineRow, ...], y: float, bottom: float) -> tuple[LineRow, ...]:
        """Return the foot on more rows, named and as large as can be, if the middle loses nothing; else unchanged."""
        stacked = self._foot(may_stack=True)
        if not self._has_names(stacked):
            return foot
        return stacked if self._loses_nothing(y, bottom, height(foot), height(stacked)) else foot

    def _loses_nothing(self, y: float, bottom: float, *below: float) -> bool:
        """Return whether the middle, from ``y`` on, shows the same whichever of these heights is taken below it."""
        if self._view.of(LineRole.ADVICE):
            return False
        firm = [line for line in self._view.lines if not line.if_room]
        middles = [packed(firm, self._pen, self._sizes, (self._room, bottom - one - y)) for one in below]
        shown_rows = [[(one.rows, one.em_px) for row in rows for one in row.left] for rows in middles]
        return shown_rows[0] == shown_rows[1] and y + max(below) <= bottom

    def _middle(self, y: float, below: float) -> Iterator[ScreenBlock]:
        lines, room = self._view.lines, (self._room_at(y), below - y)
        if self._view.of(LineRole.ADVICE) is None:
            rows = packed(lines, self._pen, self._sizes, room)
        else:  # advice replaces the middle, except whom to watch
            watch = packed([line for line in lines if line.part is LineRole.WATCH], self._pen, self._sizes, room)
            rows = (*watch, *advised(lines, self._pen, self._sizes, (room[0], room[1] - height(watch))))
        air = min((below - y - height(rows)) * 0.5, row_px(self._pen, self._sizes.cue) * AIR)
        yield from self._rows(rows, y + air)

    def _rows(self, rows: Sequence[LineRow], y: float) -> Iterator[ScreenBlock]:
        self._shown += [one for row in rows for one in row.all]
        return placed(self._pen, rows, y, (self._left, self._right, self._sizes.gap))

    def _missed(self) -> float:
        """Return the weight of everything left off the page or cut."""
        shown = {id(one.line): one for one in self._shown}
        parts = {one.line.part for one in self._shown}
        misses = 0.0
        for line in self._view.lines:
            worth = _worth(line)
            if not worth:
                continue
            found = shown.get(id(line)) or next((one for one in self._shown if _same(one.line, line)), None)
            if found is None:
                misses += worth if line.part not in parts or line.part is not LineRole.NOTICE else 0.0
            elif not _is_whole(found):
                misses += worth * CUT
        drops = sum(line.part is LineRole.DROP for line in self._view.lines)
        listed = sum(one.line.part is LineRole.DROP for one in self._shown)
        return misses + sum(TO_DROP[listed:drops])

    def _fit(self, line: ViewLine, width: float, *ways: tuple[float, int]) -> Fitted:
        return Fitting(self._pen, width, self._sizes.least, ways).fit(line)

    def _main_line(self) -> ViewLine | None:
        return self._view.of(LineRole.SECTION) or self._view.of(LineRole.TITLE)

    def _head(self) -> tuple[LineRow, ...]:
        """Fit the song's title, uncut, and beside it which song of how many, if the view says so."""
        main, least = self._main_line(), self._sizes.least
        title, standing = self._view.of(LineRole.TITLE), self._view.of(LineRole.STANDING)
        line = title if title is not None and title is not main else standing
        if line is None:
            return ()
        room = self._room_at(0.0) if self._mark and not self._mark.counts_off else self._room
        if line is standing:
            return (LineRow((self._fit(line, room, (least, 1)),)),)
        ways = [(least, rows) for rows in range(1, 8 if self._pen.page.is_portrait else 5)]
        fitting = [Fitting(self._pen, room, least, (way,)) for way in ways]
        if not self._tight:
            fitting = [Fitting(self._pen, room, least, tuple(ways))]
        fitted = next((one for one in (each.whole(line) for each in fitting) if one), None)
        fitted = fitted or self._fit(line, room, *ways)
        beside = () if standing is None else (self._fit(standing, room, (least, 1)),)
        row = LineRow((fitted, *beside))
        return (row,) if row.span(self._sizes.gap) <= room and _is_whole(fitted) else (LineRow((fitted,)),)

    def _room_at(self, y: float) -> float:
        """Return the width in px for words below this place: less than usual while the beat mark is beside them."""
        if self._mark is None or y >= self._mark.y + self._mark.height:
            return self._room
        return self._mark.x - self._sizes.gap - self._left

    def _large(self, high: float, room: float) -> tuple[LineRow, ...]:
        """Fit the large line into ``high`` and ``room`` px, with the counts beside it or under it."""
        line = self._main_line()
        if line is None:
            return ()
        counted = [one for one in (self._view.of(LineRole.COUNT), self._view.of(LineRole.BARS)) if one]
        if not counted:
            return (LineRow((self._fit_large(line, room, high),)),)
        if self._main is Main.SHORT:
            counted = [replace(one, text=(one.text, *one.shorter)[-1], shorter=()) for one in counted]
        cue = self._sizes.cue if self._main is not Main.SHORT else self._sizes.least
        beside = tuple(self._fit(one, room, (cue, 1)) for one in counted)
        if self._main is Main.UNDER:
            row = LineRow((self._fit_large(line, room, high - row_px(self._pen, cue)),))
            while len(beside) > 1 and LineRow(beside).span(self._sizes.gap) > room:
                beside = beside[:-1]
            return row, LineRow(beside)
        for many in (len(beside), 1):
            width = room - LineRow(beside[:many]).span(self._sizes.gap) - self._sizes.gap
            ways = self._large_ways(line, high) if self._main is Main.SHORT or self._tight else ((self._size(line), 1),)
            form = line if self._main is Main.SHORT or self._tight else replace(line, shorter=())
            fitted = Fitting(self._pen, width, self._sizes.least, tuple(ways)).whole(form) if width > 0 else None
            if fitted:
                return (LineRow((fitted,), beside[:many]),)
            if self._main is Main.BESIDE:
                break
        return (LineRow((self._fit_large(line, room, high),)),)

    def _fit_large(self, line: ViewLine, width: float, high: float) -> Fitted:
        """Fit the large line; if nothing else fits, smaller than it should be."""
        steps = [step for step in SMALL_STEPS if step < self._size(line)]
        small = [(arcmin, rows) for rows in (1, 2, 3) for arcmin in (*steps, self._sizes.least)]
        return self._fit(line, width, *self._large_ways(line, high), *small)

    def _size(self, line: ViewLine) -> float:
        return self._sizes.title if line.part is LineRole.TITLE else self._sizes.large

    def _large_ways(self, line: ViewLine, high: float) -> tuple[tuple[float, int], ...]:
        """Return the ways to write the large line, (arc minutes, rows): on one row, smaller, on more rows."""
        size, least, portrait = self._size(line), self._sizes.least, self._pen.page.is_portrait
        if line.part is LineRole.TITLE:
            smaller = max(least, size * TITLE_STEP)
            ways = [(size, 1), (size, 2), *([(size, 3)] if portrait else []), (smaller, 2), (smaller, 3)]
            if portrait:
                ways += [(arcmin, rows) for arcmin in (smaller, least * SMALL_TITLE) for rows in (4, 5, 6)]
            ways += [(least, rows) for rows in range(2, 7 if portrait else 5)]
        else:
            steps = [size, *(step for step in LARGE_STEPS if step < size)]
            ways = [(step, 1) for step in steps]
            if not self._tight:
                ways += [(step, rows) for rows in (2, 3) for step in steps[-2:]]
        room = high - row_px(self._pen, self._sizes.follows)
        fitting = [way for way in ways if way[1] * row_px(self._pen, way[0]) <= room]
        return tuple(fitting or ways[:1])

    def _follows(self, high: float, room: float, *, most_rows: int) -> tuple[LineRow, ...]:
        """Fit what comes next into ``high`` and ``room`` px: smaller before more rows, without label before a cut."""
        line = self._view.of(LineRole.NEXT)
        if line is None:
            return ()
        sizes = self._sizes
        smaller = max(sizes.least, sizes.follows * 5 / 6)
        ways = [(sizes.follows, rows) for rows in range(1, most_rows + 1)] + [(smaller, 1), (sizes.least, 1)]
        if not self._tight:
            ways.append((smaller, 2))
        high_enough = [way for way in ways if way[1] * row_px(self._pen, way[0]) <= high] or [(sizes.least, 1)]
        more = [(sizes.least, rows) for rows in (2, 3, 5, 8) if rows * row_px(self._pen, sizes.least) <= high]
        ways = [*high_enough, *more]
        for tried in (high_enough, more):
            for form in (line, replace(line, label=ARROW), replace(line, label="")):
                fitted = Fitting(self._pen, room, sizes.least, tuple(tried)).whole(form) if tried else None
                if fitted:
                    return (LineRow((fitted,)),)
        return (LineRow((self._fit(line, room, *ways),)),)

    def _alarm(self, most_rows: int) -> tuple[LineRow, ...]:
        """Fit what is wrong, what works again and how the set runs, side by side: at least the first of them.

        The first one may take ``most_rows``.
        """
        notices = [line for line in self._view.lines if line.part is LineRole.NOTICE]
        lines = sorted(notices, key=lambda line: line.mark is not LineMark.TORN)
        lines += [
            line for line in self._view.lines if line.part is LineRole.PACE and self._view.of(LineRole.ADVICE) is None
        ]
        shown: tuple[Fitted, ...] = ()
        for line in lines:
            ways = [(self._sizes.least, rows) for rows in range(1, 2 if shown else most_rows + 1)]
            fitted = [self._fit(one, self._room, *ways) for one in _each_form(line)]
            beside = [
                one for one in fitted if _is_whole(one) and LineRow((*shown, one)).span(self._sizes.gap) <= self._room
            ]
            shown = (*shown, *(beside or ([] if shown else fitted[-1:]))[:1])
        if len(shown) == 1 and shown[0].line.mark is LineMark.TORN:
            shown = (replace(shown[0], width=self._room),)  # tape across the whole page says what is wrong
        return (LineRow(shown),) if shown else ()

    def _whole_alarm(self, alarm: tuple[LineRow, ...], y: float, bottom: float) -> tuple[LineRow, ...]:
        """Return the alarm with a row more, so that it can say more, if the middle loses nothing; else unchanged."""
        more = self._alarm(3 if self._pen.page.is_portrait else 2)
        return more if self._loses_nothing(y, bottom, height(alarm), height(more)) else alarm

    def _foot(self, *, may_stack: bool) -> tuple[LineRow, ...]:
        return Foot(self._pen, self._sizes, self._room, may_stack, self._usual.cue).rows(self._view.lines)


def _worth(line: ViewLine) -> float:
    if is_leftover(line) or line.if_room:
        return 0.0
    if line.part is LineRole.NOTICE:
        return ALARM if line.mark is LineMark.TORN else 0.0
    return MISSED.get(line.part, 0.0)


def _each_form(line: ViewLine) -> Iterator[ViewLine]:
    for form in (line.text, *line.shorter):
        yield replace(line, text=form, shorter=())


def _same(one: ViewLine, other: ViewLine) -> bool:
    """Return whether a fitted line is this one, perhaps without its label or its longer forms."""
    return one.part is other.part and one.text in (other.text, *other.shorter)


def _is_whole(one: Fitted) -> bool:
    return joined(one.rows) in (one.line.text, *one.line.shorter)
