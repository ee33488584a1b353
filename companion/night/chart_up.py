"""A song's own chart in place of the view, if the player wants it, and how next and back work meanwhile. Pure.

Next turns the chart until its last screenful, then steps the show; back retraces the same way. Every other action works
as always, so the show can be stepped at any time (skip leaves the section).
"""

from pathlib import Path
from typing import Final

import msgspec
from msgspec.structs import replace

from companion.rig import Action
from companion.stage import GestureRequest, PositionKind, ShowPosition, State
from companion.view import ChartIs, ChartView, Picture, View

BESIDE: Final = (Picture.PLAYING, Picture.UP_NEXT, Picture.BEFORE)  # the pictures that a chart may replace
NO_CHART: Final = "no chart file for this song"
NO_NAME: Final = "the chart cannot be shown: the name of its folder is not UTF-8"


class ChartUp(msgspec.Struct, frozen=True):
    """The chart that is shown: its file as the show names it, and the screenful, from 0.

    ``turns`` is the number of screenfuls, None until the screen reports it. ``steps`` are the steps of the show since
    the last turn; ``turned_ms`` is when that turn was, ``before`` its screenful until then.
    """

    file: str
    turn: int = 0
    turns: int | None = None
    steps: int = 0
    turned_ms: int | None = None
    before: int = 0


def chart_file(state: State) -> str | None:
    """Return the chart file of the song that is up next or playing; None if it has none."""
    chart = state.song.song.chart if state.song else None
    return chart if isinstance(chart, str) and "://" not in chart else None


def turned(up: ChartUp, ask: GestureRequest) -> ChartUp | None:
    """Turn the chart as a pedal asks; None if the show steps as usual."""
    match ask.action:
        case Action.NEXT if up.turns is not None and up.turn + 1 < up.turns:
            return _at(up, up.turn + 1, ask.at_ms)
        case Action.BACK if up.steps == 0 and up.turn > 0:
            return _at(up, up.turn - 1, ask.at_ms)
        case Action.TAKE_BACK if ask.of_ms is not None and ask.of_ms == up.turned_ms:  # a hold cancels its press
            return replace(up, turn=up.before, turned_ms=None)
        case _:
            return None


def _at(up: ChartUp, turn: int, at_ms: int) -> ChartUp:
    return replace(up, turn=turn, steps=0, turned_ms=at_ms, before=up.turn)


def stepped_on(up: ChartUp | None, before: State, after: State) -> ChartUp | None:
    """Count a step of the show, forward or back; the chart closes with its song."""
    if up is None or chart_file(after) != up.file:
        return None
    if before.place == after.place:
        return up
    by = 1 if _far(after.place) > _far(before.place) else -1
    return replace(up, steps=max(0, up.steps + by))


def _far(place: ShowPosition) -> tuple[int, ...]:
    """Return how far a place is in its song, counting added rounds."""
    return place.set, place.at, place.where is PositionKind.PLAYING, place.section, place.passed + place.rounds


def chart_notice(up: ChartUp, news: ChartIs) -> ChartUp | None:
    """Handle the screen's report; None if the chart cannot be shown."""
    if news.problem:
        return None
    return replace(up, turns=news.turns, turn=min(up.turn, max(0, news.turns - 1)))


def _is_text(path: str) -> bool:
    """Return whether a path can be sent to the screen's process: some systems allow any bytes in a folder's name."""
    try:
        path.encode()
    except UnicodeEncodeError:
        return False
    return True


class Charts:
    """The chart of this night, if one is up. Messages for the player are returned as text, empty for none."""

    def __init__(self, beside: Path) -> None:
        """Charts are in the folder ``beside`` the show."""
        self._beside = beside
        self.up: ChartUp | None = None
        self._is_seen = False

    def toggle(self, state: State) -> str:
        """Show the song's own chart, or hide it."""
        file = chart_file(state)
        if file is not None and not _is_text(str(self._beside / file)):
            return NO_NAME
        self.up = ChartUp(file) if self.up is None and file is not None else None
        return NO_CHART if file is None else ""

    def takes(self, ask: GestureRequest) -> bool:
        """Return whether this turned the chart, so that the show stays; nothing turns behind another page."""
        after = turned(self.up, ask) if self.up is not None and self._is_seen else None
        self.up = after or self.up
        return after is not None

    def stepped(self, before: State, after: State) -> None:
        """Follow the show."""
        self.up = stepped_on(self.up, before, after)

    def read_again(self, state: State) -> None:
        """Close a chart that the song no longer names, after the show was read again."""
        if self.up is not None and chart_file(state) != self.up.file:
            self.up = None

    def found(self, news: ChartIs) -> str:
        """Handle the screen's report about a chart."""
        if self.up is None or news.path != self._path(self.up):
            return ""
        self.up = chart_notice(self.up, news)
        return news.problem

    def over(self, view: View) -> View:
        """Replace the view with the chart, if the view shows its song."""
        self._is_seen = self.up is not None and view.picture in BESIDE
        if self.up is None or not self._is_seen:
            return view
        return replace(view, chart=ChartView(self._path(self.up), self.up.turn))

    def _path(self, up: ChartUp) -> str:
        return str(self._beside / up.file)
