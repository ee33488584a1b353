"""All commands on one show, as a player types them: what each of them says, and never a traceback."""

import os
import sys
from pathlib import Path

import pytest

from companion.cli import main

SHOW = """\
show: Pier Street
date: 2027-06-19
songs:
  - title: Moth
    key: C
    tempo: 112
    chart: moth.pdf
    recording: moth.ogg
    road_map: Intro 4*, Verse 8
  - {title: Owl, key: D, sound: strings, length: "3:00", notes: organ solo}
"""
COMMANDS: dict[str, tuple[str, ...]] = {
    "check": ("check", "{show}"),
    "check as JSON": ("check", "{show}", "--json"),
    "plan": ("plan", "{show}"),
    "plan as JSON": ("plan", "{show}", "--json"),
    "why": ("plan", "{show}", "--why", "Moth"),
    "ready": ("plan", "{show}", "--ready"),
    "known": ("plan", "{show}", "--known"),
    "calendar": ("plan", "{show}", "--ics", "{folder}/plan.ics"),
    "plan on paper": ("plan", "{show}", "--pdf", "{folder}/plan.pdf"),
    "export": ("plan", "{show}", "--export", "{folder}/done.csv"),
    "export as JSON": ("plan", "{show}", "--export", "{folder}/done.json"),
    "practised": ("plan", "{show}", "--practised", "Moth"),
    "questions": ("questions", "{show}"),
    "questions as JSON": ("questions", "{show}", "--json"),
    "playlist": ("playlist", "{show}"),
    "playlist as JSON": ("playlist", "{show}", "--json"),
    "heard": ("listen", "{show}", "--heard", "Moth"),
    "quiz": ("quiz", "{show}", "--list"),
    "quiz as JSON": ("quiz", "{show}", "--list", "--json"),
    "print": ("print", "{show}", "--sheet", "setlist", "--sheet", "floor", "--sheet", "crib", "--sheet", "charts"),
    "print as JSON": ("print", "{show}", "--json"),
    "debrief": ("debrief", "{show}"),
    "debrief as JSON": ("debrief", "{show}", "--json"),
}


def run(name: str, show: Path, capfd: pytest.CaptureFixture[str]) -> tuple[int, str]:
    """Run one command and return its code and all that it said; any exception but the program's own comes through."""
    words = [word.replace("{show}", str(show)).replace("{folder}", str(show.parent)) for word in COMMANDS[name]]
    os.environ.setdefault("SDL_VIDEODRIVER", "dummy")
    code = main(words)
    sys.stdout.flush()
    return code, "".join(capfd.readouterr())


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a separate home for what the program keeps."""
    there = tmp_path / "home"
    there.mkdir()
    for name in ("HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "LOCALAPPDATA", "APPDATA"):
        monkeypatch.setenv(name, str(there))
    return there
