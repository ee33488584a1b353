"""Choose the rig file for a show, and say why."""

import contextlib
import os
from collections.abc import Callable
from pathlib import Path
from typing import Final

import msgspec

from companion.errors import UNREADABLE
from companion.files.folders import config_path, data_path
from companion.regular import read_regular

MAX_BYTES: Final = 4 * 1024 * 1024  # bytes of the memory file
BUILT_IN: Final = Path(__file__).with_name("built_in.yaml")
_LAST_RIGS: Final = "last-rigs.json"  # in the user's data directory: absolute show path to absolute rig path


BUILT_IN_TOLD: Final = "rig: the built-in one, General MIDI on the only output port"
_OWN: Final = """\
# Your rig, made from the built-in one. Enter each keyboard with its port and its sounds, and your pedals:
# companion ports lists the ports, companion pedals --rig and this file's name sets pedals up.
"""


class ChosenRig(msgspec.Struct, frozen=True):
    """The rig file, and the sentence that tells the player why this one."""

    path: Path
    because: str


def choose_rig(
    show: Path, *, requested: Path | None, last_used: Path | None, configuration: Path, exists: Callable[[Path], bool]
) -> ChosenRig:
    """Return the first rig file that exists: requested, last used, beside the show, the user's own, built in.

    ``requested`` is returned even if it does not exist, so the player gets the error. ``last_used`` is the rig last
    used with this show, ``configuration`` the user's configuration directory.
    """
    if requested == BUILT_IN:
        return ChosenRig(BUILT_IN, BUILT_IN_TOLD)
    if requested is not None:
        return ChosenRig(requested, f"rig: {requested}, as requested")
    gone = ""
    if last_used is not None:
        if exists(last_used):
            return ChosenRig(last_used, f"rig: {last_used}, last used with this show (--rig chooses another)")
        gone = f"; the one last used with this show, {last_used}, is gone"
    beside = show.parent.parent / "config" / "rig.yaml"
    if exists(beside):
        return ChosenRig(beside, f"rig: {beside}, beside the show's folder{gone}")
    own = configuration / "rig.yaml"
    if exists(own):
        return ChosenRig(own, f"rig: {own}, your own{gone}")
    return ChosenRig(BUILT_IN, f"{BUILT_IN_TOLD}{gone}")


def rig_for(show: Path, requested: Path | None = None) -> ChosenRig:
    """Choose the rig file for a show on this computer (see ``choose_rig``)."""
    if requested is not None:
        return choose_rig(show, requested=requested, last_used=None, configuration=Path(), exists=Path.is_file)
    return choose_rig(
        show.absolute(),
        requested=None,
        last_used=last_rig(show, data_path()),
        configuration=config_path(),
        exists=Path.is_file,
    )


def own_rig_text() -> str:
    """Return the text of a rig file to begin with: the built-in rig under another heading."""
    lines = BUILT_IN.read_text(encoding="utf-8").splitlines(keepends=True)
    rig = "".join(line for line in lines if not line.startswith("#"))
    return _OWN + rig.replace("rig: General MIDI", "rig: My rig", 1)


def last_rig(show: Path, directory: Path) -> Path | None:
    """Return the rig last used with this show, or None."""
    rig = _remembered(directory / _LAST_RIGS).get(_written(show))
    return Path(rig) if rig else None


def remember_rig(show: Path, rig: Path, directory: Path) -> None:
    """Remember the rig used with this show; for the built-in one, forget any.

    The file is replaced as a whole: a crash leaves the old or the new one. Raises OSError if the disk refuses.
    """
    file = directory / _LAST_RIGS
    remembered = _remembered(file)
    before = dict(remembered)
    remembered.pop(_written(show), None)
    if rig != BUILT_IN:
        remembered[_written(show)] = _written(rig)
    if remembered != before:
        _replace(file, msgspec.json.encode(remembered))


def _written(path: Path) -> str:
    """Return the absolute path as text, even if its bytes are not UTF-8."""
    return os.path.realpath(path).encode(errors="backslashreplace").decode()


def _remembered(file: Path) -> dict[str, str]:
    """Read the remembered rigs; a missing or damaged file remembers none."""
    try:
        return msgspec.json.decode(read_regular(file, MAX_BYTES), type=dict[str, str])
    except (OSError, *UNREADABLE):
        return {}


def _replace(file: Path, content: bytes) -> None:
    """Write a file so that a crash leaves the old or the new one, never half of it."""
    file.parent.mkdir(parents=True, exist_ok=True)
    new = file.with_name(f"{file.name}.{os.getpid()}.new")
    try:
        with new.open("wb") as opened:
            opened.write(content)
            opened.flush()
            os.fsync(opened.fileno())
        new.replace(file)
    except OSError:
        with contextlib.suppress(OSError):
            new.unlink()
        raise
