"""The demo: an invented engagement included with the program, for a first look without a file or an instrument."""

from pathlib import Path

from companion.errors import NoStage

HERE = Path(__file__).resolve().parent.parent
DEMO = "pier-street.yaml"
DOORS_S = 20 * 3600
"""The demo always opens as if at eight o'clock in the evening."""


def demo_show() -> Path:
    """Return the demo's show file: installed with the package, or in the project's shows folder."""
    for directory in (HERE / "_shows", HERE.parent / "shows"):
        if (directory / DEMO).is_file():
            return directory / DEMO
    raise NoStage("this copy of companion does not include the demo show; play a show of your own")
