"""Odd paths, days at the end of time, pipes in the place of files: every command works or says what is wrong."""

import os
import stat
import sys
import unicodedata
import zlib
from pathlib import Path

import pytest
from hostile.commands import COMMANDS, SHOW, home, run
from hostile.nights import journals
from hostile.reader import SHOW as SHOW_FILE
from hostile.reader import answer

from companion.cli import main
from companion.regular import is_regular, is_there, read_regular

__all__ = ["home"]
PIPES = pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes with names")
pytestmark = pytest.mark.usefixtures("home", "reads_here")


def no_text(folder: Path) -> Path:
    """Return a folder whose name is no UTF-8, if the system has such names."""
    odd = Path(os.fsdecode(os.fsencode(folder) + b"/caf\xe9 \xff"))
    try:
        odd.mkdir()
    except OSError:
        pytest.skip("this system's names are text")
    return odd


@pytest.mark.parametrize("name", COMMANDS)
def test_a_folder_with_an_undecodable_name_works(name: str, tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    show = no_text(tmp_path) / "show.yaml"
    show.write_text(SHOW)
    code, said = run(name, show, capfd)
    assert code == 0, said


@pytest.mark.skipif(sys.getfilesystemencoding() != "utf-8", reason="every name of a file is text there")
def test_a_list_in_such_a_folder_is_imported(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    odd = no_text(tmp_path)
    (odd / "list.txt").write_text("1. Moth in Bb\n2. Owl in C\n")
    assert main(["import", str(odd / "list.txt"), "--into", str(odd / "new.yaml"), "--json"]) == 0
    assert "\ufffd" in capfd.readouterr().out
    assert (odd / "new.yaml").exists()


@pytest.mark.parametrize("day", ["0001-01-01", "9999-12-31"])
@pytest.mark.parametrize("name", COMMANDS)
def test_a_show_on_the_last_possible_date_is_reported(
    name: str, day: str, tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    show = tmp_path / "show.yaml"
    show.write_text(SHOW.replace("2027-06-19", day))
    assert run(name, show, capfd)[1]


@pytest.mark.parametrize("at", ["0001-01-01T00:00:00+14:00", "9999-12-31T23:59:59-12:00", "0001-01-01T00:00:00Z"])
@pytest.mark.parametrize("name", COMMANDS)
def test_records_on_the_last_possible_date_count_or_are_left_out(
    name: str, at: str, tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    show = tmp_path / "show.yaml"
    show.write_text(SHOW)
    done = ('"heard","share":1.0', '"practised","minutes":20', '"ran the set"', '"asked","question":"key","grade":3')
    lines = [f'{{"at":"{at}","did":{did},"title":"Moth"}}\n' for did in done]
    (tmp_path / "show.practice.jsonl").write_text("".join(lines))
    assert run(name, show, capfd)[1]


@pytest.mark.parametrize("name", COMMANDS)
def test_a_file_name_too_long_for_the_system_is_handled(
    name: str, tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    show = tmp_path / "show.yaml"
    long = "é" * 130  # 260 bytes, where most systems have names of 255
    show.write_text(SHOW.replace("moth.pdf", f"{long}.pdf").replace("moth.ogg", f"{long}.ogg"), encoding="utf-8")
    assert run(name, show, capfd)[1]


def test_an_unreadable_folder_counts_as_empty(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def closed(path: object, **_how: object) -> os.stat_result:
        raise PermissionError(13, "Permission denied", path)

    (tmp_path / "moth.ogg").touch()
    assert (is_there(tmp_path / "moth.ogg"), is_regular(tmp_path / "moth.ogg")) == (True, True)
    monkeypatch.setattr(os, "stat", closed)  # as for a folder that another user has closed
    assert (is_there(tmp_path / "moth.ogg"), is_regular(tmp_path / "moth.ogg")) == (False, False)


@PIPES
@pytest.mark.parametrize(
    "words",
    [
        ("import", "{pipe}.mid"),
        ("import", "{pipe}.txt"),
        ("check", "{pipe}.yaml"),
        ("play", "{pipe}.yaml", "--screen", "none"),
        ("questions", "{show}", "--answers", "{pipe}.txt"),
        ("debrief", "{show}", "--journal", "{pipe}.journal"),
        ("plan", "{show}"),  # its records are a pipe
        ("check", "{show}", "--rig", "{pipe}.yaml"),
    ],
)
def test_a_pipe_is_refused_and_never_waited_for(
    words: tuple[str, ...], tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    show = tmp_path / "show.yaml"
    show.write_text(SHOW)
    for ending in (".mid", ".txt", ".yaml", ".journal"):
        os.mkfifo(tmp_path / f"pipe{ending}")
    os.mkfifo(tmp_path / "show.practice.jsonl")
    assert main([word.replace("{show}", str(show)).replace("{pipe}", str(tmp_path / "pipe")) for word in words]) == 1
    said = capfd.readouterr().err
    assert "not a regular file" in said, said


@PIPES
def test_a_device_is_refused(tmp_path: Path) -> None:
    assert stat.S_ISCHR(Path(os.devnull).stat().st_mode)
    with pytest.raises(OSError, match="not a regular file"):
        read_regular(os.devnull, 10)
    (tmp_path / "ten").write_bytes(bytes(10))
    assert read_regular(tmp_path / "ten", 10) == bytes(10)
    with pytest.raises(OSError, match="too large"):
        read_regular(tmp_path / "ten", 9)


@pytest.mark.parametrize("wall", [b"nan", b"inf", b"-inf", b"1e300", b"-5"])
def test_a_journal_with_an_impossible_time_counts_as_torn(wall: bytes, tmp_path: Path) -> None:
    name, raw = journals(tmp_path / "good")[0]
    lines = []
    for line in filter(None, raw.split(b"\n")):
        _, number, kind, _, content = line.split(b" ", 4)
        rest = b" ".join((number, kind, wall, content))
        lines.append(b"%08x %s\n" % (zlib.crc32(rest), rest))
    assert answer("journal", name, b"".join(lines)) in ("", "refused")


def test_a_journals_text_cannot_control_the_terminal(tmp_path: Path, capfd: pytest.CaptureFixture[str]) -> None:
    name, raw = journals(tmp_path / "good")[0]
    title = b'"title":"' + SHOW_FILE.read_text(encoding="utf-8").partition("title: ")[2].partition("\n")[0].encode()
    lines = []
    for line in filter(None, raw.split(b"\n")):
        rest = line.partition(b" ")[2].replace(title, b'"title":"\\u001b[2J\\u009b2J\\u202e')
        lines.append(b"%08x %s\n" % (zlib.crc32(rest), rest))
    journal = tmp_path / name
    journal.write_bytes(b"".join(lines))
    assert b"u009b" in journal.read_bytes()
    for words in ((), ("--json",), ("--markdown", str(tmp_path / "page.md"))):
        assert main(["debrief", str(SHOW_FILE), "--journal", str(journal), *words]) == 0
    said = "".join(capfd.readouterr()) + (tmp_path / "page.md").read_text(encoding="utf-8")
    assert said
    assert not [letter for letter in said if unicodedata.category(letter) == "Cc" and letter not in "\n\t"]
