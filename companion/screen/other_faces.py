"""Typefaces of this computer, for letters that the shipped ones lack: Chinese, Japanese, Korean and others.

They take several MiB each, too much to ship. A computer set up for such a language has one; on others, install an open
one: Noto Sans CJK (SIL Open Font License) or Droid Sans Fallback (Apache License 2.0).
"""

import os
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Final

NAMES: Final = (
    *("notosanscjk", "notosanssc", "notosanstc", "notosansjp", "notosanskr", "sourcehansans", "droidsansfallback"),
    *("wqy", "nanumgothic", "ipag", "ipaexg", "takao", "vl-gothic", "uming", "ukai", "unifont"),
    *("pingfang", "hiragino", "applesdgothicneo", "stheiti", "arialunicode", "arial unicode"),
    *("msyh", "yugoth", "msgothic", "meiryo", "malgun", "simsun", "notosans", "freesans", "dejavusans"),
)
"""First letters of the file names of typefaces with many letters, the clearest first (common practice, no source)."""
ENDINGS: Final = frozenset((".ttf", ".otf", ".ttc"))
MAX_FILES: Final = 5000  # most files to look at
HEAVY: Final = ("bold", "semibold", "medium")  # preferred: legible from further away


def directories() -> tuple[Path, ...]:
    """Return the directories where this system keeps typefaces; they may not exist."""
    if sys.platform == "win32":
        local = os.environ.get("LOCALAPPDATA")
        return (
            Path(os.environ.get("WINDIR", "C:/Windows"), "Fonts"),
            *((Path(local, "Microsoft/Windows/Fonts"),) if local else ()),
        )
    home = Path(os.environ["HOME"]) if os.environ.get("HOME") else None
    if sys.platform == "darwin":
        return (Path("/System/Library/Fonts"), Path("/Library/Fonts"), *((home / "Library/Fonts",) if home else ()))
    own = (home / ".local/share/fonts", home / ".fonts") if home else ()
    return (*own, Path("/usr/local/share/fonts"), Path("/usr/share/fonts"))


def files_in(where: tuple[Path, ...]) -> tuple[Path, ...]:
    """Return the typeface files worth searching for a letter, the clearest first; empty if there are none."""
    found = [(_worth(path), str(path)) for path in _fonts(where) if _worth(path)[0] < len(NAMES)]
    return tuple(Path(path) for _, path in sorted(found))


def _fonts(where: tuple[Path, ...]) -> Iterator[Path]:
    left = MAX_FILES
    for directory in where:
        for here, _, names in os.walk(directory):  # yields nothing for a missing directory
            for name in names:
                left -= 1
                if left < 0:
                    return
                if Path(name).suffix.casefold() in ENDINGS:
                    yield Path(here, name)


def _worth(path: Path) -> tuple[int, int]:
    name = path.name.casefold()
    place = next((number for number, begins in enumerate(NAMES) if name.startswith(begins)), len(NAMES))
    return place, next((number for number, word in enumerate(HEAVY) if word in name), len(HEAVY))
