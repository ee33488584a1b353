"""The list of commands that ``companion --help`` prints."""

import pytest

from companion.commands.group import companion
from companion.commands.group import run as run_command


@pytest.mark.parametrize("name", companion.commands)
def test_each_command_has_a_one_line_summary_that_help_does_not_cut(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    whole = (companion.commands[name].help or "").partition("\n\n")[0].rstrip(".")
    assert run_command(["--help"]) == 0
    (row,) = (line for line in capsys.readouterr().out.splitlines() if line.startswith(f"  {name} "))
    assert row.removeprefix(f"  {name}").strip().rstrip(".") == whole
    assert not row.endswith("..")
