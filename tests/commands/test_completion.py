"""Completion: the lines of the guide, run in the installed shells, and what each shell gets."""

import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from companion.guide import page

GUIDE = page("commands")
LINES = {
    shell: line.replace("\\|", "|")
    for shell, line in re.findall(r"^\| (bash|zsh|fish) \| `(.*?)` \|", GUIDE, re.MULTILINE)
}
SHELLS = ("bash", "zsh", "fish")


def run(*command: str, **more: str) -> str:
    path = os.pathsep.join((str(Path(sys.executable).parent), os.environ.get("PATH", "")))
    done = subprocess.run(
        command, env={**os.environ, **more, "PATH": path}, capture_output=True, text=True, encoding="utf-8", check=False
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def answered(shell: str, *words: str) -> str:
    place = words[-1] if shell == "fish" else str(len(words) - 1)  # as the script that the library writes has it
    asked = {"COMP_WORDS": " ".join(words), "COMP_CWORD": place, "_COMPANION_COMPLETE": f"{shell}_complete"}
    return run("companion", **asked)


def test_the_readme_has_a_line_for_each_shell() -> None:
    assert tuple(LINES) == SHELLS


@pytest.mark.parametrize("shell", SHELLS)
def test_each_shell_gets_its_own_script(shell: str) -> None:
    assert f"{shell}_complete" in run("companion", _COMPANION_COMPLETE=f"{shell}_source")


@pytest.mark.parametrize("shell", SHELLS)
def test_each_shell_completes_commands_and_words(shell: str) -> None:
    assert {"plan", "play", "playlist"} <= set(re.findall(r"\w+", answered(shell, "companion", "pl")))
    assert "crib" in answered(shell, "companion", "print", "--sheet", "c")


@pytest.mark.parametrize(
    ("words", "completed"),
    [(("companion", "pl"), "plan play playlist"), (("companion", "plan", "show.yaml", "--rea"), "--ready")],
)
def test_the_readme_line_works_in_bash(words: tuple[str, ...], completed: str) -> None:
    if shutil.which("bash") is None:
        pytest.skip("bash is not here")
    typed = " ".join(words)
    script = f"{LINES['bash']}; COMP_WORDS=({typed}); COMP_CWORD={len(words) - 1}; _companion_completion companion"
    assert run("bash", "-c", f'{script}; echo "${{COMPREPLY[*]}}"').strip() == completed


@pytest.mark.parametrize("shell", ["zsh", "fish"])
def test_the_other_shells_accept_the_readme_line(shell: str) -> None:
    if shutil.which(shell) is None:
        pytest.skip(f"{shell} is not here")
    # A zsh whose completion is not switched on has nothing to hook into; the guide says so.
    before = "autoload -Uz compinit && compinit -D -u; " if shell == "zsh" else ""
    run(shell, "-c", before + LINES[shell])
