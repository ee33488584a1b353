"""Children: no code from the current folder, and limits that hold whatever a child does."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from companion import child
from companion.child import Ended, ask, watched
from companion.night.power import look
from companion.setlist import read_list

PACKAGE = Path(child.__file__).parent
LIMITED = "import sys; from companion import child; child.limit_this_process(max_cpu_s=1); "


def python(code: str) -> list[str]:
    return [sys.executable, "-P", "-c", code]


@pytest.mark.parametrize(
    ("code", "ended"),
    [
        ("sys.stdout.write(sys.stdin.read()[::-1])", Ended.WELL),
        ("b'x' * (512 << 20)", Ended.BROKEN),
        (
            "exec('try:\\n  b\"x\" * (512 << 20)\\nexcept MemoryError:\\n  sys.exit(child.OUT_OF_MEMORY)')",
            Ended.TOO_MUCH,
        ),
        ("sys.stdout.write('x' * child.MAX_ANSWER + 'x')", Ended.TOO_MUCH),
        ("sys.stdin.close(); sys.exit(3)", Ended.BROKEN),
        ("import os; os.abort()", Ended.BROKEN),
        ("import time; time.sleep(60)", Ended.TOO_LONG),
        ("exec('while True: pass')", Ended.TOO_LONG),
    ],
)
def test_a_child_answers_or_meets_its_limits(code: str, ended: Ended) -> None:
    answer = ask(python(LIMITED + code), b"moth", max_s=2 if "sleep" in code else 20)
    assert answer.ended is ended
    assert answer.out == (b"htom" if ended is Ended.WELL else b"")


def test_a_child_that_reads_nothing_blocks_nobody() -> None:
    answer = ask(python("import os, sys; os.close(0); sys.stdout.write('well')"), b"x" * 1_000_000)
    assert answer == (Ended.WELL, b"well")


def test_if_the_system_has_no_limits_the_parent_watches_memory(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(child, "system_has_limits", lambda: False)  # as on Windows and macOS
    held = "x = bytearray(b'x') * (400 << 20); sys.stdin.read(); import time; time.sleep(60)"
    assert ask(python("import sys; " + held), b"", max_s=30).ended is Ended.TOO_MUCH
    assert ask(python("import sys; sys.stdout.write('well')"), b"").out == b"well"


def test_if_the_system_has_no_limits_the_parent_watches_the_processor_too() -> None:
    with subprocess.Popen(python("while True: pass"), stdin=subprocess.PIPE, stdout=subprocess.PIPE) as process:
        with watched(process, max_cpu_s=0.3) as too_much:
            assert process.wait() != 0
        assert not too_much.is_set()


def test_the_watch_ends_with_its_child() -> None:
    with subprocess.Popen(python("pass"), stdin=subprocess.PIPE, stdout=subprocess.PIPE) as process:
        with watched(process) as killed:
            process.wait()
        assert not killed.is_set()


def test_every_child_is_started_the_same_way() -> None:
    for path in PACKAGE.rglob("*.py"):
        if path.name != "child.py":
            assert not re.search(r"[\"']-m[\"']|sys\.executable", path.read_text(encoding="utf-8")), path


def test_no_code_from_the_current_folder_runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    strangers = ("companion/__init__.py", "msgspec.py", "psutil.py", "pypdfium2.py")
    for stranger in strangers:
        code, ran = tmp_path / stranger, tmp_path / f"ran-{Path(stranger).parts[0]}"
        code.parent.mkdir(exist_ok=True)
        code.write_text(f"open({str(ran)!r}, 'w')\n")  # and goes on, so that none hides another
    (tmp_path / "list.txt").write_text("1. Moth in Bb\n2. Owl in C\n")
    monkeypatch.chdir(tmp_path)
    assert len(read_list("list.txt").lines) == 2
    look()
    for module in ("companion.screen", "companion.night.songbooks", "companion.screen.chart_pages"):
        words = ("list.txt", "100", "100", "dark")
        subprocess.run(child.python(module, *words), input=b"", capture_output=True, timeout=60, check=False)
    assert list(tmp_path.glob("ran-*")) == []


def test_a_child_answers_with_plain_data(tmp_path: Path) -> None:
    (tmp_path / "list.txt").write_text("1. Moth in Bb\n")
    asked = json.dumps({"kind": "list", "name": "list.txt"}).encode() + b"\n1. Moth in Bb\n"
    answer = ask(child.python("companion.setlist.readers.apart_reader"), asked)
    assert json.loads(answer.out)["found"]["show"]["sets"][0]["songs"][0]["title"] == "Moth"


def test_a_program_in_the_current_folder_is_never_started(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    here, there = tmp_path / "here", tmp_path / "there"
    for folder in (here, there):
        folder.mkdir()
        (folder / "fluidsynth").write_text("#!/bin/sh\n")
        (folder / "fluidsynth").chmod(0o755)
    monkeypatch.chdir(here)
    monkeypatch.setenv("PATH", os.pathsep.join((".", "", "../there", str(there))))
    assert child.program("fluidsynth") == str(there / "fluidsynth")
    monkeypatch.setenv("PATH", os.pathsep.join((".", "")))
    assert child.program("fluidsynth") is None
