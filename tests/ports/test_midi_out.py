"""Parcels go out in order and at once, a pause delays one channel only, and a dead port sends no late burst."""

import threading

import pytest
from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st
from ports.tape import Tape

from companion.ports import OutPort, Parcel
from companion.ports.midi_out import EVERY_CHANNEL, REAL_TIME, lane_of
from companion.rig import Pause, all_off
from companion.rig.midi_bytes import channel_coarse_tuning

MSB, LSB, PROGRAM = b"\xb0\x00\x01", b"\xb0\x20\x02", b"\xc0\x05"
OTHER = b"\xc1\x07"  # a program change on channel 2
MS = 1_000_000


class ByHand(OutPort):
    """An output whose time is moved by hand, without a thread."""

    def _wake_sender(self) -> None:
        pass


class Scene:
    """An out on a tape, with a clock that is moved by hand."""

    def __init__(self) -> None:
        self.now = 0
        self.lost = 0
        self.tape = Tape()
        self.out = ByHand("Stage Piano", self._is_lost, lambda: self.now)
        self.out.attach(self.tape)

    def _is_lost(self) -> None:
        self.lost += 1

    def at(self, ms: int) -> int | None:
        self.now = ms * MS
        return self.out.send_due()


def test_a_parcel_without_a_pause_reaches_the_driver_before_send_returns() -> None:
    scene = Scene()
    assert scene.out.send((MSB, LSB, PROGRAM))
    assert scene.tape.sent == [MSB, LSB, PROGRAM]
    assert scene.out.sent == 3


def test_messages_after_a_pause_wait_for_it() -> None:
    scene = Scene()
    scene.out.send((MSB, LSB, Pause(20), PROGRAM))
    assert scene.tape.sent == [MSB, LSB]
    assert scene.at(19) == 1 * MS
    assert scene.tape.sent == [MSB, LSB]
    assert scene.at(20) is None
    assert scene.tape.sent == [MSB, LSB, PROGRAM]


def test_a_pause_delays_its_own_channel_only() -> None:
    scene = Scene()
    scene.out.send((MSB, Pause(500), PROGRAM))
    scene.out.send((OTHER,))
    scene.out.send((LSB,))
    assert scene.tape.sent == [MSB, OTHER]
    scene.at(500)
    assert scene.tape.sent == [MSB, OTHER, PROGRAM, LSB]


def test_a_pause_at_the_end_of_a_parcel_delays_the_next() -> None:
    scene = Scene()
    scene.out.send((MSB, Pause(50)))
    scene.out.send((PROGRAM,))
    assert scene.tape.sent == [MSB]
    scene.at(50)
    assert scene.tape.sent == [MSB, PROGRAM]


def test_a_replacing_parcel_drops_the_rest_of_the_older_and_keeps_its_pause() -> None:
    scene = Scene()
    scene.out.send((MSB, Pause(50), PROGRAM), replace=True)
    scene.out.send((LSB, b"\xc0\x09"), replace=True)
    assert scene.tape.sent == [MSB]
    scene.at(50)
    assert scene.tape.sent == [MSB, LSB, b"\xc0\x09"]


def test_all_off_goes_out_at_once_and_drops_what_was_waiting() -> None:
    scene = Scene()
    scene.out.send((MSB, Pause(50), PROGRAM), replace=True)
    scene.out.send(all_off(), replace=True)
    assert scene.tape.sent == [MSB, *all_off()]
    assert scene.at(1000) is None
    assert scene.tape.sent == [MSB, *all_off()]


def test_a_tuning_is_sent_although_its_sound_is_replaced() -> None:
    scene, tuning = Scene(), channel_coarse_tuning(1, 2)
    scene.out.send((MSB, Pause(50), PROGRAM), replace=True)
    scene.out.send(tuning)
    scene.out.send((b"\xc0\x09",), replace=True)
    assert scene.at(50) is None
    assert scene.tape.sent == [MSB, *tuning, b"\xc0\x09"]


