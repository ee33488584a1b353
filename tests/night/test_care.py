"""What a night asks the system for: to stay awake, waits that end on time, a farewell when the console closes."""

import ctypes
import subprocess
import sys
import threading
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace

import pytest

from companion.night.awake import awake
from companion.night.console import console_close_handled
from companion.ports.fine_timer import fine_timer


class Windows:
    """The calls into Windows' libraries, in order."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.calls: list[tuple[object, ...]] = []
        self.handler: Callable[[int], bool] | None = None
        names = ("SetThreadExecutionState", "timeBeginPeriod", "timeEndPeriod")
        library = SimpleNamespace(**{name: self.noted(name) for name in names}, SetConsoleCtrlHandler=self.handles)
        windll = SimpleNamespace(kernel32=library, winmm=library)
        monkeypatch.setattr(ctypes, "windll", windll, raising=False)
        monkeypatch.setattr(ctypes, "WINFUNCTYPE", lambda *_: lambda function: function, raising=False)

    def noted(self, name: str) -> Callable[..., int]:
        def call(*words: object) -> int:
            self.calls.append((name, *words))
            return 1

        return call

    def handles(self, handler: Callable[[int], bool], add: int) -> None:
        self.handler = handler if add else None


@pytest.fixture
def windows(monkeypatch: pytest.MonkeyPatch) -> Windows:
    return Windows(monkeypatch)


def test_windows_is_kept_awake_and_released_afterwards(windows: Windows) -> None:
    with awake("win32"):
        assert windows.calls == [("SetThreadExecutionState", 0x80000003)]  # continuous, system, display (winbase.h)
    assert windows.calls[-1] == ("SetThreadExecutionState", 0x80000000)


def test_the_windows_timer_ticks_every_millisecond_during_the_night(windows: Windows) -> None:
    with fine_timer("win32"):
        assert windows.calls == [("timeBeginPeriod", 1)]
    assert windows.calls[-1] == ("timeEndPeriod", 1)


def test_a_console_that_is_closed_waits_until_the_night_has_ended(windows: Windows) -> None:
    told: list[str] = []
    with console_close_handled(told.append, "win32"):
        handler = windows.handler
        assert handler is not None
        assert not handler(0), "ctrl-c is a signal's"
        closing = threading.Thread(target=handler, args=(2,))  # CTRL_CLOSE_EVENT, in a thread of Windows' own
        closing.start()
        while not told:
            pass
        assert closing.is_alive(), "the process would end with it"
    closing.join(10)
    assert not closing.is_alive()
    assert told == ["the console was closed"]
    assert windows.handler is None


@pytest.mark.parametrize(
    ("system", "command", "words"),
    [
        ("linux", "systemd-inhibit", "--what=idle:sleep --who=companion --why=a show is played cat"),
        ("darwin", "caffeinate", "-di -w"),
    ],
)
def test_a_helper_process_keeps_the_computer_awake_during_the_night(
    system: str, command: str, words: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    helper, seen = tmp_path / command, tmp_path / "seen"
    program = f'import sys\nopen({str(seen)!r}, "w").write(" ".join(sys.argv[1:]))\nsys.stdin.read()\n'
    helper.write_text(f"#!{sys.executable}\n{program}", encoding="utf-8")
    helper.chmod(0o755)
    monkeypatch.setenv("PATH", str(tmp_path))
    begun: list[subprocess.Popen[bytes]] = []

    class Noted(subprocess.Popen[bytes]):
        def __init__(self, *words: object, **more: object) -> None:
            super().__init__(*words, **more)  # type: ignore[call-overload]  # as they come
            begun.append(self)

    monkeypatch.setattr("subprocess.Popen", Noted)
    with awake(system):
        (one,) = begun
        while not (seen.exists() and seen.read_text()):
            assert one.poll() is None
        assert seen.read_text().startswith(words)
    assert one.returncode is not None


def test_the_night_is_played_even_if_nothing_can_keep_the_computer_awake(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", "")
    for system in ("linux", "darwin", "sunos"):
        with awake(system), fine_timer(system), console_close_handled(print, system):
            pass
