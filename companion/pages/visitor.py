"""Who may come in: the one-time key in the address, the cookie that it turns into, and the token of a tab.

Port, cookie and token are kept in the user's data folder, readable by this user alone, so that an open tab goes on
after the program was killed or ended. On another port there are new ones.
"""

import hashlib
import hmac
import os
import secrets
import socket
import time
from collections.abc import Callable
from pathlib import Path
from typing import Final

import msgspec

from companion.errors import UNREADABLE
from companion.files.file_writing import write_whole
from companion.regular import read_regular

KEY_S: Final = 60  # seconds that the key in the address is good for
ADDRESS: Final = "/"
PRIVATE: Final = 0o600
MAX_BYTES: Final = 64 * 1024


class KeptDoor(msgspec.Struct, frozen=True):
    """What is kept of a page's address: its port, and the secrets of the browser that may come in."""

    port: int
    cookie: str = ""
    token: str = ""
    process: int = 0


def kept_path(folder: Path, what: Path | None) -> Path:
    """Return the file that keeps the door of a show, or of the page without a show."""
    named = os.path.realpath(what) if what is not None else ""
    name = hashlib.sha256(named.encode(errors="surrogateescape")).hexdigest()[:16]
    return folder / "pages" / f"{name}.json"


def doubts_path(folder: Path, show: Path) -> Path:
    """Return the file that keeps the doubts about the list that a show was made from."""
    return kept_path(folder, show).with_suffix(".doubts")


def read_kept(path: Path) -> KeptDoor | None:
    """Return the door that was kept, or None."""
    try:
        return msgspec.json.decode(read_regular(path, MAX_BYTES), type=KeptDoor)
    except (OSError, *UNREADABLE, msgspec.MsgspecError):
        return None


def closed_folder(folder: Path) -> None:
    """Make the room's own folder, for this user alone. Raises OSError."""
    own = folder / "pages"
    own.mkdir(parents=True, exist_ok=True, mode=0o700)
    own.chmod(0o700)


def keep(path: Path, what: object) -> None:
    """Keep a value as JSON, for this user alone. Raises NotWritten."""
    write_whole(path, msgspec.json.encode(what), mode=PRIVATE)
    path.chmod(PRIVATE)


def opened_socket(kept: KeptDoor | None) -> tuple[socket.socket, bool]:
    """Return a socket on 127.0.0.1, on the port of the last time if it is free, and whether it is that one."""
    for port in (kept.port, 0) if kept else (0,):
        one = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        alone = getattr(socket, "SO_EXCLUSIVEADDRUSE", None)  # Windows; elsewhere a second listener is refused anyway
        one.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR if alone is None else alone, 1)
        try:
            one.bind(("127.0.0.1", port))
            one.listen(64)
        except (OSError, OverflowError):
            one.close()
            continue
        return one, port != 0
    raise OSError("no port is free on 127.0.0.1")


class Visitors:
    """The browsers that may come in. ``now`` returns seconds of a clock that never jumps."""

    def __init__(self, port: int, kept: KeptDoor | None = None, now: Callable[[], float] = time.monotonic) -> None:
        self.host = f"127.0.0.1:{port}"
        self._cookie = (kept.cookie if kept else "") or secrets.token_urlsafe(32)
        self.token = (kept.token if kept else "") or secrets.token_urlsafe(32)
        self._name = f"companion-{port}"
        self._keys: dict[str, float] = {}
        self._now = now
        self.door = KeptDoor(port, self._cookie, self.token, os.getpid())

    def new_key(self) -> str:
        """Return a key that opens the page once, within a minute."""
        key = secrets.token_urlsafe(24)
        self._keys[key] = self._now() + KEY_S
        return key

    def use_up(self, key: str) -> bool:
        """Return whether this key still opens the page; from now on it does not."""
        for known in tuple(self._keys):
            if hmac.compare_digest(known.encode(), key.encode(errors="replace")):
                return self._now() <= self._keys.pop(known)
        return False

    def knows_cookie(self, header: str) -> bool:
        """Return whether a Cookie header holds ours: another port's page may have put any others beside it."""
        wanted = f"{self._name}={self._cookie}".encode()
        parts = (part.strip().encode(errors="replace") for part in header.split(";"))
        return any(hmac.compare_digest(part, wanted) for part in parts)

    @property
    def set_cookie(self) -> str:
        """The Set-Cookie header for a browser that has used a key."""
        return f"{self._name}={self._cookie}; Path=/; HttpOnly; SameSite=Strict"
