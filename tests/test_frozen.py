"""A program without Python: what a double click means, and how it starts its own children."""

import sys
from pathlib import Path

import pytest

from companion.child import python
from companion.frozen import main, words_of


def test_a_double_click_plays_the_demo_and_a_show_dropped_on_the_program_is_played(tmp_path: Path) -> None:
    show = tmp_path / "Hafenfest.YAML"
    show.touch()
    assert words_of([]) == ("demo",)
    assert words_of([str(show)]) == ("play", str(show))
    assert words_of(["check", str(show)]) == ("check", str(show))
    assert words_of(["not-there.yaml"]) == ("not-there.yaml",)


def test_the_program_serves_as_its_own_python(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.frozen", True, raising=False)
    monkeypatch.setattr("sys.executable", "/opt/companion/companion")
    command = ["/opt/companion/companion", "--own-module", "companion.screen", "--full"]
    assert python("companion.screen", "--full") == command


def test_the_program_runs_only_its_own_modules(monkeypatch: pytest.MonkeyPatch) -> None:
    ran: list[tuple[str, list[str]]] = []
    monkeypatch.setattr("runpy.run_module", lambda name, **_: ran.append((name, sys.argv)))
    monkeypatch.setattr("companion.frozen.main", lambda _: 2)
    for module, code in (("companion.screen", 0), ("os", 2), ("companion", 2), ("../companion.screen", 2)):
        monkeypatch.setattr("sys.argv", ["companion", "--own-module", module, "--full"])
        assert main() == code
    assert ran == [("companion.screen", ["companion.screen", "--full"])]
