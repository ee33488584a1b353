"""Writing: the old file or the new one and nothing between, nothing through a link, nothing left beside it."""

import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from companion.errors import CompanionError
from companion.files.file_writing import mode_like, write_whole


def test_a_failed_write_leaves_the_old_file_and_nothing_beside_it(
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


def test_the_new_file_is_on_disk_before_it_replaces_the_old_one(
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


def test_a_missing_folder_is_reported(tmp_path: Path) -> None:
    with pytest.raises(CompanionError, match="cannot be written"):
        write_whole(tmp_path / "none" / "a.yaml", "new")


@pytest.mark.skipif(os.name == "nt", reason="links and permissions are others there")
def test_a_link_is_replaced_and_its_target_stays(tmp_path: Path) -> None:
    secret, link = tmp_path / "start-file", tmp_path / "gig-setlist.pdf"
    secret.write_text("old", encoding="utf-8")
    link.symlink_to(secret)
    write_whole(link, "new\n")
    assert not link.is_symlink()
    assert (link.read_text(encoding="utf-8"), secret.read_text(encoding="utf-8")) == ("new\n", "old")


@pytest.mark.skipif(os.name == "nt", reason="links and permissions are others there")
@pytest.mark.parametrize("to", ["nowhere", "pipe"])
def test_a_link_to_nothing_or_to_a_pipe_is_replaced_too(tmp_path: Path, to: str) -> None:
    os.mkfifo(tmp_path / "pipe")
    link = tmp_path / "a.pdf"
    link.symlink_to(tmp_path / to)
    write_whole(link, "new")
    assert not link.is_symlink()
    assert link.read_text(encoding="utf-8") == "new"


@pytest.mark.skipif(os.name == "nt", reason="permissions are others there")
def test_permissions_stay_and_a_private_file_is_never_readable_by_others(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "a.yaml"
    file.write_text("old", encoding="utf-8")
    file.chmod(0o640)
    modes: list[int] = []
    sync = os.fsync

    def look(handle: int) -> None:
        modes.append(stat.S_IMODE(os.fstat(handle).st_mode))
        sync(handle)

    monkeypatch.setattr(os, "fsync", look)
    write_whole(file, "new")
    assert stat.S_IMODE(file.stat().st_mode) == 0o640
    write_whole(tmp_path / "secret", "new", mode=0o600)
    assert stat.S_IMODE((tmp_path / "secret").stat().st_mode) == 0o600
    assert modes[0] == modes[2] == 0o600, "beside it, for nobody else to read"
    file.chmod(0o600)
    assert mode_like(file) == 0o600


@pytest.mark.skipif(not hasattr(os, "chown"), reason="files have no group there")
@pytest.mark.parametrize("may", [2, 1, 0])
def test_a_shared_file_keeps_its_owner_and_group_as_far_as_the_system_allows(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, may: int
) -> None:
    """Otherwise a file that the band shares by its group could no longer be written by the others."""
    file, asked = tmp_path / "a.yaml", list[tuple[int, int]]()
    file.write_text("old", encoding="utf-8")

    def chown(_path: Path, owner: int, group: int) -> None:
        asked.append((owner, group))
        if len(asked) > 2 - may:
            return
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(os, "chown", chown)
    write_whole(file, "new")
    whose = file.stat()
    assert asked == [(whose.st_uid, whose.st_gid), (-1, whose.st_gid)][: 1 if may == 2 else 2]
    assert file.read_text(encoding="utf-8") == "new"
    write_whole(tmp_path / "b.yaml", "new")
    assert len(asked) < 3, "a new file is the player's own"


@pytest.mark.skipif(os.name == "nt", reason="another process cannot be asked for there")
def test_the_next_write_removes_what_a_killed_one_left_behind(tmp_path: Path) -> None:
    kill = (
        "import os, signal, sys\n"
        "from companion.files import file_writing\n"
        "file_writing.os.fsync = lambda _: os.kill(os.getpid(), signal.SIGKILL)\n"
        "file_writing.write_whole(sys.argv[1], 'new')\n"
    )
    file = tmp_path / "a.yaml"
    file.write_text("old", encoding="utf-8")
    subprocess.run((sys.executable, "-c", kill, str(file)), check=False)
    (left,) = tmp_path.glob(".a.yaml.*.new")
    assert stat.S_IMODE(left.stat().st_mode) == 0o600
    (tmp_path / ".a.yaml.0f0f0f0f.new").write_text("of an older version")
    alive = tmp_path / f".a.yaml.{os.getppid()}-0f0f0f0f.new"
    alive.write_text("another process is writing it")
    write_whole(file, "new")
    assert sorted(tmp_path.iterdir()) == sorted([file, alive])


def test_bytes_are_written_atomically_too(tmp_path: Path) -> None:
    write_whole(tmp_path / "a.pdf", b"%PDF\r\n\xff")
    assert (tmp_path / "a.pdf").read_bytes() == b"%PDF\r\n\xff"


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no named pipes there")
def test_a_pipe_is_written_to_and_not_replaced(tmp_path: Path) -> None:
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
