"""The sound check, played by hand: facts, caution, each sound, pedals."""

import itertools
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace
from soundcheck.conversation import Talking, bytes_of
from soundcheck.scenes import RIG, begun
from soundcheck.walk import (
    ORGAN_ON,
    OUTS,
    PIANO_ON,
    hearing,
    sound,
    stage_of,
    talking,
    trying_pedals,
    verdicts,
)

from companion.guide import page
from companion.night.happenings import KeyReceived, Stop
from companion.ports import Direction, MidiReceived, PortFound, PortLost
from companion.rig import Action, Pedal, Rig, Sustain
from companion.soundcheck.check import check_report
from companion.soundcheck.check.check_prompts import prompt
from companion.soundcheck.check.check_state import BY_PEDAL, KEYS, CheckStage, SoundReply, Verdict
from companion.soundcheck.check.checking import step
from companion.soundcheck.talk import Remember, Say, TalkInput


def test_every_port_that_is_found_is_asked_who_is_there() -> None:
    assert talking().sent() == [f"{port}: F0 7E 7F 06 01 F7" for port in OUTS]


def test_the_facts_say_who_is_there_and_who_answered() -> None:
    talk = talking()
    talk.midi("Stage Piano", "F0 7E 00 06 02 7D 01 00 02 00 00 00 01 00 F7")
    talk.wait(1300)
    said = "\n".join(talk.said())
    assert '"Stage Piano" (maker 7D (not commercial), family 1, member 2, revision 00 00 01 00)' in said
    assert '"Foldaway Synth" (no identity reply)' in said
    assert "5 sounds of the show are on this rig" in said
    assert "by hand: choir on lower: bank B, button 4" in said


def test_a_port_that_is_not_there_is_a_fact() -> None:
    talk = Talking(step, begun())
    talk.lost("Foot Box")
    talk.wait(1300)
    said = talk.said()
    assert 'MISSING    pedal right: next: "Foot Box" is gone' in said
    assert "MISSING    upper, channel 2: nothing was found" in said


def test_no_sound_is_sent_before_the_player_has_turned_everything_down() -> None:
    talk = talking()
    talk.new()
    talk.wait(60_000)
    assert stage_of(talk) is CheckStage.CAUTION
    assert talk.sent() == []
    assert any("turn the amplifier" in line for line in prompt(talk.state, 0))
    talk.key("enter")
    assert talk.sent() == PIANO_ON


def test_each_right_leads_to_the_next_sound_and_the_last_to_the_pedals() -> None:
    talk = hearing()
    heard = [sound(talk)]
    for _ in range(5):
        talk.key("enter")
        heard.append(sound(talk))
    assert heard == ["grand piano", "organ", "strings", "lead", "choir", "pedals"]
    assert verdicts(talk) == [Verdict.RIGHT] * 5


def test_the_pedal_says_right_and_the_other_one_goes_back() -> None:
    talk = hearing()
    talk.press("Foot Box", 64)
    assert sound(talk) == "organ"
    talk.press("Foot Box", 67)
    assert sound(talk) == "grand piano"
    assert verdicts(talk)[0] is None
    assert talk.sent() == [*PIANO_ON, *ORGAN_ON, *PIANO_ON]


def test_a_page_turners_key_says_right() -> None:
    talk = hearing()
    talk.key("page down")
    assert sound(talk) == "organ"


def test_a_single_switch_that_is_held_goes_back_to_the_sound_before() -> None:
    one = Rig("one", keyboards=RIG.keyboards, pedals=RIG.pedals[:1])
    talk = hearing(one)
    talk.press("Foot Box", 64)
    assert sound(talk) == "organ"
    talk.now_ms += 1000
    talk.midi("Foot Box", "B0 40 7F")
    talk.wait(1000)
    assert sound(talk) == "grand piano"


def test_wrong_is_noted_and_the_check_continues() -> None:
    talk = hearing()
    talk.key("w")
    assert verdicts(talk)[0] is Verdict.WRONG
    assert sound(talk) == "organ"


def test_a_sound_left_for_later_is_not_asked_again_and_not_right() -> None:
    talk = hearing()
    talk.key("s", "enter", "enter", "enter", "enter")
    assert sound(talk) == "pedals"
    assert verdicts(talk)[0] is Verdict.LATER


def test_all_off_silences_every_port_and_the_sound_is_sent_again() -> None:
    talk = hearing()
    talk.new()
    talk.key("o")
    sent = talk.sent()
    assert sent.count("Stage Piano: B0 78 00") == sent.count("Foldaway Synth: BF 7B 00") == 1
    assert sent[-2:] == PIANO_ON


