"""Before the doors, on real ports: ports listed, sounds heard on a synthesizer, levels measured, pedals pressed."""

import math
import os
import pty
import termios
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import yaml
from real.before import RIG, Before, laid_out, tread, words
from real.jack import JackServer, JackTap
from real.program import NotThere, wait_until
from real.synth import Synth

# General MIDI level 1, sound set, less one: as they go over the wire
GRAND, ORGAN, LEAD = 0, 16, 81
IDENTITY_REQUEST = bytes.fromhex("F0 7E 7F 06 01 F7")  # MIDI 1.0, Universal System Exclusive
FRAMES_A_SECOND = 44_100


@pytest.fixture
def place(tmp_path: Path) -> Path:
    """A show and its rig."""
    return laid_out(tmp_path)


@pytest.fixture
def recorded(jack: JackServer, tmp_path: Path) -> Iterator[tuple[Synth, Path]]:
    """A synthesizer whose sound goes into a file."""
    audio = tmp_path / "heard.raw"
    try:
        synth = Synth(jack, audio=audio)
    except NotThere as missing:
        pytest.skip(str(missing))
    with synth:
        yield synth, audio


def plays(synth: Synth, program: int, channel: int = 1) -> None:
    wait_until(
        lambda: synth.channels()[channel].program == program, f"program {program}, not {synth.channels()[channel]}", 10
    )


def test_a_sound_check_by_foot_alone_plays_on_the_synth_and_ends_ready(
    jack: JackServer, synth: Synth, foot_box: JackTap, place: Path
) -> None:
    with Before(jack, place, *words(place, "soundcheck", "--json")) as program:
        program.hears("turn the amplifier")
        jack.wait_for_connections("companion", 2)
        tread(foot_box, 64)
        program.hears("LOWER: grand piano")
        tread(foot_box, 64)
        program.hears("LOWER: organ")
        plays(synth, ORGAN)
        tread(foot_box, 67)
        program.hears("LOWER: grand piano")
        plays(synth, GRAND)
        tread(foot_box, 64)
        program.hears("LOWER: organ")
        tread(foot_box, 64)
        program.hears("LOWER: lead")
        plays(synth, LEAD)
        tread(foot_box, 64)
        report = program.report()  # both pedals have answered: there is nothing left to press
    assert report["ready"], report["not_ready"]
    assert [sound["verdict"] for sound in report["sounds"]] == ["right"] * 3
    assert program.process.returncode == 0


@pytest.mark.long
def test_a_nudge_changes_the_volume_by_the_published_curve_and_is_kept_in_the_rig(
    jack: JackServer, recorded: tuple[Synth, Path], foot_box: JackTap, place: Path
) -> None:
    """dB = 40 log10(v / 127): General MIDI 1 Developer Guidelines (from memory); SoundFont 2.01, 8.4.4, the default
    modulator from controller 7 to attenuation, is the same curve (960 cB, concave).
    """
    synth, audio = recorded
    jack.connect(foot_box.output, synth.port)
    with Before(jack, place, *words(place, "soundcheck", "--json")) as program:
        program.hears("turn the amplifier")
        program.key("enter", "enter")
        program.hears("LOWER: organ")
        plays(synth, ORGAN)
        loud = struck_db(foot_box, audio)
        program.key("-", "-", "-", "-", "-", "-")
        program.hears("volume 60, was 100")  # six steps of 1.5 dB by hand: 92, 84, 77, 71, 65, 60
        soft = struck_db(foot_box, audio)
        assert soft - loud == pytest.approx(40 * math.log10(60 / 100), abs=0.1)
        program.key("enter", "q")
        program.hears("Keep them in the rig file?")
        program.key("y")
        report = program.report()
    assert report["sounds"][1]["volume_was"] == 100
    after = (place / "rig.yaml").read_text()
    assert yaml.safe_load(after)["keyboards"]["lower"]["sounds"]["organ"] == {"program": 17, "controls": {"volume": 60}}
    assert after.count("#") == RIG.count("#")


