"""What a change is answered with: the page as it is now, or only what differs from what the tab shows."""

from typing import Final

from starlette.responses import HTMLResponse, Response

from companion.errors import CompanionError
from companion.pages.answer_parts import header_text, partials
from companion.pages.desk import ShowDesk
from companion.pages.desk_view import DeskView
from companion.pages.markup import Html
from companion.pages.wanted import ShownWith
from companion.pages.workplace import Workplace

NOTICE: Final = "x-notice"
SONG: Final = "x-song"
WHOLE: Final = "x-whole"


class DeskAnswers:
    """The answers about the show on the desk. Any thread may call it."""

    def __init__(self, workplace: Workplace, view: DeskView) -> None:
        self.workplace = workplace
        self._view = view

    @property
    def desk(self) -> ShowDesk:
        """The desk. Raises CompanionError if no show is open."""
        if self.workplace.desk is None:
            raise CompanionError("no show is open")
        return self.workplace.desk

    def page(self, wanted: ShownWith, headers: dict[str, str] | None = None) -> Response:
        """Return what differs from what the tab shows; everything if that is unknown."""
        parts = self._view.changed(wanted)
        if parts is not None:
            return partials(200, *parts, headers=headers)
        return HTMLResponse(self._view.whole(wanted), headers={WHOLE: "yes", **(headers or {})})

    def notice(self, words: str, wanted: ShownWith | None = None, song: str = "") -> Response:
        """Return the page as it is now, with a notice, and the id of the song that was moved."""
        return self.page(wanted or ShownWith(), {NOTICE: header_text(words), SONG: song})

    def whole(self, words: str, wanted: ShownWith, unanswered: str = "", report: Html | None = None) -> Response:
        """Return the whole page, with a notice: more differs than the show.

        ``unanswered``: the question whose answer was not understood. ``report``: of what was just done.
        """
        page = self._view.whole(wanted, unanswered, report)
        return HTMLResponse(page, headers={WHOLE: "yes", NOTICE: header_text(words), SONG: ""})
