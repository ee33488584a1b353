"""The stage screen: the view of a state, its layout and legibility (pure), and the painter, in a process of its own."""

from .looks import KEYS, Looks, key_pressed
from .parts import Beat, Detail, Light, Line, Mark, Part, Picture, View
from .text import text_lines
from .view import view
from .wire import Eyes, Said, read_said

__all__ = [
    "KEYS",
    "Beat",
    "Detail",
    "Eyes",
    "Light",
    "Line",
    "Looks",
    "Mark",
    "Part",
    "Picture",
    "Said",
    "View",
    "key_pressed",
    "read_said",
    "text_lines",
    "view",
]
