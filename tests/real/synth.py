"""FluidSynth as the instrument of the tests: it is asked what each of its channels plays."""

import itertools
import re
import struct
from pathlib import Path
from typing import NamedTuple, Self

from real.jack import JackServer
from real.program import NotThere, Program, needs

SOUND_FONT = Path("/usr/share/sounds/sf2/FluidR3_GM.sf2")  # Debian: fluid-soundfont-gm

_CHANNEL = re.compile(r"chan (\d+), sfont (\d+), bank (\d+), preset (\d+), (.*)")


class Playing(NamedTuple):
    """What one channel plays: bank and program as the sound font numbers them (from 0), and its name there."""

    bank: int
    program: int
    preset: str


class Synth:
    """A FluidSynth on a JACK server. ``port`` is its MIDI port's full name."""

    def __init__(self, server: JackServer, name: str = "Synth", audio: Path | None = None) -> None:
        """Start it. ``audio`` takes what it plays, dry: 16 bits, left and right in turn, 44,100 frames a second."""
        needs("fluidsynth")
        if not SOUND_FONT.exists():
            raise NotThere(f"not installed here: {SOUND_FONT.name}")
        self._marks = itertools.count(1)
        self._program = Program(
            (
                "fluidsynth",
                *("-m", "jack", "-o", f"midi.jack.id={name}", "-o", f"midi.jack.server={server.name}"),
                *("-a", "file", "-o", f"audio.file.name={audio or '/dev/null'}", "-o", "audio.file.type=raw"),
                # A recording is dry; where nobody listens, a sound is read only when a channel plays it.
                *(("-R", "0", "-C", "0") if audio else ("-o", "synth.dynamic-sample-loading=1")),
                str(SOUND_FONT),
            ),
            env=server.env,
        )
        self.port = server.wait_for_port(f"{name}:", seconds=30)
        self.channels()  # it reads its font before it answers

    def channels(self) -> dict[int, Playing]:
        """Ask what is playing on each MIDI channel, 1 to 16."""
        answer = "\n".join(self.ask("channels -verbose"))
        playing = {
            int(channel) + 1: Playing(int(bank), int(program), preset.strip())
            for channel, _, bank, program, preset in _CHANNEL.findall(answer)
        }
        if len(playing) < 16:
            raise RuntimeError(f"FluidSynth named {len(playing)} channels:\n{answer}")
        return playing

    def ask(self, command: str) -> list[str]:
        """Return FluidSynth one command; the lines that it answers."""
        mark = f"mark-{next(self._marks)}"
        before = len(self._program.lines)
        self._program.tell(command)
        self._program.tell(f"echo {mark}")
        end = self._program.wait_for(lambda line: line == mark, seconds=30, after=before)
        return self._program.lines[before:end]

    def runs(self) -> bool:
        """Return whether it is still there."""
        return self._program.runs()

    def kill(self) -> None:
        """Switch the instrument off without a word."""
        self._program.kill()

    def close(self) -> None:
        """End it."""
        self._program.end()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()


def presets(font: Path = SOUND_FONT) -> dict[tuple[int, int], str]:
    """Read a sound font's own table of presets: (bank, program) to name.

    SoundFont 2.01, section 7.2: the chunk ``phdr`` holds records of 38 bytes, a name of 20 bytes, then preset and
    bank as 16-bit little-endian numbers, and more not asked for here; the last record only marks the end.
    """
    head = b"phdr"
    with font.open("rb") as file:
        file.seek(12)  # RIFF, length, sfbk
        while chunk := file.read(8):
            kind, length = struct.unpack("<4sI", chunk)
            if kind == b"LIST" and file.read(4) == b"pdta":
                continue  # phdr is the first chunk inside it
            if kind == head:
                records = file.read(length)
                return {
                    (bank, program): name.split(b"\0")[0].decode("latin-1").strip()
                    for name, program, bank in struct.iter_unpack("<20sHH14x", records[:-38])
                }
            file.seek(length - (4 if kind == b"LIST" else 0) + length % 2, 1)
    raise ValueError(f"{font} has no table of presets")
