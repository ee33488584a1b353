"""Each of the 128 General MIDI names, sent through a real port, has a real instrument play the program so numbered."""

import pretty_midi
from real.jack import JackServer, JackTap
from real.program import wait_until
from real.synth import Playing, Synth, presets

from companion.rig import Keyboard, Pause, Rig, Sound, change_to, find_sound
from companion.rig.general_midi import NAMES

# An independent printing of the published list (General MIDI System Level 1, sound set), in its order.
PUBLISHED = tuple(pretty_midi.INSTRUMENT_MAP)
MELODIC_CHANNELS = tuple(channel for channel in range(1, 17) if channel != 10)  # 10 plays drums (General MIDI 1)


def test_every_general_midi_name_selects_its_program(jack: JackServer, synth: Synth, foot_box: JackTap) -> None:
    jack.connect(foot_box.output, synth.port)
    font = presets()
    assert len(PUBLISHED) == len(NAMES) == 128
    for program in reversed(range(128)):  # from the far end, since the synth begins on program 0
        for name in {PUBLISHED[program], NAMES[program]}:
            channel = MELODIC_CHANNELS[program % len(MELODIC_CHANNELS)]
            board = Keyboard("synth", channel=channel, general_midi=True)
            found = find_sound(Rig("a synth", keyboards=(board,)), name)
            assert isinstance(found, tuple), f"{name}: {found}"
            for message in change_to(board, found[1]):
                assert not isinstance(message, Pause)
                foot_box.send(message)
            expected = Playing(0, program, font[0, program])
            wait_until(
                lambda: synth.channels()[channel] == expected,  # noqa: B023  # asked before the next round
                f"{name} to be {expected}, not {synth.channels()[channel]}",
                5,
            )


def test_a_sound_in_another_bank_is_selected_there(jack: JackServer, synth: Synth, foot_box: JackTap) -> None:
    """FluidR3 keeps variations in bank 8: program 16, from 0, is another organ there than in bank 0."""
    jack.connect(foot_box.output, synth.port)
    font = presets()
    assert font[8, 16] != font[0, 16]
    board = Keyboard("synth", channel=3)
    for message in change_to(board, Sound("organ", program=16, bank=(8, 0))):
        assert not isinstance(message, Pause)
        foot_box.send(message)
    expected = Playing(8, 16, font[8, 16])
    wait_until(lambda: synth.channels()[3] == expected, f"{expected}, not {synth.channels()[3]}", 5)
