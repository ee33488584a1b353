"""Progress of a sound check, kept in a file: a sound that was right need not be heard again today."""

import contextlib
import hashlib
from pathlib import Path
from typing import Final

import msgspec
from msgspec.structs import replace

from companion.errors import UNREADABLE, CompanionError
from companion.files.file_writing import write_whole
from companion.ports import is_stale
from companion.regular import read_regular
from companion.rig import data_path
from companion.soundcheck.check.check_state import SoundCheck, Verdict
from companion.soundcheck.check.trials import Trial, fingerprint

VERSION: Final = 1
MAX_BYTES: Final = 4 * 1024 * 1024


class KeptAnswer(msgspec.Struct, frozen=True):
    """One sound that was heard right: its keyboard, its name, and what was sent for it."""

    keyboard: str
    sound: str
    sent: str


class KeptCheck(msgspec.Struct, frozen=True):
    """A sound check that was stopped, at seconds since 1970."""

    version: int
    at_s: float
    right: tuple[KeptAnswer, ...]


def kept_of(check: SoundCheck, at_s: float) -> KeptCheck:
    """Return the part of a sound check that is worth keeping."""
    right = tuple(
        _kept(check, trial)
        for trial, answer in zip(check.trials, check.answers, strict=True)
        if answer.verdict is Verdict.RIGHT and not answer.unsent  # else it is still to be heard over MIDI
    )
    return KeptCheck(VERSION, at_s, right)


def resumed(check: SoundCheck, kept: KeptCheck | None, now_s: float) -> SoundCheck:
    """Continue a sound check: sounds that were right and are sent the same way stay right. An old check is ignored."""
    if kept is None or kept.version != VERSION or is_stale(kept.at_s, now_s):
        return check
    right = set(kept.right)
    answers = tuple(
        replace(answer, verdict=Verdict.RIGHT) if _kept(check, trial) in right else answer
        for trial, answer in zip(check.trials, check.answers, strict=True)
    )
    return replace(check, answers=answers)


def file_for(show: Path, rig: Path, directory: Path | None = None) -> Path:
    """Return the file in which the sound check of this show on this rig is kept."""
    both = "\n".join(str(path.resolve()) for path in (show, rig))
    name = hashlib.sha256(both.encode(errors="surrogateescape")).hexdigest()[:16]
    return (directory or data_path()) / "soundchecks" / f"{name}.json"


def read_kept(file: Path) -> KeptCheck | None:
    """Read the kept progress; a missing or damaged file holds none."""
    try:
        return msgspec.json.decode(read_regular(file, MAX_BYTES), type=KeptCheck)
    except (OSError, *UNREADABLE):
        return None


def keep(file: Path, kept: KeptCheck) -> None:
    """Keep the progress; if the disk refuses, the next sound check begins at the first sound."""
    with contextlib.suppress(OSError, CompanionError):
        file.parent.mkdir(parents=True, exist_ok=True)
        write_whole(file, msgspec.json.encode(kept).decode())


def forget(file: Path) -> None:
    """Delete the kept progress: the sound check is done."""
    with contextlib.suppress(OSError):
        file.unlink(missing_ok=True)


def _kept(check: SoundCheck, trial: Trial) -> KeptAnswer:
    board = check.rig.keyboards[trial.keyboard]
    return KeptAnswer(board.name, trial.sound.name, fingerprint(board, trial))


def count_right(check: SoundCheck) -> int:
    """Count the sounds that were sent and are right."""
    return sum(answer.verdict is Verdict.RIGHT and not answer.unsent for answer in check.answers)
