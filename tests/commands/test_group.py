"""The list of commands that ``companion --help`` prints."""

from pathlib import Path

import click
import pytest

from companion.commands.group import companion
from companion.commands.group import run as run_command
from companion.errors import CompanionError


@pytest.mark.parametrize("name", companion.commands)
def test_each_command_has_a_one_line_summary_that_help_does_not_cut(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    whole = (companion.commands[name].help or "").partition("\n\n")[0].rstrip(".")
    assert run_command(["--help"]) == 0
    (row,) = (line for line in capsys.readouterr().out.splitlines() if line.startswith(f"  {name} "))
    assert row.removeprefix(f"  {name}").strip().rstrip(".") == whole
    assert not row.endswith("..")


ONCE = [
    (name, option.opts[-1])
    for name, command in companion.commands.items()
    for option in command.params
    if isinstance(option, click.Option) and not (option.is_flag or option.multiple or option.count)
]


@pytest.mark.parametrize(("name", "option"), ONCE)
def test_an_option_that_is_written_twice_is_never_silently_lost(
    name: str, option: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run_command([name, "no-such.yaml", option, "a", option, "b"]) == 2
    assert f"{option} takes one value. Write it once" in capsys.readouterr().err


def test_what_is_repeatable_is_taken_each_time(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    show = tmp_path / "none.yaml"
    with pytest.raises(CompanionError, match=r"none\.yaml"):
        run_command(["plan", str(show), "--off", "sun", "--off", "sat"])
    assert "Write it once" not in capsys.readouterr().err
