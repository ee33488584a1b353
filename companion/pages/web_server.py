"""Open the door on this computer alone, and the player's browser on it; serve until the end, and close cleanly.

The browser starts while the rest of the program is still loading: until then, its requests wait at the open socket.
"""

import os
import sys
import threading
import webbrowser
from collections.abc import Callable
from contextlib import closing, suppress
from pathlib import Path
from socket import socket
from typing import Final, TextIO

from companion.errors import CompanionError
from companion.files.folders import data_path
from companion.pages.visitor import KeptDoor, Visitors, closed_folder, keep, kept_path, opened_socket, read_kept
from companion.pages.workplace import OpenElsewhere, Workplace, is_open_elsewhere, known_shows, shows_folder
from companion.ports import AnotherCopy, SingleCopyLock
from companion.stopping import handle_signals

ASKS_S: Final = 5


def prepare(show: Path | None, *, browser: bool = True, out: TextIO = sys.stderr) -> None:
    """Serve the pages until ctrl-c. Raises CompanionError if they are open already, or no port is free."""
    folder = data_path()
    try:
        closed_folder(folder)
    except OSError as error:
        raise CompanionError(f"{folder} cannot be written: {error.strerror or error}") from error
    first = show or _last_show(folder)
    kept_at = kept_path(folder, first)
    try:
        held = SingleCopyLock(kept_at.with_suffix(".door"))
    except AnotherCopy as another:
        raise OpenElsewhere(_shown_again(read_kept(kept_at), browser=browser)) from another
    with held:
        kept = read_kept(kept_at)
        try:
            listening, is_same = opened_socket(kept)
        except OSError as error:
            raise CompanionError(f"cannot open a port on this computer: {error.strerror or error}") from error
        visitors = Visitors(listening.getsockname()[1], kept if is_same else None)
        workplace = Workplace(folder, shows_folder(), visitors.host, visitors.door)
        with listening:
            if first is not None:
                try:
                    workplace.open(first)
                except OpenElsewhere as another:  # a page of another copy has gone to this show
                    raise OpenElsewhere(_shown_again(read_kept(kept_at), browser=browser)) from another
            keep(kept_at, visitors.door)
            _serve(workplace, visitors, listening, out, browser=browser)
        workplace.close()


def _last_show(folder: Path) -> Path | None:
    """Return the show prepared last, whose address is used again; None if there is none, or it is open elsewhere."""
    last = next(iter(known_shows(folder)), None)
    if last is None or is_open_elsewhere(folder, last):
        return None  # the other shows are offered
    try:
        with SingleCopyLock(kept_path(folder, last).with_suffix(".door")):
            return last
    except AnotherCopy:
        return None


def _serve(workplace: Workplace, visitors: Visitors, listening: socket, out: TextIO, *, browser: bool) -> None:
    address = f"http://{visitors.host}/?key={visitors.new_key()}"
    stopping = handle_signals()
    if browser:
        threading.Thread(target=_show, args=(address, out), daemon=True).start()
    else:
        out.write(f"Open this address within a minute: {address}\n")
    out.write("Preparing in the browser. Ctrl-C ends it.\n")
    out.flush()
    from companion.pages.quiet_server import served
    from companion.pages.routes import application

    with suppress(KeyboardInterrupt):  # a second ctrl-c
        served(application(workplace, visitors, stopping), listening, stopping)
    out.write("Stopped.\n")


def _show(address: str, out: TextIO) -> None:
    """Open the player's browser, or say the address if there is none."""
    if not _opened(address):
        out.write(f"No browser found. Open this address within a minute: {address}\n")
        out.flush()


def _opened(address: str, opens: Callable[[str], bool] = webbrowser.open) -> bool:
    if sys.platform == "linux" and not any(os.environ.get(one) for one in ("DISPLAY", "WAYLAND_DISPLAY", "BROWSER")):
        return False  # a browser for terminals would take this one over
    try:
        return opens(address)
    except webbrowser.Error:
        return False


def _shown_again(door: KeptDoor | None, *, browser: bool) -> str:
    """Open the page of the copy that is running already, if it answers; return where it is."""
    if door is None:
        return "companion prepare is running already"
    where = f"http://127.0.0.1:{door.port}/"
    key = asked_for_key(door)
    if key and browser and _opened(f"{where}?key={key}"):
        return f"companion prepare is running already: your browser shows it, at {where}"
    fresh = f"; open it with {where}?key={key} within a minute" if key else ""
    return f"companion prepare is running already, at {where}{fresh}"


def asked_for_key(door: KeptDoor) -> str:
    """Ask the copy that is running for a new key; "" if it does not answer."""
    import http.client

    from companion.pages.gate import JSON, TOKEN_HEADER

    host = f"127.0.0.1:{door.port}"
    headers = {
        "Host": host,
        "Origin": f"http://{host}",
        "Content-Type": JSON,
        "Cookie": f"companion-{door.port}={door.cookie}",
        TOKEN_HEADER: door.token,
    }
    try:
        with closing(http.client.HTTPConnection("127.0.0.1", door.port, timeout=ASKS_S)) as line:
            line.request("POST", "/key", b"{}", headers)
            answer = line.getresponse()
            return answer.read(200).decode("ascii") if answer.status == 200 else ""
    except (OSError, http.client.HTTPException, ValueError):
        return ""
