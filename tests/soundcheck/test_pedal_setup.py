"""Setting pedals up, played by hand: what is asked, what is worked out, and the rig that comes of it."""

import itertools
from pathlib import Path

import msgspec
from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st
from soundcheck.conversation import Talking

from companion.night.happenings import KeyReceived
from companion.ports import MidiReceived, PortFound
from companion.ports.arrivals import Direction
from companion.rig import Action, Keyboard, Pedal, Rig, Sustain, read_rig
from companion.soundcheck.pedals.pedal_map import ORDER
from companion.soundcheck.pedals.pedal_prompts import prompt
from companion.soundcheck.pedals.pedal_setup import at_start, step
from companion.soundcheck.pedals.pedal_state import PedalStage, Phase, Setup, rig_after
from companion.soundcheck.rig_edits import kept
from companion.soundcheck.talk import KeepPedals, TalkInput
from companion.stage import feet_of, midi_received

PIANO, BOX = "Stage Piano:MIDI 1 24:0", "Foot Box:MIDI 1 28:0"
BARE = Rig("bare", keyboards=(Keyboard("lower", port="Stage Piano"),))
HOME = Rig(
    "home",
    keyboards=BARE.keyboards,
    pedals=(
        Pedal("right", port="Foot Box", channel=1, control=64, press=Action.NEXT),
        Pedal("left", port="Foot Box", channel=1, control=67, press=Action.BACK),
    ),
    sustain=(Sustain("Stage Piano"),),
)


def setting_up(rig: Rig = BARE) -> Talking[Setup]:
    """Return a setting up at its first question."""
    talk = Talking(step, at_start(rig, "alsa"))
    for port in (PIANO, BOX):
        talk.found(port)
    talk.wait(2100)
    talk.new()
    return talk


def press(talk: Talking[Setup], port: str = BOX, control: int = 64, values: str = "7F 00", *, channel: int = 1) -> None:
    """Press a switch that sends these values, 60 ms apart, and wait until it has been read."""
    talk.now_ms += 1000
    for value in values.split():
        talk.midi(port, f"{0xAF + channel:02X} {control:02X} {value}")
        talk.wait(60, every=20)
    talk.wait(700)


def stage_of(talk: Talking[Setup]) -> PedalStage:
    return talk.state.stage


def phase_of(talk: Talking[Setup]) -> Phase:
    return talk.state.phase


def asked(talk: Talking[Setup]) -> str:
    return next((line for line in prompt(talk.state) if not line.startswith(" ")), "")


def without_sustain(rig: Rig = BARE) -> Talking[Setup]:
    talk = setting_up(rig)
    talk.key("s")
    talk.new()
    return talk


def test_the_sustain_is_asked_first_and_never_steps() -> None:
    talk = setting_up()
    assert asked(talk).startswith("YOUR OWN SUSTAIN")
    press(talk, PIANO)
    assert rig_after(talk.state).sustain == (Sustain("Stage Piano", 64, 1),)
    press(talk, PIANO)
    assert "that is already your sustain, which never steps" in talk.said()[-1]
    assert rig_after(talk.state).pedals == ()


def test_two_switches_become_next_and_back() -> None:
    talk = without_sustain()
    press(talk, control=80)
    press(talk, control=81, values="00 7F")
    talk.key("d")
    assert stage_of(talk) is PedalStage.REVIEW
    assert rig_after(talk.state).pedals == (
        Pedal("right", port="Foot Box", channel=1, control=80, press=Action.NEXT),
        Pedal("left", port="Foot Box", channel=1, control=81, press=Action.BACK, reversed=True),
    )


def test_nothing_is_written_before_the_player_says_so() -> None:
    talk = without_sustain()
    press(talk)
    talk.key("d")
    assert not any(isinstance(one, KeepPedals) for one in talk.new())
    talk.key("y")
    (request,) = talk.new()
    assert isinstance(request, KeepPedals)
    assert (stage_of(talk), talk.state.writes) == (PedalStage.OVER, True)


