"""Where the program keeps what is not the player's own file: journals, undo lists, the rig last used."""

from pathlib import Path


def data_path() -> Path:
    """Return the user's data directory on this system."""
    from platformdirs import user_data_path  # noqa: PLC0415  most commands need none of it

    return user_data_path("companion", appauthor=False)
