"""Listening in set order: play the player's own recordings, follow the road map, count only what was really heard."""

import datetime as dt
import enum
import os
from collections.abc import Callable, Iterator, Sequence
from typing import Final, Protocol

import msgspec

from companion.errors import NoStage
from companion.listening.heard_parts import HeardStretches, Timed, section_at, timed_sections
from companion.listening.playlist import Track
from companion.practice_log.records import LogKind, PracticeRecord
from companion.regular import is_regular
from companion.show import Song

BACK_S: Final = 10.0
LONGEST_STEP_S: Final = 2.0  # most seconds between two polls; more means that the computer slept


class Press(enum.Enum):
    """The player's commands while a recording plays; the value is the help text."""

    PAUSE = "pause or resume"
    BACK = "back ten seconds"
    LOOP = "loop this section, or stop looping"
    SKIP = "next song"
    QUIT = "stop"


KEYS: Final = {" ": Press.PAUSE, "b": Press.BACK, "l": Press.LOOP, "n": Press.SKIP, "q": Press.QUIT}


class Player(Protocol):
    """Plays a recording. Seconds count from its beginning."""

    def play(self, path: str, from_s: float) -> None:
        """Play a file from this second. Raises NoStage if it cannot be played."""

    def pause(self, paused: bool) -> None:  # noqa: FBT001  matches every Player
        """Pause or resume."""

    def at_s(self) -> float | None:
        """Return the position in seconds; None when it has ended."""

    def stop(self) -> None:
        """Stop playing."""

    def length_s(self, path: str) -> float:
        """Return a file's length in seconds; 0 if it is unknown."""


class Now(msgspec.Struct, frozen=True):
    """The state shown while a recording plays."""

    song: Song
    at_s: float
    section: str
    coming: str


class Listened(msgspec.Struct, frozen=True):
    """The result: each song with the share heard, and the files that could not be played."""

    heard: tuple[tuple[Song, float], ...]
    unplayable: tuple[tuple[Track, str], ...] = ()


class _Listening:
    """A recording that is playing."""

    def __init__(self, track: Track, path: str, player: Player, sections: Sequence[Timed]) -> None:
        self.track = track
        self.path = path
        self.player = player
        self.sections = sections
        self.heard = HeardStretches()
        self.paused = False
        self.loop: Timed | None = None
        self.last_s = 0.0

    def look(self) -> bool:
        """Note what was heard since the last poll; False when the recording has ended."""
        at_s = self.player.at_s()
        if at_s is None:
            return False
        if 0 < at_s - self.last_s <= LONGEST_STEP_S and not self.paused:
            self.heard = self.heard.with_stretch(self.last_s, at_s)
        self.last_s = at_s
        if self.loop and at_s >= self.loop.end_s:
            self.jump(self.loop.begin_s)
        return True

    def jump(self, to_s: float) -> None:
        """Seek."""
        self.last_s = max(0.0, to_s)
        self.player.play(self.path, self.last_s)
        if self.paused:
            self.player.pause(True)

    def take(self, press: Press) -> None:
        """Carry out a command."""
        if press is Press.PAUSE:
            self.paused = not self.paused
            self.player.pause(self.paused)
        elif press is Press.BACK:
            self.jump(self.last_s - BACK_S)
        elif press is Press.LOOP:
            at = section_at(self.sections, self.last_s)
            self.loop = None if self.loop or at is None else self.sections[at]

    def now(self) -> Now:
        """Report the position."""
        at = section_at(self.sections, self.last_s)
        section = self.sections[at].name if at is not None else ""
        coming = self.sections[at + 1] if at is not None and at + 1 < len(self.sections) else None
        then = (
            f"{coming.name}{' *' if coming.feature else ''} in {coming.begin_s - self.last_s:.0f} s" if coming else ""
        )
        return Now(self.track.song, self.last_s, section, then)


def listen(
    tracks: Sequence[Track],
    place: Callable[[str], str],
    player: Player,
    presses: Callable[[], Iterator[Press]],
    report: Callable[[Now], None],
    wait: Callable[[], None],
    sections: Callable[[Song], Sequence[Timed]] = timed_sections,
) -> Listened:
    """Play the tracks. ``presses`` yields the commands since the last call; ``wait`` waits a tenth of a second.

    A file that cannot be played is skipped and reported. Links are not played: they go into the playlist.
    ``sections`` returns when a song's sections are played.
    """
    heard: list[tuple[Song, float]] = []
    unplayable: list[tuple[Track, str]] = []
    for track in tracks:
        path = place(track.where)
        playing = _Listening(track, path, player, sections(track.song))
        try:
            player.play(path, 0.0)
        except NoStage as error:
            unplayable.append((track, str(error)))
            continue
        last = _until_end(playing, presses, report, wait)
        length = playing.last_s if last is None else (player.length_s(path) or float(track.song.length_s or 0))
        player.stop()
        heard.append((track.song, round(playing.heard.share(length), 3)))
        if last is Press.QUIT:
            break
    return Listened(tuple(heard), tuple(unplayable))


def _until_end(
    playing: _Listening, presses: Callable[[], Iterator[Press]], report: Callable[[Now], None], wait: Callable[[], None]
) -> Press | None:
    """Run until the recording ends (None), or the player skips it or stops."""
    while playing.look():
        for press in presses():
            if press in (Press.SKIP, Press.QUIT):
                return press
            playing.take(press)
        report(playing.now())
        wait()
    return None


def records_of(listened: Listened, at: dt.datetime) -> tuple[PracticeRecord, ...]:
    """Return a record for each song heard."""
    return tuple(
        PracticeRecord(at, LogKind.HEARD, song.title, share=share) for song, share in listened.heard if share > 0
    )


class Mixer:
    """Plays ogg, mp3, flac and wav through pygame's mixer."""

    def __init__(self) -> None:
        """Open the sound device. Raises NoStage if there is none."""
        os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")  # silences pygame's greeting
        import pygame

        self._pygame = pygame
        self._from_s = 0.0
        self._paused = False
        try:
            pygame.mixer.init()
        except pygame.error as error:
            raise NoStage(f"no sound device: {error}") from None

    def play(self, path: str, from_s: float) -> None:
        """Play a file from this second. Raises NoStage if it cannot be played."""
        if not is_regular(path):
            raise NoStage(f"{path} is missing")
        try:
            self._pygame.mixer.music.load(path)
            self._pygame.mixer.music.play(start=from_s)
        except self._pygame.error as error:
            raise NoStage(f"{path} cannot be played: {error}") from None
        self._from_s, self._paused = from_s, False

    def pause(self, paused: bool) -> None:  # noqa: FBT001  matches every Player
        """Pause or resume."""
        self._paused = paused
        if paused:
            self._pygame.mixer.music.pause()
        else:
            self._pygame.mixer.music.unpause()

    def at_s(self) -> float | None:
        """Return the position in seconds; None when it has ended."""
        played_ms = self._pygame.mixer.music.get_pos()
        if played_ms < 0 or not (self._paused or self._pygame.mixer.music.get_busy()):
            return None
        return self._from_s + played_ms / 1000

    def stop(self) -> None:
        """Stop playing."""
        self._pygame.mixer.music.stop()

    def length_s(self, path: str) -> float:
        """Return a file's length in seconds, by decoding it whole; 0 if that is not possible."""
        try:
            return float(self._pygame.mixer.Sound(path).get_length())
        except (self._pygame.error, OSError):
            return 0.0

    def close(self) -> None:
        """Release the sound device."""
        self._pygame.mixer.quit()
