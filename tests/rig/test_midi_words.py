"""MIDI in a player's words: what a sound, a tuning and all off say; the bytes are those of MIDI 1.0 and CA-025."""

import pytest

from companion.rig import BankMessage, HowTransposed, Keyboard, Pause, Sound, all_off, change_to, tune
from companion.rig.midi_words import midi_in_words

BOARD = Keyboard(
    "lower", channel=3, bank_messages=(BankMessage.MSB, BankMessage.LSB), transpose=HowTransposed.CHANNEL_TUNING
)


def test_a_sound_is_its_bank_its_program_and_its_level() -> None:
    sound = Sound("organ", program=16, bank=(8, 2), controls=((7, 90), (64, 0), (91, 40)))
    assert midi_in_words(change_to(BOARD, sound)) == (
        "bank MSB 8, bank LSB 2, program 17, volume 90, controller 91 40, channel 3; pedals up"
    )


@pytest.mark.parametrize(
    ("semitones", "words"), [(-2, "tuning down 2"), (0, "normal tuning"), (3, "tuning up 3")], ids=str
)
def test_a_tuning_is_said_in_semitones_whichever_message_sets_it(semitones: int, words: str) -> None:
    assert midi_in_words(tune(BOARD, semitones)) == f"{words}, channel 3"
    assert midi_in_words(tune(Keyboard("upper", transpose=HowTransposed.MASTER_TUNING), semitones)) == words


def test_all_off_is_said_once_for_all_channels() -> None:
    assert midi_in_words(all_off()) == "pedals up, pitch bend centred, all notes off"


def test_a_data_entry_without_the_tuning_parameter_is_a_plain_controller() -> None:
    assert midi_in_words((b"\xb0\x06\x42",)) == "controller 6 66, channel 1"


def test_what_has_no_words_is_said_in_bytes() -> None:
    assert midi_in_words((Pause(5), b"\xf0\x7d\x01\xf7", b"\xe0\x00\x41")) == "F0 7D 01 F7, E0 00 41"
