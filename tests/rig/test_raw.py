"""Raw messages: whole ones are taken as they are, and nothing else gets to the stage."""

import mido
import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.files import InvalidValue
from companion.rig.raw import messages_in


@pytest.mark.parametrize(
    ("written", "messages"),
    [
        ("F0 7E 7F 09 01 F7", ["f07e7f0901f7"]),  # General MIDI System Level 1: system on
        ("B0 5B 28", ["b05b28"]),  # MIDI 1.0, Table III: effect 1 depth
        ("b05b28", ["b05b28"]),
        ("B0 5B 28  C0 10", ["b05b28", "c010"]),
        ("F0 7F 7F 04 04 00 3F F7 D0 00", ["f07f7f0404003ff7", "d000"]),  # MMA/AMEI CA-025
        ("F2 40 00", ["f24000"]),  # MIDI 1.0, system common: bar 5 of 4/4
        ("80 3C 40 90 3C 40", ["803c40", "903c40"]),  # MIDI 1.0, Table I: each kind of channel message
        ("A0 3C 40 E0 00 40", ["a03c40", "e00040"]),
        ("C0 10 D0 00", ["c010", "d000"]),
        ("91 3C 40 BF 5B 28 C7 10", ["913c40", "bf5b28", "c710"]),  # on other channels
        ("F1 00 F3 05 F8 FB FC FF", ["f100", "f305", "f8", "fb", "fc", "ff"]),  # MIDI 1.0, system common and real time
        ("F6", ["f6"]),
        ("FA", ["fa"]),
        ("F0 F7", ["f0f7"]),
        ("F0" + " 00" * 254 + " F7", ["f0" + "00" * 254 + "f7"]),
    ],
)
def test_complete_raw_messages_are_accepted(written: str, messages: list[str]) -> None:
    assert [message.hex() for message in messages_in(written)] == messages


@pytest.mark.parametrize(
    ("written", "problem", "column"),
    [
        ("", "at least one byte", 0),
        ("  ", "at least one byte", 0),
        ("5B 28", "5B is a data byte", 0),
        ("B0 5B 28 5D 10", "5D is a data byte", 9),
        ("B0 5B", "B0 takes 2 data bytes but has 1", 0),
        ("C0", "C0 takes 1 data byte but has 0", 0),
        ("B0 5B C0 10", "C0 is not a data byte", 6),
        ("B0 80 00", "80 is not a data byte", 3),
        ("B05B80", "80 is not a data byte", 4),
        ("F0 7E 7F 09 01", "this system exclusive message does not end", 0),
        ("F0 7E F8 09 01 F7", "F8 inside system exclusive", 6),
        ("F0" + " 00" * 255 + " F7", "a message of 257 bytes", 0),
        ("F7", "never began", 0),
        ("F4", "F4 is undefined", 0),
        ("F5 00", "F5 is undefined", 0),
        ("F9", "F9 is undefined", 0),
        ("FD", "FD is undefined", 0),
        ("FE", "silences the keyboard", 0),
        ("B0 5B 2", '"2" is not a byte', 6),
        ("B0 0x5B 28", '"0x5B" is not a byte', 3),
        ("B0, 5B, 28", '"B0," is not a byte', 0),
        ("B0 5B ２8", "is not a byte", 6),
    ],
)
def test_an_invalid_message_is_reported_at_its_byte(written: str, problem: str, column: int) -> None:
    with pytest.raises(InvalidValue) as told:
        messages_in(written)
    assert problem in told.value.problem
    assert told.value.column == column
    assert told.value.write


@given(st.binary(min_size=1, max_size=12))
def test_any_raw_bytes_are_reported_or_understood_by_an_independent_reader(written: bytes) -> None:
    try:
        messages = messages_in(written.hex(" "))
    except InvalidValue:
        return
    assert b"".join(messages) == written
    for message in messages:
        assert bytes(mido.Message.from_bytes(message).bytes()) == message


@given(st.text(max_size=20))
def test_any_text_is_a_raw_message_or_reported(written: str) -> None:
    try:
        messages = messages_in(written)
    except InvalidValue:
        return
    assert all(message[0] >= 0x80 for message in messages)
