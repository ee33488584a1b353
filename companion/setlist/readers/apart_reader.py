"""The child that reads a stranger's file: the task and the bytes come on standard input, the answer is JSON."""

import os
import sys

import companion.lean  # noqa: F401  # before anything that imports msgspec
from companion import child
from companion.setlist.readers.apart import PICTURES_TAKE, ReadRequest, answer_to, asked_in


def read(asked: ReadRequest, raw: bytes) -> object:
    """Read these bytes. Raises FaultyFile if they are refused."""
    if asked.kind == "midi":
        from companion.setlist.readers.midi_file import midi_song

        return midi_song(raw, asked.name)
    if asked.kind == "pictures":
        from companion.setlist.readers.picture import prepared

        return prepared(raw, asked.name)
    from companion.setlist.list_reading import changes_in, list_in, list_of_words

    if asked.kind == "changes":
        return changes_in(raw, asked.name)

    if asked.kind == "words":
        return list_of_words(raw, asked.name, notation=asked.notation)
    return list_in(raw, asked.name, notation=asked.notation, chosen=asked.chosen)


def main() -> int:
    """Answer once. A file that crashes its reader or needs too much memory ends only this process."""
    sys.modules["numpy"] = None  # type: ignore[assignment]  # some libraries import it if installed, and it takes 100 MiB
    times = PICTURES_TAKE if sys.argv[1:] == ["pictures"] else 1
    child.limit_this_process(child.MAX_MEMORY * times, child.MAX_CPU_S * times)
    line, _, raw = sys.stdin.buffer.read().partition(b"\n")
    try:
        sys.stdout.buffer.write(answer_to(asked_in(line), raw, read))
        sys.stdout.buffer.flush()
    except MemoryError:
        os._exit(child.OUT_OF_MEMORY)
    return 0


if __name__ == "__main__":
    sys.exit(main())
