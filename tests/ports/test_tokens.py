"""Whole messages out of any bytes. No library is the oracle here: those at hand drop running status (seen)."""

import itertools
import queue

import pytest
from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.ports import Arrival, MidiReceived, Splitter, is_whole
from companion.ports.midi_in import InPort

DATA = st.integers(0, 127)
CHANNEL = st.one_of(
    st.builds(lambda status, one, two: bytes((status, one, two)), st.integers(0x80, 0xBF), DATA, DATA),
    st.builds(lambda status, one: bytes((status, one)), st.integers(0xC0, 0xDF), DATA),
    st.builds(lambda status, one, two: bytes((status, one, two)), st.integers(0xE0, 0xEF), DATA, DATA),
)
SYSTEM = st.one_of(
    st.builds(lambda some: bytes((0xF0, *some, 0xF7)), st.lists(DATA, max_size=20)),
    st.builds(lambda one: bytes((0xF1, one)), DATA),
    st.builds(lambda one, two: bytes((0xF2, one, two)), DATA, DATA),
    st.builds(lambda one: bytes((0xF3, one)), DATA),
    st.just(b"\xf6"),
)
REAL_TIME = st.sampled_from([b"\xf8", b"\xfa", b"\xfb", b"\xfc", b"\xfe", b"\xff"])


@pytest.mark.parametrize(
    ("some", "whole"),
    [
        ("B0 40 7F", ["B0 40 7F"]),
        ("90 3C 40 3E 40", ["90 3C 40", "90 3E 40"]),  # MIDI 1.0, running status: two note-ons
        ("90 3C F8 40", ["F8", "90 3C 40"]),  # MIDI 1.0, real time, note 2: a clock and one note-on
        ("B0 40 00 78 00 7B 00", ["B0 40 00", "B0 78 00", "B0 7B 00"]),  # MIDI 1.0, running status, by hand
        ("90 3C 40 F6 3E 40", ["90 3C 40", "F6"]),  # MIDI 1.0: system common cancels running status
        ("90 3C 40 F8 3E 40", ["90 3C 40", "F8", "90 3E 40"]),  # and real time leaves it as it was
        ("F0 7E 7F 09 01 F7", ["F0 7E 7F 09 01 F7"]),  # MMA0007/RP003: General MIDI system on
        ("F0 7E 7F F8 09 01 F7", ["F8", "F0 7E 7F 09 01 F7"]),  # a clock inside it
        ("F0 01 02 90 3C 40", ["90 3C 40"]),  # MIDI 1.0: any status but real time ends it; cut, it is dropped
        ("90 3C 80 3C 00", ["80 3C 00"]),  # a cable pulled in the middle of a message
        ("F7 40 7F", []),  # an end without a beginning, data without a status
        ("F4 F5 F9 FD", []),  # MIDI 1.0: undefined
        ("F2 00 08 01 02", ["F2 00 08"]),  # MIDI 1.0: system common has no running status
    ],
)
def test_bytes_are_split_into_messages(some: str, whole: list[str]) -> None:
    expected = tuple(map(bytes.fromhex, whole))
    assert Splitter().feed(bytes.fromhex(some)) == expected
    one_by_one = Splitter()
    assert tuple(m for byte in bytes.fromhex(some) for m in one_by_one.feed(bytes((byte,)))) == expected


@settings(max_examples=examples(50))
@given(st.lists(st.one_of(CHANNEL, SYSTEM, REAL_TIME)))
def test_whole_messages_stay_unchanged(messages: list[bytes]) -> None:
    assert Splitter().feed(b"".join(messages)) == tuple(messages)
    assert all(is_whole(message) for message in messages)


@settings(max_examples=examples(50))
@given(st.lists(CHANNEL), st.data())
def test_running_status_and_clock_bytes_change_no_message(messages: list[bytes], data: st.DataObject) -> None:
    sent = bytearray()
    last = 0
    for message in messages:
        short = message[1:] if message[0] == last and data.draw(st.booleans()) else message
        last = message[0]
        for byte in short:
            if data.draw(st.booleans()):
                sent += data.draw(REAL_TIME)
            sent.append(byte)
    heard = [message for message in Splitter().feed(bytes(sent)) if message[0] < 0xF0]
    assert heard == messages


@settings(max_examples=examples(50))
@given(st.binary(max_size=300), st.lists(st.integers(0, 300)))
def test_bytes_split_anywhere_give_the_same_messages(some: bytes, cuts: list[int]) -> None:
    edges = [0, *sorted(cut for cut in cuts if cut < len(some)), len(some)]
    pieces = Splitter()
    heard = [m for start, end in itertools.pairwise(edges) for m in pieces.feed(some[start:end])]
    assert tuple(heard) == Splitter().feed(some)
    assert all(is_whole(message) for message in heard)


@settings(max_examples=examples(50))
@given(st.binary(max_size=60), CHANNEL)
def test_after_any_bytes_the_next_message_is_received(some: bytes, message: bytes) -> None:
    splitter = Splitter()
    splitter.feed(some)
    assert splitter.feed(message)[-1] == message


def test_an_endless_exclusive_message_takes_no_memory_and_hides_nothing_after_it() -> None:
    splitter = Splitter()
    assert splitter.feed(b"\xf0" + b"\x01" * 70_000 + b"\xf7") == ()
    assert splitter.feed(b"\xb0\x40\x7f") == (b"\xb0\x40\x7f",)


@pytest.mark.parametrize("some", ["", "40", "B0 40", "B0 40 7F 00", "B0 40 80", "F0 01", "F0 80 F7", "F7", "F4", "F0"])
def test_incomplete_messages_are_recognized(some: str) -> None:
    assert not is_whole(bytes.fromhex(some))


@pytest.mark.parametrize(
    ("came", "messages"),
    [
        (["90 3C", "B0 40 7F", "40"], ["b0407f"]),  # MIDI 1.0: another status ends a message
        (["90 3C 40 3E", "B0 40 7F", "40 00"], ["903c40", "b0407f", "b04000"]),  # running status is the last one
        (["F0 01 02", "B0 40 7F", "03 F7"], ["b0407f"]),  # the exclusive message was cut off
        (["90 3C", "F8", "40"], ["903c40"]),  # and real time leaves everything as it was
    ],
)
def test_whole_messages_between_fragments_count_for_what_follows(came: list[str], messages: list[str]) -> None:
    inbox: queue.SimpleQueue[Arrival] = queue.SimpleQueue()
    port = InPort(inbox)
    port.hear(("Stage Piano",))
    for some in came:
        port.receive(bytes.fromhex(some))
    heard = [inbox.get() for _ in range(inbox.qsize())]
    assert [one.message.hex() for one in heard if isinstance(one, MidiReceived)] == messages
