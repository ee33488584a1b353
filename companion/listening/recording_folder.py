"""A folder of recordings on disk: what is in it, what of it can be written in a show file, and the edits for that."""

import os
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Final

import msgspec

from companion.edits import Edit, EditClash, FileText, SetValue, names_in, open_text, save
from companion.errors import CompanionError
from companion.files import SourceFile
from companion.listening.playlist import is_link
from companion.listening.recordings import ENDINGS, RecordingFile, RecordingFound, RecordingsFound, recordings_for
from companion.listening.tags_apart import read_tags
from companion.music import shown_length
from companion.practice_log.logged import show_and_progress
from companion.regular import is_regular
from companion.show import Song
from companion.show.show_file import show_in
from companion.show.titles import folded

DEEPEST: Final = 4  # folders in folders
MAX_FILES: Final = 2_000
MAX_PATH: Final = 400  # characters, as in the show file


class FolderLooked(msgspec.Struct, frozen=True):
    """The result of looking at a folder: the matches, and lines about what was left aside."""

    matches: RecordingsFound
    aside: tuple[str, ...]


def look_for_recordings(show_path: str | os.PathLike[str], folder: str | os.PathLike[str]) -> FolderLooked:
    """Find recordings for the songs that have none, or whose file is missing. Raises CompanionError."""
    beside = Path(show_path).resolve().parent
    show, _ = show_and_progress(show_path)
    if not Path(folder).is_dir():
        raise CompanionError(f"{folder} is not a folder. Write: --recordings and a folder of recordings")
    seen: set[str] = set()
    songs: list[Song] = []
    for song in (song for one in show.sets for song in one.songs):
        has = song.recording and (is_link(song.recording) or is_regular(beside / song.recording))
        if not has and folded(song.title) not in seen:
            seen.add(folded(song.title))
            songs.append(song)
    aside: list[str] = []
    paths: list[tuple[Path, str]] = []
    for path in _files_in(Path(folder).resolve(), aside):
        written = _as_written(path, beside)
        if len(paths) == MAX_FILES:
            aside.append(f"more than {MAX_FILES:,} recordings; the rest was not looked at")
            break
        if written is None:
            aside.append(f"{_named(path)}: its name cannot be written in a show file. Rename it")
        else:
            paths.append((path, written))
    files = []
    for (path, written), tags in zip(paths, read_tags([path for path, _ in paths]), strict=True):
        if tags.problem:
            aside.append(f"{_named(path)}: {tags.problem}")
        files.append(RecordingFile(written, path.stem, tags.title, tags.artist, tags.seconds, tags.bpm, tags.key))
    return FolderLooked(recordings_for(songs, files), tuple(aside))


def _files_in(folder: Path, aside: list[str], depth: int = 0) -> Iterator[Path]:
    """Yield the recordings in a folder, sorted by name. Links are not followed; what is left out goes to ``aside``."""
    try:
        with os.scandir(folder) as entries:
            rows = sorted(entries, key=lambda entry: entry.name)
    except OSError as error:
        aside.append(f"{_named(folder)}: {error.strerror or error}")
        return
    for entry in rows:
        path = Path(entry.path)
        if entry.name.startswith("."):
            continue
        if entry.is_symlink():
            aside.append(f"{_named(path)}: a link, not followed")
        elif entry.is_dir(follow_symlinks=False):
            if depth < DEEPEST:
                yield from _files_in(path, aside, depth + 1)
        elif path.suffix.lower() in ENDINGS and entry.is_file(follow_symlinks=False):
            yield path


def _named(path: Path) -> str:
    return os.fsencode(path.name).decode("utf-8", "replace")


def _as_written(path: Path, beside: Path) -> str | None:
    """Return a path as the show file writes it: relative within its folder. None if text cannot hold it."""
    written = path.relative_to(beside).as_posix() if path.is_relative_to(beside) else path.as_posix()
    try:
        written.encode()
    except UnicodeEncodeError:
        return None
    fits = written.isprintable() and len(written) <= MAX_PATH and written == written.strip() and not is_link(written)
    return written if fits else None


def line_of(one: RecordingFound) -> str:
    """Return a match as the player reads it, with what its tags add to the song."""
    adds = [shown for _, _, shown in _adds(one)]
    return f"{one.song.title}: {one.file.path}, {one.how.value}{''.join(f'; {shown}' for shown in adds)}"


def _adds(one: RecordingFound) -> Iterator[tuple[str, object, str]]:
    """Yield (key, value, words) of what the show does not say yet: length, tempo, and the recording's key."""
    song, file = one.song, one.file
    if song.length_s is None and file.length_s:
        yield "length", shown_length(file.length_s), f"length {shown_length(file.length_s)}"
    if song.tempo_bpm is None and file.tempo_bpm:
        tempo = int(file.tempo_bpm) if file.tempo_bpm.is_integer() else file.tempo_bpm
        yield "tempo", tempo, f"tempo {tempo}"
    if song.record_key is None and file.record_key:
        yield "record_key", str(file.record_key), f"recorded in {file.record_key}"


def attach_recordings(
    show_path: str | os.PathLike[str],
    taken: Sequence[RecordingFound],
    file: FileText | None = None,
    ask: Callable[[EditClash], bool] | None = None,
) -> None:
    """Write recordings into the show file, for every place where it plays the song. Raises CompanionError.

    ``file``: the show as it was when they were offered.
    """
    file = file or open_text(show_path)
    path, text = str(file.path), file.text or ""
    show = show_in(SourceFile(path, text)).show
    by_title = {folded(one.song.title): one for one in taken}
    edits: list[Edit] = []
    for one, names in zip(show.sets, names_in(text, path), strict=True):
        for song, name in zip(one.songs, names, strict=True):
            match = by_title.get(folded(song.title))
            if match is not None:
                edits.append(SetValue((name, "recording"), match.file.path))
                edits += [SetValue((name, key), value) for key, value, _ in _adds(match)]
    save(file, edits, "recordings", check=lambda after: show_in(SourceFile(path, after)), ask=ask)
