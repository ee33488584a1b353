"""The process that reads what was heard in one recording: ``python -m companion.pages.heard_apart``.

It takes a HeardRequest on standard input, and answers in JSON. It needs the libraries of ``companion[ears]``,
which would take 60 MiB of the server's memory all day. It never listens: that takes minutes, and ``companion hear``.
"""

import os
import sys
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Final

import msgspec

from companion.child import limit_this_process
from companion.errors import CompanionError
from companion.show import Song

if TYPE_CHECKING:
    from companion.audio.anchors import Anchors
    from companion.audio.heard_draft import SongDraft

MAX_MEMORY: Final = 1 << 30  # bytes of address space
MAX_CPU_S: Final = 60
UNKNOWN: Final = Song("whatever it is")
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


class HeardRequest(msgspec.Struct, frozen=True):
    """A request to the process: the paths of a recording and its show, and the song's place there, from 0.

    ``downbeats_s``: seconds at which a bar begins, as the player entered them.
    """

    recording: bytes
    show: bytes = b""
    set_at: int = 0
    song_at: int = 0
    downbeats_s: tuple[float, ...] = ()


def parts_of(draft: "SongDraft", unaided: "SongDraft | None" = None, written: Song = UNKNOWN) -> tuple[HeardPart, ...]:
    """Return the parts of a draft, the doubtful ones first.

    What is ``written`` was taken as known for the draft: it is compared with the ``unaided`` one, heard without it.
    """
    is_written = {"key": written.record_key, "tempo": written.tempo_bpm, "meter": written.meter}
    alone = {part for part, value in is_written.items() if value is not None} if unaided else set()
    found = [one for part, one in _by_part(draft) if part not in alone]
    if unaided:
        found += [one for part, one in _by_part(unaided) if part in alone]
    return tuple(sorted(found, key=lambda one: one.is_sure))


def _by_part(draft: "SongDraft") -> Iterator[tuple[str, HeardPart]]:
    from companion.audio.landing import offered, road_map_of, sure_parts

    sure = sure_parts(draft)
    for part, value in offered(UNKNOWN, draft).items():
        yield (
            part,
            HeardPart(
                FIELDS[part],
                value,
                part in sure,
                tuple(doubt.partition(": ")[2] for doubt in draft.doubts if doubt.startswith(f"{part}: ")),
                road_map_of(draft, has_chords=False) if part == "form" else "",
            ),
        )


def heard_in(request: HeardRequest) -> HeardSong:
    """Return what was heard in a recording before, from what the player wrote, tapped and entered. Raises OSError.

    The form is the recording's own: the player's road map holds more than sections and bars.
    """
    from companion.audio.anchors import NOTHING_KNOWN
    from companion.audio.heard_draft import draft_of
    from companion.audio.hearing import hearing_of
    from companion.audio.kept_hearings import kept, kept_path, sound_hash

    sound = sound_hash(Path(os.fsdecode(request.recording)))
    raw = kept(kept_path(sound))
    if raw is None:
        return HeardSong()
    song, anchors = _known(request)
    unaided = draft_of(hearing_of(raw))
    draft = unaided if anchors == NOTHING_KNOWN else draft_of(hearing_of(raw, anchors), anchors)
    return HeardSong(sound, parts_of(draft, unaided, song))


def _known(request: HeardRequest) -> "tuple[Song, Anchors]":
    """Return the song as written, and what is known of its recording."""
    from companion.audio.anchors import anchors_of
    from companion.listening.map_session import kept_throughs
    from companion.practice_log.records import read_records
    from companion.show import read_show

    song, taps = UNKNOWN, []
    if request.show:
        with suppress(CompanionError, IndexError):
            show = Path(os.fsdecode(request.show))
            song = read_show(show).show.sets[request.set_at].songs[request.song_at]
            takes = kept_throughs(read_records(show).kept, song.title, str(song.recording))
            taps = [at_ms / 1000 for take in takes for at_ms in take.firsts]
    return song, msgspec.structs.replace(anchors_of(song, request.downbeats_s, taps), sections=())


def main() -> int:
    """Answer for the recording on standard input."""
    for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
        os.environ[name] = "1"
    limit_this_process(MAX_MEMORY, MAX_CPU_S)
    found = heard_in(msgspec.json.decode(sys.stdin.buffer.read(), type=HeardRequest))
    sys.stdout.buffer.write(msgspec.json.encode(found))
    return 0


if __name__ == "__main__":
    sys.exit(main())
