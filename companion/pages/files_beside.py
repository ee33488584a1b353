"""The files beside a show that a sheet offers: recordings and charts, and which recording may be of a song."""

import os
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Final

import msgspec

from companion.errors import CompanionError
from companion.listening.recordings import ENDINGS, RecordingFile, RecordingFound, recordings_for
from companion.pages.desk import SongOnDesk, Stack
from companion.pages.markup import Html, tag
from companion.regular import is_regular
from companion.show import Song

CHARTS: Final = frozenset((".pdf", ".png", ".jpg", ".jpeg", ".webp"))
DEEPEST: Final = 2  # folders in folders
MAX_LOOKED_AT: Final = 2_000  # entries of all folders: a sheet is drawn anew with each change
MAX_PLAYED: Final = 128 * 1024 * 1024  # bytes: the browser holds all of it
MEDIA: Final = {
    ".mp3": "audio/mpeg",  # RFC 3003
    ".ogg": "audio/ogg",  # RFC 5334
    ".oga": "audio/ogg",
    ".opus": "audio/ogg",  # RFC 7845
    ".flac": "audio/flac",  # RFC 9639
    ".wav": "audio/wav",
    ".m4a": "audio/mp4",  # RFC 4337
    ".mp4": "audio/mp4",
    ".aac": "audio/aac",
}
"""What browsers play, by the file's ending."""
MAX_PATH: Final = 400  # characters, as in the show file


class FilesBeside(msgspec.Struct, frozen=True):
    """Paths as they are written in the show, sorted; what lies deeper or behind links is not among them."""

    recordings: tuple[str, ...] = ()
    charts: tuple[str, ...] = ()


def files_beside(show: Path) -> FilesBeside:
    """Return the recordings and the charts in the show's folder."""
    found = list(_files_in(show.absolute().parent, "", [MAX_LOOKED_AT]))
    return FilesBeside(
        tuple(one for one in found if Path(one).suffix.lower() in ENDINGS),
        tuple(one for one in found if Path(one).suffix.lower() in CHARTS),
    )


def playable(show: Path, recording: str | None) -> tuple[Path, str]:
    """Return a song's recording that a page may play, and its media type.

    Only a recording in the show's own folder: a show from a stranger may name any file of this computer.
    Raises CompanionError.
    """
    if not recording or "://" in recording:
        raise CompanionError("this song has no recording beside the show")
    folder = Path(os.path.realpath(show.absolute().parent))
    path = Path(os.path.realpath(folder / recording))
    kind = MEDIA.get(path.suffix.lower())
    if kind is None or not path.is_relative_to(folder) or not is_regular(path):
        raise CompanionError("only a recording in the show's folder can be played here")
    if path.stat().st_size > MAX_PLAYED:
        raise CompanionError(f"this recording is longer than {MAX_PLAYED // 2**20} MiB")
    return path, kind


def _files_in(folder: Path, path: str, left: list[int], depth: int = 0) -> Iterator[str]:
    try:
        with os.scandir(folder) as entries:
            rows = sorted((one for one, _ in zip(entries, range(left[0]), strict=False)), key=lambda entry: entry.name)
    except OSError:
        return
    left[0] -= len(rows)
    for entry in rows:
        written = f"{path}{entry.name}"
        fits = written.isprintable() and written == written.strip() and len(written) <= MAX_PATH
        if entry.name.startswith(".") or entry.is_symlink() or not fits:
            continue
        if entry.is_dir(follow_symlinks=False):
            if depth < DEEPEST:
                yield from _files_in(Path(entry.path), f"{written}/", left, depth + 1)
        elif entry.is_file(follow_symlinks=False):
            yield written


def offered_lists(beside: FilesBeside) -> Iterator[Html]:
    """Yield what the fields Chart and Recording offer."""
    for name, options in (("charts", ("yes", "no", *beside.charts)), ("recordings", beside.recordings)):
        yield tag("datalist", *(tag("option", value=one) for one in options), id=name)


def note_on_file(stack: Stack, one: SongOnDesk, key: str, beside: FilesBeside) -> Html | None:
    """Return the notes under Chart or Recording: a file that is missing, or one that may be of this song."""
    written = getattr(one.song, key)
    if isinstance(written, str) and "://" not in written:
        is_there = is_regular(stack.file.path.parent / written)
        return None if is_there else tag("p", "There is no such file beside the show.", class_="pencil")
    if written is not None or key != "recording":
        return None
    found = recording_of(one.song, stack.songs, beside)
    if found is None:
        return None
    return tag(
        "p",
        f"Beside the show: {found.file.path}, {found.how.value}{'' if found.is_sure else '?'} ",
        tag("button", "Take it", type="button", data_put=found.file.path, data_for=f"{key}-{one.mark}"),
        class_="pencil",
    )


def recording_of(song: Song, songs: Sequence[SongOnDesk], beside: FilesBeside) -> RecordingFound | None:
    """Return the recording that may be of this song and of no other one, by the files' names."""
    taken = {one.song.recording for one in songs}
    files = [RecordingFile(path, Path(path).stem) for path in beside.recordings if path not in taken]
    titles = {one.song.title: one.song for one in songs if one.song.recording is None}
    found = recordings_for(list(titles.values()), files).found if files else ()
    return next((one for one in found if one.song.title == song.title), None)
