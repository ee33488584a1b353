"""One copy at a time; the lock goes with the process, however it dies."""

import errno
import subprocess
import sys
from pathlib import Path

import pytest

from companion.ports import AnotherCopy, SingleCopyLock

HOLD = """
import sys, time
from pathlib import Path
from companion.ports import SingleCopyLock
with SingleCopyLock(Path(sys.argv[1])):
    print("held", flush=True)
    time.sleep(60)
"""


def test_a_second_copy_is_refused_but_a_killed_one_does_not_block(tmp_path: Path) -> None:
    lock = tmp_path / "lock"
    with subprocess.Popen([sys.executable, "-c", HOLD, str(lock)], stdout=subprocess.PIPE, text=True) as other:
        assert other.stdout is not None
        assert other.stdout.readline() == "held\n"
        with pytest.raises(AnotherCopy, match="lock"):
            SingleCopyLock(lock)
        other.kill()
    with SingleCopyLock(lock):
        pass


def test_the_lock_is_released_at_the_end(tmp_path: Path) -> None:
    with SingleCopyLock(tmp_path / "lock"):
        pass
    with SingleCopyLock(tmp_path / "lock"):
        pass


def test_an_unwritable_folder_keeps_nobody_out(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with SingleCopyLock(tmp_path / "file" / "lock"), SingleCopyLock(tmp_path / "file" / "lock"):
        pass


def test_a_disk_without_locks_keeps_nobody_out(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise OSError(errno.ENOLCK, "no locks")  # flock(2) on a network's disk

    monkeypatch.setattr("companion.ports.second_copy._lock", refuse)
    with SingleCopyLock(tmp_path / "lock"):
        pass
