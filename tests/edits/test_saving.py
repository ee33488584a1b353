"""Edits written into files: another hand's change stays, the same value is asked, several files are one step."""

import os
import stat
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.edits import (
    AddSong,
    ChangedOnDisk,
    Clashes,
    EditClash,
    FileText,
    NewText,
    Remove,
    SetValue,
    SongNamed,
    commit,
    no_file,
    open_text,
    save,
    take_back,
    undo_of,
)
from companion.edits.merging import hunks, merged, patched
from companion.errors import CompanionError
from companion.files import SourceFile
from companion.show.show_file import show_in

SHOW = """\
show: Pier Street   # the poster's
songs:
  - title: Gasworks Corner
    key: Bb   # hers
    tempo: 96
  - Moth
  # last
  - title: Weeds
    key: C
"""
GASWORKS, MOTH, WEEDS = SongNamed("Gasworks Corner"), SongNamed("Moth"), SongNamed("Weeds")


@pytest.fixture
def show(tmp_path: Path) -> FileText:
    (tmp_path / "pier.yaml").write_text(SHOW)
    return open_text(tmp_path / "pier.yaml", tmp_path / "state")


def saved(show: FileText, *edits: SetValue | Remove | AddSong, **more: object) -> str:
    save(show, edits, "test", folder=show.path.parent / "state", **more)  # type: ignore[arg-type]
    return show.path.read_text()


def by_hand(show: FileText, before: str, after: str) -> str:
    """Another program saves meanwhile."""
    text = show.path.read_text()
    assert before in text
    show.path.write_text(text.replace(before, after))
    return show.path.read_text()


def test_a_change_saved_by_another_editor_survives_the_edit(show: FileText) -> None:
    by_hand(show, "tempo: 96", "tempo: 97   # felt")
    assert saved(show, SetValue((GASWORKS, "key"), "A")) == SHOW.replace("Bb   #", "A    #").replace(
        "tempo: 96", "tempo: 97   # felt"
    )