def test_every_answer_is_remembered_at_once() -> None:
    talk = hearing()
    talk.new()
    talk.key("enter")
    assert Remember() in talk.effects


def test_a_returning_keyboard_gets_the_sound() -> None:
    talk = hearing()
    talk.lost("Stage Piano", Direction.OUT)
    told = "\n".join(prompt(talk.state, 0))
    assert "No MIDI reaches lower: nothing is sent" in told
    assert "Choose it on the panel: program 1" in told
    talk.new()
    talk.found("Stage Piano", Direction.OUT, was_there=False)
    assert talk.sent() == ["Stage Piano: F0 7E 7F 06 01 F7", *PIANO_ON]


def test_a_port_that_comes_or_goes_is_reported_if_the_show_needs_it() -> None:
    talk = hearing()
    talk.new()
    talk.lost("Foot Box")
    talk.found("Foot Box", was_there=False)
    assert talk.said() == ['"Foot Box" is gone', '"Foot Box" connected']
    talk.lost("Foldaway Synth")  # the hands on it; that it can be heard is a help and no need
    assert talk.said() == []


def test_each_edge_of_a_latching_switch_is_a_press_here_too() -> None:
    stomp = Pedal("stomp", port="Foot Box", control=80, press=Action.NEXT, latching=True)
    talk = hearing(Rig("latch", keyboards=RIG.keyboards, pedals=(stomp, *RIG.pedals[1:])))
    talk.key("t")
    talk.midi("Foot Box", "B0 50 00")
    assert talk.state.pressed == frozenset({0})


def test_a_sound_chosen_by_hand_is_shown_with_what_to_press() -> None:
    talk = hearing()
    talk.key("enter", "enter", "enter", "enter")
    assert sound(talk) == "choir"
    assert "    Choose it on the panel: bank B, button 4" in prompt(talk.state, 0)


def test_an_echo_of_what_was_sent_is_not_taken_for_a_pedal() -> None:
    """Some keyboards echo what they receive, and a rig may have a pedal on a control that a sound sets."""
    pedal = Pedal("volume", port="Stage Piano", control=7, press=Action.NEXT)
    talk = hearing(Rig("echo", keyboards=RIG.keyboards, pedals=(pedal, RIG.pedals[1])))
    talk.key("enter")
    assert talk.sent()[-1] == "Stage Piano: B0 07 6E"
    talk.midi("Stage Piano", "B0 07 6E")
    assert sound(talk) == "organ"


def test_with_minutes_no_sound_is_begun_after_four_fifths_of_them() -> None:
    talk = hearing(minutes=5)
    assert sound(talk) == "lead"
    assert prompt(talk.state, talk.now_ms)[0] == "1 of 5; 4 min left for sounds"
    talk.now_ms += 4 * 60_000
    talk.key("enter")
    assert sound(talk) == "pedals"
    assert "Time is up: 4 not heard." in talk.said()


def test_a_sound_that_is_being_heard_when_time_is_up_is_heard_to_its_end() -> None:
    talk = hearing(minutes=5)
    talk.wait(5 * 60_000, every=1000)
    assert sound(talk) == "lead"


def test_pedals_are_ticked_as_they_are_pressed_and_all_of_them_end_it() -> None:
    talk = trying_pedals()
    talk.press("Foot Box", 64)
    assert talk.said() == ["    right: next"]
    assert not any("right: next" in line for line in prompt(talk.state, 0))
    talk.press("Foot Box", 67)
    talk.key("page down")
    assert stage_of(talk) is CheckStage.PEDALS
    talk.midi("Stage Piano", "B0 40 7F")
    assert stage_of(talk) is CheckStage.OVER
    assert talk.state.stopped is None


def test_enter_ends_the_pedal_test_if_a_pedal_is_missing() -> None:
    talk = trying_pedals()
    talk.press("Foot Box", 64)
    talk.key("enter")
    assert (talk.state.stage, talk.state.pressed) == (CheckStage.OVER, frozenset({0}))


def test_a_pedal_that_answered_about_a_sound_counts_as_pressed() -> None:
    talk = hearing()
    talk.press("Foot Box", 64)
    assert talk.state.pressed == {0}
    assert not [line for line in talk.said() if line.startswith("    right:")], "its answer says that it works"


def test_a_sustain_on_another_channel_or_port_than_the_rigs_is_not_the_one() -> None:
    talk = hearing(Rig("two", keyboards=RIG.keyboards, sustain=(Sustain("Stage Piano", 64, 2),)))
    talk.key("t")
    talk.midi("Stage Piano", "B0 40 7F")
    talk.midi("Foldaway Synth", "B1 40 7F")
    talk.midi("Stage Piano", "B1 40 00")
    assert talk.state.sustained == frozenset()
    talk.midi("Stage Piano", "B1 40 7F")
    assert talk.state.sustained == {0}


