"""Read the tags of recordings in a child process, with limits of memory and time: the files may be a stranger's."""

import os
from collections.abc import Sequence
from pathlib import Path

import msgspec

from companion import child
from companion.child import Ended
from companion.listening.tag_reader import MAX_CPU_S, RecordingTags


def read_tags(paths: Sequence[Path]) -> list[RecordingTags]:
    """Return the tags of each file, in order; one that its reader cannot survive has a ``problem``.

    All are read in one process. Where that ends early, each file is read in a separate process.
    """
    if not paths:
        return []
    answer = _ask(paths)
    if answer is not None:
        return answer
    if len(paths) == 1:
        return [RecordingTags(problem="it takes too much time or memory to read")]
    return [tags for path in paths for tags in read_tags([path])]


def _ask(paths: Sequence[Path]) -> list[RecordingTags] | None:
    request = msgspec.json.encode([os.fsencode(path).decode("latin-1") for path in paths])
    try:
        found = child.ask(child.python("companion.listening.tag_reader"), request, max_cpu_s=MAX_CPU_S)
        lines = found.out.splitlines() if found.ended is Ended.WELL else []
        tags = [msgspec.json.decode(line, type=RecordingTags) for line in lines]
    except (OSError, msgspec.MsgspecError, ValueError):
        return None
    return tags if len(tags) == len(paths) else None
