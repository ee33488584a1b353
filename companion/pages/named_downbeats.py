"""Where bars begin in recordings, as the player entered them on a page: kept for the next time."""

from pathlib import Path
from typing import Final

import msgspec

from companion.errors import UNREADABLE, CompanionError
from companion.pages.visitor import closed_folder, keep
from companion.regular import read_regular

NAMED: Final = "downbeats.json"  # in the room's own folder
MAX_BYTES: Final = 1024 * 1024
MAX_RECORDINGS: Final = 1_000
MAX_NAMED: Final = 32  # of one recording
PlayedFile = tuple[str, int, int]
"""A path, size and time: another recording in the same place has no entries."""


class NamedDownbeats:
    """The entered places, by recording. One thread at a time calls it."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def of(self, recording: PlayedFile) -> tuple[float, ...]:
        """Return the seconds at which a bar begins, in order."""
        return self._all.get(_key(recording), ())

    def change(self, recording: PlayedFile, at_s: float, *, is_out: bool) -> None:
        """Add a place, or take it out; it is on disk when this returns. Raises CompanionError or OSError."""
        found, key = self._all, _key(recording)
        now = sorted({*found.pop(key, ()), at_s} - ({at_s} if is_out else set()))
        if len(now) > MAX_NAMED:
            raise CompanionError(f"{MAX_NAMED} places are enough: take one out first")
        kept = dict(list(found.items())[-MAX_RECORDINGS + 1 :])
        closed_folder(self._folder)
        keep(self._folder / "pages" / NAMED, kept | ({key: tuple(now)} if now else {}))

    @property
    def _all(self) -> dict[str, tuple[float, ...]]:
        try:
            raw = read_regular(self._folder / "pages" / NAMED, MAX_BYTES)
            return msgspec.json.decode(raw, type=dict[str, tuple[float, ...]])
        except (OSError, *UNREADABLE, msgspec.MsgspecError):
            return {}


def _key(recording: PlayedFile) -> str:
    path, size, changed_ns = recording
    return f"{path.encode(errors='surrogateescape').hex()} {size} {changed_ns}"
