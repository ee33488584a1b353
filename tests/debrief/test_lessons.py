"""A lesson is offered until the show follows it."""

from pathlib import Path

import pytest
from debrief.test_debrief import NIGHT, SHOW, live

from companion.cli import main
from companion.debrief import night_report as debrief_room
from companion.night import memory as memory_room
from companion.show import read_show


@pytest.fixture
def show(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a show file, with its own home folder."""
    monkeypatch.setattr(memory_room, "data_path", lambda: tmp_path)
    monkeypatch.setattr(debrief_room, "data_path", lambda: tmp_path)
    (tmp_path / "boathouse.yaml").write_text(SHOW, encoding="utf-8")
    return tmp_path / "boathouse.yaml"


def test_a_lesson_that_was_taken_is_not_offered_again(show: Path, capsys: pytest.CaptureFixture[str]) -> None:
    live(show, *NIGHT)
    assert main(["debrief", str(show)]) == 0
    assert "1. Lanterns out takes 1:36, not 2:00" in capsys.readouterr().out
    assert main(["debrief", str(show), "--take", "1"]) == 0
    capsys.readouterr()
    assert main(["debrief", str(show)]) == 0
    said = capsys.readouterr().out
    assert "Lanterns out takes" not in said
    assert "2. Lanterns out, Solo is open" in said
    assert "1. Lanterns out, 1:36 (planned 2:00)" in said, "what was played stays in the report"
    assert main(["debrief", str(show), "--take", "2"]) == 0, "the numbers are those of this report"
    assert read_show(show).show.sets[0].songs[0].road_map[1].open
