"""Incoming clock is counted in its own thread and wakes no other."""

import queue

import pytest

from companion.ports import Arrival, ClockIn, MidiReceived
from companion.ports.midi_in import InPort

TICK_NS = 20_000_000  # 125 quarters a minute


def ticked(clock: ClockIn, many: int, from_ns: int = 0) -> int:
    for number in range(many):
        clock.receive(0xF8, from_ns + number * TICK_NS)
    return from_ns + many * TICK_NS


def test_ticks_give_a_count_and_a_tempo() -> None:
    clock = ClockIn("drums")
    assert clock.followed(0) is None
    ticked(clock, 100)
    followed = clock.followed(1_000_000)
    assert followed is not None
    assert followed.ticks == 100
    assert (followed.tick_ms, followed.at_ms) == pytest.approx((20.0, 1979.0))


def test_after_stop_ticks_are_ignored_until_continue_or_start() -> None:
    clock = ClockIn("drums")
    now = ticked(clock, 40)
    clock.receive(0xFC, now)
    now = ticked(clock, 40, now)  # many keep ticking
    followed = clock.followed(0)
    assert followed is not None
    assert followed.stopped
    clock.receive(0xFB, now)
    followed = clock.followed(0)
    assert followed is not None
    assert not followed.stopped
    clock.receive(0xFC, now)
    clock.receive(0xFA, now)
    followed = clock.followed(0)
    assert followed is not None
    assert (followed.started, followed.stopped) == (80, False)


def test_clock_messages_stay_out_of_the_inbox_and_count_only_on_the_rigs_clock_port() -> None:
    inbox: queue.SimpleQueue[Arrival] = queue.SimpleQueue()
    clock = ClockIn("drums")
    port, other = InPort(inbox, clock), InPort(inbox, clock)
    port.hear(("drums",))
    other.hear(("box",))
    for _ in range(30):
        port.receive((0xF8,))
        other.receive((0xF8,))
        port.receive((0xF1, 0x10))
    assert inbox.empty()
    assert clock._ticks == 30  # noqa: SLF001 - what it counts is seen from outside only with a tempo
    port.receive((0x90, 60, 1))
    assert inbox.qsize() == 1


def test_a_press_delivered_together_with_a_tick_counts() -> None:
    inbox: queue.SimpleQueue[Arrival] = queue.SimpleQueue()
    clock = ClockIn("drums")
    port = InPort(inbox, clock)
    port.hear(("drums",))
    for _ in range(20):
        port.receive(bytes.fromhex("F8 B0 40 7F F8"))
    came = [inbox.get_nowait() for _ in range(20)]
    assert came == [
        MidiReceived("drums", bytes.fromhex("B0 40 7F"), one.at_ns) for one in came if isinstance(one, MidiReceived)
    ]
    assert inbox.empty()
    assert clock._ticks == 40  # noqa: SLF001 - as above


def test_a_stopped_clock_still_reports_its_position() -> None:
    clock = ClockIn("drums")
    now = ticked(clock, 40)
    clock.receive(0xFC, now)
    ticked(clock, 40, now)
    followed = clock.followed(0)
    assert followed is not None
    assert (followed.ticks, followed.stopped) == (40, True)