def test_a_stop_keeps_what_was_heard_and_leaves_the_rig_file_alone() -> None:
    talk = hearing()
    talk.key("enter", "-")
    talk.new()
    talk.stop()
    assert (talk.state.stage, talk.state.stopped) == (CheckStage.OVER, "interrupted")
    assert talk.new() == [Remember()]
    assert "         organ on lower: volume 101, was 110, not kept in the rig file" in list(
        check_report.page(check_report.report_of(talk.state))
    )


def test_a_stop_during_the_last_questions_still_shows_the_facts() -> None:
    talk = talking()
    talk.stop()
    assert stage_of(talk) is CheckStage.FACTS
    talk.wait(1300)
    assert stage_of(talk) is CheckStage.OVER
    assert any(isinstance(one, Say) and "rig: Home" in one.line for one in talk.effects)


def test_a_rig_without_pedals_ends_after_the_last_sound() -> None:
    talk = hearing(Rig("bare", keyboards=RIG.keyboards))
    talk.key(*["enter"] * 5)
    assert stage_of(talk) is CheckStage.OVER


def test_every_word_has_a_key_and_no_pedal_says_what_has_none() -> None:
    assert set(KEYS.values()) == set(SoundReply)
    assert set(BY_PEDAL.values()) <= set(SoundReply)


def test_the_guide_lists_every_key() -> None:
    section = page("soundcheck")
    rows = re.findall(r"^\| ([a-z, +-]+) \| [a-z]", section, re.MULTILINE)
    told = {key for row in rows for key in row.split(", ")} - {"key"}
    assert told == set(KEYS) - {"="}


@pytest.mark.parametrize(("stage", "word"), list(itertools.product(CheckStage, SoundReply)))
def test_every_answer_is_accepted_at_every_stage(stage: CheckStage, word: SoundReply) -> None:
    key = next(key for key, meant in KEYS.items() if meant is word)
    talk = {CheckStage.FACTS: talking, CheckStage.CAUTION: talking, CheckStage.SOUNDS: hearing}.get(
        stage, trying_pedals
    )()
    if stage is CheckStage.CAUTION:
        talk.wait(1300)
    if stage is CheckStage.OVER:
        talk.stop()
    if stage in (CheckStage.LEVELS, CheckStage.KEEPING):
        talk = hearing()
        talk.key("-", "q")
    if stage is CheckStage.KEEPING:
        talk.state = step(talk.state, KeyReceived("y", down=True), talk.now_ms)[0]
        talk.state = replace(talk.state, stage=CheckStage.KEEPING)
    assert stage_of(talk) is stage
    talk.key(key)
    prompt(talk.state, talk.now_ms)


MESSAGES = st.sampled_from(["B0 40 7F", "B0 40 00", "B0 43 7F", "B0 43 00", "90 3C 40", "F8", "C0 05"])
PORTS = st.sampled_from(["Foot Box", *OUTS])
HAPPENINGS: st.SearchStrategy[TalkInput] = st.one_of(
    st.builds(KeyReceived, st.sampled_from([*KEYS, "page down", "z"]), st.booleans()),
    st.builds(lambda port, message: MidiReceived(port, bytes.fromhex(message), 0), PORTS, MESSAGES),
    st.builds(lambda port, way: PortFound(port, way, port, 0), PORTS, st.sampled_from(Direction)),
    st.builds(lambda port, way: PortLost(port, way, "gone", 0), PORTS, st.sampled_from(Direction)),
    st.none(),
)


@given(st.lists(st.tuples(HAPPENINGS, st.integers(0, 2000)), max_size=40))
def test_any_input_is_survived_and_a_stop_ends_the_check(events: list[tuple[TalkInput, int]]) -> None:
    talk = Talking(step, begun(minutes=1))
    for happened, later_ms in events:
        talk.now_ms += later_ms
        talk.take(happened)
        prompt(talk.state, talk.now_ms)
    talk.take(Stop("enough"))
    talk.wait(1500)
    assert stage_of(talk) is CheckStage.OVER
    assert all(len(line.split(": ")) == 2 for line in bytes_of(talk.effects))


def test_the_actions_that_mean_nothing_here_do_nothing() -> None:
    assert not {Action.KEY_UP, Action.NEXT_SONG, Action.NOTHING} & set(BY_PEDAL)
