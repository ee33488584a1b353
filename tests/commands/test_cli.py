"""The entry point: ``play`` is parsed without the library, for a quick start; every other command by the library."""

import sys
from pathlib import Path

import click
import pytest

from companion.cli import SCREENS, PlayRequest, main, quick_play_request
from companion.commands.group import companion


def test_the_usual_options_of_play_are_parsed_without_the_library() -> None:
    asked = quick_play_request(["play", "a.yaml", "--rig", "r.yaml", "--screen", "text", "--fresh", "--resume"])
    assert asked == PlayRequest(Path("a.yaml"), Path("r.yaml"), "text", fresh=True, resume=True)
    assert quick_play_request(["play", "a.yaml"]) == PlayRequest(
        Path("a.yaml"), None, "full", fresh=False, resume=False
    )


@pytest.mark.parametrize(
    "words",
    [
        [],
        ["play"],
        ["play", "--help"],
        ["play", "a.yaml", "b.yaml"],
        ["play", "a.yaml", "--screen", "nowhere"],
        ["play", "a.yaml", "--screen"],
        ["play", "a.yaml", "--rig"],
        ["play", "a.yaml", "--rig", "--fresh"],
        ["play", "a.yaml", "--rig=r.yaml"],
        ["play", "a.yaml", "--synth"],
        ["play", "a.yaml", "--rig", "r.yaml", "--rig", "s.yaml"],
        ["play", "a.yaml", "--screen", "text", "--screen", "none"],
        ["check", "a.yaml"],
    ],
)
def test_anything_else_is_parsed_by_the_library(words: list[str]) -> None:
    assert quick_play_request(words) is None


def test_both_entry_points_accept_the_same_words_and_defaults() -> None:
    options = {max(one.opts, key=len): one for one in companion.commands["play"].params}
    assert {"show", "--rig", "--screen", "--fresh", "--resume"} <= options.keys()
    screen = options["--screen"]
    assert isinstance(screen.type, click.Choice)
    assert (tuple(screen.type.choices), screen.default) == (SCREENS, "full")


def test_faults_are_reported_without_a_traceback_from_both_entry_points(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    missing = str(tmp_path / "none.yaml")
    for words in (["play", missing, "--screen", "none"], ["play", missing, "--screen=none"], ["questions", missing]):
        assert main(words) == 1
        assert capsys.readouterr().err == f"{missing}: there is no such file\n"


@pytest.mark.skipif(sys.platform == "win32", reason="links need a right there")
def test_a_show_that_is_a_link_to_itself_is_reported_like_any_other_fault(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COMPANION_MIDI_API", "none")
    (tmp_path / "round.yaml").symlink_to("round.yaml")
    assert main(["play", str(tmp_path / "round.yaml"), "--screen", "none"]) == 1
    assert "round.yaml" in capsys.readouterr().err


def test_a_usage_error_exits_with_2_and_help_with_0(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["play"]) == 2
    assert main(["fly"]) == 2
    assert main(["play", "--help"]) == 0
    assert "Example:" in capsys.readouterr().out