def test_a_sound_on_several_channels_leaves_other_channels_alone() -> None:
    scene = Scene()
    scene.out.send((MSB, Pause(50), PROGRAM), replace=True)
    scene.out.send((OTHER, b"\xc2\x01"), replace=True)
    assert scene.at(50) is None
    assert scene.tape.sent == [MSB, OTHER, b"\xc2\x01", PROGRAM]


def test_two_sounds_on_several_channels_each_of_its_own_keyboard_both_go_out() -> None:
    """Two keyboards on one cable, each with a layer on a further channel: a step changes both."""
    upper_layer, lower_layer = b"\xb2\x07\x40", b"\xb3\x07\x50"
    scene = Scene()
    scene.out.send((MSB, Pause(20), PROGRAM, Pause(20), upper_layer), replace=True)
    scene.out.send((b"\xb1\x00\x01", Pause(20), OTHER, Pause(20), lower_layer), replace=True)
    for ms in range(20, 200, 20):
        scene.at(ms)
    assert {PROGRAM, upper_layer, OTHER, lower_layer} <= set(scene.tape.sent)
    assert scene.tape.sent.index(PROGRAM) < scene.tape.sent.index(upper_layer)


def test_a_sound_on_several_channels_never_comes_after_the_sound_that_replaced_it() -> None:
    layer, newer = b"\xb2\x07\x40", b"\xc0\x09"
    scene = Scene()
    scene.out.send((MSB, Pause(20), PROGRAM, Pause(20), layer), replace=True)
    scene.out.send((newer,), replace=True)
    for ms in (20, 40, 60):
        scene.at(ms)
    assert PROGRAM not in scene.tape.sent
    assert newer in scene.tape.sent


def layered(keyboard: int, program: int, *layers: int) -> Parcel:
    """Return a sound of a keyboard that needs to settle, with levels on further channels (numbers as on the wire)."""
    change = (bytes((0xB0 | keyboard, 0, 1)), Pause(20), bytes((0xC0 | keyboard, program)))
    return (*change, *((Pause(20),) if layers else ()), *(bytes((0xB0 | layer, 7, program)) for layer in layers))


@settings(max_examples=examples(100))
@given(
    st.lists(
        st.tuples(st.builds(layered, st.integers(0, 1), st.integers(0, 127), st.integers(0, 3)), st.integers(0, 45)),
        max_size=8,
    )
)
def test_two_keyboards_on_one_cable_each_end_on_their_last_sound(steps: list[tuple[Parcel, int]]) -> None:
    scene, now, last = Scene(), 0, dict[int, bytes]()
    for parcel, wait_ms in steps:
        scene.out.send(parcel, replace=True)
        program = next(one for one in parcel if isinstance(one, bytes) and one[0] & 0xF0 == 0xC0)
        last[program[0]] = program
        now += wait_ms
        scene.at(now)
    while (due_ns := scene.at(now)) is not None:
        now += due_ns // MS + 1
    assert {one[0]: one for one in scene.tape.sent if one[0] & 0xF0 == 0xC0} == last


def test_a_missing_port_queues_nothing() -> None:
    scene = Scene()
    scene.out.detach()
    assert not scene.out.send((MSB, Pause(50), PROGRAM))
    scene.out.attach(scene.tape)
    assert scene.at(1000) is None
    assert scene.tape.sent == []


def test_waiting_messages_are_dropped_when_the_port_is_lost() -> None:
    scene = Scene()
    scene.out.send((MSB, Pause(50), PROGRAM))
    scene.out.detach()
    scene.out.attach(scene.tape)
    scene.at(1000)
    assert scene.tape.sent == [MSB]


def test_a_port_that_dies_during_a_send_is_reported_once_and_raises_nothing() -> None:
    scene = Scene()
    scene.tape.dead = True
    assert not scene.out.send((MSB, Pause(50), PROGRAM))
    assert not scene.out.send((MSB,))
    assert not scene.out.is_there
    assert scene.lost == 1
    assert scene.at(1000) is None


