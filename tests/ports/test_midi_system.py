"""Which MIDI system is used, and that none is a dry run and no crash."""

import subprocess
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest

from companion.ports import Priority, ask_for_real_time, open_system
from companion.ports.midi_system import choose_system, no_permission

LINUX, MAC, WINDOWS = ("alsa", "jack"), ("core", "jack", "dummy"), ("winmm",)


@pytest.mark.parametrize(
    ("chosen", "compiled", "alsa", "system"),
    [
        ("", LINUX, True, "alsa"),
        ("", LINUX, False, "jack"),
        ("jack", LINUX, True, "jack"),
        ("alsa", LINUX, False, "alsa"),  # asked for is asked for
        ("", MAC, False, "core"),
        ("", WINDOWS, False, "winmm"),
        ("jakc", WINDOWS, False, "winmm"),  # a word that nobody knows counts as none
        ("alsa", WINDOWS, False, "winmm"),
        ("", ("dummy",), False, None),
        ("", (), False, None),
        ("", ("alsa",), False, None),
    ],
)
def test_the_platforms_own_system_is_used_unless_another_is_chosen(
    chosen: str, compiled: tuple[str, ...], system: str | None, *, alsa: bool
) -> None:
    assert choose_system(chosen, compiled, alsa_is_there=alsa) == system


def test_without_permission_for_the_sequencer_the_group_that_has_it_is_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    device = tmp_path / "seq"
    assert no_permission(str(device)) == "", "there is none"
    device.touch()
    assert no_permission(str(device)) == ""
    monkeypatch.setattr("os.access", lambda *_: False)
    monkeypatch.setattr("grp.getgrgid", lambda _: SimpleNamespace(gr_name="audio"))
    assert "open to the group audio" in no_permission(str(device))
    assert "usermod -aG audio" in no_permission(str(device))


def test_no_system_can_be_chosen(monkeypatch: pytest.MonkeyPatch) -> None:
    assert open_system("none") is None
    monkeypatch.setenv("COMPANION_MIDI_API", " None ")
    assert open_system() is None


def test_without_rtmidi_there_is_no_system(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "rtmidi", None)
    assert open_system() is None


def test_importing_the_room_loads_neither_rtmidi_nor_ctypes() -> None:
    look = "import sys, companion.ports; print({'rtmidi', 'ctypes', 'platformdirs'} & set(sys.modules))"
    done = subprocess.run((sys.executable, "-c", look), capture_output=True, text=True, check=True)
    assert done.stdout == "set()\n"


def test_the_show_continues_if_the_system_refuses_real_time(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise PermissionError

    monkeypatch.setattr("os.sched_setscheduler", refuse, raising=False)
    assert ask_for_real_time() is Priority.AS_EVERYONE
    monkeypatch.delattr("os.sched_setscheduler")
    assert ask_for_real_time() is Priority.AS_EVERYONE
