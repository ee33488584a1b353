"""The child that reads a stranger's file: what is asked and the bytes on standard input, the answer as JSON."""

import os
import sys

import companion.lean  # noqa: F401  # before all that brings msgspec in
from companion import child
from companion.show.apart import Asked, answer_to, asked_in


def read(asked: Asked, raw: bytes) -> object:
    """Read these bytes. Raises FaultyFile where they are refused."""
    if asked.kind == "midi":
        from companion.show.midi_file import midi_song  # noqa: PLC0415  only what is asked for

        return midi_song(raw, asked.name)
    from companion.show.lists.bringing_in import list_in  # noqa: PLC0415  only what is asked for

    return list_in(raw, asked.name, german=asked.kind.startswith("german"))


def main() -> int:
    """Answer once. A file that breaks its reader, or asks for too much memory, ends this process alone."""
    sys.modules["numpy"] = None  # type: ignore[assignment]  # some libraries look for it, and it takes 100 MiB
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
