"""A command whose reader goes away does its work all the same."""

import os
import subprocess
import sys
from pathlib import Path

COMMAND = (sys.executable, "-m", "companion.cli")


def run_unread(folder: Path, *words: str) -> subprocess.CompletedProcess[bytes]:
    """Run a command whose output goes into a pipe that nobody reads any more."""
    reads, writes = os.pipe()
    os.close(reads)
    try:
        return subprocess.run(
            (*COMMAND, *words), cwd=folder, stdout=writes, stderr=subprocess.PIPE, check=False, timeout=60
        )
    finally:
        os.close(writes)


def test_a_list_is_imported_though_nobody_reads_what_is_told(tmp_path: Path) -> None:
    (tmp_path / "list.txt").write_text("".join(f"{n}. Moth {n} - Bb\n" for n in range(1, 60)), encoding="utf-8")
    done = run_unread(tmp_path, "import", "list.txt")
    assert (done.returncode, done.stderr) == (0, b"")
    assert "Moth 59" in (tmp_path / "list.yaml").read_text(encoding="utf-8")


def test_a_plan_that_nobody_reads_ends_without_a_traceback(tmp_path: Path) -> None:
    (tmp_path / "show.yaml").write_text("show: A\ndate: 2999-01-01\nsongs: [Moth, Lamp]\n", encoding="utf-8")
    done = run_unread(tmp_path, "plan", "show.yaml", "--date", "2027-06-19")
    assert b"Traceback" not in done.stderr


def test_what_is_told_into_a_pipe_that_is_read_is_whole(tmp_path: Path) -> None:
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
