"""What an instrument outside makes of the program's messages, measured: pitch, banks, silence; and ports in trouble."""

import math
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pytest
from real.flood import flood
from real.jack import JackServer, JackTap
from real.playing import Play, press
from real.program import NotThere, wait_until
from real.synth import Playing, Synth, presets

from companion.rig import HowTransposed, Keyboard
from companion.rig.midi_bytes import tune

FRAMES_A_SECOND = 44_100
SQUARE_LEAD, ORGAN = 80, 16  # General MIDI level 1, sound set, less one: tones that stay as they are while they last
A4 = 69  # 440 Hz (MIDI 1.0, note numbers; MIDI Tuning Standard: note 69 is A at 440 Hz)

Sound = npt.NDArray[np.float64]


class Recorded:
    """A synthesizer whose sound goes into a file, as it sounds, and a keyboard that plays it."""

    def __init__(self, synth: Synth, box: JackTap, audio: Path) -> None:
        self.synth, self.box, self.audio = synth, box, audio

    def hear(self, seconds: float, skipping_s: float = 0.0) -> Sound:
        """Return the left side of what sounds from so long after now on."""
        begin = self.audio.stat().st_size // 4 + int(skipping_s * FRAMES_A_SECOND)
        frames = int(seconds * FRAMES_A_SECOND)
        wait_until(lambda: self.audio.stat().st_size // 4 >= begin + frames, "the sound", 30)
        return np.fromfile(self.audio, dtype="<i2", count=2 * frames, offset=4 * begin)[::2].astype(np.float64)

    def pitch_hz(self, note: int) -> float:
        """Strike a key and measure its pitch, looking within two semitones of A4."""
        self.box.send(bytes((0x90, note, 100)))
        sound = self.hear(1.0, skipping_s=0.3)
        self.box.send(bytes((0x80, note, 0)))
        padded = 8 * len(sound)
        spectrum = np.abs(np.fft.rfft(sound * np.hanning(len(sound)), padded))
        low, high = (int(hz * padded / FRAMES_A_SECOND) for hz in (392, 494))
        peak = low + int(np.argmax(spectrum[low:high]))
        before, at, after = np.log(spectrum[peak - 1 : peak + 2])  # a parabola through the peak and its neighbours
        return float((peak + (before - after) / (before - 2 * at + after) / 2) * FRAMES_A_SECOND / padded)


@pytest.fixture
def recorded(jack: JackServer, foot_box: JackTap, tmp_path: Path) -> Iterator[Recorded]:
    """A recorded synthesizer, played by the foot box's cable."""
    audio = tmp_path / "heard.raw"
    try:
        synth = Synth(jack, audio=audio)
    except NotThere as missing:
        pytest.skip(str(missing))
    with synth:
        jack.connect(foot_box.output, synth.port)
        yield Recorded(synth, foot_box, audio)


def cents(hz: float, other: float) -> float:
    """Return the interval from the other pitch to this: 1200 cents an octave."""
    return 1200 * math.log2(hz / other)


def wait_for_cables(jack: JackServer, synth: Synth, box: JackTap) -> None:
    """Wait until the program plays the synth and hears the foot box, which itself plays the synth already."""
    jack.wait_for_connections(synth.port, 2)
    wait_until(lambda: sum(one == box.output for one, _ in jack.connections()) >= 2, "the pedal's cable", 15)
    time.sleep(0.05)


def test_key_down_lowers_the_pitch_by_a_semitone_and_key_up_restores_it(
    jack: JackServer, recorded: Recorded, foot_box: JackTap, play: Play
) -> None:
    """440 Hz becomes 440 * 2^(-1/12) = 415.30 Hz (equal temperament). FluidSynth answers to registered parameter 2."""
    play(
        "  - {title: Crane Street, key: C, sound: square, road_map: Intro 4}\n",
        "keyboards: {lower: {port: Synth, transpose: channel tuning, sounds: {square: 81}}}\n"
        "pedals:\n"
        "  down: {port: Foot Box, control: 80, press: key down}\n"
        "  up: {port: Foot Box, control: 81, press: key up}\n",
    )
    wait_for_cables(jack, recorded.synth, foot_box)
    wait_until(lambda: recorded.synth.channels()[1].program == SQUARE_LEAD, "the square lead", 10)
    pitches = [recorded.pitch_hz(A4)]
    for control in (80, 81):
        press(foot_box, control)
        pitches.append(recorded.pitch_hz(A4))
    at_first, lowered, back = pitches
    assert lowered == pytest.approx(415.30, rel=2 ** (2 / 1200) - 1), "within 2 cents"
    assert cents(lowered, at_first) == pytest.approx(-100, abs=2)
    assert cents(back, at_first) == pytest.approx(0, abs=0.5)


@pytest.mark.long
def test_this_synth_does_not_answer_to_master_coarse_tuning(recorded: Recorded, foot_box: JackTap) -> None:
    """So a rig for it says ``channel tuning``: FluidSynth takes no universal master coarse tuning (MMA/AMEI CA-025)."""
    foot_box.send(bytes((0xC0, SQUARE_LEAD)))
    before = recorded.pitch_hz(A4)
    for message in tune(Keyboard("lower", transpose=HowTransposed.MASTER_TUNING), -1):
        foot_box.send(message)
    assert cents(recorded.pitch_hz(A4), before) == pytest.approx(0, abs=0.5)
    for message in tune(Keyboard("lower", transpose=HowTransposed.CHANNEL_TUNING), -1):
        foot_box.send(message)
    assert cents(recorded.pitch_hz(A4), before) == pytest.approx(-100, abs=2)


def test_two_keyboards_and_drums_on_one_synth_change_together_in_their_banks(
    jack: JackServer, synth: Synth, foot_box: JackTap, play: Play
) -> None:
    """FluidR3 has variations in bank 8; FluidSynth takes the kits of channel 10 from bank 128 (its own way: "gs")."""
    font = presets()
    play(
        "  - title: Crane Street\n"
        "    road_map:\n"
        "      - {section: Intro, bars: 4, sound: {lower: piano, upper: strings, pads: standard}}\n"
        "      - {section: Verse, bars: 4, sound: {lower: strings, upper: other organ, pads: brushes}}\n",
        "keyboards:\n"
        "  lower: {port: Synth, channel: 1, sounds: {piano: 2, strings: 49}}\n"
        "  upper: {port: Synth, channel: 2, sounds: {strings: 50, other organ: {program: 17, bank: [8, 0]}}}\n"
        "  pads: {port: Synth, channel: 10, sounds: {standard: 1, brushes: 41}}\n"
        "pedals: {right: {port: Foot Box, control: 80, press: next}}\n",
    )
    wait_until(
        lambda: [(one.bank, one.program) for one in played(synth)] == [(0, 1), (0, 49), (128, 0)],
        "the first sounds",
        20,
    )
    wait_until(lambda: any(one == foot_box.output for one, _ in jack.connections()), "the pedal's cable", 15)
    time.sleep(0.05)
    press(foot_box, 80)  # the intro, whose sounds have been on since it was up next
    press(foot_box, 80)
    due = [(0, 48), (8, 16), (128, 40)]
    expected = [Playing(*place, font[place]) for place in due]
    wait_until(lambda: played(synth) == expected, f"{expected}, not {played(synth)}", 5)
    assert font[8, 16] != font[0, 16]


def played(synth: Synth) -> list[Playing]:
    """Ask what the channels of the two keyboards and of the pads play."""
    channels = synth.channels()
    return [channels[one] for one in (1, 2, 10)]


@pytest.mark.long
def test_all_off_silences_a_chord_that_the_damper_holds(
    jack: JackServer, recorded: Recorded, foot_box: JackTap, play: Play
) -> None:
    play(
        "  - {title: Crane Street, sound: organ, road_map: Intro 4}\n",
        "keyboards: {lower: {port: Synth, sounds: {organ: 17}}}\n"
        "pedals: {panic: {port: Foot Box, control: 80, press: all off}}\n",
    )
    wait_for_cables(jack, recorded.synth, foot_box)
    wait_until(lambda: recorded.synth.channels()[1].program == ORGAN, "the organ", 10)
    foot_box.send(bytes((0xB0, 64, 127)))
    for status in (0x90, 0x80):  # the fingers come and go; the damper holds what they struck
        for note in (48, 55, 64):
            foot_box.send(bytes((status, note, 100)))
    held = level(recorded.hear(0.5, skipping_s=0.5))
    assert held > 100, "the chord sounds, of 32768"
    press(foot_box, 80)
    assert level(recorded.hear(0.5, skipping_s=0.5)) < held / 1000, "60 dB below"
    assert recorded.synth.channels()[1].program == ORGAN


def level(sound: Sound) -> float:
    """Return the root of the mean square."""
    return math.sqrt(float(np.mean(sound**2)))


PRESSES = 6


@pytest.mark.long
def test_every_press_steps_while_another_input_floods(jack: JackServer, foot_box: JackTap, play: Play) -> None:
    sections = ", ".join(f"Part {one} 4 @s{one}" for one in range(1, PRESSES + 3))
    sounds = ", ".join(f"s{one}: {one}" for one in range(1, PRESSES + 3))
    with JackTap(jack, "Board") as board, flood(jack, "(0xB0, 64, 127 * (value % 2))") as flooding:
        program = play(
            f"  - {{title: Crane Street, road_map: '{sections}'}}\n",
            f"keyboards: {{lower: {{port: Board, sounds: {{{sounds}}}}}}}\n"
            "pedals: {right: {port: Foot Box, control: 80, press: next}}\n"
            "sustain: [{port: Flood, control: damper}]\n",
        )
        board.wait_for([b"\xc0\x00"], 20)
        wait_until(lambda: {"Flood", "Foot Box"} <= heard_by(jack), "both cables", 15)
        flooding.tell("now")
        time.sleep(0.05)
        for number in range(PRESSES):
            press(foot_box, 80)
            board.wait_for([bytes((0xC0, number))])  # the first press begins with the sound that is on
        assert [message for _, message in board.heard() if message[0] == 0xC0] == [
            bytes((0xC0, number)) for number in range(PRESSES)
        ]
        assert flooding.runs()
        assert program.runs()


def heard_by(jack: JackServer) -> set[str]:
    """Return the names of the clients that the program hears."""
    pairs = (pair for pair in jack.connections() if pair[1].startswith("companion"))
    return {one.partition(":")[0].partition("-")[0] for one, _ in pairs}


@pytest.mark.long
def test_two_foot_boxes_with_one_name_are_reported_and_the_show_continues(
    jack: JackServer, foot_box: JackTap, play: Play
) -> None:
    rig = (
        "keyboards: {lower: {port: Board, sounds: {one: 1, two: 2, three: 3}}}\n"
        "pedals: {right: {port: Foot Box, control: 80, press: next}}\n"
    )
    songs = "  - {title: Crane Street, road_map: 'Intro 4 @one, Verse 4 @two, Solo 4 @three'}\n"
    with JackTap(jack, "Board") as board:
        second = JackTap(jack, "Foot Box")
        program = play(songs, rig)
        program.wait_for(lambda line: '"Foot Box" matches 2 MIDI inputs' in line and foot_box.output in line, 20)
        board.wait_for([b"\xc0\x00"], 20)  # the sounds go out whatever is with the pedals
        second.kill()  # which leaves one: no question any more
        wait_until(lambda: "Foot Box" in heard_by(jack), "the cable of the first", 15)
        time.sleep(0.05)  # it has been there all along: its first press counts
        with JackTap(jack, "Foot Box"):  # and one that comes later takes nothing from the one that is heard
            press(foot_box, 80)
            press(foot_box, 80)
            board.wait_for([b"\xc0\x01"])
            assert program.runs()
