"""The songs of a show's songbooks, for the call box: read by a separate process once the show runs.

Reading two thousand songs keeps an interpreter busy for a second or two, and the foot must not wait for that. The
process prints one line of JSON, a list of songs; each stays in JSON until it is called.
"""

import contextlib
import os
import subprocess
import sys
import threading
from collections.abc import Callable, Sequence
from pathlib import Path

import msgspec

from companion.child import python
from companion.night.happenings import OfSongbook, SongbooksRead
from companion.stopping import ON_ITS_OWN

AFTER_S = 1.0  # after the first sound and the first picture
LONGEST_S = 60.0  # after this the process is killed: a disk may hang
_SONGS = msgspec.json.Decoder(tuple[OfSongbook, ...])


def fetch_songs(
    show_path: Path,
    books: Sequence[Path],
    report: Callable[[SongbooksRead], None],
    over: threading.Event,
    after_s: float = AFTER_S,
) -> threading.Thread | None:
    """Read these songbooks in the background and report their songs; does nothing without songbooks."""
    if not books:
        return None
    words = python("companion.night.songbooks", str(show_path), *map(str, books))
    thread = threading.Thread(target=_fetch, args=(words, report, over, after_s), name="songbooks", daemon=True)
    thread.start()
    return thread


def _fetch(
    words: Sequence[str], report: Callable[[SongbooksRead], None], over: threading.Event, after_s: float
) -> None:
    if over.wait(after_s):
        return
    with contextlib.suppress(OSError, subprocess.SubprocessError, msgspec.DecodeError):
        done = subprocess.run(  # noqa: S603 - our own module, by the interpreter that runs us
            words,
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            timeout=LONGEST_S,
            check=True,
            **ON_ITS_OWN,
        )
        report(SongbooksRead(_SONGS.decode(done.stdout)))


def main(show_path: str, *books: str) -> None:
    """Print the songs, in a separate process."""
    from companion.show.show_file import songs_of_books

    if hasattr(os, "nice"):
        os.nice(10)
    songs = tuple(songs_of_books(show_path, tuple(map(Path, books))))
    named = tuple(OfSongbook(song.title, msgspec.Raw(msgspec.json.encode(song))) for song in songs)
    sys.stdout.buffer.write(msgspec.json.encode(named))


if __name__ == "__main__":
    main(*sys.argv[1:])
