"""A newer list that lies beside a show, kept until the player has decided about it: it outlives this program's end."""

from pathlib import Path

import msgspec

from companion.errors import UNREADABLE
from companion.pages.visitor import closed_folder, keep, kept_path
from companion.regular import read_regular

MAX_KEPT_BYTES = 16 * 1024 * 1024  # a list of 8 MiB in base64, and the decisions


class KeptList(msgspec.Struct, frozen=True):
    """A list the player brought in, and the decisions about it so far."""

    name: str
    raw: bytes
    answers: dict[str, str] = {}  # by the question
    left: tuple[str, ...] = ()
    taken: tuple[str, ...] = ()  # of those that are left unless the player takes them
    apart: tuple[tuple[str, str], ...] = ()


class ListDrawer:
    """Where the list of one show is kept."""

    def __init__(self, folder: Path, show: Path) -> None:
        self._folder = folder
        self._path = kept_path(folder, show).with_suffix(".list")

    def keep(self, one: KeptList) -> None:
        """Keep a list; it is on disk when this returns. Raises CompanionError or OSError."""
        closed_folder(self._folder)
        keep(self._path, one)

    def kept(self) -> KeptList | None:
        """Return the list that is kept; None if there is none, or it cannot be read."""
        try:
            return msgspec.json.decode(read_regular(self._path, MAX_KEPT_BYTES), type=KeptList)
        except (OSError, *UNREADABLE, msgspec.MsgspecError):
            return None

    def forget(self) -> None:
        """Keep no list any more."""
        self._path.unlink(missing_ok=True)
