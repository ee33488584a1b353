"""The plan on paper: a bar for each day, then each day's work with a box to tick."""

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Final

from companion.paper.leaves import Highlighter, Leaf, Paper, PaperInk
from companion.paper.paper_fonts import wrapped
from companion.paper.pdf_file import write_pdf
from companion.paper.pen import LeafPen, with_foot
from companion.planning import Plan
from companion.planning.plan_model import Day
from companion.planning.plan_text import cut_lines, day_lines, seldom_lines, sentence, time_line, untouched_lines

TITLE_PT: Final = 18.0
TEXT_PT: Final = 10.0
DATE_PT: Final = 78.0  # width of a day's name
MINUTES_PT: Final = 132.0  # width of the figures after the bars
TALLEST_ROW_PT, LEAST_ROW_PT = 22.0, 15.0
COLUMN_GAP_PT: Final = 24.0
LINE: Final = 1.35  # share of the letters' size
BOX_PT: Final = 7.0
MAX_LINES_OF_ONE: Final = 200


def print_plan(plan: Plan, path: Path, paper: Paper = Paper.A4) -> int:
    """Write the plan as a PDF; return its number of pages. Raises CompanionError if it cannot be written."""
    leaves = plan_leaves(plan, paper)
    total = len(leaves)
    footed = [
        with_foot(leaf, paper, f"{plan.show_title} · plan", f"{number} of {total}")
        for number, leaf in enumerate(leaves, start=1)
    ]
    return write_pdf(path, footed, paper, f"{plan.show_title}: the plan")


def plan_leaves(plan: Plan, paper: Paper) -> list[Leaf]:
    """Lay out the bars, on as many pages as needed, and below them the days in two columns."""
    pen = LeafPen(paper)
    y = _head(pen, plan)
    most = max((max(day.minutes, day.used) for day in plan.days), default=0) or 1
    row = max(LEAST_ROW_PT, min(TALLEST_ROW_PT, (pen.bottom - y) / 2 / max(1, len(plan.days))))
    leaves: list[Leaf] = []
    for day in plan.days:
        if y + row > pen.bottom:
            leaves.append(pen.leaf("The days" if not leaves else ""))
            pen = LeafPen(paper)
            y = pen.top
        _bar(pen, day, y, row, most)
        y += row
    return [*leaves, *_days(plan, pen, y + 18, "" if leaves else "The days")]


def _head(pen: LeafPen, plan: Plan) -> float:
    """Write the show's name and date, and whether everything fits; return the y where the bars begin."""
    pen.write(pen.left, pen.top + TITLE_PT, plan.show_title, TITLE_PT, room=pen.right - pen.left)
    y = pen.top + TITLE_PT * 1.6
    for line in wrapped(f"{sentence(plan)} ({time_line(plan)})", TEXT_PT, pen.right - pen.left, 4):
        y += TEXT_PT * LINE
        pen.write(pen.left, y, line, TEXT_PT)
    y += TEXT_PT * 1.9
    pen.marks.append(Highlighter(pen.left, y - 8, 24, 9))
    end = pen.write(pen.left + 30, y, "at the keyboard", TEXT_PT, PaperInk.PENCIL)
    _frame(pen, end + 14, y - 8, 24, 9, PaperInk.PENCIL)
    pen.write(end + 44, y, "minutes available that day", TEXT_PT, PaperInk.PENCIL)
    return y + 12


