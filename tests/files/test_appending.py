"""Appending: whole lines or none."""

from pathlib import Path

import pytest

from companion.files.appending import append_lines


def test_a_disk_that_takes_only_part_of_the_lines_keeps_none_of_them(tmp_path: Path) -> None:
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
