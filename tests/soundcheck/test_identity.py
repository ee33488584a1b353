"""The identity request and its answer, byte for byte."""

import mido
import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.soundcheck.check.identity import IDENTITY_REQUEST, read_reply

# MIDI 1.0, Universal System Exclusive: F0 7E dd 06 02 mm ff ff pp pp ss ss ss ss F7; 7D is for non-commercial use
WORKED = "F0 7E 00 06 02 7D 01 00 02 00 00 00 01 00 F7"


def test_the_request_is_the_published_one() -> None:
    assert bytes(mido.Message("sysex", data=[0x7E, 0x7F, 0x06, 0x01]).bytes()) == IDENTITY_REQUEST


@pytest.mark.parametrize(
    ("reply", "maker", "family", "member", "revision", "device"),
    [
        (WORKED, "7D", 1, 2, "00 00 01 00", 0),
        # same layout, a maker's number of three bytes, which begins with 00: 17 bytes in all; 14-bit numbers, LSB first
        ("F0 7E 10 06 02 00 01 02 7F 01 00 02 01 02 03 04 F7", "00 01 02", 255, 256, "01 02 03 04", 16),
    ],
)
def test_an_identity_reply_names_the_device(
    reply: str, maker: str, family: int, member: int, revision: str, device: int
) -> None:
    found = read_reply(bytes.fromhex(reply))
    assert found is not None
    assert (found.maker, found.family, found.member, found.revision, found.device) == (
        maker,
        family,
        member,
        revision,
        device,
    )


@pytest.mark.parametrize(
    "other",
    [
        IDENTITY_REQUEST.hex(),
        "F0 7F 7F 04 01 7F 7F F7",  # master volume
        "F0 7E 00 06 02 7D 01 00 02 00 00 00 01 F7",  # one byte too few
        "F0 7E 00 06 02 00 01 00 02 00 00 00 01 00 F7",  # a maker of three bytes in a message for one
        "F0 7E 00 06 02 7D 01 02 7F 01 00 02 01 02 03 04 F7",  # and the other way round
        "B0 40 7F",
    ],
)
def test_other_messages_are_not_identity_replies(other: str) -> None:
    assert read_reply(bytes.fromhex(other)) is None


@given(st.binary(max_size=20))
def test_any_bytes_are_an_identity_reply_or_nothing(message: bytes) -> None:
    read_reply(message)
    read_reply(bytes.fromhex("F0 7E 00 06 02") + message)
