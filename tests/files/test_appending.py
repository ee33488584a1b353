"""Appending: whole lines or none, with a lock if the disk has locks."""

import errno
from pathlib import Path

import pytest

from companion.files.appending import append_lines, locked


def test_a_partial_append_keeps_none_of_the_lines(tmp_path: Path) -> None:
    resource = pytest.importorskip("resource", reason="only POSIX limits the size of a file")
    file = tmp_path / "log.jsonl"
    append_lines(file, b"one\n")
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    # write(2): what fits is written, then EFBIG, as on a full disk
    resource.setrlimit(resource.RLIMIT_FSIZE, (10, hard))
    try:
        with pytest.raises(OSError, match="File too large"):
            append_lines(file, b"two\nthree\n")
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))
    assert file.read_bytes() == b"one\n"
    append_lines(file, b"two\nthree\n")
    assert file.read_bytes() == b"one\ntwo\nthree\n"


def test_a_disk_without_locks_can_be_appended_to(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    fcntl = pytest.importorskip("fcntl", reason="only POSIX has flock")

    def no_locks(_file: object, _how: int) -> None:
        raise OSError(errno.ENOLCK, "No locks available")  # flock(2); a network folder

    monkeypatch.setattr(fcntl, "flock", no_locks)
    with locked(tmp_path / "lock"):
        append_lines(tmp_path / "log.jsonl", b"one\n")
    assert (tmp_path / "log.jsonl").read_bytes() == b"one\n"
