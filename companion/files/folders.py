"""Where the program keeps what is not the player's own file: journals, undo lists, the rig last used."""

import os
import sys
from pathlib import Path
from typing import Final

_NAME: Final = "companion"


def data_path() -> Path:
    """Return the user's data directory on this system.

    Linux has a short rule for it (XDG Base Directory Specification 0.8), which spares a start on stage the 5 ms that
    the library for all systems takes to import.
    """
    if sys.platform == "linux":
        wanted = Path(os.environ.get("XDG_DATA_HOME", "").strip())
        return (wanted if wanted.is_absolute() else Path.home() / ".local" / "share") / _NAME
    from platformdirs import user_data_path  # noqa: PLC0415  most commands need none of it

    return user_data_path(_NAME, appauthor=False)
