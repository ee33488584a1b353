"""A player at Firefox: the system's own, driven by WebDriver BiDi (W3C), which it speaks without another program.

Playwright drives Firefox by the same protocol, but asks first for ``emulation.setMediaFeaturesOverride``, which
Firefox 153 ESR does not know: it cannot open a tab there.
"""

import itertools
import json
import re
import shutil
import subprocess
import tempfile
import time
from contextlib import ExitStack
from pathlib import Path
from typing import Any, Self

import pytest
from pages.browsing import Tab
from websockets.sync.client import connect

NAMES = ("firefox-esr", "firefox")
LISTENS = re.compile(r"WebDriver BiDi listening on (ws://\S+)")
LONGEST_S = 30
KEYS = {"Enter": "\ue007", "Tab": "\ue004", "Control": "\ue009"}  # WebDriver, 17.4.2: keyboard actions
QUIET = {  # a first run asks and tells nothing
    "app.update.auto": False,
    "browser.aboutwelcome.enabled": False,
    "browser.shell.checkDefaultBrowser": False,
    "datareporting.policy.dataSubmissionEnabled": False,
    "network.captive-portal-service.enabled": False,
    "network.connectivity-service.enabled": False,
    "toolkit.telemetry.reportingpolicy.firstRun": False,
}


class Firefox:
    """One headless Firefox with one tab, in a profile of its own. ``wrong`` holds what its console reports."""

    def __init__(self) -> None:
        path = next((found for name in NAMES if (found := shutil.which(name))), None)
        if path is None:
            pytest.skip("no Firefox is installed")
        self._open = ExitStack()
        with self._open:  # closed at once if Firefox cannot be driven
            self._start(path)
            self._open = self._open.pop_all()

    def _start(self, path: str) -> None:
        home = tempfile.TemporaryDirectory(prefix="companion-firefox-", ignore_cleanup_errors=True)
        folder = Path(self._open.enter_context(home))
        prefs = "".join(f"user_pref({json.dumps(name)}, {json.dumps(value)});\n" for name, value in QUIET.items())
        (folder / "user.js").write_text(prefs)
        self._process = subprocess.Popen(
            (path, "--headless", "--no-remote", "--profile", str(folder), "--remote-debugging-port", "0"),
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            text=True,
        )
        self._open.callback(self._end)
        self.wrong: list[str] = []
        self._numbers = itertools.count(1)
        line = connect(f"{self._address()}/session", open_timeout=LONGEST_S, max_size=None, proxy=None)
        self._line = self._open.enter_context(line)
        self.send("session.new", capabilities={})
        self.send("session.subscribe", events=["log.entryAdded"])
        self.tab: str = self.send("browsingContext.create", type="tab")["context"]

    def _address(self) -> str:
        assert self._process.stderr is not None
        for line in self._process.stderr:
            if found := LISTENS.search(line):
                return found[1]
        raise AssertionError("Firefox ended before it could be driven")

    def send(self, method: str, **params: object) -> Any:  # noqa: ANN401  what the command answers
        """Send a command and return its result; events that come first are noted."""
        number = next(self._numbers)
        self._line.send(json.dumps({"id": number, "method": method, "params": params}))
        while True:
            said = json.loads(self._line.recv(timeout=LONGEST_S))
            if said.get("method") == "log.entryAdded" and Tab.is_wrong(said["params"]["level"], said["params"]["text"]):
                self.wrong.append(str(said["params"]["text"]))
            if said.get("id") == number:
                assert said["type"] == "success", said
                return said["result"]

    def go_to(self, address: str) -> None:
        """Open an address in the tab."""
        self.send("browsingContext.navigate", context=self.tab, url=address, wait="complete")

    def ask(self, script: str) -> Any:  # noqa: ANN401  what the script is
        """Return what a piece of JavaScript is in the page: a text, a number, yes or no, or None."""
        result = self.send("script.evaluate", expression=script, target={"context": self.tab}, awaitPromise=True)
        assert result["type"] == "success", result
        return result["result"].get("value")

    def wait_until(self, script: str) -> None:
        """Wait until this is true in the page."""
        until = time.monotonic() + LONGEST_S
        while not self.ask(script):
            assert time.monotonic() < until, f"never true: {script}\n{self.ask('document.body.innerText')}"
            time.sleep(0.05)

    def type(self, *keys: str, held: str = "") -> None:
        """Press keys one after the other: letters of a text, or a key by its name; ``held`` is down meanwhile."""
        pressed = [one for key in keys for one in ([KEYS[key]] if key in KEYS else key)]
        downs = [{"type": kind, "value": one} for one in pressed for kind in ("keyDown", "keyUp")]
        if held:
            downs = [{"type": "keyDown", "value": KEYS[held]}, *downs, {"type": "keyUp", "value": KEYS[held]}]
        self._act({"type": "key", "id": "keys", "actions": downs})

    def click(self, selector: str) -> None:
        """Click on the middle of an element, as a mouse does."""
        there = f"document.querySelector({json.dumps(selector)})"
        self.wait_until(f"{there} !== null")
        self.ask(f"{there}.scrollIntoView({{block: 'center', behavior: 'instant'}})")
        box = json.loads(self.ask(f"JSON.stringify({there}.getBoundingClientRect())"))
        at = {"x": round(box["x"] + box["width"] / 2), "y": round(box["y"] + box["height"] / 2)}
        actions = [
            {"type": "pointerMove", **at},
            {"type": "pointerDown", "button": 0},
            {"type": "pointerUp", "button": 0},
        ]
        self._act({"type": "pointer", "id": "mouse", "actions": actions})

    def _act(self, source: dict[str, object]) -> None:
        self.send("input.performActions", context=self.tab, actions=[source])

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self._open.close()

    def _end(self) -> None:
        self._process.terminate()
        try:
            self._process.wait(10)
        except subprocess.TimeoutExpired:
            self._process.kill()
            self._process.wait()
        if self._process.stderr is not None:
            self._process.stderr.close()