def _bar(pen: LeafPen, day: Day, y: float, row: float, most: int) -> None:
    """Draw one day: a bar of its used minutes, and used and available minutes as figures."""
    baseline = y + row / 2 + TEXT_PT * 0.35
    left, room = pen.left + DATE_PT, pen.right - pen.left - DATE_PT - MINUTES_PT
    pen.write(pen.left, baseline, f"{day.date:%a %d %b}", TEXT_PT, room=DATE_PT - 6)
    top, height = y + 3, row - 6
    used, all_minutes = room * day.used / most, room * day.minutes / most
    if used:
        pen.marks.append(Highlighter(left, top, used, height))
        _frame(pen, left, top, used, height, PaperInk.PEN)
    if all_minutes > used:
        _frame(pen, left + used, top, all_minutes - used, height, PaperInk.PENCIL)
    if not day.minutes:
        pen.write(left, baseline, "off", TEXT_PT, PaperInk.PENCIL)
    figures = f"{day.used} of {day.minutes} min, listen {day.listened:.0f}"
    pen.write(pen.right - MINUTES_PT + 8, baseline, figures, TEXT_PT, room=MINUTES_PT - 8)


def _frame(pen: LeafPen, x: float, y: float, width: float, height: float, ink: PaperInk) -> None:
    for x1, y1, x2, y2 in (
        (x, y, x + width, y),
        (x, y + height, x + width, y + height),
        (x, y, x, y + height),
        (x + width, y, x + width, y + height),
    ):
        pen.line(x1, y1, x2, y2, 0.5, ink)


def _days(plan: Plan, pen: LeafPen, top: float, bookmark: str) -> Iterator[Leaf]:
    """Write the days, then what does not fit, in two columns from ``top`` on the current page.

    A day stays in one column where it fits.
    """
    width = (pen.right - pen.left - COLUMN_GAP_PT) / 2
    column, y = 0, top
    for heading, lines in _parts(plan, width):
        height = (len(lines) + 2.2) * TEXT_PT * LINE
        if y + height > pen.bottom:
            column, y = column + 1, top
            if column > 1 or y + height > pen.bottom:
                yield pen.leaf(bookmark)
                pen, bookmark = LeafPen(pen.paper), ""
                column, y, top = 0, pen.top, pen.top
        x = pen.left + column * (width + COLUMN_GAP_PT)
        y += TEXT_PT * LINE
        pen.write(x, y, heading, TEXT_PT + 1, room=width)
        pen.line(x, y + 3, x + width, y + 3, 0.8)
        y += 3
        for ticked, line in lines:
            y += TEXT_PT * LINE
            if y > pen.bottom:
                column += 1
                if column > 1:
                    yield pen.leaf(bookmark)
                    pen, bookmark = LeafPen(pen.paper), ""
                    column, top = 0, pen.top
                x = pen.left + column * (width + COLUMN_GAP_PT)
                y = top + TEXT_PT * LINE
            if ticked:
                _frame(pen, x, y - BOX_PT, BOX_PT, BOX_PT, PaperInk.PEN)
            pen.write(x + BOX_PT + 5, y, line, TEXT_PT)
        y += TEXT_PT * 1.1
    yield pen.leaf(bookmark)


def _parts(plan: Plan, width: float) -> list[tuple[str, list[tuple[bool, str]]]]:
    """Return headings with their lines: each day's work with a box to tick, what does not fit, what would help."""
    parts = [(f"{day.date:%A %d %B}", _lines(day_lines(day), width)) for day in plan.days]
    parts.append(("Not played before the rehearsal", _lines(untouched_lines(plan), width, ticked=False)))
    parts.append(("What does not fit", _lines(cut_lines(plan), width, ticked=False)))
    parts.append(("What would help most", _lines(plan.helps, width, ticked=False)))
    seldom = "; ".join(seldom_lines(plan))
    parts.append(
        (
            "Repeated less often than they need, in the days left",
            _lines((seldom,) if seldom else (), width, ticked=False),
        )
    )
    return [(heading, lines) for heading, lines in parts if lines]


def _lines(texts: Sequence[str], width: float, *, ticked: bool = True) -> list[tuple[bool, str]]:
    """Break lines to the width; the first piece of each has a box to tick where ``ticked``."""
    found = []
    for one in texts:
        pieces = wrapped(one, TEXT_PT, width - BOX_PT - 5, MAX_LINES_OF_ONE)
        found += [(ticked and number == 0, piece) for number, piece in enumerate(pieces)]
    return found
