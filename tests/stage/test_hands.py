"""When hands lift: notes, damper and sostenuto are followed, and nothing wedges it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.stage.sounding_hands import Hands, heard


def after(*messages: str) -> Hands:
    hands = Hands()
    for message in messages:
        hands = heard(hands, bytes.fromhex(message))
    return hands


@pytest.mark.parametrize(
    ("messages", "up"),
    [
        ([], True),
        (["90 3C 40"], False),
        (["90 3C 40", "80 3C 40"], True),
        (["90 3C 40", "90 3C 00"], True),  # MIDI 1.0, Table I: note-on with velocity 0 is a note-off
        (["90 3C 40", "91 3C 40", "80 3C 40"], False),  # the same note on two channels
        (["90 3C 40", "91 3C 40", "80 3C 40", "81 3C 40"], True),
        (["90 3C 40", "B0 40 7F", "80 3C 40"], False),  # damper holds it
        (["90 3C 40", "B0 40 7F", "80 3C 40", "B0 40 00"], True),
        (["90 3C 40", "B1 40 7F", "80 3C 40"], True),  # the damper of another channel holds nothing here
        (["B0 40 7F"], True),  # a damper alone sounds nothing
        (["B0 40 7F", "90 3C 40", "80 3C 40"], False),
        (["90 3C 40", "B0 40 3F", "80 3C 40"], True),  # MIDI 1.0, Table III: 63 is off
        (["90 3C 40", "B0 42 7F", "80 3C 40"], False),  # sostenuto keeps what was down
        (["90 3C 40", "B0 42 7F", "80 3C 40", "B0 42 00"], True),
        (["B0 42 7F", "90 3C 40", "80 3C 40"], True),  # and not what comes later
        (["90 3C 40", "B0 40 7F", "B0 42 7F", "80 3C 40", "B0 40 00"], False),
        (["90 3C 40", "90 40 40", "B0 7B 00"], True),  # all notes off
        (["90 3C 40", "B0 40 7F", "B0 7B 00"], False),  # which leaves what the damper holds (from memory, MIDI 1.0)
        (["90 3C 40", "B0 40 7F", "B0 78 00"], True),  # all sound off cuts at once
        (["90 3C 40", "B0 40 7F", "80 3C 40", "B0 79 00"], True),  # RP-015: pedals to 0
        (["80 3C 40"], True),  # a note-off that nobody waited for
    ],
)
def test_keys_and_pedals_tell_whether_a_note_still_sounds(messages: list[str], up: bool) -> None:  # noqa: FBT001 - a column of the table
    assert after(*messages).are_up is up


@given(st.lists(st.binary(max_size=4), max_size=60))
def test_after_any_bytes_releasing_all_keys_and_pedals_lifts_the_hands(messages: list[bytes]) -> None:
    hands = Hands()
    for message in messages:
        hands = heard(hands, message)
    for channel in range(16):
        for note in range(128):
            hands = heard(hands, bytes((0x80 | channel, note, 0)))
        hands = heard(hands, bytes((0xB0 | channel, 64, 0)))
        hands = heard(hands, bytes((0xB0 | channel, 66, 0)))
    assert {note for note in hands.held | hands.ringing if note[1] < 128} == set()
