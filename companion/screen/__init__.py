"""The stage screen: the view of a state, its layout and legibility (pure), and the painter, in a process of its own."""

from typing import TYPE_CHECKING

import companion.lean  # noqa: F401  # before all that brings msgspec in
from companion.late import late

from .looks import KEYS, Looks, key_pressed, stepped
from .parts import Beat, Chart, Detail, Form, Light, Line, Mark, Part, Picture, View
from .text import text_lines
from .wire import ChartIs, Eyes, Ping, Said, as_line, read_said

if TYPE_CHECKING:
    from .now import view

__all__ = [
    "KEYS",
    "Beat",
    "Chart",
    "ChartIs",
    "Detail",
    "Eyes",
    "Form",
    "Light",
    "Line",
    "Looks",
    "Mark",
    "Part",
    "Picture",
    "Ping",
    "Said",
    "View",
    "as_line",
    "key_pressed",
    "read_said",
    "stepped",
    "text_lines",
    "view",
]

# It needs the core: the screen's own process is up sooner without it.
__getattr__ = late(__name__, ("now",))
