"""The folder for the program's own files: journals, undo lists, the rig last used."""

import os
import sys
from pathlib import Path
from typing import Final

_NAME: Final = "companion"


def data_path() -> Path:
    """Return the user's data directory on this system.

    Linux has a short rule (XDG Base Directory Specification 0.8), which saves a start on stage the 5 ms of importing
    the library for all systems.
    """
    if sys.platform == "linux":
        wanted = Path(os.environ.get("XDG_DATA_HOME", "").strip())
        return (wanted if wanted.is_absolute() else Path.home() / ".local" / "share") / _NAME
    from platformdirs import user_data_path  # noqa: PLC0415  most commands do not need it

    return user_data_path(_NAME, appauthor=False)
