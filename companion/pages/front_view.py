"""The pages round the stack: the empty page that a browser opens first, the first run, and a show with faults."""

from collections.abc import Sequence

import msgspec

from companion.errors import Fault
from companion.how_many import how_many
from companion.pages.list_chooser import chooser_html
from companion.pages.markup import Html, fragment, html_page, tag
from companion.pages.problems import OnThisRig, Problem
from companion.pages.stage_door import StageDoor
from companion.pages.title_form import title_form_html

MAX_LISTED = 25  # problems that one reads at once
HTMX: str = msgspec.json.encode(
    {
        "includeIndicatorCSS": False,
        "history": False,
        "defaultTimeout": 20_000,
        "defaultSettleDelay": 0,
        "sse": {"reconnectMaxDelay": 2_000},
    }
).decode()


def shell_html(token: str = "") -> Html:
    """Return the page without a show. ``token``: for the tab that has just used its key."""
    return html_page(
        tag(
            "head",
            tag("meta", charset="utf-8"),
            tag("meta", name="viewport", content="width=device-width, initial-scale=1"),
            tag("meta", name="color-scheme", content="light dark"),
            tag("meta", name="htmx-config", content=HTMX),
            tag("meta", name="companion-token", content=token) if token else None,
            tag("title", "companion: prepare"),
            tag("link", rel="icon", href="/assets/icon.svg", type="image/svg+xml"),
            *(tag("link", rel="stylesheet", href=f"/assets/{name}") for name in ("faces.css", "pages.css")),
            *(
                tag("script", src=f"/assets/{name}", defer=True)
                for name in ("pages.js", "htmx.min.js", "hx-sse.min.js")
            ),
        ),
        tag(
            "body",
            tag("a", "Skip to the songs", href="#stack", class_="skip"),
            tag("div", tag("p", "Opening …", class_="pencil"), id="desk"),
            tag("p", id="notice", role="status"),
            tag("p", id="away", role="status"),
            tag("noscript", tag("p", "This page needs JavaScript, which comes from this computer alone.")),
            tag(
                "div",
                id="live",
                hidden=True,
                attrs={"hx-sse:connect": "/changes", "hx-trigger": "tab-seen once", "hx-swap": "none"},
            ),
        ),
    )


def welcome_html(shows: tuple[tuple[str, str], ...]) -> Html:
    """Return the first run's offers. ``shows``: the id and the title of each show known on this computer."""
    return tag(
        "main",
        tag("header", tag("h1", "Prepare a show"), tag("p", "Nothing leaves this computer."), id="folder"),
        tag(
            "section",
            tag("h2", "Continue with"),
            tag(
                "ul",
                *(
                    tag("li", tag("button", title, type="button", data_do="choose", data_show=mark))
                    for mark, title in shows
                ),
            ),
            class_="offer",
        )
        if shows
        else None,
        tag(
            "section",
            tag("h2", "Bring a set list in"),
            tag(
                "p",
                "A table, a document, a PDF, a picture, or a message. Choose it, drop it here, or paste it.",
            ),
            chooser_html(),
            class_="offer",
        ),
        tag(
            "section",
            tag("h2", "Look at the invented engagement"),
            tag("p", "28 songs of a band that does not exist. Try everything on them."),
            tag("button", "Open it", type="button", data_do="demo"),
            class_="offer",
        ),
        tag(
            "section",
            tag("h2", "Begin an empty show"),
            *title_form_html("begin", tag("button", "Begin", type="submit")),
            class_="offer",
        ),
        id="stack",
    )


def faults_html(faults: tuple[Fault, ...], *, is_read: bool) -> Html:
    """Return a show's faults with their places. ``is_read``: the last good reading is shown below them."""
    then = "Below is the show as last read without a fault. You cannot change it until then." if is_read else ""
    return tag(
        "section",
        tag("h2", "The show file was edited and cannot be read now"),
        tag(
            "ol",
            *(
                tag(
                    "li",
                    f"Line {fault.line}, column {fault.column}: " if fault.line else "",
                    fault.problem,
                    fragment(". Write: ", tag("b", fault.write)) if fault.write else None,
                )
                for fault in faults[:25]
            ),
        ),
        tag("p", f"Put this right where it was changed. {then}"),
        class_="torn",
        id="faults",
        role="status",
    )


def door_html(rigged: OnThisRig, door: StageDoor, listed: tuple[Fault, ...] = ()) -> Html:
    """Return the stage door, and what is wrong or probably not meant, each with the way to its field.

    ``listed``: the faults that the page lists above already.
    """
    stopping = rigged.stopping
    more = tuple(one for one in stopping if one.fault not in listed)
    doubts = tuple(one for one in rigged.problems if not one.stops)
    closed = bool(stopping) or door.is_open
    return tag(
        "section",
        tag("h2", "The stage", id="door-name"),
        tag(
            "p",
            tag("button", "Start it for tonight", type="button", data_stage="tonight", disabled=closed),
            tag("button", "Rehearsal, in a window", type="button", data_stage="rehearsal", disabled=closed),
            class_="buttons",
        ),
        _running(door) if door.is_open else None,
        tag("p", "The stage ended: ", " ".join(door.failed), class_="slip") if door.failed else None,
        tag("p", "It can start once the show can be read again.") if listed else None,
        _problems("These would stop the show:", more, is_open=True),
        _problems(how_many(len(doubts), "probable slip"), doubts),
        id="door",
        aria_labelledby="door-name",
    )


def _running(door: StageDoor) -> Html:
    """Return how the stage is running, and the way to end it: two steps, since a slip must not end a night."""
    seen = door.no_window
    words = f"The stage is running, but no window could be opened: {seen}." if seen else "The stage is running."
    more = "Sounds and pedal work, but there is nothing to see." if seen else None
    return tag(
        "div",
        tag("p", tag("strong", words) if seen else words, " ", more),
        tag(
            "details",
            tag("summary", "End it …"),
            tag("p", tag("button", "End the stage now", type="button", data_stage="end"), class_="buttons"),
            id="stage-end",
            open=bool(seen),
        ),
    )


def _problems(words: str, found: tuple[Problem, ...], *, is_open: bool = False) -> Html | None:
    if not found:
        return None
    alike: dict[tuple[str, str | None], list[Problem]] = {}  # each shown once, with the songs that it is about
    for one in found:
        alike.setdefault((one.fault.problem, one.fault.write), []).append(one)
    return tag(
        "details",
        tag("summary", words),
        tag("ul", *map(_problem, tuple(alike.values())[:MAX_LISTED])),
        open=is_open,
    )


def _problem(alike: Sequence[Problem]) -> Html:
    fault = alike[0].fault
    write = fragment(". Write: ", tag("b", fault.write)) if fault.write else None
    places = {one.song: one for one in alike if one.song}.values()
    links = [(", ", tag("a", one.title, href=f"#{one.song}/{one.field}")) for one in places]
    songs = [part for link in links for part in link][1:]
    return tag("li", *songs, ": " if songs else None, fault.problem, write)
