"""Answers that are parts of a page: each takes the place of the element with its id."""

from starlette.responses import HTMLResponse, Response

from companion.errors import CompanionError, FaultyFile
from companion.pages.markup import Html, fragment, tag
from companion.pages.song_fields import ChangedMeanwhile
from companion.pages.stack_view import slip_html
from companion.shown import harmless


def partials(status: int, *parts: Html, headers: dict[str, str] | None = None) -> Response:
    """Return parts of the page, each put in the place of the element with its id."""
    body = fragment(
        *(tag("hx-partial", part, attrs={"hx-target": f"#{_id_of(part)}", "hx-swap": "outerMorph"}) for part in parts)
    )
    return HTMLResponse(body, status, headers)


def _id_of(part: Html) -> str:
    return part.partition(' id="')[2].partition('"')[0]


def header_text(words: str) -> str:
    """Encode words for a header: everything but plain letters as %XX."""
    return "".join(
        one if " " <= one <= "~" and one != "%" else "".join(f"%{byte:02X}" for byte in one.encode())
        for one in harmless(words)
    )


def refused(slip: str, error: CompanionError, typed: str) -> Response:
    """Return the slip under a field whose text was not taken."""
    if isinstance(error, ChangedMeanwhile):
        return partials(409, slip_html(slip, f"{harmless(str(error))}.", typed.strip(), theirs=error.now))
    if isinstance(error, FaultyFile):
        first = error.faults[0]
        write = f". Write: {first.write}" if first.write else ""
        return partials(422, slip_html(slip, f"{first.problem}{write}"))
    return partials(422, slip_html(slip, str(error)))
