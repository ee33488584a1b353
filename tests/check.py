"""The one command that checks everything: format, lint, types, tests; it goes on after a fault, to report them all.

The types are looked at beside the tests, since most machines have two processors, and reported last. The tests share
the processors too; ``tests/sharing.py`` says how.
"""

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
PROCESSES = min(4, (os.cpu_count() or 1) + 1)  # one more than processors: those on real ports wait much of their time
POLITE = 5  # by which the types leave the processors to tests on real ports
TYPES = ("mypy",)
COMPILES = ("pytest", "-qq", "--collect-only", "-p", "no:cacheprovider")
ONE_BY_ONE = {
    "format": ("ruff", "format", "--check", "--quiet", "."),
    "lint": ("ruff", "check", "--quiet", "."),
    "tests": ("pytest", "-q", "-n", str(PROCESSES), "--no-loadscope-reorder"),
}


def main(more_for_pytest: list[str]) -> int:
    """Run every check and tell how each went; 0 if all are well, else 1."""
    codes: dict[str, int] = {}
    begun = time.monotonic()
    with tempfile.TemporaryFile("w+", encoding="utf-8") as told:
        types = subprocess.Popen((sys.executable, "-m", *TYPES), cwd=ROOT, stdout=told, stderr=subprocess.STDOUT)
        if hasattr(os, "setpriority"):
            os.setpriority(os.PRIO_PROCESS, types.pid, POLITE)
        for name, command in ONE_BY_ONE.items():
            say(f"== {name}: {' '.join(command)}")
            more = more_for_pytest if name == "tests" else []
            if name == "tests" and is_fresh():  # else each of pytest's processes would compile all of the tests
                subprocess.run((sys.executable, "-m", *COMPILES), cwd=ROOT, stdout=subprocess.DEVNULL, check=False)
            codes[name] = subprocess.run((sys.executable, "-m", *command, *more), cwd=ROOT, check=False).returncode
        codes["types"] = types.wait()
        told.seek(0)
        say(f"== types: {' '.join(TYPES)}\n{told.read().rstrip()}")
    outcome = ", ".join(f"{name} {'well' if code == 0 else 'FAULTS'}" for name, code in codes.items())
    say(f"== {outcome}; {time.monotonic() - begun:.0f} s")
    return int(any(codes.values()))


def is_fresh() -> bool:
    """Return whether pytest has compiled no test here yet."""
    return not any((ROOT / "tests/music/__pycache__").glob(f"*{sys.implementation.cache_tag}-pytest-*.pyc"))


def say(line: str) -> None:
    """Print a line at once, so that it stands before what the next program prints."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
