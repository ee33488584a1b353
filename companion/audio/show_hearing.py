"""Hear the recordings of a show, one after the other, each in a separate process."""

import json
import subprocess
import time
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import IO, Final, cast

import msgspec

from companion.audio.anchors import NOTHING_KNOWN, Anchors, anchors_of
from companion.audio.heard_draft import SongDraft, draft_of
from companion.audio.hearing import hearing_of
from companion.audio.kept_hearings import kept, kept_path, sound_hash
from companion.child import UNTIL_INPUT_ENDS, python, within_limits
from companion.show import Show, Song

MAX_MEMORY: Final = 1 << 30  # bytes that a child may really use, on systems where it cannot limit itself
MAX_CPU_S: Final = 600.0
LINKS: Final = ("http:", "https:", "rtsp:", "mms:")


class SongHeard(msgspec.Struct, frozen=True):
    """A song and its draft, or why there is none. ``seconds``: the time that listening took, 0 from the cache.

    ``unaided``: the draft without what the player wrote or tapped, to compare with it.
    """

    song: Song
    draft: SongDraft | None = None
    unaided: SongDraft | None = None
    problem: str = ""
    seconds: float = 0.0


def songs_with_recordings(show: Show, songs: Sequence[Song] | None = None) -> list[Song]:
    """Return the songs to hear, in set order: the first entry of each title and recording."""
    chosen = songs if songs is not None else [song for one in show.sets for song in one.songs]
    found: dict[tuple[str, str], Song] = {}
    for song in chosen:
        if song.recording:
            found.setdefault((song.title, song.recording), song)
    return list(found.values())


def hear_songs(
    songs: Sequence[Song],
    folder: Path,
    stage: Callable[[Song, str], None] = lambda _song, _stage: None,
    anchors: Callable[[Song], Anchors] = anchors_of,
) -> Iterator[SongHeard]:
    """Yield each song once it is heard. ``folder``: where the recordings' paths begin.

    ``anchors`` returns what the player knows of a song.
    ``stage`` is called when a part of the work begins. An interrupted call continues next time: what was
    heard is kept.
    """
    for song in songs:
        recording = str(song.recording)
        if recording.lower().startswith(LINKS):
            yield SongHeard(song, problem="the recording is a link: keep the file beside the show")
            continue
        yield _heard(song, folder / recording, stage, anchors(song))


def kept_draft(path: Path, anchors: Anchors) -> SongDraft | None:
    """Return the draft of a recording that was heard before; None if it was not, or it cannot be read."""
    try:
        raw = kept(kept_path(sound_hash(path)))
    except (OSError, ValueError):
        return None
    return None if raw is None else draft_of(hearing_of(raw, anchors), anchors)


def _heard(song: Song, path: Path, stage: Callable[[Song, str], None], anchors: Anchors) -> SongHeard:
    begun = time.monotonic()
    try:
        kept_at = kept_path(sound_hash(path))
    except (OSError, ValueError) as fault:
        return SongHeard(song, problem=f"cannot read {path.name}: {getattr(fault, 'strerror', None) or fault}")
    raw = kept(kept_at)
    spent = 0.0
    if raw is None:
        problem = _listened(path, kept_at, lambda name: stage(song, name))
        if problem:
            return SongHeard(song, problem=problem, seconds=time.monotonic() - begun)
        raw = kept(kept_at)
        spent = time.monotonic() - begun
    if raw is None:
        return SongHeard(song, problem="the result cannot be read back", seconds=spent)
    stage(song, "form")
    unaided = draft_of(hearing_of(raw))
    draft = unaided if anchors == NOTHING_KNOWN else draft_of(hearing_of(raw, anchors), anchors)
    return SongHeard(song, draft, unaided, seconds=spent)


def _listened(path: Path, kept_at: Path, stage: Callable[[str], None]) -> str:
    """Run the process that listens; return what went wrong, or nothing."""
    problem = "it cannot be decoded: the file is damaged, or no music"
    process = subprocess.Popen(  # noqa: S603 - our own module, run by our own interpreter
        python("companion.audio", str(path.resolve()), str(kept_at), UNTIL_INPUT_ENDS),
        stdin=subprocess.PIPE,  # never written to: it ends when this process does, and the child with it
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
    )
    with process, within_limits(process, MAX_MEMORY, MAX_CPU_S) as too_much:
        try:
            for line in cast("IO[bytes]", process.stdout):
                report = json.loads(line)
                if "stage" in report:
                    stage(str(report["stage"]))
                problem = str(report.get("problem", "" if report.get("heard") else problem))
        except ValueError:
            process.kill()
        except BaseException:
            process.kill()
            raise
    if too_much.is_set():
        return "it needs more memory than a song does"
    return problem
