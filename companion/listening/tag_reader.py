"""The child that reads the tags of recordings: their paths come on standard input, a line of JSON each goes out."""

import os
import sys

import msgspec

import companion.lean  # noqa: F401  # before anything that imports msgspec
from companion import child
from companion.regular import require_regular

MAX_CPU_S = 20  # processor seconds for all recordings; sixty ordinary ones take half a second
LETTERS = 200  # of one tag


class RecordingTags(msgspec.Struct, frozen=True):
    """What a recording's tags say; empty or None if they say nothing."""

    title: str = ""
    artist: str = ""
    seconds: float | None = None
    bpm: str = ""
    key: str = ""
    problem: str = ""


def tags_of(path: str) -> RecordingTags:
    """Read one recording's tags; a file that cannot be read has a ``problem``."""
    from tinytag import TinyTag, TinyTagException

    real = os.fsencode(path)
    try:
        require_regular(os.fsdecode(real))
        tag = TinyTag.get(real)
    except (OSError, TinyTagException) as no:
        return RecordingTags(problem=f"it cannot be read: {_short(getattr(no, 'strerror', None) or str(no))}")
    except MemoryError:
        raise
    except Exception:  # noqa: BLE001  a damaged file can raise anything in its reader
        return RecordingTags(problem="its tags are damaged")
    other = {name: str(values[0]) for name, values in tag.other.items() if values}
    return RecordingTags(
        _short(tag.title),
        _short(tag.artist),
        tag.duration,
        _short(other.get("bpm")),
        _short(other.get("initial_key")),
    )


def _short(text: str | None) -> str:
    return (text or "")[:LETTERS]


def main() -> int:
    """Answer once. A file that needs too much memory or time ends only this process."""
    child.limit_this_process(max_cpu_s=MAX_CPU_S)
    try:
        for path in msgspec.json.decode(sys.stdin.buffer.read(), type=list[str]):
            sys.stdout.buffer.write(msgspec.json.encode(tags_of(os.fsdecode(path.encode("latin-1")))) + b"\n")
    except MemoryError:
        os._exit(child.OUT_OF_MEMORY)
    sys.stdout.buffer.flush()
    return 0


if __name__ == "__main__":
    sys.exit(main())
