"""The sound check, played by hand: a sound that is too loud or too soft."""

import pytest
from msgspec.structs import replace
from soundcheck.conversation import Talking
from soundcheck.scenes import LEAD, ORGAN, RIG, book_on, part
from soundcheck.walk import (
    hearing,
    sound,
    stage_of,
)

from companion.ports import Direction
from companion.rig import Keyboard, Rig
from companion.show import Song
from companion.soundcheck.check.check_prompts import prompt
from companion.soundcheck.check.check_report import Report, report_of
from companion.soundcheck.check.check_report import page as page_lines
from companion.soundcheck.check.check_state import CheckStage, SoundCheck, at_start
from companion.soundcheck.check.checking import step
from companion.soundcheck.talk import KeepLevel, KeepLevels, NotKept


def test_too_loud_turns_it_down_at_once_and_the_sound_stays() -> None:
    talk = hearing()
    talk.key("enter")
    talk.new()
    talk.key("-", "-")
    assert talk.sent() == ["Stage Piano: B0 07 65", "Stage Piano: B0 07 5D"]  # 110, then 101, then 93
    assert sound(talk) == "organ"
    assert any("volume 93, was 110" in line for line in prompt(talk.state, 0))


def test_too_soft_turns_it_up_from_the_level_of_power_on_where_the_rig_says_none() -> None:
    talk = hearing()
    talk.new()
    talk.key("+")
    assert talk.sent() == ["Stage Piano: B0 07 6D"]  # 100 up by 1.5 dB is 109


def page(report: Report) -> list[str]:
    return list(page_lines(report))


def asked(*keys: str) -> Talking[SoundCheck]:
    """Turn a volume down, go through to the end, and come to the question about the rig file."""
    talk = hearing()
    talk.key("enter", "-", "-", *keys, "t")
    assert not kept(talk)
    talk.key("enter")
    return talk


def kept(talk: Talking[SoundCheck]) -> list[KeepLevels]:
    return [one for one in talk.effects if isinstance(one, KeepLevels)]


def test_a_volume_is_kept_only_if_the_player_agrees_at_the_end() -> None:
    talk = asked("enter", "enter", "+")
    assert stage_of(talk) is CheckStage.LEVELS
    assert prompt(talk.state, 0)[:3] == (
        "2 volumes changed:",
        "    organ on lower: 93, the rig file has 110",
        "    lead on upper: 109, the rig file has none",
    )
    assert not kept(talk)
    talk.key("y")
    assert kept(talk) == [
        KeepLevels((KeepLevel(RIG.keyboards[0], ORGAN, 93, 110), KeepLevel(RIG.keyboards[1], LEAD, 109, None)))
    ]
    talk.wait(100)
    assert talk.state.stage is CheckStage.OVER
    assert "         organ on lower: volume 93, was 110" in page(report_of(talk.state))


def over_by(talk: Talking[SoundCheck], way: str) -> None:
    """End a check whose levels were turned."""
    if way == "ctrl-c":
        talk.stop()
        return
    talk.key("q")
    talk.new()
    talk.key(way)
    if way == "y":
        talk.take(NotKept("the disk is full"))


@pytest.mark.parametrize("way", ["n", "ctrl-c", "y"])
def test_a_level_that_was_not_kept_does_not_stay_on_a_keyboard_whose_level_nothing_else_sets(way: str) -> None:
    """The night sends the lower keyboard a level with each sound, and the upper one none: it would stay softer."""
    talk = hearing()
    talk.key("-", *["enter"] * 3, "-", "-")
    assert sound(talk) == "lead"
    talk.new()
    over_by(talk, way)
    assert talk.state.stage is CheckStage.OVER
    assert talk.sent() == ["Foldaway Synth: B1 07 64"]


def test_a_level_that_was_kept_stays_as_it_was_heard() -> None:
    talk = hearing()
    talk.key(*["enter"] * 3, "-", "q")
    talk.new()
    talk.key("y")
    assert (talk.state.stage, talk.sent()) == (CheckStage.OVER, [])


@pytest.mark.parametrize("key", ["n", "q", "enter"])
def test_answering_no_leaves_the_rig_file_unchanged(key: str) -> None:
    talk = asked("enter")
    talk.key(key)
    assert talk.state.stage is CheckStage.OVER
    assert not kept(talk)
    assert "         organ on lower: volume 93, was 110, not kept in the rig file" in page(report_of(talk.state))


def test_no_foot_answers_the_question_about_the_rig_file() -> None:
    talk = asked("enter")
    talk.midi("Foot Box", "B0 40 7F")
    talk.midi("Foot Box", "B0 40 00")
    talk.key("space", "w", "t")
    assert talk.state.stage is CheckStage.LEVELS
    assert not kept(talk)


def test_stopping_by_key_asks_too() -> None:
    talk = hearing()
    talk.key("enter", "-", "q")
    assert talk.state.stage is CheckStage.LEVELS
    talk.key("n")
    assert (talk.state.stage, talk.state.stopped) == (CheckStage.OVER, "as you asked")


def test_an_unchanged_level_causes_no_question() -> None:
    talk = hearing()
    talk.key("enter", "-", "+")
    assert talk.state.level == 110
    talk.key("t", "enter")
    assert talk.state.stage is CheckStage.OVER
    assert not kept(talk)


def test_an_unwritten_level_is_on_the_report() -> None:
    talk = asked("enter")
    talk.key("y")
    talk.take(NotKept("the disk is full"))
    assert talk.state.stage is CheckStage.OVER
    assert "  - not kept: the disk is full" in page(report_of(talk.state))
    assert "         organ on lower: volume 93, was 110, not kept in the rig file" in page(report_of(talk.state))


def test_a_sound_that_was_nudged_comes_back_at_its_new_level() -> None:
    talk = hearing()
    talk.key("enter", "-", "enter", "backspace")
    assert talk.sent()[-2:] == ["Stage Piano: C0 10", "Stage Piano: B0 07 65"]


def test_at_the_end_of_the_volume_it_says_what_else_to_do() -> None:
    talk = hearing()
    for _ in range(10):
        talk.key("+")
    assert talk.state.level == 127
    talk.new()
    talk.key("+")
    (said,) = talk.said()
    assert "At its loudest (127)" in said


def test_a_level_that_could_not_be_stored_is_reported() -> None:
    talk = hearing()
    talk.take(NotKept("the disk is full"))
    assert talk.said()[-1] == "not kept: the disk is full"
    assert talk.state.not_kept == ("the disk is full",)


def test_a_nudged_level_does_not_carry_over_to_a_sound_without_its_own() -> None:
    """As it will be on stage, if the rig has the kept level."""
    synth = Keyboard("upper", port="Foldaway Synth", sounds=(LEAD, replace(LEAD, name="bright lead", program=80)))
    songs = (Song("Wet Paint", road_map=(part("Verse", "lead"), part("Solo", "bright lead"))),)
    check = at_start(book_on(Rig("One synth", keyboards=(synth,)), songs))
    talk = Talking(step, check)
    talk.found("Foldaway Synth", Direction.OUT)
    talk.wait(1300)
    talk.key("enter")
    assert talk.sent()[-1:] == ["Foldaway Synth: C0 51"]
    talk.key("-", "enter")
    assert talk.sent() == ["Foldaway Synth: B0 07 5C", "Foldaway Synth: C0 50", "Foldaway Synth: B0 07 64"]
