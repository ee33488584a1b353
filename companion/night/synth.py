"""Practice without a rig: an installed FluidSynth stands in for every keyboard, and plays a controller's notes.

It is controlled through its own command line, so no MIDI system is needed between the two.
"""

import contextlib
import queue
import subprocess
import threading
from collections.abc import Callable, Iterator, Sequence
from typing import IO, cast

import msgspec

from companion import child
from companion.errors import NoStage
from companion.night.keyboards import MidiParcel
from companion.rig import HowTransposed, Pause, Rig, Sound
from companion.rig.general_midi import program_named
from companion.stopping import ON_ITS_OWN

SYNTH_PORT = "the synthesizer"
DRUMS = 10  # General MIDI: always drums
HOW_TO_GET_IT = (
    "--synth needs FluidSynth, which is not installed. Install it with: "
    "apt install fluidsynth fluid-soundfont-gm (Debian, Ubuntu), "
    "brew install fluid-synth (macOS), or choco install fluidsynth (Windows)"
)
_NOTE_OFF, _NOTE_ON, _CONTROL, _BEND = 0x80, 0x90, 0xB0, 0xE0


def rig_on_synth(rig: Rig) -> Rig:
    """Return the rig with every keyboard on a channel of the synthesizer.

    A sound with a General MIDI name becomes that sound; any other keeps its program number.
    """
    channels = (channel for channel in range(1, 17) if channel != DRUMS)
    return msgspec.structs.replace(
        rig,
        keyboards=tuple(
            msgspec.structs.replace(
                board,
                port=SYNTH_PORT,
                channel=channel,
                settle_ms=0,
                general_midi=True,
                transpose=HowTransposed.CHANNEL_TUNING,
                sounds=tuple(map(_as_general_midi, board.sounds)),
            )
            for board, channel in zip(rig.keyboards, channels, strict=False)
        ),
    )


class Synth:
    """A running FluidSynth. If it dies, later messages are dropped, and the show continues."""

    def __init__(self, options: Sequence[str] = (), soundfont: str | None = None) -> None:
        """Start it. Raises NoStage if it is not installed or does not start."""
        program = child.program("fluidsynth")
        if program is None:
            raise NoStage(HOW_TO_GET_IT)
        command = [program, "-q", "-n", *options, *([soundfont] if soundfont else [])]
        try:
            self._process = subprocess.Popen(  # noqa: S603 - what the player has installed
                command,
                stdin=subprocess.PIPE,
                stdout=subprocess.DEVNULL,
                stderr=subprocess.DEVNULL,
                text=True,
                **ON_ITS_OWN,
            )
        except OSError as refused:
            raise NoStage(f"FluidSynth does not start: {refused.strerror}") from None
        self._commands: queue.SimpleQueue[str | None] = queue.SimpleQueue()
        self._thread = threading.Thread(target=self._write, name="synth", daemon=True)
        self._thread.start()

    def send(self, parcel: MidiParcel, *, replace: bool = False) -> bool:
        """Play these messages, ignoring pauses. False if it has ended."""
        del replace  # nothing is ever queued
        if self._process.poll() is not None:
            return False
        for message in parcel:
            if not isinstance(message, Pause):
                for line in synth_text(message):
                    self._commands.put(line)
        return True

    def close(self) -> None:
        """End it."""
        self._commands.put("quit")
        self._commands.put(None)
        self._thread.join(1.0)
        with contextlib.suppress(subprocess.TimeoutExpired):
            self._process.wait(1.0)
        self._process.kill()
        self._process.wait()
        with contextlib.suppress(OSError):  # the remaining commands
            cast("IO[str]", self._process.stdin).close()

    def _write(self) -> None:
        to = cast("IO[str]", self._process.stdin)  # a pipe
        with contextlib.suppress(OSError):  # it has ended; send reports that from now on
            while (line := self._commands.get()) is not None:
                to.write(line + "\n")
                to.flush()


def synth_text(message: bytes) -> Iterator[str]:
    """Return a MIDI message as a FluidSynth command; system exclusive and clock have none."""
    kind, channel = message[0] & 0xF0, message[0] & 0x0F
    match kind:
        case 0x80:
            yield f"noteoff {channel} {message[1]}"
        case 0x90 if message[2]:
            yield f"noteon {channel} {message[1]} {message[2]}"
        case 0x90:
            yield f"noteoff {channel} {message[1]}"
        case 0xB0:
            yield f"cc {channel} {message[1]} {message[2]}"
        case 0xC0:
            yield f"prog {channel} {message[1]}"
        case 0xE0:
            yield f"pitch_bend {channel} {message[1] + 128 * message[2]}"
        case _:
            pass


class NoteThru:
    """Pass a controller's notes to the channel of the keyboard that they are meant for.

    A keyboard named in the rig plays itself; any other input plays the first. A note-off always goes where its note-on
    went, whatever changed in between.
    """

    def __init__(self, rig: Rig, on_synth: Rig, play: Callable[[MidiParcel], object]) -> None:
        """Needs the rig as it is written, and as it is on the synthesizer."""
        self._channels = {
            board.port: there.channel - 1 for board, there in zip(rig.keyboards, on_synth.keyboards, strict=False)
        }
        self._first = on_synth.keyboards[0].channel - 1 if on_synth.keyboards else 0
        self._steps = {(pedal.port, pedal.control) for pedal in rig.pedals if pedal.control is not None}
        self._pads = {(pedal.port, pedal.note) for pedal in rig.pedals if pedal.note is not None}
        self._held: dict[tuple[str, int, int], int] = {}
        self._play = play

    def heard(self, port: str, message: bytes) -> None:
        """Pass one message on, unless it belongs to a pedal that steps."""
        kind = message[0] & 0xF0
        if len(message) != 3 or kind not in (_NOTE_OFF, _NOTE_ON, _CONTROL, _BEND):
            return
        if (kind == _CONTROL and (port, message[1]) in self._steps) or (
            kind in (_NOTE_OFF, _NOTE_ON) and (port, message[1]) in self._pads
        ):
            return
        channel = self._channels.get(port, self._first)
        note = (port, message[0] & 0x0F, message[1])
        if kind == _NOTE_ON and message[2]:
            self._held[note] = channel
        elif kind in (_NOTE_ON, _NOTE_OFF):
            channel = self._held.pop(note, channel)
        self._play((bytes((kind | channel, *message[1:])),))


def _as_general_midi(sound: Sound) -> Sound:
    known = program_named(sound.name)
    program = sound.program or 0 if known is None else known
    return msgspec.structs.replace(sound, program=program, bank=None, by_hand=None, send=())
