"""Build a program that needs no Python, to start by double click: ``python tests/frozen/build.py DIR``.

It makes a separate environment in DIR, installs companion and PyInstaller there, and builds ``DIR/dist/companion``
for the system that it runs on; PyInstaller builds for no other. Tried on Linux (tests/real/test_frozen.py). The recipes
for Windows and macOS are written by PyInstaller's manual and NOT TRIED.

A folder, not one file: one file unpacks itself at each start, and once more for the window's process.
"""

import subprocess
import sys
import time
import venv
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).resolve().parents[2]
ENTRY: Final = ROOT / "companion/frozen.py"
RECIPES: Final = {
    "linux": (),
    # NOT TRIED. A console program: the terminal shows what would be sent, and takes the keys of the text screen.
    "win32": ("--console",),
    # NOT TRIED. An application that Finder opens; it has no terminal. An unsigned one is opened by its context menu.
    "darwin": ("--windowed", "--osx-bundle-identifier", "companion.stage"),
}
NOT_NEEDED: Final = ("tkinter", "pygame.mixer", "pygame.mixer_music", "numpy")


def build(into: Path) -> Path:
    """Build the program; return its folder. Raises CalledProcessError."""
    into.mkdir(parents=True, exist_ok=True)
    environment = into / "venv"
    venv.create(environment, with_pip=True)
    python = environment / ("Scripts/python.exe" if sys.platform == "win32" else "bin/python")
    subprocess.run((python, "-m", "pip", "install", "-q", f"{ROOT}[program]"), check=True)
    subprocess.run((python, "-m", "PyInstaller", *words(into)), cwd=into, check=True)
    return into / "dist/companion"


def words(into: Path) -> tuple[str, ...]:
    """Return PyInstaller's words: all modules, since many are brought in by name, and all files beside them."""
    return (
        *("--noconfirm", "--clean", "--log-level", "WARN", "--name", "companion", "--onedir"),
        *("--collect-all", "companion", "--collect-submodules", "readchar", "--copy-metadata", "readchar"),
        *(word for module in NOT_NEEDED for word in ("--exclude-module", module)),
        *RECIPES.get(sys.platform, ()),
        *("--distpath", str(into / "dist"), "--workpath", str(into / "build"), "--specpath", str(into)),
        str(ENTRY),
    )


def size_of(folder: Path) -> int:
    """Return the bytes of all files in a folder, links aside."""
    return sum(path.lstat().st_size for path in folder.rglob("*") if path.is_file() and not path.is_symlink())


def main() -> None:
    """Build, and tell what came of it."""
    if len(sys.argv) != 2:
        sys.exit("name a folder to build in")
    begun = time.monotonic()
    built = build(Path(sys.argv[1]).absolute())
    took = time.monotonic() - begun
    sys.stdout.write(f"{built}: {size_of(built) / 2**20:.0f} MiB, built in {took:.0f} s\n")


if __name__ == "__main__":
    main()
