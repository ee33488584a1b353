"""The folders for the program's own files (journals, undo lists, the rig last used) and for the player's own rig."""

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
        return _linux_path("XDG_DATA_HOME", ".local", "share")
    from platformdirs import user_data_path  # noqa: PLC0415  most commands do not need it

    return user_data_path(_NAME, appauthor=False)


def config_path() -> Path:
    """Return the user's configuration directory on this system; see ``data_path``."""
    if sys.platform == "linux":
        return _linux_path("XDG_CONFIG_HOME", ".config")
    from platformdirs import user_config_path  # noqa: PLC0415  as above

    return user_config_path(_NAME, appauthor=False)


def _linux_path(variable: str, *below_home: str) -> Path:
    wanted = Path(os.environ.get(variable, "").strip())
    return (wanted if wanted.is_absolute() else Path.home().joinpath(*below_home)) / _NAME