def test_leaving_writes_nothing() -> None:
    talk = without_sustain()
    press(talk)
    talk.new()
    talk.key("q")
    assert talk.new() == []
    assert (stage_of(talk), talk.state.writes) == (PedalStage.OVER, False)


def test_more_switches_get_the_next_actions_in_order() -> None:
    talk = without_sustain()
    for control in range(80, 80 + len(ORDER)):
        press(talk, control=control)
    assert tuple(pedal.press for pedal in rig_after(talk.state).pedals) == ORDER


def test_another_action_can_be_chosen_for_a_switch() -> None:
    talk = without_sustain()
    talk.key("c", "c")
    press(talk)
    (pedal,) = rig_after(talk.state).pedals
    assert (pedal.name, pedal.press) == ("again", Action.AGAIN)
    assert asked(talk).startswith("A NEW SWITCH for next")


def test_a_switch_pressed_twice_is_reported_and_not_used_again() -> None:
    talk = without_sustain()
    press(talk)
    talk.new()
    press(talk)
    assert 'that is already "right". Press another.' in talk.said()[-1]
    assert len(rig_after(talk.state).pedals) == 1


def test_a_page_turners_keys_are_taken_and_their_repeats_are_not() -> None:
    talk = without_sustain()
    for key, times in (("page down", 8), ("page up", 3)):
        for _ in range(times):
            talk.now_ms += 300
            talk.take(KeyReceived(key, down=True))
        talk.now_ms += 1000
    assert rig_after(talk.state).pedals == (
        Pedal("page down", key="page down", press=Action.NEXT),
        Pedal("page up", key="page up", press=Action.BACK),
    )
    assert not [line for line in talk.said() if "already" in line]


def test_a_computer_key_cannot_be_the_sustain() -> None:
    talk = setting_up()
    talk.key("space")
    assert talk.said() == ["A computer key cannot be a sustain."]


def test_a_pad_cannot_be_the_sustain() -> None:
    talk = setting_up()
    talk.midi(BOX, "99 33 40", "99 33 00")
    talk.wait(700)
    assert "a sustain sends a control" in talk.said()[-1]


def test_a_foot_that_stays_down_is_asked_to_let_go() -> None:
    talk = without_sustain()
    press(talk, values="7F")
    assert asked(talk) == ""
    assert "let it go" in prompt(talk.state)[0]
    press(talk, values="00")
    (pedal,) = rig_after(talk.state).pedals
    assert not pedal.reversed


def test_a_reversed_one_that_stays_down_is_reversed_all_the_same() -> None:
    talk = without_sustain()
    press(talk, values="00")
    press(talk, values="7F")
    (pedal,) = rig_after(talk.state).pedals
    assert pedal.reversed


def test_a_pedal_that_measures_depth_and_stays_down_is_read_when_it_comes_up() -> None:
    talk = without_sustain()
    press(talk, values="10 30 50 7F")
    assert phase_of(talk) is Phase.UP
    press(talk, values="50 20 00")
    assert "measures depth" in talk.said()[-1]
    (pedal,) = rig_after(talk.state).pedals
    assert not pedal.reversed


def test_a_pedal_that_trembles_under_the_foot_is_still_read() -> None:
    talk = without_sustain()
    press(talk, values="10 30 50 7E")
    for value in (127, 125, 126, 127, 126, 125, 127, 126):
        talk.midi(BOX, f"B0 40 {value:02X}")
        talk.wait(100)
    assert phase_of(talk) is Phase.UP
    talk.midi(BOX, "B0 40 40", "B0 40 00")
    for value in (1, 0, 2, 0, 1, 2, 0, 1):
        talk.midi(BOX, f"B0 40 {value:02X}")
        talk.wait(100)
    assert len(rig_after(talk.state).pedals) == 1


