"""What the page hands out: printed sheets as files to download, and the days until the show."""

import datetime as dt
import os
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING, Final

import msgspec

from companion import child
from companion.errors import UNREADABLE, CompanionError
from companion.files.folders import data_path
from companion.how_many import how_many
from companion.pages.debrief_view import debrief_fold
from companion.pages.markup import Html, tag
from companion.pages.printed_apart import MAX_CPU_S, MAX_MEMORY, PrintedSheet, PrintRequest
from companion.pages.visitor import closed_folder
from companion.ports import journals_on, shelf_of

if TYPE_CHECKING:
    from companion.planning import Plan

SHEETS: Final = {"setlist": "Set list", "floor": "Floor list", "crib": "Crib sheet", "charts": "Charts"}
PAPERS: Final = {"a4": "A4", "letter": "Letter"}
MAX_S: Final = 90.0  # by the clock


def print_sheet(show: Path, folder: Path, sheet: str, paper: str) -> tuple[bytes, str]:
    """Print a sheet; return the PDF and a notice. ``folder`` is the program's own. Raises CompanionError."""
    if sheet not in SHEETS or paper not in PAPERS:
        raise CompanionError("there is no such sheet")
    closed_folder(folder)
    with tempfile.TemporaryDirectory(dir=folder / "pages") as place:
        out = Path(place) / "sheet.pdf"
        request = PrintRequest(os.fsencode(show), sheet, paper, os.fsencode(out))
        try:
            answer = child.ask(
                child.python("companion.pages.printed_apart"),
                msgspec.json.encode(request),
                max_s=MAX_S,
                max_memory=MAX_MEMORY,
                max_cpu_s=MAX_CPU_S,
            )
            found = msgspec.json.decode(answer.out, type=PrintedSheet)
            if found.problem:
                raise CompanionError(found.problem)
            pdf = out.read_bytes()
        except (OSError, *UNREADABLE, msgspec.MsgspecError):
            raise CompanionError("this sheet cannot be printed") from None
    pages = how_many(found.pages, "page")
    return pdf, "; ".join((f"{SHEETS[sheet]}: {pages}", *found.notes))


def handed_out_html(show: Path, time: Html) -> Html:
    """Return the places where sheets are printed, the plan is shown and, after a night, the debrief.

    The plan and the debrief come when they are opened; ``time`` are the fields of the player's time, above the plan.
    """
    played = bool(journals_on(shelf_of(show, data_path())))
    papers = (
        tag("label", tag("input", type="radio", name="paper", value=key, checked=key == "a4"), tag("span", words))
        for key, words in PAPERS.items()
    )
    return tag(
        "section",
        tag("h2", "Before and after the show" if played else "Before the show", id="handed-out-name"),
        tag(
            "div",
            tag(
                "details",
                tag("summary", "Print"),
                tag("fieldset", tag("legend", "Paper"), *papers, class_="fields"),
                tag(
                    "p",
                    *(tag("button", words, type="button", data_print=key) for key, words in SHEETS.items()),
                    class_="buttons",
                ),
                tag("p", id="print-slip", class_="slip"),
                id="print",
            ),
            tag("details", tag("summary", "Ask the leader"), tag("div", id="asks"), id="ask", data_reads="/questions"),
            tag("details", tag("summary", "The plan"), time, tag("div", id="days"), id="plan", data_reads="/days"),
            debrief_fold() if played else None,
            class_="buttons folds",
        ),
        id="handed-out",
        aria_labelledby="handed-out-name",
    )


def days_html(show: Path, today: dt.date) -> Html:
    """Return the days until the show, in the words of ``companion plan``."""
    from companion.debrief.last_played import last_played
    from companion.planning.planned import plan_days

    try:
        made = plan_days(show, today, last_played=last_played)
    except CompanionError as error:
        return tag("div", tag("p", str(error), class_="slip"), id="days")
    return tag("div", *_plan_parts(made), id="days")


def _plan_parts(made: "Plan") -> list[Html]:
    from companion.planning import plan_text

    found = [tag("p", plan_text.sentence(made)), tag("p", plan_text.time_line(made), class_="pencil")]
    for at, ((day, *more), (short, _, summary)) in enumerate(
        zip(plan_text.in_runs(made), plan_text.bars(made), strict=True)
    ):
        if more:
            found.append(tag("p", f"{short}: {summary}", class_="pencil"))
            continue
        lines = plan_text.day_lines(day)
        found.append(
            tag(
                "details",
                tag("summary", f"{short}: {summary}"),
                tag("ul", *(tag("li", line) for line in lines)) if lines else tag("p", "a day off"),
                open=at == 0,
                id=f"day-{day.date.isoformat()}",
            )
        )
    for heading, notes in plan_text.remarks(made):
        found += [tag("h3", heading), tag("ul", *(tag("li", line) for line in notes))]
    return found
