"""The view of a state: what is worth showing now, and the lines that engine and screen exchange. Pure, no window."""

from typing import TYPE_CHECKING

import companion.lean  # noqa: F401  # before anything imports msgspec
from companion.late import late
from companion.view.looks import KEYS, Looks, key_pressed, stepped
from companion.view.pipe_lines import ChartIs, Eyes, Ping, ScreenMessage, as_line, read_screen_line
from companion.view.view_lines import (
    Beat,
    ChartView,
    Detail,
    FormPlace,
    Light,
    LineMark,
    LineRole,
    Picture,
    View,
    ViewLine,
)

if TYPE_CHECKING:
    from companion.view.now import view
    from companion.view.text_screen import text_lines

__all__ = [
    "KEYS",
    "Beat",
    "ChartIs",
    "ChartView",
    "Detail",
    "Eyes",
    "FormPlace",
    "Light",
    "LineMark",
    "LineRole",
    "Looks",
    "Picture",
    "Ping",
    "ScreenMessage",
    "View",
    "ViewLine",
    "as_line",
    "key_pressed",
    "read_screen_line",
    "stepped",
    "text_lines",
    "view",
]

# Loaded late: the view needs the core, and the screen's process starts sooner without it; only a terminal needs text.
__getattr__ = late(__name__, ("now", "text_screen"))
