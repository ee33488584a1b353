"""The one command that checks everything: format, lint, types, tests. It continues after a failure, to report them all.

Types are checked beside the tests, since most machines have two processors, and reported last. The tests share the
processors too; ``tests/sharing.py`` says how. A test that fails among the others runs once more, alone: on a machine
that something else keeps busy, a message to a real port is lost now and then. The last line names each such test.
"""

import json
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
COMPILES = ("pytest", "-qq", "--collect-only", "-p", "no:cacheprovider", "-p", "only_compiled")
STYLE = {
    "format": ("ruff", "format", "--check", "--quiet", "."),
    "lint": ("ruff", "check", "--quiet", "."),
}
TESTS = ("pytest", "-q", "-n", str(PROCESSES), "--no-loadscope-reorder")
AGAIN = ("pytest", "-q", "-n", "0", "--last-failed", "--last-failed-no-failures=none")
SOME_FAILED = 1  # pytest's exit code
MAX_AGAIN = 10  # tests; where more fail, it is not the machine


def main(more_for_pytest: list[str]) -> int:
    """Run every check and report each; return 0 if all passed, else 1."""
    codes: dict[str, int] = {}
    begun = time.monotonic()
    with tempfile.TemporaryFile("w+", encoding="utf-8") as output:
        types = subprocess.Popen((sys.executable, "-m", *TYPES), cwd=ROOT, stdout=output, stderr=subprocess.STDOUT)
        if hasattr(os, "setpriority"):
            os.setpriority(os.PRIO_PROCESS, types.pid, POLITE)
        for name, command in STYLE.items():
            codes[name] = run(name, command)
        if is_fresh():  # else each of pytest's processes would compile all of the tests
            found = {**os.environ, "PYTHONPATH": str(ROOT / "tests")}
            command = (sys.executable, "-m", *COMPILES)
            subprocess.run(command, cwd=ROOT, env=found, stdout=subprocess.DEVNULL, check=False)
        codes["tests"], only_once = tested(more_for_pytest)
        codes["types"] = types.wait()
        output.seek(0)
        say(f"== types: {' '.join(TYPES)}\n{output.read().rstrip()}")
    outcome = ", ".join(f"{name} {'passed' if code == 0 else 'FAILED'}" for name, code in codes.items())
    say(f"== {outcome}; {time.monotonic() - begun:.0f} s")
    if only_once:
        say(f"== FAILED ONCE, then passed alone: {', '.join(only_once)}")
    return int(any(codes.values()))


def tested(more: list[str]) -> tuple[int, list[str]]:
    """Run the tests, and the failed ones once more; return the exit code and the tests that passed only then."""
    with tempfile.TemporaryDirectory() as folder:  # so that no test of yesterday runs again
        cache = ("-o", f"cache_dir={folder}")
        code = run("tests", (*TESTS, *cache, *more))
        failed = failed_in(Path(folder))
        if code != SOME_FAILED or not 0 < len(failed) <= MAX_AGAIN:
            return code, []
        code = run("tests that failed, once more and alone", (*AGAIN, *cache, *more))
        return code, sorted(set(failed) - set(failed_in(Path(folder))))


def failed_in(cache: Path) -> list[str]:
    """Return the tests that failed, as pytest's own cache has them."""
    kept = cache / "v/cache/lastfailed"
    return list(json.loads(kept.read_text(encoding="utf-8"))) if kept.exists() else []


def run(name: str, command: tuple[str, ...]) -> int:
    """Run one check; return its exit code."""
    say(f"== {name}: {' '.join(command)}")
    return subprocess.run((sys.executable, "-m", *command), cwd=ROOT, check=False).returncode


def is_fresh() -> bool:
    """Return whether pytest has compiled no test here yet."""
    return not any((ROOT / "tests/music/__pycache__").glob(f"*{sys.implementation.cache_tag}-pytest-*.pyc"))


def say(line: str) -> None:
    """Print a line at once, so that it stands before what the next program prints."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
