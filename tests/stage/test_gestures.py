"""Pedals: what makes a step, and what must not."""

import pytest

from companion.rig import Action, Pedal, Rig
from companion.stage import Feet, GestureRequest, feet_of, key_moved, midi_received, port_appeared, time_passed, we_sent
from companion.stage.gestures import next_hold_ms, woken

BOX = "Foot Box"
RIGHT = Pedal("right", port=BOX, channel=1, control=64, press=Action.NEXT)
LEFT = Pedal("left", port=BOX, channel=1, control=67, press=Action.BACK)
TURNER = Pedal("turner", key="page down", press=Action.NEXT)


def feet(*pedals: Pedal) -> Feet:
    return feet_of(Rig("test", pedals=pedals))


def asked(feet: Feet, *came: tuple[int, str], port: str = BOX) -> list[tuple[int, str]]:
    """Return (time, action) for each message that came: (time, bytes in hexadecimal)."""
    result = []
    for at_ms, message in came:
        feet, asks = midi_received(feet, port, bytes.fromhex(message), at_ms)
        result += [(ask.at_ms, ask.action.value) for ask in asks]
    return result


def test_a_press_acts_on_the_way_down() -> None:
    assert asked(feet(RIGHT, LEFT), (0, "B0 40 7F"), (200, "B0 40 00")) == [(0, "next")]


def test_each_switch_triggers_its_own_action() -> None:
    assert asked(feet(RIGHT, LEFT), (0, "B0 43 7F"), (100, "B0 40 7F")) == [(0, "back"), (100, "next")]


@pytest.mark.parametrize(
    "message",
    [
        "B1 40 7F",  # another channel
        "B0 42 7F",  # another control: sostenuto
        "90 40 7F",  # a note of the same number
        "C0 40",  # a program change
        "B0 40 3F",  # MIDI 1.0, Table III: 0-63 is off
        "F8",  # timing clock
    ],
)
def test_messages_from_other_controls_do_not_step(message: str) -> None:
    assert asked(feet(RIGHT, LEFT), (0, message)) == []


def test_the_players_own_sustain_on_another_port_never_steps_the_show() -> None:
    assert asked(feet(RIGHT, LEFT), (0, "B0 40 7F"), (500, "B0 40 00"), port="Stage Piano") == []


def test_repeated_values_are_one_press() -> None:
    assert asked(feet(RIGHT, LEFT), (0, "B0 40 7F"), (300, "B0 40 7F"), (600, "B0 40 64")) == [(0, "next")]


def test_a_continuous_pedal_is_one_press_at_the_first_value_of_64_or_more() -> None:
    """The stream 0 12 40 63 64 90 127: MIDI 1.0, Table III, 64-127 on."""
    came = [(10 * n, f"B0 40 {v:02X}") for n, v in enumerate([0, 12, 40, 63, 64, 90, 127])]
    assert asked(feet(RIGHT, LEFT), *came) == [(40, "next")]


def test_a_pedal_that_rests_at_the_threshold_does_not_chatter() -> None:
    """The noisy ramp 0 30 64 61 66 62 70 20 0 is one press; common practice, no source."""
    came = [(40 * n, f"B0 40 {v:02X}") for n, v in enumerate([0, 30, 64, 61, 66, 62, 70, 20, 0])]
    assert asked(feet(RIGHT, LEFT), *came) == [(80, "next")]


def test_a_bounce_within_30_ms_is_not_a_second_press() -> None:
    """Worst contact bounce is about 6 ms (Ganssle, "A Guide to Debouncing", from memory)."""
    came = [(0, "B0 40 7F"), (3, "B0 40 00"), (6, "B0 40 7F"), (250, "B0 40 00"), (253, "B0 40 7F"), (256, "B0 40 00")]
    assert asked(feet(RIGHT, LEFT), *came) == [(0, "next")]


@pytest.mark.parametrize(("again_ms", "presses"), [(29, [(0, "next")]), (30, [(0, "next"), (30, "next")])])
def test_the_lock_out_ends_with_its_thirtieth_millisecond(again_ms: int, presses: list[tuple[int, str]]) -> None:
    came = ((0, "B0 40 7F"), (15, "B0 40 00"), (again_ms, "B0 40 7F"))
    assert asked(feet(RIGHT, LEFT), *came) == presses


