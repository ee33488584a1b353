"""Writing: the old file or the new one and nothing between; edits that leave all else as it was."""

import os
import stat
from pathlib import Path

import pytest
from files.written import nodes

from companion.errors import CompanionError, FaultyFile
from companion.files.writing import REMOVED, OneLine, Where, edit, edited, plainly, write_whole

COMMENTED = """\
# The engagement
show: Pier Street   # as on the poster
sets:
  - set: First
    starts: 20:00
    songs:
      - title: Gasworks Corner
        key: Bb                  # the leader's
        tempo: 010
        road_map:
          - {section: Intro, bars: 4, chords: "1 | #4o"}   # mine
          - {section: Verse, bars: 16}
      # the next one is new
      - Kettle on the Jetty
"""
SONGS = ("sets", 0, "songs")


@pytest.mark.parametrize(
    ("where", "change", "before", "after"),
    [
        (
            (*SONGS, 0, "key"),
            "C#m",
            "key: Bb                  # the leader's",
            "key: C#m                 # the leader's",
        ),
        ((*SONGS, 0, "tempo"), 112, "tempo: 010", "tempo: 112"),
        ((*SONGS, 0, "road_map", 0, "bars"), 8, "bars: 4,", "bars: 8,"),
        (("show",), "Pier: the end", "show: Pier Street   # as", "show: 'Pier: the end' # as"),
        ((*SONGS, 0, "tempo"), REMOVED, "        tempo: 010\n", ""),
        ((*SONGS, 1), {"title": "Kettle", "key": "no"}, "- Kettle on the Jetty", "- title: Kettle\n        key: no"),
    ],
)
def test_an_edit_changes_its_own_characters_only(where: Where, change: object, before: str, after: str) -> None:
    assert before in COMMENTED
    assert edited(COMMENTED, {where: change}) == COMMENTED.replace(before, after)


def test_edits_add_keys_tables_and_places_in_lists() -> None:
    text = edited(
        COMMENTED, {("band",): "Nine", (*SONGS, 2): "Third", (*SONGS, 0, "sound", "upper"): "lead", ("ok",): True}
    )
    assert set(COMMENTED.splitlines()) <= set(text.splitlines())
    read = plainly(nodes(text))
    assert read["band"] == "Nine"
    assert read["sets"][0]["songs"][2] == "Third"
    assert read["sets"][0]["songs"][0]["sound"] == {"upper": "lead"}
    assert read["ok"] == "yes"


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("sounds:\n  a: 1     # mine\n", "sounds:\n  a: {program: 1, bank: [0, 32], on: yes, at: {x: 2}} # mine\n"),
        ("sounds: {a: 1}\n", "sounds: {a: {program: 1, bank: [0, 32], on: yes, at: {x: 2}}}\n"),
    ],
)
def test_a_table_that_is_to_stand_in_one_line_does(before: str, after: str) -> None:
    table = OneLine({"program": 1, "bank": [0, 32], "on": True, "at": {"x": 2}})
    assert edited(before, {("sounds", "a"): table}) == after


def test_lists_keep_the_indent_that_their_author_gave_them() -> None:
    flat = "songs:\n- One\n- title: Two\n  key: C\n"
    assert edited(flat, {("songs", 1, "key"): "D"}) == flat.replace("C", "D")


def test_line_ends_stay_as_they_are() -> None:
    assert edited("a: 1\r\nb: 2\r\n", {("a",): 3}) == "a: 3\r\nb: 2\r\n"


def test_an_edit_that_would_change_something_else_is_refused() -> None:
    shared = "a: &x {b: 1}\nc: *x\n"  # to change the one is to change the other
    with pytest.raises(CompanionError, match="without changing something else"):
        edited(shared, {("c", "b"): 2}, "a.yaml")


@pytest.mark.parametrize("where", [("songs", 7), ("show", "deeper"), (0,), (*SONGS, 0, "title", 3)])
def test_an_edit_with_no_place_is_refused(where: Where) -> None:
    with pytest.raises(CompanionError, match="cannot be edited"):
        edited(COMMENTED, {where: 1})


def test_a_file_with_faults_is_not_edited(tmp_path: Path) -> None:
    file = tmp_path / "a.yaml"
    file.write_text("a: @b\n", encoding="utf-8")
    with pytest.raises(FaultyFile):
        edit(file, {("a",): "c"})
    assert file.read_text(encoding="utf-8") == "a: @b\n"


def test_a_comment_beside_a_bare_title_stays_on_the_titles_line_when_the_song_becomes_a_table() -> None:
    text = "songs:\n  - Moth  # new\n  - Gravel\n"
    after = edited(text, {("songs", 0): {"title": "Moth", "road_map": [OneLine(section="Intro", bars=4)]}})
    assert after.splitlines()[1] == "  - title: Moth  # new"
    assert after.splitlines()[-1] == "  - Gravel"


def test_a_file_is_edited_in_place_and_nothing_is_left_beside_it(tmp_path: Path) -> None:
    file = tmp_path / "a.yaml"
    file.write_text(COMMENTED, encoding="utf-8")
    edit(file, {(*SONGS, 0, "key"): "Über"})
    assert "key: Über" in file.read_text(encoding="utf-8")
    assert list(tmp_path.iterdir()) == [file]


def test_a_write_that_fails_leaves_the_old_file_and_nothing_beside_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "a.yaml"
    file.write_text("old", encoding="utf-8")

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(CompanionError, match=r"a\.yaml cannot be written: No space left on device"):
        write_whole(file, "new")
    assert file.read_text(encoding="utf-8") == "old"
    assert list(tmp_path.iterdir()) == [file]


def test_the_new_file_is_on_disk_before_it_takes_the_old_ones_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    done: list[str] = []
    rename = Path.replace

    def sync(_handle: int) -> None:
        done.append("synced")

    def replace(path: Path, target: Path) -> Path:
        done.append("named")
        return rename(path, target)

    monkeypatch.setattr(os, "fsync", sync)
    monkeypatch.setattr(Path, "replace", replace)
    write_whole(tmp_path / "a.yaml", "new")
    assert done[:2] == ["synced", "named"]


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(CompanionError, match="cannot be written"):
        write_whole(tmp_path / "none" / "a.yaml", "new")


@pytest.mark.skipif(os.name == "nt", reason="links and permissions are others there")
def test_a_link_stays_a_link_and_permissions_stay(tmp_path: Path) -> None:
    file, link = tmp_path / "a.yaml", tmp_path / "link.yaml"
    file.write_text("old", encoding="utf-8")
    file.chmod(0o640)
    link.symlink_to(file)
    write_whole(link, "new\n")
    assert link.is_symlink()
    assert file.read_bytes() == b"new\n"
    assert stat.S_IMODE(file.stat().st_mode) == 0o640


def test_bytes_are_written_whole_too(tmp_path: Path) -> None:
    write_whole(tmp_path / "a.pdf", b"%PDF\r\n\xff")
    assert (tmp_path / "a.pdf").read_bytes() == b"%PDF\r\n\xff"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no named pipes there")
def test_what_is_no_file_is_written_to_and_stays_what_it_is(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    reading = os.open(pipe, os.O_RDONLY | os.O_NONBLOCK)
    try:
        write_whole(pipe, "all of it")
        assert os.read(reading, 100) == b"all of it"
    finally:
        os.close(reading)
    assert stat.S_ISFIFO(pipe.stat().st_mode)
    assert list(tmp_path.iterdir()) == [pipe]
