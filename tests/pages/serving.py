"""The real program serving its pages, in a separate process with its own data folder."""

import os
import re
import signal
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

import psutil

from companion.pages.visitor import KeptDoor, kept_path, read_kept
from companion.pages.web_server import asked_for_key

ROOT = Path(__file__).resolve().parents[2]
ADDRESS = re.compile(r"http://127\.0\.0\.1:(\d+)/\?key=\S+")


class Serving:
    """``companion prepare`` as the player starts it; ``home`` holds all that it keeps."""

    def __init__(self, home: Path, *words: str, env: Mapping[str, str] | None = None) -> None:
        self.home = home
        folders = {name: str(home / "data") for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME")}
        self._process = subprocess.Popen(
            (sys.executable, "-m", "companion.cli", "prepare", "--no-browser", *words),
            cwd=home,
            env={**os.environ, **(env or {}), **folders, "HOME": str(home), "PYTHONPATH": str(ROOT), "PYTHONUTF8": "1"},
            stdin=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            stdout=subprocess.DEVNULL,
            text=True,
        )
        self.told = ""
        assert self._process.stderr is not None
        for line in self._process.stderr:
            self.told += line
            if "Ctrl-C" in line:
                break
        found = ADDRESS.search(self.told)
        self.address = found[0] if found else ""
        self.port = int(found[1]) if found else 0

    @property
    def process(self) -> int:
        """Its process's number."""
        return self._process.pid

    @property
    def is_running(self) -> bool:
        """Whether it has not ended yet."""
        return self._process.poll() is None

    @property
    def lines(self) -> int:
        """How many connections are open to it."""
        return sum(one.status == psutil.CONN_ESTABLISHED for one in psutil.Process(self.process).net_connections())

    def door(self, show: Path | None) -> KeptDoor | None:
        """What it keeps of its door."""
        return read_kept(kept_path(self.home / "data" / "companion", show))

    def new_address(self, show: Path) -> str:
        """Ask for another address that opens the page once, as a second copy does."""
        door = self.door(show)
        return f"http://127.0.0.1:{self.port}/?key={asked_for_key(door)}" if door else ""

    def kill(self) -> None:
        """End it as a power cut would."""
        self._process.kill()
        self._process.wait()
        if self._process.stderr is not None:
            self._process.stderr.close()

    def end(self) -> int:
        """End it as ctrl-c does; return its exit code."""
        if self._process.poll() is None:
            self._process.send_signal(signal.SIGINT)
        try:
            self.told += self._process.communicate(timeout=20)[1]
        except (subprocess.TimeoutExpired, ValueError):
            self.kill()
        return self._process.returncode
