"""The tests themselves: every one really runs, and those on real ports take turns."""

import ast
import collections
import re
from pathlib import Path

import pytest
from sharing import line_of, on_real_ports
from source_trees import statements, tree_of

ROOT = Path(__file__).resolve().parents[1]


def never_run(path: Path, text: str) -> list[str]:
    """Return what looks like a test in this file but never runs, and so never fails."""
    tree = tree_of(text)
    functions = (ast.FunctionDef, ast.AsyncFunctionDef)
    top = [node for node in tree.body if isinstance(node, functions)]
    faults = []
    for name, number in collections.Counter(node.name for node in top).items():
        if number > 1:
            faults.append(f"{path}: {number} functions are named {name}; only the last runs")
    tests = [node for node in statements(tree) if isinstance(node, functions) and node.name.startswith("test_")]
    faults += [
        f"{path}:{node.lineno}: {node.name} is not a function of the module" for node in tests if node not in top
    ]
    if tests and not path.name.startswith("test_"):
        faults.append(f"{path} holds tests; its name must begin with test_")
    return faults


def test_every_test_is_really_run() -> None:
    tests = sorted((ROOT / "tests").rglob("*.py"))
    assert not [fault for path in tests for fault in never_run(path, path.read_text(encoding="utf-8"))]


@pytest.mark.parametrize(
    ("name", "text", "fault"),
    [
        ("test_a.py", "def test_b(): ...\ndef test_b(): ...", "2 functions are named test_b"),
        ("test_a.py", "class Validator:\n    def test_b(self): ...", "test_b is not a function of the module"),
        ("test_a.py", "def scene():\n    def test_b(): ...", "test_b is not a function of the module"),
        ("step.py", "def test_b(): ...", "must begin with test_"),
    ],
)
def test_a_test_that_never_runs_is_found(name: str, text: str, fault: str) -> None:
    (found,) = never_run(Path(name), text)
    assert fault in found


def test_every_test_on_real_ports_runs_in_one_of_two_lines() -> None:
    takes = re.compile(r"\bdef test_\w+\([^)]*\b(jack|synth|foot_box|display|play): ")
    real = {
        path.relative_to(ROOT).as_posix()
        for path in (ROOT / "tests").rglob("test_*.py")
        if takes.search(path.read_text(encoding="utf-8"))
    }
    assert len(real) > 10
    assert real <= set(on_real_ports())
    assert {line_of(one) for one in real} == {"line 1", "line 2"}


def test_every_number_of_examples_is_a_part_of_them_in_the_daily_run() -> None:
    bare = re.compile(r"max_examples=\d")
    paths = (ROOT / "tests").rglob("*.py")
    assert not [path.name for path in paths if bare.search(path.read_text(encoding="utf-8"))]


PACKAGE_OF = {
    "Xvfb": "xvfb",
    "bwrap": "bubblewrap",
    "fish": "fish",
    "fluidsynth": "fluidsynth",
    "ip": "iproute2",
    "jackd": "jackd2",
    "pdffonts": "poppler-utils",
    "pdftotext": "poppler-utils",
    "qemu-system-x86_64": "qemu-system-x86",
    "soffice": "libreoffice-writer-nogui",
    "tesseract": "tesseract-ocr",
    "tsc": "node-typescript",
    "xdotool": "xdotool",
    "xwininfo": "x11-utils",
    "zsh": "zsh",
}
"""The Debian package of each program without which a test is skipped."""

IN_EVERY_DEBIAN = {"apt-get", "bash", "dpkg-deb", "setpriv", "unshare"}  # or in what Python's own packages need
BROWSERS = {"chromium", "chromium-browser", "google-chrome", "firefox", "firefox-esr"}


def test_whatever_a_test_is_skipped_without_is_installed_where_nothing_may_be_skipped() -> None:
    asked = re.compile(r"\b(?:needs|which|program)\(((?:\"[\w.-]+\"(?:, )?)+)\)")
    files = [
        path for path in (ROOT / "tests").rglob("*.py") if "bench" not in path.parts and path.name != "test_real.py"
    ]
    calls = [call for path in files for call in asked.findall(path.read_text(encoding="utf-8"))]
    programs = {name for call in calls for name in re.findall(r"[\w.-]+", call)} - IN_EVERY_DEBIAN - BROWSERS
    assert {"jackd", "pdftotext", "tsc"} <= programs <= PACKAGE_OF.keys()
    run = (ROOT / ".ci/run").read_text(encoding="utf-8")
    installed = re.search(r'^PACKAGES="([^"]*)"', run, re.MULTILINE)
    assert installed is not None
    assert {*PACKAGE_OF.values(), "chromium", "firefox-esr", "fluid-soundfont-gm", "fonts-noto-cjk"} <= set(
        installed[1].split()
    )