def test_a_switch_that_says_nothing_when_it_comes_up_cannot_step() -> None:
    talk = without_sustain()
    press(talk, values="7F")
    talk.wait(2600)
    assert "once more" in prompt(talk.state)[0]
    press(talk, values="7F")
    assert "the same at each press" in talk.said()[-1]
    assert rig_after(talk.state).pedals == ()


def test_a_latching_switch_steps_at_each_press() -> None:
    talk = without_sustain()
    press(talk, values="7F")
    talk.wait(2600)
    press(talk, values="00")
    talk.wait(2600)
    assert "latches: each press counts" in talk.said()[-1]
    assert rig_after(talk.state).pedals == (
        Pedal("right", port="Foot Box", channel=1, control=64, press=Action.NEXT, latching=True),
    )


def test_a_slow_foot_is_not_taken_for_a_latch() -> None:
    talk = without_sustain()
    press(talk, values="7F")
    talk.wait(2600)
    press(talk, values="00")
    press(talk, values="7F 00")
    (pedal,) = rig_after(talk.state).pedals
    assert pedal.control == 64
    assert not [line for line in talk.said() if "latches" in line]


def test_a_switch_that_sends_programs_gets_advice_what_to_set() -> None:
    talk = without_sustain()
    talk.midi(BOX, "C0 05")
    talk.wait(700)
    assert "Set it to send a control" in talk.said()[-1]


def test_noise_at_rest_is_measured_and_then_not_a_press() -> None:
    talk = Talking(step, at_start(BARE, "alsa"))
    talk.found(BOX)
    for value in itertools.islice(itertools.cycle((3, 6, 4)), 40):
        talk.midi(BOX, f"B0 0B {value:02X}")
        talk.wait(50)
    talk.wait(200)
    talk.key("s")
    for value in (5, 3, 6):
        talk.midi(BOX, f"B0 0B {value:02X}")
        talk.wait(600)
    assert rig_after(talk.state).pedals == ()
    press(talk, control=11, values="30 7F 40 05")
    assert "trembles by 3 at rest" in talk.said()[-1]
    assert len(rig_after(talk.state).pedals) == 1


def test_a_foot_that_moves_at_rest_is_reported_and_the_rest_is_measured_again() -> None:
    talk = Talking(step, at_start(BARE, "alsa"))
    talk.found(BOX)
    talk.midi(BOX, "B0 40 7F", "B0 40 00")
    talk.wait(2100)
    assert stage_of(talk) is PedalStage.REST
    assert "control 64 moved" in talk.said()[-1]
    talk.wait(2100)
    assert stage_of(talk) is PedalStage.ASK
    talk.key("s")
    press(talk)
    assert len(rig_after(talk.state).pedals) == 1


def test_two_at_once_are_asked_again() -> None:
    talk = without_sustain()
    talk.midi(BOX, "B0 40 7F", "B0 43 7F")
    talk.wait(700)
    assert "moved together" in talk.said()[-1]
    press(talk)
    assert len(rig_after(talk.state).pedals) == 1


def test_the_pedals_of_the_rig_are_asked_for_by_name_and_kept_or_changed() -> None:
    talk = setting_up(HOME)
    assert "YOUR OWN SUSTAIN on Stage Piano" in asked(talk)
    talk.key("k")
    assert asked(talk).startswith("RIGHT, which is next")
    press(talk, control=80)
    assert asked(talk).startswith("LEFT, which is back")
    talk.key("k")
    assert asked(talk).startswith("A NEW SWITCH for again")
    talk.key("d", "y")
    request = next(one for one in talk.new() if isinstance(one, KeepPedals))
    assert [(one.pedal.name, one.pedal.control) for one in request.pedals] == [("right", 80)]
    assert (request.sustains, request.out) == ((), ())


def test_a_pedal_can_be_taken_out_and_the_last_answer_taken_back() -> None:
    talk = setting_up(HOME)
    talk.key("k", "x", "k", "d")
    assert [pedal.name for pedal in rig_after(talk.state).pedals] == ["left"]
    talk.key("b", "b")
    assert asked(talk).startswith("RIGHT")
    talk.key("k", "k", "d")
    assert rig_after(talk.state) == HOME