def test_a_full_driver_is_tried_again_and_the_order_is_kept() -> None:
    scene = Scene()
    scene.tape.room = 1
    scene.out.send((MSB, LSB, PROGRAM))
    scene.out.send((b"\xb0\x07\x64",))
    assert scene.tape.sent == [MSB]
    scene.tape.room = None
    scene.at(10)
    assert scene.tape.sent == [MSB, LSB, PROGRAM, b"\xb0\x07\x64"]


def test_ticks_wait_for_no_pause_and_are_left_out_if_there_is_no_room() -> None:
    scene = Scene()
    tuned = b"\xf0\x7f\x7f\x04\x04\x00\x3f\xf7"
    scene.out.send((tuned, Pause(50), b"\xf0\x01\xf7"))
    assert scene.out.send((b"\xfa", b"\xf8"))
    assert scene.tape.sent == [tuned, b"\xfa", b"\xf8"]
    scene.tape.room = 3
    assert scene.out.send((b"\xf8",))
    scene.tape.room = None
    scene.at(50)
    assert scene.tape.sent == [tuned, b"\xfa", b"\xf8", b"\xf0\x01\xf7"]


@pytest.mark.parametrize("bad", [b"", b"\x40", b"\xb0\x40", b"\xb0\x40\x7f\x00", b"\xf0\x01", b"\xf4"])
def test_no_instrument_gets_half_a_message(bad: bytes) -> None:
    scene = Scene()
    assert scene.out.send((MSB, bad, PROGRAM))
    assert scene.tape.sent == [MSB, PROGRAM]
    assert scene.out.refused == 1


@pytest.mark.parametrize(
    ("parcel", "lane"),
    [
        ((MSB, PROGRAM), 0),
        ((b"\xbf\x00\x01", Pause(1), b"\xf0\x01\xf7"), 15),
        ((MSB, OTHER), 0),
        ((b"\xf0\x01\xf7", OTHER, MSB), 1),
        (all_off(), EVERY_CHANNEL),
        (all_off()[6:], 1),
        ((b"\xf6",), EVERY_CHANNEL),
        ((b"\xfa", b"\xf8"), REAL_TIME),
        ((b"\xf8", PROGRAM), 0),
        ((b"\xf8", Pause(1)), EVERY_CHANNEL),
        ((), EVERY_CHANNEL),
    ],
)
def test_a_parcel_is_queued_by_its_channel(parcel: Parcel, lane: int) -> None:
    assert lane_of(parcel) == lane


ONE = st.one_of(
    st.builds(lambda channel, program: bytes((0xC0 + channel, program)), st.integers(0, 2), st.integers(0, 127)),
    st.builds(Pause, st.integers(0, 40)),
)


@settings(max_examples=examples(60))
@given(st.lists(st.tuples(st.lists(ONE, max_size=4), st.integers(0, 30)), max_size=12))
def test_each_channel_sends_everything_once_and_in_order(parcels: list[tuple[list[bytes | Pause], int]]) -> None:
    scene = Scene()
    wanted: dict[int, list[bytes]] = {0: [], 1: [], 2: []}
    now = 0
    for parcel, wait_ms in parcels:
        if len({one[0] & 0x0F for one in parcel if isinstance(one, bytes)}) != 1:
            continue  # what is for further channels does not wait for theirs, by design
        scene.out.send(parcel)
        wanted[lane_of(parcel)] += [one for one in parcel if isinstance(one, bytes)]
        now += wait_ms
        scene.at(now)
    while (due_ns := scene.at(now)) is not None:
        now += due_ns // MS + 1
    for channel, messages in wanted.items():
        assert [one for one in scene.tape.sent if one[0] & 0x0F == channel] == messages


def test_the_ports_thread_sends_what_waits_and_then_ends() -> None:
    tape = Tape()
    out = OutPort("Stage Piano", lambda: None)
    out.attach(tape)
    before = threading.active_count()
    out.send((MSB, Pause(1), PROGRAM, Pause(1), LSB))
    assert out.wait_until_sent(10)
    assert tape.sent == [MSB, PROGRAM, LSB]
    out.close()
    assert threading.active_count() == before
    assert not out.send((MSB,))
