"""The one command that checks everything: format, lint, types, tests; it goes on after a fault, so all are told."""

import subprocess
import sys
import time
from pathlib import Path

CHECKS = {
    "format": ("ruff", "format", "--check", "--quiet", "."),
    "lint": ("ruff", "check", "--quiet", "."),
    "types": ("mypy",),
    "tests": ("pytest", "-q"),
}


def main(more_for_pytest: list[str]) -> int:
    """Run every check and tell how each went; 0 where all are well, else 1."""
    root = Path(__file__).resolve().parents[1]
    outcome: dict[str, str] = {}
    for name, command in CHECKS.items():
        sys.stdout.write(f"== {name}: {' '.join(command)}\n")
        sys.stdout.flush()
        begun = time.monotonic()
        more = more_for_pytest if name == "tests" else []
        code = subprocess.run((sys.executable, "-m", *command, *more), cwd=root, check=False).returncode
        outcome[name] = f"{'well' if code == 0 else 'FAULTS'} ({time.monotonic() - begun:.0f} s)"
    sys.stdout.write("== " + ", ".join(f"{name}: {how}" for name, how in outcome.items()) + "\n")
    return int(any("FAULTS" in how for how in outcome.values()))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
