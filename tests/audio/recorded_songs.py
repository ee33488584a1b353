"""Short invented songs as recordings: what is true of them, and the file."""

import shutil
import wave
from pathlib import Path

import pytest
from audio.invented_songs import BASS, GUITAR, KEYS, LEAD, PAD, Call, InventedSong, Part
from audio.rendered_songs import found_fonts, render

VERSE = [(7, "maj"), (4, "min"), (0, "maj"), (2, "maj")]
CHORUS = [(0, "maj"), (2, "maj"), (7, "maj"), (7, "maj")]


def part(letter: str, chords: list[tuple[int, str]], full: float, times: int = 2) -> Part:
    """Return a section that plays these chords, each for a bar, so many times."""
    return Part(letter, tuple((Call(root, kind, 4),) for root, kind in chords * times), full)


def recorded(
    parts: tuple[Part, ...], path: Path, *, count_off: int = 0, silence_s: float = 0.0
) -> tuple[InventedSong, Path]:
    """Render a song in G at 118 to a file; return it with what is true of it."""
    fonts = tuple(found_fonts())
    if shutil.which("fluidsynth") is None or not fonts:
        pytest.skip("no FluidSynth or no sound font on this computer")
    song = InventedSong(1, "4/4", 118.0, 7, False, parts, fonts[0], False)
    song.programs = {KEYS: 0, BASS: 33, GUITAR: 27, PAD: 49, LEAD: 65}
    song.count_off, song.silence_s = count_off, silence_s
    samples, rate = render(song, path.parent)
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(rate)
        file.writeframes((samples * 32767).astype("<i2").tobytes())
    return song, path
