"""A command never overwrites the player's own file: it keeps it beside the new one and says so."""

import os
from pathlib import Path

import pytest

from companion.cli import main
from companion.errors import CompanionError
from companion.files.outputs import kept_aside, write_output

SHOW = "show: gig\nsongs:\n  - title: Moth\n    recording: moth.ogg\n"


@pytest.fixture(autouse=True)
def nothing_told_yet() -> None:
    kept_aside()


def test_a_file_of_the_players_is_kept_beside_the_new_one(tmp_path: Path) -> None:
    page = tmp_path / "notes.md"
    page.write_text("mine")
    write_output(page, "ours")
    assert page.read_text() == "ours"
    assert (tmp_path / "notes.before-1.md").read_text() == "mine"
    assert [str(one) for one in kept_aside()] == [
        f"{page} held something else, now kept as {tmp_path / 'notes.before-1.md'}"
    ]
    assert kept_aside() == ()


def test_an_earlier_output_is_replaced_unless_the_player_changed_it(tmp_path: Path) -> None:
    page = tmp_path / "notes.md"
    for text in ("one", "two", "two"):
        write_output(page, text)
    assert list(tmp_path.iterdir()) == [page]
    page.write_text("two, and a note of mine")
    (tmp_path / "notes.before-1.md").write_text("older")
    write_output(page, "three")
    assert (tmp_path / "notes.before-2.md").read_text() == "two, and a note of mine"
    assert (tmp_path / "notes.before-1.md").read_text() == "older"


def test_a_write_that_fails_leaves_no_copy(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    page = tmp_path / "notes.md"
    page.write_text("mine")

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(CompanionError):
        write_output(page, "ours")
    assert (page.read_text(), list(tmp_path.iterdir())) == ("mine", [page])
    assert kept_aside() == ()


@pytest.mark.parametrize(
    ("words", "file"),
    [
        (("print", "gig.yaml", "--out", "mine.pdf"), "mine.pdf"),
        (("playlist", "gig.yaml"), "gig.m3u8"),
        (("plan", "gig.yaml", "--date", "2027-06-19", "--ics", "mine.ics"), "mine.ics"),
        (("plan", "gig.yaml", "--export", "mine.csv"), "mine.csv"),
    ],
)
def test_every_command_keeps_the_file_that_it_would_overwrite(
    words: tuple[str, ...],
    file: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("gig.yaml").write_text(SHOW)
    Path(file).write_text("an evening's work")
    assert main(list(words)) == 0
    assert "kept as" in capsys.readouterr().err
    (copy,) = tmp_path.glob("*.before-1.*")
    assert copy.read_text() == "an evening's work"
    main(list(words))
    assert "kept as" not in capsys.readouterr().err