def test_pedals_not_reached_stay_unchanged() -> None:
    talk = setting_up(HOME)
    talk.key("k", "d")
    assert rig_after(talk.state) == HOME


def test_a_pedal_whose_switch_is_the_sustain_now_cannot_be_kept() -> None:
    talk = setting_up(HOME)
    press(talk, BOX, 64)
    talk.new()
    talk.key("k")
    assert "Its switch is your sustain, which never steps now" in talk.said()[-1]
    talk.key("x", "k", "d")
    assert [pedal.name for pedal in rig_after(talk.state).pedals] == ["left"]


def test_the_rigs_own_word_for_a_port_is_used_again() -> None:
    rig = msgspec.structs.replace(BARE, keyboards=(Keyboard("lower", port="piano"),))
    talk = setting_up(rig)
    press(talk, PIANO)
    assert rig_after(talk.state).sustain[0].port == "piano"


def test_a_pedal_plugged_in_late_is_listened_to() -> None:
    talk = Talking(step, at_start(BARE, "alsa"))
    talk.wait(2100)
    talk.key("s")
    assert "No MIDI input yet" in prompt(talk.state)[0]
    talk.take(PortFound(BOX, Direction.IN, BOX, 0))
    press(talk)
    assert rig_after(talk.state).pedals[0].port == "Foot Box"


def test_what_is_written_steps_the_show_and_the_sustain_does_not(tmp_path: Path) -> None:
    """From the press to the file, read by the rig's own reader, to the gestures of the stage."""
    talk = setting_up()
    press(talk, PIANO)
    press(talk, BOX, 66, values="00 7F", channel=3)
    talk.key("d", "y")
    request = next(one for one in talk.new() if isinstance(one, KeepPedals))
    file = tmp_path / "rig.yaml"
    file.write_text(kept("rig: bare  # mine\nkeyboards:\n  lower: {port: Stage Piano, general_midi: yes}\n", request))
    feet = feet_of(read_rig(file).rig)
    _, asks = midi_received(feet, "Foot Box", bytes.fromhex("B2 42 00"), 5000)
    assert [ask.action for ask in asks] == [Action.NEXT]
    _, asks = midi_received(feet, "Stage Piano", bytes.fromhex("B0 40 7F"), 5000)
    assert asks == ()


KEYS = st.sampled_from(["k", "x", "s", "b", "c", "d", "y", "space", "page down", "7", "z"])
VALUES = st.sampled_from([0, 1, 30, 64, 127])
HAPPENINGS: st.SearchStrategy[TalkInput] = st.one_of(
    st.builds(KeyReceived, KEYS, st.booleans()),
    st.builds(
        lambda port, status, number, value: MidiReceived(port, bytes((status, number, value)), 0),
        st.sampled_from([PIANO, BOX]),
        st.sampled_from([0xB0, 0xB1, 0x90]),
        st.sampled_from([64, 67]),
        VALUES,
    ),
    st.builds(lambda port: MidiReceived(port, b"\xc0\x05", 0), st.sampled_from([PIANO, BOX])),
    st.none(),
)


@settings(max_examples=examples(60))
@given(st.sampled_from([BARE, HOME]), st.lists(st.tuples(HAPPENINGS, st.integers(0, 3000)), max_size=40))
def test_any_input_leaves_a_rig_in_which_each_pedal_is_one_switch(
    rig: Rig, events: list[tuple[TalkInput, int]]
) -> None:
    talk = setting_up(rig)
    for happened, later_ms in events:
        talk.now_ms += later_ms
        talk.take(happened)
        prompt(talk.state)
    after = rig_after(talk.state)
    names = [pedal.name for pedal in after.pedals]
    assert len(set(names)) == len(names)
    assert all(pedal.key or pedal.port for pedal in after.pedals)
