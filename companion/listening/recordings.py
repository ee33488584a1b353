"""Find each song's recording in a folder, by its tags and its file's name. What is not certain is a doubt. Pure."""

import enum
import re
from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import Final

import msgspec

from companion.music import Key, NotMusic, read_key
from companion.music.tempo import FASTEST_BPM, SLOWEST_BPM
from companion.setlist.tidy import tidy
from companion.show import Song
from companion.show.titles import folded

ENDINGS: Final = frozenset(
    (".mp3", ".ogg", ".oga", ".opus", ".flac", ".wav", ".m4a", ".aif", ".aiff", ".wma", ".mp4", ".aac")
)
ALIKE: Final = 85.0  # of 100: titles this similar are asked about
NUMBER: Final = re.compile(r"(?:cd ?[0-9]{1,2}[-. ]{1,3}|[0-9]{1,2}[-.])?[0-9]{1,3}[-._ )]{1,4}", re.IGNORECASE)
BRACKETS: Final = re.compile(r"[(\[{][^()\[\]{}]{0,60}[)\]}]")
HARMLESS: Final = re.compile(  # words in brackets that name the same recording
    r"(?:official|audio|video|lyrics?|hq|hd|stereo|mono|remaster(?:ed)?|version|[0-9]{4}|[\W_])+", re.IGNORECASE
)
MAX_SECONDS: Final = 2 * 60 * 60


class HowSure(enum.Enum):
    """How sure it is that a recording is of a song; the value is the reason that the player reads."""

    TAG = "by its tags"
    NAME = "by its name"
    VERSION = "perhaps another version"
    SEVERAL = "one of several"
    ALIKE = "a similar title"
    WITHIN = "its name contains the title"


SURE: Final = (HowSure.TAG, HowSure.NAME)


class RecordingFile(msgspec.Struct, frozen=True):
    """A recording: its path as it will be in the show file, its name without ending, what its tags say."""

    path: str
    stem: str
    title: str = ""
    artist: str = ""
    seconds: float | None = None
    bpm: str = ""
    key: str = ""

    @property
    def length_s(self) -> int | None:
        """Its length in whole seconds; None if it is not known."""
        return round(self.seconds) if self.seconds and 1 <= self.seconds <= MAX_SECONDS else None

    @property
    def tempo_bpm(self) -> float | None:
        """The tempo in its tags; None if there is none that a song can have."""
        try:
            tempo = round(float(self.bpm.replace(",", ".")), 1)
        except ValueError:
            return None
        return tempo if SLOWEST_BPM <= tempo <= FASTEST_BPM else None

    @property
    def record_key(self) -> Key | None:
        """The key in its tags; None if there is none that can be read."""
        try:
            return read_key(self.key) if self.key else None
        except NotMusic:
            return None


class RecordingFound(msgspec.Struct, frozen=True):
    """A song and a recording that may be of it."""

    song: Song
    file: RecordingFile
    how: HowSure

    @property
    def is_sure(self) -> bool:
        """Whether nothing has to be asked."""
        return self.how in SURE


class RecordingsFound(msgspec.Struct, frozen=True):
    """The recordings for songs in show order, and the files that are of no song."""

    found: tuple[RecordingFound, ...]
    without_song: tuple[RecordingFile, ...]


def recordings_for(songs: Sequence[Song], files: Sequence[RecordingFile]) -> RecordingsFound:
    """Match songs with files. For a song of which there are several files, the best is a doubt, the rest is left."""
    claims: dict[int, list[tuple[int, HowSure, RecordingFile]]] = defaultdict(list)
    for file in files:
        best = min(_claims(songs, file), default=None, key=lambda one: one[:2])
        if best is not None:
            claims[best[1]].append((best[0], best[2], file))
    found = []
    for at, song in enumerate(songs):
        rows = sorted(claims[at], key=lambda one: (one[0], one[2].path))
        if rows:
            rank, how, file = rows[0]
            several = len(rows) > 1 and rows[1][0] == rank
            found.append(RecordingFound(song, file, HowSure.SEVERAL if several else how))
    taken = {one.file.path for one in found}
    return RecordingsFound(tuple(found), tuple(file for file in files if file.path not in taken))


def _claims(songs: Sequence[Song], file: RecordingFile) -> Iterator[tuple[int, int, HowSure]]:
    """Yield (rank, song, how) for each song that a file may be of; rank 0 is best."""
    from rapidfuzz import fuzz

    tagged, named = folded(tidy(file.title)) if file.title else "", set(_titles(file.stem))
    shorter = {folded(_without_brackets(title)) for title in (file.title, *_raw(file.stem)) if title}
    for at, song in enumerate(songs):
        title = folded(song.title)
        other = song.artist and file.artist and folded(song.artist) != folded(file.artist)  # a cover, or another song
        if title == tagged:
            yield (2, at, HowSure.VERSION) if other else (0, at, HowSure.TAG)
        elif title in named:
            yield (2, at, HowSure.VERSION) if other else (1, at, HowSure.NAME)
        elif title in shorter:
            yield (3, at, HowSure.VERSION)
        elif max((fuzz.ratio(title, name) for name in {tagged, *named, *shorter} if name), default=0) >= ALIKE:
            yield (4, at, HowSure.ALIKE)
        elif len(title) > 3 and f" {title} " in f" {folded(file.stem)} ":
            yield (5, at, HowSure.WITHIN)


def _raw(stem: str) -> Iterator[str]:
    """Yield what the title may be in a file's name: all of it, without its number, after an artist."""
    name = tidy(stem.replace("_", " "))
    for whole in dict.fromkeys((name, NUMBER.sub("", name, count=1) if NUMBER.match(name) else name)):
        yield whole
        first, dash, last = whole.partition(" - ")
        if dash:
            yield last
            yield first
            yield whole.rpartition(" - ")[2]


def _titles(stem: str) -> Iterator[str]:
    for title in _raw(stem):
        yield folded(title)
        plain = BRACKETS.sub(lambda found: "" if HARMLESS.fullmatch(found[0]) else found[0], title)
        yield folded(plain)


def _without_brackets(title: str) -> str:
    return BRACKETS.sub("", title).strip() or title
