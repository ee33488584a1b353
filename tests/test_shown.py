"""What leaves the program commands no terminal, turns no line round and is no formula."""

import csv
import io
import subprocess
import sys
import unicodedata
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion import child
from companion.cli import main
from companion.shown import guarded, harmless, harmless_cell, harmless_line, unguarded

TURNS = ("LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI")
WINDOW_TITLE = "\x1b]0;x\x07"  # a terminal takes it for the title of its window (ECMA-48, operating system command)


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("Gasworks Corner", "Gasworks Corner"),
        ("Café № 5 ♭ 日本 שלום", "Café № 5 ♭ 日本 שלום"),
        (WINDOW_TITLE, "\ufffd]0;x\ufffd"),
        ("\x9b2J", "\ufffd2J"),  # the same as ESC [ in eight bits
        ("a\u202eb\u2066c\u200fd\u061ce", "abcde"),
        ("a\udcffb", "a\ufffdb"),  # a file name's byte that is no text
        ("a\u2028b\rc\x00d", "a\ufffdb\ufffdc\ufffdd"),
        ("a\tb\nc", "a\tb\nc"),
        ("👩\u200d🎤", "👩\u200d🎤"),  # what joins signs stays
    ],
)
def test_text_is_made_harmless(text: str, shown: str) -> None:
    assert harmless(text) == shown


@given(st.text())
def test_no_control_character_comes_out(text: str) -> None:
    shown = harmless(text)
    assert not [one for one in shown if unicodedata.category(one) in ("Cc", "Cs", "Zl", "Zp") and one not in "\t\n"]
    assert not [one for one in shown if unicodedata.bidirectional(one) in TURNS]
    assert harmless(shown) == shown
    shown.encode()
    assert "\n" not in harmless_line(text)


@pytest.mark.parametrize("cell", ["=1+1", "+1", "-1", "@a", "\t=1", "\r=1", "  =cmd|' /C calc'!A0", "\ufeff=1"])
def test_no_cell_becomes_a_formula(cell: str) -> None:
    out = io.StringIO()
    csv.writer(out).writerow([harmless_cell(cell)])
    (row,) = csv.reader(io.StringIO(out.getvalue()))
    assert row[0].startswith("'")


def test_a_wrapped_stream_behaves_like_the_original() -> None:
    out = io.StringIO()
    stream = guarded(out)
    stream.write(WINDOW_TITLE)
    stream.writelines(["\x1b[2J", "\n"])
    assert (out.getvalue(), stream.isatty(), unguarded(stream)) == ("\ufffd]0;x\ufffd\ufffd[2J\n", False, out)


@pytest.mark.parametrize("written", ['title: "Moth"\n    tempo: "1\\e]0;x"', 'title: "\\e[2JMoth"', '"\\x9b2J": 1'])
@pytest.mark.parametrize("words", [("check",), ("check", "--json"), ("plan",), ("play", "--screen", "none")])
def test_no_fault_can_control_the_terminal(
    written: str, words: tuple[str, ...], tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    show = tmp_path / f"a{WINDOW_TITLE}.yaml"
    show.write_text(f"show: Pier\nsongs:\n  - {written}\n", encoding="utf-8")
    assert main([words[0], str(show), *words[1:]]) == 1
    said = "".join(capfd.readouterr())
    assert said
    assert not [letter for letter in said if unicodedata.category(letter) == "Cc" and letter != "\n"]


def test_a_closed_pipe_ends_nothing(tmp_path: Path) -> None:
    (tmp_path / "list.txt").write_text("".join(f"{at}. Moth {at}\n" for at in range(1, 400)))
    command = child.python("companion.cli", "import", str(tmp_path / "list.txt"), "--into", str(tmp_path / "s.yaml"))
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        assert process.stdout is not None
        process.stdout.close()
        assert process.stderr is not None
        assert not process.stderr.read()
    assert (tmp_path / "s.yaml").exists()
    assert sys.stdout is unguarded(sys.stdout)
