"""What was heard, kept in the cache by the hash of the sound: a better decision later costs seconds, not minutes."""

import hashlib
import io
import zipfile
import zlib
from pathlib import Path
from typing import Final

import numpy as np

from companion.audio.heard_frames import RawHearing
from companion.audio.networks.chord_net import ChordFrames
from companion.files.file_writing import write_whole

VERSION: Final = 3  # of what is kept; another one is heard again
BLOCK: Final = 1 << 20


def sound_hash(path: Path) -> str:
    """Return the hash of a recording's bytes. Raises OSError."""
    hashed = hashlib.sha256()
    with path.open("rb") as file:
        while block := file.read(BLOCK):
            hashed.update(block)
    return hashed.hexdigest()


def kept_path(sound: str) -> Path:
    """Return the file in the user's cache where a sound's hearing is kept."""
    from platformdirs import user_cache_path

    return user_cache_path("companion", appauthor=False) / "heard" / f"{sound}-{VERSION}.npz"


def keep(raw: RawHearing, path: Path) -> None:
    """Write a hearing, whole or not at all. Raises NotWritten, or OSError for the folder."""
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    frames = {f"chords_{one}": getattr(raw.chords, one) for one in ChordFrames.__struct_fields__}
    whole = io.BytesIO()
    np.savez_compressed(
        whole,
        allow_pickle=False,
        numbers=np.asarray([raw.seconds, raw.cents, raw.in_tune]),
        **{name: array.astype(np.float16) for name, array in frames.items()},
        likely=raw.likely.astype(np.float16),
        levels=raw.levels.astype(np.float16),
        onsets=raw.onsets.astype(np.float16),
    )
    write_whole(path, whole.getvalue())


def kept(path: Path) -> RawHearing | None:
    """Return a kept hearing, or None if there is none, or it cannot be read: then it is heard again."""
    try:
        with path.open("rb") as file, np.load(file, allow_pickle=False) as arrays:
            seconds, cents, in_tune = (float(one) for one in arrays["numbers"])
            chords = ChordFrames(
                **{one: arrays[f"chords_{one}"].astype(np.float32) for one in ChordFrames.__struct_fields__}
            )
            return RawHearing(
                seconds,
                cents,
                in_tune,
                arrays["likely"].astype(np.float32),
                arrays["levels"].astype(np.float32),
                arrays["onsets"].astype(np.float32),
                chords,
            )
    except (OSError, ValueError, KeyError, EOFError, zipfile.BadZipFile, zlib.error):
        return None
