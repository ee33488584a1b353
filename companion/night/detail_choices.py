"""How much of each song is shown, remembered between nights: one file for all shows, by the song's title.

The choice belongs to the player's knowledge of a song, not to a show, so it applies with every band.
"""

import queue
import threading
from collections.abc import Callable
from pathlib import Path
from typing import Final

import msgspec

from companion.errors import UNREADABLE, CompanionError
from companion.regular import read_regular
from companion.view import Detail

FILE: Final = "details.json"
MAX_BYTES: Final = 8 * 1024 * 1024
MAX_SONGS: Final = 2000  # the newest choices; a player's whole repertoire

Details = tuple[tuple[str, Detail], ...]


class KeptDetails:
    """The player's file, in the user's directory beside the journals. A failure to write it is only reported."""

    def __init__(self, directory: Path, say: Callable[[str], None]) -> None:
        """Nothing is read yet."""
        self._path = directory / FILE
        self._say = say
        self._newest: queue.SimpleQueue[Details | None] = queue.SimpleQueue()
        self._writer: threading.Thread | None = None

    def read(self) -> Details:
        """Return the choices of earlier nights; none if the file is missing or cannot be read."""
        try:
            found = msgspec.json.decode(read_regular(self._path, MAX_BYTES), type=dict[str, Detail])
        except FileNotFoundError:
            return ()
        except (OSError, *UNREADABLE) as fault:
            self._say(f"note: {self._path} cannot be read ({fault}): showing every detail of each song")
            return ()
        return tuple(found.items())

    def keep(self, details: Details) -> None:
        """Save the choices, in a separate thread: the foot never waits for a disk."""
        if self._writer is None:
            self._writer = threading.Thread(target=self._write, name="details", daemon=True)
            self._writer.start()
        self._newest.put(details)

    def end(self, wait_s: float = 1.0) -> None:
        """Wait until the last choice is on disk."""
        if self._writer is not None:
            self._newest.put(None)
            self._writer.join(wait_s)

    def _write(self) -> None:
        from companion.files.file_writing import write_whole

        while (details := self._newest.get()) is not None:
            chosen = {title: detail.value for title, detail in details[-MAX_SONGS:]}
            try:
                self._path.parent.mkdir(parents=True, exist_ok=True)
                write_whole(self._path, msgspec.json.format(msgspec.json.encode(chosen)).decode() + "\n")
            except (OSError, CompanionError) as fault:
                self._say(f"cannot save how much is shown of each song: {fault}")