def test_a_press_counts_even_if_the_last_release_was_ignored_as_a_bounce() -> None:
    assert asked(feet(RIGHT, LEFT), (0, "B0 40 7F"), (20, "B0 40 00"), (400, "B0 40 7F")) == [
        (0, "next"),
        (400, "next"),
    ]


def test_in_a_ports_first_second_its_pedals_only_report_their_position() -> None:
    opened = port_appeared(feet(RIGHT, LEFT), BOX, at_ms=0)
    assert asked(opened, (200, "B0 40 7F"), (900, "B0 43 00"), (1500, "B0 40 00"), (2000, "B0 40 7F")) == [
        (2000, "next")
    ]


def test_after_the_first_second_a_silent_pedal_counts_as_up() -> None:
    assert asked(port_appeared(feet(RIGHT, LEFT), BOX, at_ms=0), (1000, "B0 40 7F")) == [(1000, "next")]


def test_a_port_that_comes_back_with_its_pedal_down_does_not_step() -> None:
    began = feet(RIGHT, LEFT)
    down, _ = midi_received(began, BOX, bytes.fromhex("B0 40 7F"), 0)
    back = port_appeared(down, BOX, at_ms=5000)
    assert asked(back, (5100, "B0 40 7F")) == []


def test_reversed_polarity_is_a_setting() -> None:
    other = Pedal("right", port=BOX, control=64, press=Action.NEXT, reversed=True)
    assert asked(feet(other, LEFT), (0, "B0 40 7F"), (100, "B0 40 00"), (300, "B0 40 7F")) == [(100, "next")]


LATCHING = Pedal("right", port=BOX, control=64, press=Action.NEXT, latching=True)


@pytest.mark.parametrize("stood", ["00", "7F"])
def test_each_edge_of_a_latching_switch_is_a_press(stood: str) -> None:
    values = ["7F", "00"] * 2 if stood == "00" else ["00", "7F"] * 2
    came = [(1000 * number, f"B0 40 {value}") for number, value in enumerate(values)]
    assert asked(feet(LATCHING), *came) == [(at_ms, "next") for at_ms, _ in came]


def test_bounces_and_repeats_of_a_latching_switch_are_one_press() -> None:
    came = [(0, "B0 40 7F"), (4, "B0 40 00"), (8, "B0 40 7F"), (300, "B0 40 7F"), (600, "B0 40 00")]
    assert asked(feet(LATCHING), *came) == [(0, "next"), (600, "next")]


@pytest.mark.parametrize("stands", ["00", "7F"])
def test_a_latching_switch_may_send_its_position_when_plugged_in(stands: str) -> None:
    came = [(9500, f"B0 40 {stands}"), (11_000, f"B0 40 {'7F' if stands == '00' else '00'}")]
    assert asked(port_appeared(feet(LATCHING), BOX, at_ms=9000), *came) == [(11_000, "next")]


def test_a_single_latching_switch_has_no_hold() -> None:
    began = feet(LATCHING)
    assert began.pedals[0].hold is None
    down, _ = midi_received(began, BOX, bytes.fromhex("B0 40 7F"), 0)
    assert next_hold_ms(down) is None


def test_an_echo_of_our_own_message_does_not_step() -> None:
    echoing = we_sent(feet(RIGHT, LEFT), BOX, bytes.fromhex("B0 40 7F"), at_ms=1000)
    assert asked(echoing, (1004, "B0 40 7F")) == []
    assert asked(echoing, (2000, "B0 40 7F")) == [(2000, "next")]


@pytest.mark.parametrize("kind", ["the soft pedal of a stage piano", "a pad"])
def test_a_release_that_looks_like_our_own_message_still_ends_the_press(kind: str) -> None:
    """All off sends B0 43 00 on every channel while the foot that asked for it is still down."""
    pad = kind == "a pad"
    pedal = (
        Pedal("panic", port=BOX, note=36, press=Action.ALL_OFF)
        if pad
        else Pedal("panic", port=BOX, control=67, press=Action.ALL_OFF)
    )
    press, release = ("99 24 7F", "99 24 00") if pad else ("B0 43 7F", "B0 43 00")
    pressed, _ = midi_received(feet(pedal, RIGHT), BOX, bytes.fromhex(press), 1000)
    sent = we_sent(pressed, BOX, bytes.fromhex(release), at_ms=1001)
    assert asked(sent, (1150, release), (2000, press)) == [(2000, "all off")]


