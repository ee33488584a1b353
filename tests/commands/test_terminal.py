"""A command finishes its work even if the reader of its output goes away."""

import errno
import json
import os
import subprocess
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest

from companion.commands.terminal import PipeThatMayClose

COMMAND = (sys.executable, "-m", "companion.cli")


def run_unread(folder: Path, *words: str) -> subprocess.CompletedProcess[bytes]:
    """Run a command whose output goes into a closed pipe."""
    reads, writes = os.pipe()
    os.close(reads)
    try:
        return subprocess.run(
            (*COMMAND, *words), cwd=folder, stdout=writes, stderr=subprocess.PIPE, check=False, timeout=60
        )
    finally:
        os.close(writes)


def test_a_list_is_imported_even_if_nobody_reads_the_output(tmp_path: Path) -> None:
    (tmp_path / "list.txt").write_text("".join(f"{n}. Moth {n} - Bb\n" for n in range(1, 60)), encoding="utf-8")
    done = run_unread(tmp_path, "import", "list.txt")
    assert (done.returncode, done.stderr) == (0, b"")
    assert "Moth 59" in (tmp_path / "list.yaml").read_text(encoding="utf-8")


def test_a_plan_that_nobody_reads_ends_without_a_traceback(tmp_path: Path) -> None:
    (tmp_path / "show.yaml").write_text("show: A\ndate: 2999-01-01\nsongs: [Moth, Lamp]\n", encoding="utf-8")
    done = run_unread(tmp_path, "plan", "show.yaml")
    assert (done.returncode, done.stderr) == (0, b"")


def test_output_into_a_pipe_is_complete(tmp_path: Path) -> None:
    (tmp_path / "list.txt").write_text("1. Möwe - B♭\n", encoding="utf-8")
    done = subprocess.run(
        (*COMMAND, "import", "list.txt"),
        cwd=tmp_path,
        capture_output=True,
        check=True,
        timeout=60,
        env={**os.environ, "PYTHONUTF8": "1"},
    )
    assert "Möwe" in done.stdout.decode()
    assert done.stdout.endswith(b"Wrote list.yaml\n")


AS_ON_WINDOWS = {"PYTHONIOENCODING": "cp1252", "PYTHONUTF8": "0"}  # what a pipe and a file get there


def into_a_windows_pipe(folder: Path, *words: str) -> "subprocess.CompletedProcess[bytes]":
    """Run a command in this folder, its output as a pipe gets it on Windows."""
    return subprocess.run(
        (*COMMAND, *words), cwd=folder, capture_output=True, check=False, env={**os.environ, **AS_ON_WINDOWS}
    )


def test_a_title_outside_the_pipes_encoding_stops_nothing(tmp_path: Path) -> None:
    (tmp_path / "list.txt").write_text("1. Łódź nocą - Bb\n2. Möwe - C\n", encoding="utf-8")
    done = into_a_windows_pipe(tmp_path, "import", "list.txt", "--yes")
    assert (done.returncode, done.stderr) == (0, b"")
    printed = done.stdout.decode("cp1252")
    assert "?ód? noc?" in printed
    assert "Möwe" in printed
    assert "Łódź nocą" in (tmp_path / "list.yaml").read_text(encoding="utf-8")


def test_json_keeps_every_letter_in_any_encoding(tmp_path: Path) -> None:
    (tmp_path / "show.yaml").write_text("show: Łódź\nsongs: [Noc]\n", encoding="utf-8")
    done = into_a_windows_pipe(tmp_path, "questions", "show.yaml", "--json")
    assert "Łódź" in json.dumps(json.loads(done.stdout.decode("cp1252")), ensure_ascii=False)


@pytest.mark.parametrize("number", [errno.EPIPE, errno.EINVAL])  # the second on Windows
def test_a_reader_that_goes_away_stops_nothing_on_any_system(number: int) -> None:
    def gone(*_: object) -> int:
        raise OSError(number, "gone")

    with Path(os.devnull).open("wb", buffering=0) as nowhere:
        pipe = PipeThatMayClose(nowhere)
        pipe._to = SimpleNamespace(write=gone)  # type: ignore[assignment]  # noqa: SLF001 - a pipe of Windows
        assert pipe.write(b"Moth") == 4
        assert pipe.write(b"Moth") == 4


def test_a_full_disk_is_not_taken_for_a_closed_pipe() -> None:
    with Path("/dev/full").open("wb", buffering=0) as full, pytest.raises(OSError, match="No space"):
        PipeThatMayClose(full).write(b"Moth")
