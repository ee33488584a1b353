"""Every edit can be undone: undoing all of them restores the same bytes, even after a restart."""

import os
import stat
from contextlib import suppress
from pathlib import Path
from random import Random

import pytest
from edits.hand_styles import a_show
from edits.meaning import an_edit, read, sets_of
from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.cli import main
from companion.edits import ChangedOnDisk, SetValue, SongNamed, open_text, save, take_back, undo_list, undo_of
from companion.edits.undo_list import list_path, read_undo_list
from companion.errors import CompanionError

SHOW = "show: x   # c\nsongs:\n  - title: Moth\n    key: C\n    tempo: 96\n  - Weeds"
MOTH, WEEDS = SongNamed("Moth"), SongNamed("Weeds")


@pytest.fixture
def show(tmp_path: Path) -> Path:
    (tmp_path / "pier.yaml").write_text(SHOW)
    return tmp_path / "pier.yaml"


def edit(show: Path, *edits: SetValue) -> None:
    save(open_text(show, show.parent / "state"), edits, "test", folder=show.parent / "state")


def undo(show: Path) -> bool:
    found = undo_of(show, show.parent / "state")
    if found is not None:
        take_back(found, show.parent / "state")
    return found is not None


def drawn(folder: Path, seed: int, many: int) -> None:
    dice = Random(seed)  # noqa: S311  no secret
    file, state = folder / f"{seed}.yaml", folder / "state"
    file.write_bytes(b"\xef\xbb\xbf" * (seed % 2) + a_show(dice).encode())
    before = [file.read_bytes()]
    for _ in range(many):
        now = open_text(file, state)
        if not any(sets_of(read(now.text or ""))):
            break  # its last song was taken out
        with suppress(CompanionError):  # that the file is written so that it cannot be had is no edit
            save(now, [an_edit(dice, now.text or "").edit], "drawn", folder=state)
        if file.read_bytes() != before[-1]:
            before.append(file.read_bytes())
    for bytes_before in reversed(before[:-1]):
        found = undo_of(file, state)
        assert found is not None
        take_back(found, state)
        assert file.read_bytes() == bytes_before, seed
    assert undo_of(file, state) is None


@settings(max_examples=examples(15))
@given(st.integers(0, 2**32))
def test_all_edits_taken_back_give_the_same_bytes(tmp_path_factory: pytest.TempPathFactory, seed: int) -> None:
    drawn(tmp_path_factory.mktemp("undo"), seed, 6)


@pytest.mark.long
def test_all_edits_of_five_hundred_shows_taken_back_give_the_same_bytes(tmp_path: Path) -> None:
    for seed in range(500):
        drawn(tmp_path, seed, 12)


def test_a_change_by_hand_since_stays_when_an_edit_is_taken_back(show: Path) -> None:
    edit(show, SetValue((MOTH, "key"), "D"))
    show.write_text(show.read_text().replace("- Weeds", "- Weeds   # loud"))
    assert undo(show)
    assert show.read_text() == SHOW.replace("- Weeds", "- Weeds   # loud")
    assert not undo(show)


def test_edits_before_and_after_a_change_by_hand_are_taken_back_one_by_one(show: Path) -> None:
    edit(show, SetValue((MOTH, "key"), "D"))
    show.write_text(show.read_text().replace("show: x", "show: y"))
    edit(show, SetValue((WEEDS, "key"), "F"))
    assert undo(show)
    assert undo(show)
    assert show.read_text() == SHOW.replace("show: x", "show: y")


def test_lines_that_a_hand_changed_since_are_not_taken_back(show: Path) -> None:
    edit(show, SetValue((MOTH, "key"), "D"))
    now = show.read_text().replace("key: D", "key: D   # sure")
    show.write_text(now)
    with pytest.raises(CompanionError, match="edited since"):
        undo(show)
    assert show.read_text() == now


def test_a_save_while_the_question_waits_is_not_lost(show: Path) -> None:
    edit(show, SetValue((MOTH, "key"), "D"))
    found = undo_of(show, show.parent / "state")
    assert found is not None
    show.write_text("show: theirs\n")
    with pytest.raises(ChangedOnDisk):
        take_back(found, show.parent / "state")
    assert show.read_text() == "show: theirs\n"


@pytest.mark.skipif(os.name == "nt", reason="permissions are others there")
def test_the_undo_list_is_private(show: Path) -> None:
    edit(show, SetValue((MOTH, "key"), "D"))
    kept = list_path(show, show.parent / "state")
    assert stat.S_IMODE(kept.stat().st_mode) == 0o600
    assert stat.S_IMODE(kept.parent.stat().st_mode) == 0o700
    edit(show, SetValue((MOTH, "key"), "E"))
    assert stat.S_IMODE(kept.stat().st_mode) == 0o600


@pytest.mark.parametrize("cut", [1, 3, 30])
def test_an_undo_list_that_was_cut_off_forgets_its_end_and_goes_on(show: Path, cut: int) -> None:
    edit(show, SetValue((MOTH, "key"), "D"))
    edit(show, SetValue((MOTH, "key"), "E"))
    kept = list_path(show, show.parent / "state")
    kept.write_bytes(kept.read_bytes()[:-cut])
    edit(show, SetValue((WEEDS, "key"), "F"))
    assert undo(show)
    assert show.read_text() == SHOW.replace("key: C", "key: E")


@pytest.mark.parametrize("damage", [b"", b"[]\n", b"\xff\xfe", b"{}\n{}\n"])
def test_a_damaged_undo_list_counts_as_empty(show: Path, damage: bytes) -> None:
    kept = list_path(show, show.parent / "state")
    kept.parent.mkdir(parents=True)
    kept.write_bytes(damage)
    assert not undo(show)
    edit(show, SetValue((MOTH, "key"), "D"))
    assert undo(show)
    assert show.read_text() == SHOW


def test_a_long_list_forgets_its_older_half(show: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(undo_list, "MAX_STEPS", 12)
    for number in range(16):
        edit(show, SetValue((MOTH, "tempo"), 60 + number))
        if number % 4 == 3:
            undo(show)
    known = read_undo_list(show, show.parent / "state")
    assert 6 < len(known.steps) <= 13
    assert known.texts[-1] == show.read_text()
    before = show.read_text()
    edit(show, SetValue((MOTH, "tempo"), 199))
    assert undo(show)
    assert show.read_text() == before


def test_the_command_shows_what_it_takes_back(show: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (show.parent / "answers.txt").write_text("Weeds: Eb\n")
    assert main(["questions", str(show), "--answers", str(show.parent / "answers.txt"), "--yes"]) == 0
    assert "key: Eb" in show.read_text()
    assert main(["undo", str(show), "--yes"]) == 0
    assert show.read_text() == SHOW
    out = capsys.readouterr().out
    assert "-    key: Eb" in out
    assert main(["undo", str(show)]) == 0
    assert f"Nothing to undo in {show}" in capsys.readouterr().out
