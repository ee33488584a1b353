"""The loop is held up, and presses wait: each counts from its arrival, by MIDI as by a key, and never from later."""

import pytest
from msgspec.structs import replace
from night.evening import BOX, PEDALS, Evening
from stage.scenes import place_text, rig_of

from companion.night.happenings import KeyReceived, NightInput, ScreenReady
from companion.ports import Direction, MidiReceived, PortFound
from companion.ports.show_clock import NS_PER_MS

HELD_UP_MS = [10, 35, 200]


def pedal(at_ms: int, value: int) -> MidiReceived:
    return MidiReceived(BOX, bytes((0xB0, 64, value)), at_ms * NS_PER_MS)


def key(at_ms: int, value: int) -> KeyReceived:
    return KeyReceived("page down", bool(value), at_ns=at_ms * NS_PER_MS)


def loop(evening: Evening, held_up_until_ms: int, arrivals: list[tuple[int, NightInput]]) -> None:
    """Let all arrive at their times, and the loop take each as soon as it is free and nothing is before it."""
    waiting = sorted(arrivals, key=lambda one: one[0])
    evening.now_ms = held_up_until_ms
    while waiting or not evening.inbox.empty():
        if evening.inbox.empty():
            evening.now_ms = max(evening.now_ms, waiting[0][0])
        while waiting and waiting[0][0] <= evening.now_ms:
            evening.inbox.put(waiting.pop(0)[1])
        evening.night.take(evening.inbox.get())


@pytest.mark.parametrize("held_up_ms", HELD_UP_MS)
@pytest.mark.parametrize("edge", [pedal, key])
def test_three_late_presses_are_three_steps(edge: type, held_up_ms: int) -> None:
    evening = Evening()
    downs = (5, 40, 75)  # as fast as two feet on two switches that are one pedal for the program
    arrivals = [(at_ms, edge(at_ms, 127)) for at_ms in downs] + [(at_ms + 20, edge(at_ms + 20, 0)) for at_ms in downs]
    loop(evening, held_up_ms, arrivals)
    assert place_text(evening.night.state) == "Chorus of A"


@pytest.mark.parametrize("held_up_ms", HELD_UP_MS)
@pytest.mark.parametrize("edge", [pedal, key])
def test_a_late_bouncing_press_is_one_press(edge: type, held_up_ms: int) -> None:
    evening = Evening()
    loop(evening, held_up_ms, [(at_ms, edge(at_ms, value)) for at_ms, value in ((5, 127), (9, 0), (14, 127), (90, 0))])
    assert place_text(evening.night.state) == "Intro of A"


def one_pedal() -> Evening:
    """A single switch, whose hold goes back."""
    return Evening(rig=replace(rig_of("lower"), pedals=PEDALS[:1]))


def test_a_short_press_is_not_a_hold_although_the_loop_was_late() -> None:
    evening = one_pedal()
    loop(evening, 1_000, [(5, pedal(5, 127)), (6, ScreenReady()), (200, pedal(200, 0))])
    assert place_text(evening.night.state) == "Intro of A"


def test_a_hold_is_timed_from_the_arrival_of_its_press() -> None:
    evening = one_pedal()
    loop(evening, 500, [(5, pedal(5, 127))])
    assert place_text(evening.night.state) == "Intro of A"
    evening.now_ms = 805
    evening.night.take(None)
    assert place_text(evening.night.state) == "A up next"


def test_no_press_has_a_time_in_the_future() -> None:
    evening = one_pedal()
    loop(evening, 0, [(10, pedal(60_000, 127))])
    evening.now_ms = 810
    evening.night.take(None)
    assert place_text(evening.night.state) == "A up next", "its hold is due 0.8 s from now, not from the time it claims"


def test_a_port_settles_from_its_appearance_although_the_loop_was_late() -> None:
    evening = Evening()
    found = PortFound(BOX, Direction.IN, BOX, 10 * NS_PER_MS)
    loop(evening, 1_500, [(10, found), (500, pedal(500, 127)), (520, pedal(520, 0)), (1_200, pedal(1_200, 127))])
    assert place_text(evening.night.state) == "Intro of A", "in its first second it only shows where it rests"


def test_late_tapped_beats_keep_their_tempo() -> None:
    evening = Evening()
    evening.key("page down")
    start = evening.now_ms + 1_000
    beats = [start, start + 500, start + 1_000]
    loop(evening, start + 900, [(at_ms, KeyReceived("f9", down=True, at_ns=at_ms * NS_PER_MS)) for at_ms in beats])
    assert evening.night.state.taps_ms == tuple(beats)
