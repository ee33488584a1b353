"""A night as a player lives it: the demo show stepped by a real pedal, heard on a synthesizer, seen in a window."""

import os
import subprocess
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

import pytest
from PIL import Image
from real.jack import JackServer, JackTap
from real.playing import press
from real.program import NotThere, Program, needs, wait_until
from real.synth import Synth
from real.window import Display

ROOT = Path(__file__).resolve().parents[2]

RIG = """
rig: A synthesizer as two tiers
keyboards:
  lower: {port: Synth, channel: 1, general_midi: true}
  upper: {port: Synth, channel: 2, general_midi: true}
pedals:
  right: {port: Foot Box, channel: 1, control: 64, press: next}
  left: {port: Foot Box, channel: 1, control: 67, press: back}
"""

# General MIDI level 1, sound set, less one: as they go over the wire.
GRAND, BRIGHT, E_PIANO, CLAVINET, ORGAN, ROCK_ORGAN, STRINGS, BRASS, LEAD = 0, 1, 4, 7, 16, 18, 48, 61, 81

# Worked out by hand from shows/pier-street.yaml and the sound rule: a section's own; else that of the last section of
# the same name; else the song's. One row a press: what the screen then says large, and the lower keyboard's program.
FIRST_SONGS = (
    ("Intro", BRIGHT),  # Gasworks Corner; its first sound has been on since it was up next
    ("Verse", ORGAN),
    ("Chorus", ORGAN),
    ("Verse", ORGAN),
    ("Chorus", ORGAN),
    ("Solo", ORGAN),
    ("Bridge", E_PIANO),
    ("Chorus", ORGAN),  # as the chorus before, not as the bridge
    ("Chorus", ORGAN),
    ("Outro", ORGAN),
    ("Intro", ROCK_ORGAN),  # a segue: straight into Kettle on the Jetty
    ("Verse", ROCK_ORGAN),
    ("Chorus", STRINGS),
    ("Verse", ROCK_ORGAN),
    ("Chorus", STRINGS),
    ("Solo", LEAD),
    ("Solo", LEAD),  # x2: one step a pass
    ("Chorus", STRINGS),
    ("Outro", ROCK_ORGAN),
    ("Postcard", E_PIANO),  # Postcard to the Harbourmaster is up next, and its first sound is on
    ("Intro", E_PIANO),
    ("Verse", E_PIANO),
    ("Pre-chorus", E_PIANO),
    ("Chorus", GRAND),
)
PHOTOGRAPHED = {6: "Bridge", 19: "Postcard"}


@pytest.fixture
def night(jack: JackServer, synth: Synth, foot_box: JackTap, display: Display, tmp_path: Path) -> Iterator[Program]:
    """Start the demo show in a window, on the synth, with the foot box."""
    try:
        needs("tesseract")
    except NotThere as missing:
        pytest.skip(str(missing))
    (tmp_path / "rig.yaml").write_text(RIG)
    words = ("play", str(ROOT / "shows/pier-street.yaml"), "--rig", str(tmp_path / "rig.yaml"), "--screen", "window")
    home = {"HOME": str(tmp_path), "XDG_STATE_HOME": str(tmp_path / "state"), "XDG_DATA_HOME": str(tmp_path / "data")}
    with Program((sys.executable, "-m", "companion.cli", *words), env={**jack.env, **display.env, **home}) as program:
        try:
            wait_until(lambda: synth.channels()[1].program == BRIGHT, "the first song's first sound", 20)
            wait_until(lambda: any(foot_box.output in two for two in jack.connections()), "the pedal's connection", 10)
            yield program
        finally:
            sys.stdout.write("\n".join(program.lines))  # shown where the test fails


def test_a_foot_steps_the_demo_on_synth_and_window(
    night: Program, synth: Synth, foot_box: JackTap, display: Display, tmp_path: Path
) -> None:
    display.wait_for_window("companion")
    wait_until(lambda: is_in("Gasworks", read(display.photograph(), tmp_path)), "the first title", 20)
    picture = display.photograph()
    for step, (large, program) in enumerate(FIRST_SONGS):
        press(foot_box, 64)
        wait_until(
            lambda: synth.channels()[1].program == program,  # noqa: B023  # asked before the next step
            f"program {program} after press {step + 1} ({large}), not {synth.channels()[1]}",
            5,
        )
        if PHOTOGRAPHED.get(step) == large:
            picture = display.wait_for_change(picture)
            picture.save(tmp_path / f"press-{step + 1}.png")
            said = [*read(picture, tmp_path)]
            assert is_in(large, said), f"press {step + 1}: {large} is not to be read"
            assert not is_in("is gone", said), "nothing is lost: the synth listens, and has nothing to say"
    press(foot_box, 67)
    wait_until(lambda: synth.channels()[1].program == E_PIANO, "the sound of the section before", 5)
    assert synth.channels()[2].program == GRAND, "nothing was sent to the upper keyboard"
    assert night.runs()
    night.interrupt()
    assert night.wait(5) == 0, "\n".join(night.lines)


def read(picture: Image.Image, folder: Path) -> Iterator[str]:
    """Yield what can be read in the picture, as far as a machine has eyes: three times, in one size each."""
    path = folder / "look.png"
    for width, height in ((640, 360), (480, 270), (960, 540)):  # it reads letters as large as those of a printed page
        picture.convert("L").resize((width, height)).save(path)
        done = subprocess.run(
            ("tesseract", str(path), "-", "--psm", "6"),
            capture_output=True,
            text=True,
            check=True,
            env={**os.environ, "OMP_THREAD_LIMIT": "1"},  # its threads wait for each other and take four times as long
        )
        yield "".join(done.stdout.split()).casefold()


def is_in(words: str, texts: Iterable[str]) -> bool:
    """Return whether one of the texts has these words."""
    return any("".join(words.split()).casefold() in text for text in texts)
