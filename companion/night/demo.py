"""The demo: an invented engagement that comes with the program, for a first look without file or instrument."""

from pathlib import Path

from companion.errors import NoStage

HERE = Path(__file__).resolve().parent.parent
DEMO = "pier-street.yaml"
DOORS_S = 20 * 3600
"""The demo opens as its night does, at eight o'clock, whenever it is looked at."""


def demo_show() -> Path:
    """Give the demo's show file: beside the package where it is installed, else where the project keeps its shows."""
    for directory in (HERE / "_shows", HERE.parent / "shows"):
        if (directory / DEMO).is_file():
            return directory / DEMO
    raise NoStage("the demo's show file did not come with this copy of companion; play one of your own")
