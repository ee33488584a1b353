"""The process that reads what was heard in one recording: ``python -m companion.pages.heard_apart``.

It takes the recording's path on standard input and answers in JSON. It needs the libraries of ``companion[ears]``,
which would take 60 MiB of the server's memory all day. It never listens: that takes minutes, and ``companion hear``.
"""

import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Final

import msgspec

from companion.child import limit_this_process
from companion.show import Song

if TYPE_CHECKING:
    from companion.audio.heard_draft import SongDraft

MAX_MEMORY: Final = 1 << 30  # bytes of address space
MAX_CPU_S: Final = 60
FIELDS: Final = {"key": "record_key", "tempo": "tempo", "meter": "meter", "form": "road_map"}
"""The field of a song that each part of a draft would fill."""


class HeardPart(msgspec.Struct, frozen=True):
    """One thing that was heard, as it would be typed into ``field``, and what is doubtful about it.

    ``bare``: a road map without its chords, for a song where nobody knows the key of their letters.
    """

    field: str
    value: str
    is_sure: bool
    doubts: tuple[str, ...] = ()
    bare: str = ""


class HeardSong(msgspec.Struct, frozen=True):
    """What was heard in a recording, doubtful parts first; ``sound`` names it, and is empty if nobody listened."""

    sound: str = ""
    parts: tuple[HeardPart, ...] = ()


def parts_of(draft: "SongDraft") -> tuple[HeardPart, ...]:
    """Return the parts of a draft, the doubtful ones first."""
    from companion.audio.landing import offered, road_map_of, sure_parts

    sure = sure_parts(draft)
    found = [
        HeardPart(
            FIELDS[part],
            value,
            part in sure,
            tuple(doubt.partition(": ")[2] for doubt in draft.doubts if doubt.startswith(f"{part}: ")),
            road_map_of(draft, has_chords=False) if part == "form" else "",
        )
        for part, value in offered(Song("whatever it is"), draft).items()
    ]
    return tuple(sorted(found, key=lambda one: one.is_sure))


def heard_in(recording: Path) -> HeardSong:
    """Return what was heard in a recording before. Raises OSError."""
    from companion.audio.heard_draft import draft_of
    from companion.audio.hearing import hearing_of
    from companion.audio.kept_hearings import kept, kept_path, sound_hash

    sound = sound_hash(recording)
    raw = kept(kept_path(sound))
    return HeardSong() if raw is None else HeardSong(sound, parts_of(draft_of(hearing_of(raw))))


def main() -> int:
    """Answer for the recording on standard input."""
    for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
        os.environ[name] = "1"
    limit_this_process(MAX_MEMORY, MAX_CPU_S)
    found = heard_in(Path(os.fsdecode(sys.stdin.buffer.read())))
    sys.stdout.buffer.write(msgspec.json.encode(found))
    return 0


if __name__ == "__main__":
    sys.exit(main())
