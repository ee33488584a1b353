"""What a switch is, from what it sends: each trace is one that a real switch of that kind would give."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.soundcheck.pedals.switches import (
    AtRest,
    Ends,
    SourceValues,
    SwitchMessage,
    SwitchSource,
    how_far,
    one_switch,
    rest_with,
    seen_with,
    switch_text,
    value_of,
    worked_out,
)

PEDAL = SwitchSource("Foot Box", SwitchMessage.CONTROL, 1, 64)
PAD = SwitchSource("Pads", SwitchMessage.NOTE, 10, 51)


def moved(values: list[int], source: SwitchSource = PEDAL, rest: tuple[AtRest, ...] = ()) -> SourceValues | None:
    """Return what is counted of these values."""
    seen: tuple[SourceValues, ...] = ()
    for value in values:
        seen = seen_with(seen, rest, source, value) or seen
    return seen[0] if seen else None


@pytest.mark.parametrize(
    ("message", "source", "value"),
    [
        # MIDI 1.0, Tables I to III: Bn control change, 9n note on, 8n note off, Cn program change; n is channel - 1
        ("B0 40 7F", PEDAL, 127),
        ("BF 50 00", SwitchSource("Foot Box", SwitchMessage.CONTROL, 16, 80), 0),
        ("99 33 40", SwitchSource("Foot Box", SwitchMessage.NOTE, 10, 51), 64),
        ("99 33 00", SwitchSource("Foot Box", SwitchMessage.NOTE, 10, 51), 0),  # velocity 0 is a note-off
        ("89 33 40", SwitchSource("Foot Box", SwitchMessage.NOTE, 10, 51), 0),
        ("C2 05", SwitchSource("Foot Box", SwitchMessage.PROGRAM, 3, 0), 5),
    ],
)
def test_a_message_says_which_switch_and_how_far(message: str, source: SwitchSource, value: int) -> None:
    assert value_of("Foot Box", bytes.fromhex(message)) == (source, value)


@pytest.mark.parametrize(
    "message", ["F8", "FE", "F0 7E 00 F7", "E0 00 40", "D0 10", "B0 00 01", "B0 20 01", "B0 7B 00"]
)
def test_messages_that_no_switch_sends_are_ignored(message: str) -> None:
    assert value_of("Foot Box", bytes.fromhex(message)) is None


@pytest.mark.parametrize(
    ("values", "is_reversed", "measures_depth"),
    [
        ([127, 0], False, False),
        ([0, 127], True, False),  # a pedal of the other polarity (common practice)
        ([127, 0, 127, 0], False, False),  # it bounced
        ([100, 0], False, False),  # some send another value for down
        ([12, 40, 64, 90, 127, 80, 30, 0], False, True),  # a stream, as a pedal that measures depth gives it
        ([118, 70, 20, 0, 33, 90, 127], True, True),
    ],
)
def test_a_whole_press_says_polarity_and_depth(values: list[int], *, is_reversed: bool, measures_depth: bool) -> None:
    seen = moved(values)
    assert seen is not None
    assert how_far(seen) is Ends.WHOLE
    switch = worked_out(seen, 1, ())
    assert (switch.is_reversed, switch.measures_depth) == (is_reversed, measures_depth)
    assert switch.faults == ()


@pytest.mark.parametrize("values", [[127], [0], [127, 0, 127], [12, 40, 64, 90, 127], [118, 70, 20, 0]])
def test_a_foot_that_is_down_still_has_not_made_a_whole_press(values: list[int]) -> None:
    seen = moved(values)
    assert seen is not None
    assert how_far(seen) is Ends.HELD


def test_a_pad_is_never_reversed_nor_measured_by_its_velocity() -> None:
    seen = moved([23, 0], PAD)
    assert seen is not None
    assert how_far(seen) is Ends.WHOLE, "a pad that is struck softly is struck"
    switch = worked_out(seen, 10, ())
    assert (switch.kind, switch.number, switch.is_reversed, switch.measures_depth) == (
        SwitchMessage.NOTE,
        51,
        False,
        False,
    )
    assert switch.faults == ()


def test_noise_at_rest_does_not_press_and_is_reported() -> None:
    rest: tuple[AtRest, ...] = ()
    for value in (3, 5, 2, 4):
        rest = rest_with(rest, PEDAL, value)
    assert rest == (AtRest(PEDAL, 2, 5),)
    assert moved([3, 5, 1, 7, 0], rest=rest) is None
    seen = moved([4, 40, 90, 127, 60, 3], rest=rest)
    assert seen is not None
    switch = worked_out(seen, 1, rest)
    assert (switch.noise, switch.rests, switch.is_reversed) == (3, 3, False)
    assert "trembles by 3 at rest" in switch_text(switch, "Foot Box")


@pytest.mark.parametrize(
    ("values", "rest", "fault"),
    [
        # the stage's thresholds: down at 64 (MIDI 1.0, Table III), up at 40 (common practice)
        ([20, 50, 55, 30, 0], (), "reaches only 55"),
        ([70, 100, 127, 90, 50], (AtRest(PEDAL, 48, 52),), "rests at 52"),
        ([110, 90, 80, 100, 127], (), "reaches only 47"),  # reversed, and never low enough
    ],
)
def test_a_switch_that_the_stage_would_miss_is_a_fault(values: list[int], rest: tuple[AtRest, ...], fault: str) -> None:
    seen = moved(values, rest=rest)
    assert seen is not None
    assert fault in " ".join(worked_out(seen, 1, rest).faults)


def test_several_channels_of_one_switch_are_any_channel() -> None:
    seen = tuple(
        SourceValues(SwitchSource("Board", SwitchMessage.CONTROL, channel, 64), (127, 0)) for channel in (1, 2)
    )
    found = one_switch(seen)
    assert not isinstance(found, str)
    assert found[1] is None


def test_two_switches_at_once_are_not_clear() -> None:
    found = one_switch(
        (SourceValues(PEDAL, (127,)), SourceValues(SwitchSource("Foot Box", SwitchMessage.CONTROL, 1, 1), (30,)))
    )
    assert isinstance(found, str)
    assert "control 1 and control 64 moved together" in found


def test_the_same_on_two_ports_is_one_switch_of_the_first() -> None:
    found = one_switch(
        (
            SourceValues(PEDAL, (127, 0)),
            SourceValues(SwitchSource("Foot Box 2", SwitchMessage.CONTROL, 1, 64), (127, 0)),
        )
    )
    assert not isinstance(found, str)
    assert found == (SourceValues(PEDAL, (127, 0)), 1)


@given(st.lists(st.integers(0, 127), min_size=1, max_size=30), st.integers(0, 127), st.integers(0, 40))
def test_any_values_are_a_switch_with_words_for_it(values: list[int], low: int, width: int) -> None:
    rest = (AtRest(PEDAL, low, min(127, low + width)),)
    seen = moved(values, rest=rest)
    if seen is not None:
        how_far(seen)
        assert switch_text(worked_out(seen, 1, rest), "Foot Box").startswith("control 64 of Foot Box, channel 1")
