"""Decode a recording to mono samples. FFmpeg, in PyAV, reads the file: only in a process with limits."""

import contextlib
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray

from companion.audio.constant_q import RATE
from companion.audio.protection import is_protected

LONGEST_S: Final = 20 * 60  # a live medley; a whole night is not a song
SHORTEST_S: Final = 10
SILENT: Final = 1e-4  # of full scale


class NotHeard(Exception):  # noqa: N818 - an outcome that is reported, like NoStage
    """The recording cannot be heard; its text says why, and what to do."""


def decoded(path: Path) -> NDArray[np.float32]:
    """Return mono samples at RATE. Raises NotHeard if the file has no readable music."""
    import av
    from av.error import FFmpegError

    if not path.is_file():
        raise NotHeard("the file is not there")
    with contextlib.suppress(OSError):
        if is_protected(path):
            raise NotHeard("copy-protected: only the shop's own player can play it. Use an unprotected copy")
    pieces: list[NDArray[np.float32]] = []
    seconds = 0.0
    try:
        with av.open(str(path), metadata_errors="replace") as container:
            if not container.streams.audio:
                raise NotHeard("the file contains no sound")
            stream = container.streams.audio[0]
            resampler = av.AudioResampler(format="flt", layout="mono", rate=RATE)
            for frame in container.decode(stream):
                for part in resampler.resample(frame):
                    pieces.append(part.to_ndarray().reshape(-1).astype(np.float32))
                    seconds += len(pieces[-1]) / RATE
                if seconds > LONGEST_S:
                    raise NotHeard(f"longer than {LONGEST_S // 60} minutes: cut out the one song")
            pieces += [part.to_ndarray().reshape(-1).astype(np.float32) for part in resampler.resample(None)]
    except (FFmpegError, ValueError, OSError) as fault:
        if seconds < SHORTEST_S:
            raise NotHeard(f"not a readable recording ({_why(fault)})") from None
        # The rest of a cut or damaged file is missing; what was read is music.
    if seconds < SHORTEST_S:
        raise NotHeard(f"shorter than {SHORTEST_S} seconds")
    samples = np.concatenate(pieces)
    samples = np.nan_to_num(samples, nan=0.0, posinf=0.0, neginf=0.0)
    if float(np.abs(samples).max(initial=0.0)) < SILENT:
        raise NotHeard("silent")
    return samples


def _why(fault: BaseException) -> str:
    return (getattr(fault, "strerror", None) or str(fault) or type(fault).__name__).casefold()