def test_an_echo_that_means_down_does_not_step() -> None:
    """All off sends 0, which is down for a reversed pedal; for a latching one any change is a press."""
    backwards = Pedal("back to front", port=BOX, control=67, press=Action.NEXT, reversed=True)
    latching = Pedal("latch", port=BOX, control=67, press=Action.NEXT, latching=True)
    for pedal in (backwards, latching):
        echoing = we_sent(feet(pedal, RIGHT), BOX, bytes.fromhex("B0 43 00"), at_ms=1000)
        assert asked(echoing, (1004, "B0 43 00")) == []


def test_a_soft_hit_on_a_pad_counts() -> None:
    pad = Pedal("pad", port=BOX, channel=10, note=36, press=Action.AGAIN)
    came = [(0, "99 24 01"), (100, "99 24 00"), (300, "99 24 7F"), (400, "89 24 40"), (600, "99 24 05")]
    assert asked(feet(pad, LEFT), *came) == [(0, "again"), (300, "again"), (600, "again")]


def test_the_key_repeats_of_a_held_page_turner_are_one_press() -> None:
    began = feet(TURNER, LEFT)
    asks: list[GestureRequest] = []
    for at_ms, down in [(0, True), (300, True), (330, True), (360, False), (700, True)]:
        found = key_moved(began, "page down", down=down, at_ms=at_ms)
        assert found is not None
        began, more = found
        asks += more
    assert [(ask.at_ms, ask.action) for ask in asks] == [(0, Action.NEXT), (700, Action.NEXT)]


def test_a_key_that_no_pedal_uses_is_ignored() -> None:
    assert key_moved(feet(TURNER, LEFT), "a", down=True, at_ms=0) is None


# Hold: "0.8 s is no default where there are two switches or more, since feet rest on pedals; with a single switch it
# cancels its press and goes back one."


def held(feet: Feet, at_ms: int) -> list[str]:
    down, _ = midi_received(feet, BOX, bytes.fromhex("B0 40 7F"), 0)
    _, asks = time_passed(down, at_ms)
    return [ask.action.value for ask in asks]


def test_holding_a_single_switch_undoes_its_press_and_goes_back_one() -> None:
    assert held(feet(RIGHT), 799) == []
    assert held(feet(RIGHT), 800) == ["take back", "back"]


def test_holding_one_of_two_switches_does_nothing_more() -> None:
    assert held(feet(RIGHT, LEFT), 5000) == []


def test_a_hold_acts_once_and_only_while_the_foot_is_down() -> None:
    down, _ = midi_received(feet(RIGHT), BOX, bytes.fromhex("B0 40 7F"), 0)
    assert next_hold_ms(down) == 800
    acted, _ = time_passed(down, 800)
    assert time_passed(acted, 5000)[1] == ()
    up, _ = midi_received(down, BOX, bytes.fromhex("B0 40 00"), 400)
    assert time_passed(up, 5000)[1] == ()
    assert next_hold_ms(up) is None


def test_a_hold_undoes_only_the_step_of_its_own_press() -> None:
    down, _ = midi_received(feet(RIGHT), BOX, bytes.fromhex("B0 40 7F"), 120)
    _, asks = time_passed(down, 1000)
    assert asks[0] == GestureRequest(Action.TAKE_BACK, 1000, of_ms=120)


@pytest.mark.parametrize(
    ("port", "next_press"), [(None, [(5000, "next")]), (BOX, [(5000, "next")]), ("another port", [])]
)
def test_after_messages_may_have_been_lost_the_next_press_of_the_port_counts(
    port: str | None, next_press: list[tuple[int, str]]
) -> None:
    now, _ = midi_received(feet(RIGHT, LEFT), BOX, bytes.fromhex("B0 40 7F"), 1000)
    assert asked(woken(now, port), (5000, "B0 40 7F")) == next_press
