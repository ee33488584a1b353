"""The child that reads a stranger's file: the task and the bytes come on standard input, the answer is JSON."""

import os
import sys

import companion.lean  # noqa: F401  # before anything that imports msgspec
from companion import child
from companion.show.apart import Asked, answer_to, asked_in


def read(asked: Asked, raw: bytes) -> object:
    """Read these bytes. Raises FaultyFile if they are refused."""
    if asked.kind == "midi":
        from companion.show.midi_file import midi_song  # noqa: PLC0415  load only what the task needs

        return midi_song(raw, asked.name)
    from companion.show.lists.bringing_in import list_in  # noqa: PLC0415  load only what the task needs

    return list_in(raw, asked.name, german=asked.kind.startswith("german"))


def main() -> int:
    """Answer once. A file that crashes its reader or needs too much memory ends only this process."""
    sys.modules["numpy"] = None  # type: ignore[assignment]  # some libraries import it if installed, and it takes 100 MiB
    child.limit_this_process()
    line, _, raw = sys.stdin.buffer.read().partition(b"\n")
    try:
        sys.stdout.buffer.write(answer_to(asked_in(line), raw, read))
        sys.stdout.buffer.flush()
    except MemoryError:
        os._exit(child.OUT_OF_MEMORY)
    return 0


if __name__ == "__main__":
    sys.exit(main())
