"""A synthesizer stands for every keyboard, and plays a controller's notes on the right channel."""

import os
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from real.program import NotThere, needs, wait_until

from companion.night.keyboards import Keyboards, MidiParcel
from companion.night.synth import HOW_TO_GET_IT, SYNTH_PORT, NoteThru, Synth, rig_on_synth, synth_text
from companion.rig import Action, Keyboard, Pause, Pedal, Rig, Sound

RIG = Rig(
    "two tiers",
    (
        Keyboard(
            "lower", port="Stage Piano", channel=1, sounds=(Sound("strings", 77, bank=(8, 0)), Sound("odd one", 5))
        ),
        Keyboard("upper", port="Foldaway", channel=1),
    ),
    pedals=(
        Pedal("right", port="Stage Piano", control=66, press=Action.NEXT),
        Pedal("pad", port="Pads", note=36, press=Action.BACK),
    ),
)
SOUND_FONT = "/usr/share/sounds/sf2/FluidR3_GM.sf2"
ON_SYNTH = rig_on_synth(RIG)


@pytest.mark.parametrize(
    ("message", "words"),
    [
        ("90 3C 40", ["noteon 0 60 64"]),
        ("91 3C 00", ["noteoff 1 60"]),
        ("82 3C 40", ["noteoff 2 60"]),
        ("B0 07 64", ["cc 0 7 100"]),
        ("CF 10", ["prog 15 16"]),
        ("E0 00 40", ["pitch_bend 0 8192"]),  # MIDI 1.0: the centre
        ("F8", []),
        ("F0 7E 7F 09 01 F7", []),
    ],
)
def test_each_message_becomes_a_synthesizer_command(message: str, words: list[str]) -> None:
    assert list(synth_text(bytes.fromhex(message))) == words


def test_each_keyboard_has_its_own_channel_and_sounds_map_to_general_midi() -> None:
    """General MIDI level 1: String Ensemble 1 is program 49, counted from 1; channel 10 is drums."""
    assert [(board.port, board.channel) for board in ON_SYNTH.keyboards] == [(SYNTH_PORT, 1), (SYNTH_PORT, 2)]
    assert [(sound.program, sound.bank) for sound in ON_SYNTH.keyboards[0].sounds] == [(48, None), (5, None)]
    many = Rig("many", tuple(Keyboard(str(number)) for number in range(15)))
    assert 10 not in [board.channel for board in rig_on_synth(many).keyboards]


class Played:
    def __init__(self) -> None:
        self.messages: list[bytes] = []

    def __call__(self, parcel: MidiParcel) -> None:
        self.messages += [one for one in parcel if not isinstance(one, Pause)]


def through(*came: tuple[str, str]) -> list[str]:
    played = Played()
    on = NoteThru(RIG, ON_SYNTH, played)
    for port, message in came:
        on.heard(port, bytes.fromhex(message))
    return [message.hex(" ") for message in played.messages]


def test_a_keyboard_plays_its_own_sound_and_other_controllers_play_the_first() -> None:
    assert through(("Foldaway", "90 3C 40"), ("Some Mini Keys", "93 3E 40")) == ["91 3c 40", "90 3e 40"]


def test_messages_that_step_the_show_are_not_played() -> None:
    assert through(("Stage Piano", "B0 42 7F"), ("Pads", "99 24 40"), ("Stage Piano", "B0 40 7F")) == ["b0 40 7f"]


@given(
    st.lists(
        st.tuples(
            st.sampled_from(["Stage Piano", "Foldaway", "Other"]),
            st.booleans(),
            st.integers(0, 15),
            st.integers(40, 44),
        ),
        max_size=60,
    )
)
def test_a_note_off_always_follows_its_note_on(keys: list[tuple[str, bool, int, int]]) -> None:
    played = Played()
    on = NoteThru(RIG, ON_SYNTH, played)
    for port, down, channel, note in keys:
        on.heard(port, bytes(((0x90 if down else 0x80) | channel, note, 64)))
    for port, _, channel, note in keys:
        on.heard(port, bytes((0x80 | channel, note, 0)))
    sounding: set[tuple[int, int]] = set()
    for message in played.messages:
        key = (message[0] & 0x0F, message[1])
        sounding = sounding | {key} if message[0] & 0xF0 == 0x90 else sounding - {key}
    assert not sounding


def test_the_notes_of_a_controller_that_is_unplugged_end() -> None:
    """A pulled cable sends no note-off, and the pedal that kept the note sends no release."""
    played = Played()
    on = NoteThru(RIG, ON_SYNTH, played)
    keyboards = Keyboards(ON_SYNTH, {}, lambda *_: None, lambda _: None, on.heard)
    for message in ("B0 40 7F", "90 3C 40"):
        keyboards.heard("Foldaway", bytes.fromhex(message), 0)
    played.messages.clear()
    keyboards.can_hear("Foldaway", 0, there=False)
    assert [message.hex(" ") for message in played.messages] == ["b1 40 00", "b1 7b 00"]


def test_without_the_synthesizer_one_line_says_how_to_install_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", "")
    with pytest.raises(Exception, match="apt install fluidsynth") as refused:
        Synth()
    assert str(refused.value) == HOW_TO_GET_IT
    assert "\n" not in HOW_TO_GET_IT


@pytest.mark.skipif(not hasattr(os, "getpgid"), reason="no process groups there")
def test_keys_of_the_terminal_reach_the_night_and_not_its_synthesizer(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Ctrl-z would suspend it, and ctrl-c end it before the night's own end."""
    program, number = tmp_path / "fluidsynth", tmp_path / "number"
    program.write_text(f"#!/bin/sh\necho $$ > {number}\nwhile read -r line; do [ $line = quit ] && exit; done\n")
    program.chmod(0o755)
    monkeypatch.setenv("PATH", str(tmp_path))
    synth = Synth()
    try:
        wait_until(lambda: number.exists() and number.read_text().endswith("\n"), "the synthesizer's number", 5)
        process = int(number.read_text())
        assert os.getpgid(process) == process
    finally:
        synth.close()


@pytest.mark.real
def test_a_real_synthesizer_sounds_and_ends_when_closed(tmp_path: Path) -> None:
    try:
        needs("fluidsynth")
    except NotThere as missing:
        pytest.skip(str(missing))
    raw = tmp_path / "heard.raw"
    options = ("-a", "file", "-o", f"audio.file.name={raw}", "-o", "audio.file.type=raw")
    synth = Synth(options, SOUND_FONT)
    assert synth.send((bytes.fromhex("C0 10"), bytes.fromhex("90 3C 64")))
    wait_until(lambda: raw.exists() and raw.stat().st_size > 400_000, "two seconds of sound", 20)
    synth.close()
    samples = np.frombuffer(raw.read_bytes()[: raw.stat().st_size // 2 * 2], dtype="<i2")
    assert np.abs(samples).max() > 500, "an organ's middle C is no silence"
    assert not synth.send((b"\xf8",))
