"""Map while listening: the recording plays, taps are timed against it and kept for next time."""

import contextlib
import datetime as dt
import queue
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Final

import msgspec

from companion.clock import now_ns
from companion.errors import CompanionError
from companion.listening.player import BACK_S, Player
from companion.listening.playlist import is_link
from companion.listening.tapped_map import MapTap, TapTake
from companion.ports import Arrival, MidiReceived, PortWatch, open_system
from companion.practice_log.logged import show_and_progress
from companion.practice_log.records import LogKind, PracticeRecord, add_records, read_records
from companion.practice_log.song_progress import named_songs
from companion.rig import Action, Pedal, Rig
from companion.show import Song
from companion.show.titles import folded
from companion.stage import Feet, midi_received
from companion.stage.gestures import Switch

TAPS: Final = {Action.NEXT: MapTap.FIRST, Action.BACK: MapTap.BEAT}
STARTING_S: Final = 2.0


class Tapped(msgspec.Struct, frozen=True):
    """One tap; ``at_ns`` is on the clock of ``now_ns``."""

    tap: MapTap
    at_ns: int


class TakeProgress(msgspec.Struct, frozen=True):
    """The state: the taps of this time through, and whether the recording is over."""

    through: TapTake
    at_s: float
    is_over: bool


Taps = Callable[[], Iterator[Tapped]]


def tap_through(
    path: str,
    player: Player,
    taps: Taps,
    report: Callable[[TakeProgress], None],
    wait: Callable[[], None],
    *,
    stays: bool = True,
    now: Callable[[], int] = now_ns,
) -> tuple[TapTake, ...]:
    """Play a recording and return each time through it. ``taps`` returns the taps since the last call.

    A tap counts at the moment it was made, not when it is polled. ``stays``: at the end wait for the player's next
    command; else stop there. Raises NoStage if the file cannot be played.
    """
    throughs: list[TapTake] = [TapTake()]
    player.play(path, 0.0)
    at_s, seen_ns, is_over = 0.0, now(), False
    while True:
        place = None if is_over else player.at_s()
        if place is not None:
            at_s, seen_ns = place, now()
        elif not is_over:
            is_over = True
            report(TakeProgress(throughs[-1], at_s, is_over))
        for one in taps():
            if one.tap is MapTap.DONE:
                player.stop()
                return tuple(through for through in throughs if through.taps)
            if one.tap in (MapTap.BACK, MapTap.AGAIN):
                at_s = max(0.0, at_s - BACK_S) if one.tap is MapTap.BACK else 0.0
                if one.tap is MapTap.AGAIN:
                    throughs.append(TapTake())
                player.play(path, at_s)
                seen_ns, is_over = now(), False
            else:
                at_ms = max(0.0, at_s * 1000 + (one.at_ns - seen_ns) / 1e6)
                throughs[-1] = throughs[-1].tapped(one.tap, at_ms)
            report(TakeProgress(throughs[-1], at_s, is_over))
        if is_over and not stays:
            return tuple(through for through in throughs if through.taps)
        wait()


@contextlib.contextmanager
def feet_tap(rig: Rig) -> Iterator[Taps]:
    """Let the rig's next pedal tap sections and its back pedal tap beats, where pedals are connected."""
    pedals = tuple(msgspec.structs.replace(pedal, hold=None) for pedal in rig.pedals if pedal.port is not None)
    system = open_system() if pedals else None
    inbox: queue.SimpleQueue[Arrival] = queue.SimpleQueue()
    watch = None
    if system is not None:
        watch = PortWatch(system, inbox, inputs=_words(pedals), outputs=())
        watch.start(STARTING_S)
    feet = Feet(pedals, (Switch(),) * len(pedals))

    def since() -> Iterator[Tapped]:
        nonlocal feet
        while not inbox.empty():
            received = inbox.get()
            if isinstance(received, MidiReceived):
                feet, asks = midi_received(feet, received.port, received.message, received.at_ns // 1_000_000)
                yield from (Tapped(TAPS[ask.action], received.at_ns) for ask in asks if ask.action in TAPS)

    try:
        yield since
    finally:
        if watch is not None:
            watch.stop()


def _words(pedals: Sequence[Pedal]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(pedal.port for pedal in pedals if pedal.port is not None))


# ------------------------------------------------------------------ kept for next time


def kept_throughs(records: Sequence[PracticeRecord], title: str, recording: str) -> tuple[TapTake, ...]:
    """Return earlier taps to this recording of a song, also under an older title."""
    titles = {folded(title)}
    for record in reversed(records):
        if record.did is LogKind.RENAMED and folded(record.to) in titles:
            titles.add(folded(record.title))
    kept: list[TapTake] = []
    for record in records:
        if record.did is LogKind.TAPPED and folded(record.title) in titles and record.recording == recording:
            kept = [] if record.afresh else kept
            firsts = tuple((True, float(at_ms)) for at_ms in record.firsts)
            kept.append(TapTake((*firsts, *((False, float(at_ms)) for at_ms in record.beats))))
    return tuple(kept)


def map_song(
    show_path: Path,
    words: str,
    play: Callable[[Song, str], tuple[TapTake, ...]],
    at: Callable[[], dt.datetime],
    *,
    fresh: bool = False,
) -> tuple[Song, tuple[TapTake, ...]]:
    """Let the player tap along to a song's recording (``play``); return the song and all times through, past ones too.

    The taps are kept in the records. Raises CompanionError if the song or its recording is missing.
    """
    show = show_and_progress(show_path)[0]
    named = named_songs(show, words)
    if len(named) != 1:
        raise CompanionError(f"this show has no song called {words!r}")
    song = named[0]
    if song.recording is None or is_link(song.recording):
        raise CompanionError(f"{song.title} has no recording file. Write: recording: and a file beside the show")
    before = () if fresh else kept_throughs(read_records(show_path).kept, song.title, song.recording)
    new = play(song, str(show_path.resolve().parent / song.recording))
    records = [
        PracticeRecord(
            at(),
            LogKind.TAPPED,
            song.title,
            recording=song.recording,
            firsts=tuple(round(at_ms) for at_ms in one.firsts),
            beats=tuple(round(at_ms) for at_ms in one.beats),
            afresh=fresh and number == 0,
        )
        for number, one in enumerate(new)
    ]
    add_records(show_path, records)
    return song, (*before, *new)