def struck_db(box: JackTap, audio: Path) -> float:
    """Strike a key and return the level of its first second, from its first sample: the organ beats later on."""
    begin = audio.stat().st_size // 4
    box.send(bytes((0x90, 60, 100)))
    wait_until(lambda: audio.stat().st_size // 4 >= begin + 2 * FRAMES_A_SECOND, "two seconds of sound", 30)
    box.send(bytes((0x80, 60, 0)))
    heard = np.fromfile(audio, dtype="<i2", count=4 * FRAMES_A_SECOND, offset=4 * begin).astype(float)
    first = 2 * (int(np.flatnonzero(heard)[0]) // 2)
    second = heard[first : first + 2 * FRAMES_A_SECOND]
    wait_until(lambda: is_silent(audio), "silence", 30)
    return 20 * math.log10(math.sqrt(float(np.mean(second**2))))


def is_silent(audio: Path) -> bool:
    """Return whether the last quarter of a second is silent."""
    frames = FRAMES_A_SECOND // 4
    begin = max(0, audio.stat().st_size // 4 - frames)
    return not np.fromfile(audio, dtype="<i2", count=2 * frames, offset=4 * begin).any()


def test_an_identity_reply_is_shown_and_a_silent_keyboard_is_not_a_fault(jack: JackServer, place: Path) -> None:
    rig = RIG.replace("port: Synth", "port: Club Workstation").replace("port: Foot Box", "port: Club Workstation")
    (place / "rig.yaml").write_text(rig)
    with (
        JackTap(jack, "Club Workstation") as board,
        Before(jack, place, *words(place, "soundcheck", "--json")) as program,
    ):
        board.wait_for([IDENTITY_REQUEST], seconds=20)
        # MIDI 1.0: identity reply; 7D is for non-commercial use; family 1, member 2, LSB first
        board.send(bytes.fromhex("F0 7E 00 06 02 7D 01 00 02 00 00 00 01 00 F7"))
        program.hears("turn the amplifier")
        program.key("q")
        report = program.report()
    out = next(port for port in report["ports"] if port["direction"] == "out")
    assert out["answered"] == ["maker 7D (not commercial), family 1, member 2, revision 00 00 01 00"]
    assert not any("Workstation" in line for line in report["not_ready"])


@pytest.mark.long
def test_ctrl_c_keeps_the_results_and_the_same_command_continues(
    jack: JackServer, synth: Synth, foot_box: JackTap, place: Path
) -> None:
    with Before(jack, place, *words(place, "soundcheck", "--json")) as program:
        program.hears("turn the amplifier")
        program.key("enter", "enter")
        program.hears("LOWER: organ")
        program.interrupt()
        report = program.report()
    assert report["stopped"] == "interrupted (SIGINT)"
    assert [sound["verdict"] for sound in report["sounds"]] == ["right", "not heard", "not heard"]
    assert program.process.returncode == 1
    with Before(jack, place, *words(place, "soundcheck", "--json")) as program:
        program.hears("continued: 1 sound of 3 already right")
        program.hears("turn the amplifier")
        program.key("enter")
        program.hears("LOWER: organ")
        plays(synth, ORGAN)
        program.key("enter", "enter")
        program.hears("Press each pedal")
        tread(foot_box, 64)
        tread(foot_box, 67)
        assert program.report()["ready"]


@pytest.mark.long
def test_a_synth_switched_off_and_on_gets_the_current_sound(jack: JackServer, synth: Synth, place: Path) -> None:
    with Before(jack, place, *words(place, "soundcheck", "--json")) as program:
        program.hears("turn the amplifier")
        program.key("enter", "enter")
        program.hears("LOWER: organ")
        plays(synth, ORGAN)
        synth.kill()
        program.hears("No MIDI reaches lower: nothing is sent")
        with Synth(jack) as again:
            plays(again, ORGAN)
            program.key("q")
            program.report()


def test_a_rig_without_any_port_is_reported_without_a_traceback(jack: JackServer, place: Path) -> None:
    with Before(jack, place, *words(place, "soundcheck", "--json")) as program:
        program.hears("MISSING    lower, channel 1")
        program.key("q")
        report = program.report()
    assert not report["ready"]
    assert not any("Traceback" in line for line in program.lines)


def test_single_keys_of_a_terminal_are_read_and_its_echo_is_restored(
    jack: JackServer, synth: Synth, place: Path
) -> None:
    """A page turner's key, as a terminal sends it; ctrl-c ends; the terminal works as before afterwards."""
    (place / "rig.yaml").write_text(RIG + "  turner: {key: page down, press: next}\n")
    ours, theirs = pty.openpty()

    def types(key: bytes) -> None:
        wait_until(lambda: not termios.tcgetattr(ours)[3] & termios.ECHO, "a wait for single keys", 10)
        os.write(ours, key)

    with Before(jack, place, *words(place, "soundcheck"), stdin=theirs) as program:
        program.hears("when everything is turned down")
        types(b"\r")
        program.hears("LOWER: grand piano")
        types(b"\x1b[6~")  # page down (ECMA-48 function key 6, as terminals send it)
        program.hears("LOWER: organ")
        plays(synth, ORGAN)
        types(b"-")
        program.hears("volume 92, was 100")
        program.process.terminate()
        program.hears("NOT READY")
        assert program.wait(10) == 1
    assert termios.tcgetattr(ours)[3] & termios.ECHO
    os.close(ours)
    os.close(theirs)