def test_an_editor_that_saves_while_the_new_text_goes_to_the_disk_loses_nothing(
    show: FileText, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A sync takes 50 ms, and seconds on a slow stick: the file is compared again right before it is replaced."""
    sync, saves = os.fsync, ["tempo: 97"]

    def slow(handle: int) -> None:
        sync(handle)
        if saves:
            by_hand(show, "tempo: 96", saves.pop())

    monkeypatch.setattr(os, "fsync", slow)
    assert saved(show, SetValue((WEEDS, "key"), "D")) == SHOW.replace("96", "97").replace("key: C", "key: D")
    assert sorted(path.name for path in show.path.parent.iterdir()) == ["pier.yaml", "state"]


def test_an_editor_that_saves_while_a_change_is_undone_loses_nothing(
    show: FileText, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder, sync = show.path.parent / "state", os.fsync
    saved(show, SetValue((WEEDS, "key"), "D"))
    undo = undo_of(show.path, folder)
    assert undo is not None

    def slow(handle: int) -> None:
        sync(handle)
        monkeypatch.setattr(os, "fsync", sync)
        by_hand(show, "tempo: 96", "tempo: 97")

    monkeypatch.setattr(os, "fsync", slow)
    with pytest.raises(ChangedOnDisk, match="nothing was written"):
        take_back(undo, folder)
    assert show.path.read_text() == SHOW.replace("96", "97").replace("key: C", "key: D")


def test_a_value_changed_by_both_is_refused_if_nobody_can_answer(show: FileText) -> None:
    now = by_hand(show, "key: Bb", "key: Eb")
    with pytest.raises(Clashes, match=r"pier.yaml was changed meanwhile: Gasworks Corner, key was Bb, is now Eb"):
        saved(show, SetValue((GASWORKS, "key"), "A"), SetValue((WEEDS, "key"), "D"))
    assert show.path.read_text() == now


@pytest.mark.parametrize(("answer", "key"), [(True, "A"), (False, "Eb")])
def test_the_same_value_changed_by_both_is_asked_and_the_rest_is_written(
    show: FileText, *, answer: bool, key: str
) -> None:
    by_hand(show, "key: Bb", "key: Eb")
    asked: list[EditClash] = []

    def ask(clash: EditClash) -> bool:
        asked.append(clash)
        return answer

    text = saved(show, SetValue((GASWORKS, "key"), "A"), SetValue((WEEDS, "key"), "D"), ask=ask)
    assert [(clash.before, clash.now, clash.wanted) for clash in asked] == [("Bb", "Eb", "A")]
    songs = show_in(SourceFile("", text)).show.sets[0].songs
    assert (str(songs[0].key), str(songs[2].key)) == (key, "D")


def test_edits_that_depend_on_a_refused_one_are_not_written(show: FileText) -> None:
    by_hand(show, "key: Bb", "key: Eb")
    by_hand(show, "    tempo: 96\n", "")
    key = SetValue((GASWORKS, "key"), "A")
    text = saved(
        show,
        key,
        SetValue((GASWORKS, "chords_in"), "Bb", beside=key.where),
        Remove((GASWORKS, "tempo")),
        SetValue((WEEDS, "key"), "D"),
        ask=lambda _: False,
    )
    assert text == SHOW.replace("key: Bb", "key: Eb").replace("    tempo: 96\n", "").replace("key: C", "key: D")


def test_removing_a_value_that_another_editor_changed_is_asked_about(show: FileText) -> None:
    now = by_hand(show, "tempo: 96", "tempo: 97")
    assert saved(show, Remove((GASWORKS, "tempo")), ask=lambda _: False) == now
    assert "tempo" not in saved(show, Remove((GASWORKS, "tempo")), ask=lambda _: True)


def test_a_value_changed_alike_by_both_needs_no_question(show: FileText) -> None:
    by_hand(show, "key: Bb", "key: A")
    assert "key: A" in saved(show, SetValue((GASWORKS, "key"), "A"), SetValue((MOTH, "key"), "D"))


def test_a_value_removed_by_another_editor_is_asked_about_too(show: FileText) -> None:
    by_hand(show, "    key: C\n", "")
    with pytest.raises(Clashes, match="Weeds, key was C, is now nothing in the file, and would become D"):
        saved(show, SetValue((WEEDS, "key"), "D"))


def test_a_missing_song_is_reported_and_nothing_is_written(show: FileText) -> None:
    now = by_hand(show, "  - Moth\n", "")
    with pytest.raises(CompanionError, match='the song "Moth" is gone'):
        saved(show, SetValue((MOTH, "key"), "D"), SetValue((WEEDS, "key"), "D"))
    assert show.path.read_text() == now


def test_a_text_that_the_check_refuses_is_not_written(show: FileText) -> None:
    with pytest.raises(CompanionError, match="tempo"):
        saved(show, SetValue((MOTH, "tempo"), "fast"), check=lambda text: show_in(SourceFile("pier.yaml", text)))
    assert show.path.read_text() == SHOW


def test_a_byte_order_mark_and_windows_line_ends_stay(tmp_path: Path) -> None:
    file = tmp_path / "a.yaml"
    file.write_bytes(b"\xef\xbb\xbf" + SHOW.replace("\n", "\r\n").encode())
    saved(open_text(file, tmp_path / "state"), SetValue((MOTH, "key"), "D"))
    expected = SHOW.replace("  - Moth\n", "  - title: Moth\n    key: D\n")
    assert file.read_bytes() == b"\xef\xbb\xbf" + expected.replace("\n", "\r\n").encode()


@pytest.mark.skipif(os.name == "nt", reason="links and permissions are others there")
def test_a_show_that_is_a_link_stays_one_and_a_private_show_stays_private(show: FileText) -> None:
    link = show.path.with_name("link.yaml")
    link.symlink_to(show.path)
    show.path.chmod(0o600)
    saved(open_text(link, show.path.parent / "state"), SetValue((MOTH, "key"), "D"))
    assert link.is_symlink()
    assert "key: D" in show.path.read_text()
    assert stat.S_IMODE(show.path.stat().st_mode) == 0o600


@pytest.mark.parametrize("seed", range(4))
def test_forty_turns_of_two_editors_lose_nothing(tmp_path: Path, seed: int) -> None:
    two_editors(tmp_path, Random(seed), turns=40)  # noqa: S311  no secret


@pytest.mark.long
def test_two_editors_a_thousand_times_lose_nothing(tmp_path: Path) -> None:
    for seed in range(1000):
        folder = tmp_path / str(seed)
        folder.mkdir()
        two_editors(folder, Random(seed), turns=16)  # noqa: S311  same


def two_editors(folder: Path, dice: Random, turns: int) -> None:
    """Two editors read, edit and save in any order. The last value that each wrote is there, or a clash was reported.

    The ledger holds what the file must say: only a save that was accepted changes it, and one that would change a
    value which the other changed since the editor read is refused.
    """
    titles = ("Gasworks Corner", "Moth", "Weeds", "Jam Jar")
    file = folder / "pier.yaml"
    file.write_text("show: x   # c\nsongs:\n" + "".join(f"  - {title}   # {title[0]}\n" for title in titles))
    ledger: dict[tuple[str, str], str] = {}
    read_by: list[tuple[FileText, dict[tuple[str, str], str]]] = [(open_text(file, folder / "state"), {}) for _ in "ab"]
    for _ in range(turns):
        who = dice.randrange(2)
        if dice.random() < 0.4:
            read_by[who] = (open_text(file, folder / "state"), dict(ledger))
            continue
        seen, known = read_by[who]
        place = (dice.choice(titles), dice.choice(("tempo", "artist", "notes")))
        value = str(dice.randint(60, 200))
        if value == known.get(place):
            continue  # it changes nothing
        clashes = ledger.get(place) not in (known.get(place), value)
        if clashes:
            before = file.read_text()
            with pytest.raises(Clashes):
                save(seen, [SetValue((SongNamed(place[0]), place[1]), int(value))], "turn", folder=folder / "state")
            assert file.read_text() == before
            continue
        save(seen, [SetValue((SongNamed(place[0]), place[1]), int(value))], "turn", folder=folder / "state")
        ledger[place] = value
        songs = {song.title: song for song in show_in(SourceFile("", file.read_text())).show.sets[0].songs}
        for (title, key), wanted in ledger.items():
            field = {"tempo": "tempo_bpm"}.get(key, key)
            said = getattr(songs[title], field)
            assert (f"{said:g}" if key == "tempo" else said) == wanted, (title, key)
        assert all(file.read_text().count(f"# {title[0]}\n") == 1 for title in titles)


# ------------------------------------------------------------------ several files


def test_a_file_that_another_program_made_meanwhile_is_not_written_over(tmp_path: Path) -> None:
    new = no_file(tmp_path / "new.yaml")
    (tmp_path / "new.yaml").write_text("show: theirs\n")
    with pytest.raises(ChangedOnDisk):
        commit([NewText(new, "show: ours\n")], "test", folder=tmp_path / "state")
    assert (tmp_path / "new.yaml").read_text() == "show: theirs\n"


KILLED_AT = """
import os, signal, sys
from collections.abc import Callable
from pathlib import Path
from companion.edits import Appended, NewText, commit, open_text
from companion.edits import saving
folder, at = Path(sys.argv[1]), int(sys.argv[2])
done = []
def killed(work):
    def then(*given, **named):
        if len(done) == at:
            os.kill(os.getpid(), signal.SIGKILL)
        done.append(work)
        return work(*given, **named)
    return then
saving.write_whole, saving.append_lines = killed(saving.write_whole), killed(saving.append_lines)
state = folder / "state"
one, two = (open_text(folder / name, state) for name in ("one.yaml", "two.yaml"))
commit([NewText(one, "a: 2\\n"), NewText(two, "b: 2\\n")], "both",
       appends=[Appended(str(folder / "log.jsonl"), "known\\n")], folder=state)
"""


@pytest.mark.skipif(os.name == "nt", reason="a process is killed otherwise there")
@pytest.mark.parametrize("at", range(4))
def test_several_files_are_one_step_wherever_the_process_is_killed(tmp_path: Path, at: int) -> None:
    (tmp_path / "one.yaml").write_text("a: 1\n")
    (tmp_path / "two.yaml").write_text("b: 1\n")
    subprocess.run((sys.executable, "-c", KILLED_AT, str(tmp_path), str(at)), check=False)
    for _ in range(2):  # the second look must find nothing more to do
        open_text(tmp_path / "two.yaml", tmp_path / "state")
        log = tmp_path / "log.jsonl"
        said = (
            (tmp_path / "one.yaml").read_text(),
            (tmp_path / "two.yaml").read_text(),
            log.read_text() if log.exists() else "",
        )
        assert said == (("a: 1\n", "b: 1\n", "") if at == 0 else ("a: 2\n", "b: 2\n", "known\n"))
    assert not list((tmp_path / "state/edits/half-done").iterdir())


def test_a_step_over_several_files_leaves_nothing_half_done_behind(tmp_path: Path) -> None:
    for name in ("one.yaml", "two.yaml"):
        (tmp_path / name).write_text("a: 1\n")
    state = tmp_path / "state"
    commit(
        [NewText(open_text(tmp_path / name, state), "a: 2\n") for name in ("one.yaml", "two.yaml")], "", folder=state
    )
    assert not list((state / "edits/half-done").iterdir())


def test_if_the_second_file_cannot_be_written_the_first_is_restored(tmp_path: Path) -> None:
    refused_second(tmp_path, (tmp_path / "closed").rmdir)


def refused_second(folder: Path, closes: Callable[[], object]) -> None:
    (folder / "one.yaml").write_text("a: 1\n")
    (folder / "closed").mkdir()
    changes = [
        NewText(open_text(folder / "one.yaml", folder / "state"), "a: 2\n"),
        NewText(no_file(folder / "made.yaml"), "m: 1\n"),
        NewText(no_file(folder / "closed" / "two.yaml"), "b: 2\n"),
    ]
    closes()
    with pytest.raises(CompanionError, match=r"two\.yaml cannot be written"):
        commit(changes, "test", folder=folder / "state")
    assert (folder / "one.yaml").read_text() == "a: 1\n"
    assert not (folder / "made.yaml").exists()
    assert not list((folder / "state/edits/half-done").iterdir())


@pytest.mark.skipif(os.name == "nt", reason="same")
def test_an_unfinished_step_does_not_overwrite_a_later_change_by_hand(tmp_path: Path) -> None:
    (tmp_path / "one.yaml").write_text("a: 1\n")
    (tmp_path / "two.yaml").write_text("b: 1\n")
    subprocess.run((sys.executable, "-c", KILLED_AT, str(tmp_path), "1"), check=False)
    (tmp_path / "two.yaml").write_text("b: 3   # by hand\n")
    assert open_text(tmp_path / "two.yaml", tmp_path / "state").text == "b: 3   # by hand\n"


@pytest.mark.parametrize(
    ("one", "other", "expected"),
    [
        ("a\nB\nc\nd", "a\nb\nc\nD", "a\nB\nc\nD"),
        ("a\nB\nc\nd", "a\nB\nc\nd", "a\nB\nc\nd"),  # the same change
        ("a\nB\nc\nd", "a\nx\nc\nd", None),
        ("a\nB\nc\nd", "a\nb\nx\nc\nd", None),  # right beside it
        ("a\nc\nd", "a\nb\nc\nd\ne", "a\nc\nd\ne"),
        ("a\nb\nc\nd", "x\na\nb\nc\nd", "x\na\nb\nc\nd"),
    ],
)
def test_two_changes_of_one_text_merge_or_conflict(one: str, other: str, expected: str | None) -> None:
    assert merged("a\nb\nc\nd", one, other) == expected


LINES = st.lists(st.sampled_from("abc"), max_size=7).map("\n".join)


@given(LINES, LINES)
def test_the_hunks_of_a_change_make_it_again(before: str, after: str) -> None:
    assert patched(before, hunks(before, after)) == after
    assert all(0 <= one.start <= one.end <= before.count("\n") + 1 for one in hunks(before, after))
    assert hunks(before, before) == []
