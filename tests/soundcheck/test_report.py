"""The one-page report: ready, or what is not; and the screen's figures against published ones."""

import msgspec
import pytest
from soundcheck.conversation import Talking
from soundcheck.scenes import RIG, begun

from companion.ports import Direction
from companion.rig import Screen
from companion.soundcheck.check.check_progress import count_right, kept_of, resumed
from companion.soundcheck.check.check_prompts import prompt
from companion.soundcheck.check.check_report import Report, page, report_of, screen_report
from companion.soundcheck.check.check_state import SoundCheck
from companion.soundcheck.check.checking import step
from companion.soundcheck.talk import NotKept

OUTS = ("Stage Piano", "Foldaway Synth")


def checked(check: SoundCheck, *keys: str, ports: bool = True) -> Talking[SoundCheck]:
    talk = Talking(step, check)
    if ports:
        for port in OUTS:
            talk.found(port, Direction.OUT)
        for port in ("Foot Box", "Stage Piano"):
            talk.found(port)
    talk.wait(1300)
    talk.key("enter", *keys)
    return talk


def all_pedals(talk: Talking[SoundCheck]) -> Report:
    talk.press("Foot Box", 64)
    talk.press("Foot Box", 67)
    talk.key("page down")
    talk.midi("Stage Piano", "B0 40 7F")
    return report_of(talk.state)


RIGHT = ("enter",) * 5


def test_all_heard_right_and_all_pressed_is_ready() -> None:
    report = all_pedals(checked(begun(), *RIGHT))
    assert report.ready
    assert report.not_ready == ()
    assert next(line for line in page(report) if "READY" in line) == "READY"


def test_anything_wrong_or_unheard_is_listed_and_not_ready() -> None:
    report = all_pedals(checked(begun(), "w", "s", "enter", "s", "enter"))
    assert report.not_ready == (
        "grand piano on lower is wrong",
        "1 sound of features not heard: lead on upper",
        "1 sound not heard: organ on lower",
    )
    assert not report.ready


def test_a_port_that_is_missing_is_not_ready() -> None:
    report = all_pedals(checked(begun(), *RIGHT, ports=False))
    assert "upper, channel 2: nothing was found" in report.not_ready


def test_a_sound_that_no_midi_reached_is_never_counted_as_heard_right() -> None:
    """Only the choir is set by hand: nothing would be sent for it anyway."""
    talk = checked(begun(), *RIGHT, ports=False)
    report = all_pedals(talk)
    assert [one.verdict for one in report.sounds] == ["not sent", "not sent", "not sent", "not sent", "right"]
    assert (
        "4 sounds not sent, only chosen on the panel: no MIDI reached the keyboard: "
        "grand piano on lower, organ on lower, strings on lower, lead on upper"
    ) in report.not_ready
    told = [*page(report)]
    assert "sounds   1 of 5 right; of those in features 0 of 1" in told
    assert "         4 more sounds chosen on the panel, since no MIDI reached the keyboard" in told
    assert count_right(talk.state) == 1
    again = resumed(begun(), kept_of(talk.state, 0.0), 1.0)
    assert count_right(again) == 1
    assert [answer.verdict for answer in again.answers[:4]] == [None] * 4


def test_a_sound_is_right_once_the_keyboard_is_there() -> None:
    talk = checked(begun(), "enter", ports=False)
    talk.key("backspace")
    talk.found(OUTS[0], Direction.OUT)
    talk.key("enter")
    assert report_of(talk.state).sounds[0].verdict == "right"


def test_the_prompts_say_so_before_and_at_each_sound() -> None:
    talk = Talking(step, begun())
    talk.wait(1300)
    assert prompt(talk.state, 0)[0] == "No keyboard is connected: no sound will be sent, and none can be checked."
    talk.key("enter")
    told = "\n".join(prompt(talk.state, 0))
    assert "No MIDI reaches lower: nothing is sent, and what you hear does not count as this sound." in told
    assert "right on the panel" in told
    talk.found(OUTS[0], Direction.OUT)
    told = "\n".join(prompt(talk.state, 0))
    assert "No MIDI" not in told
    assert "on the panel" not in told


def test_a_port_that_went_during_the_check_is_not_ready() -> None:
    talk = checked(begun(), *RIGHT)
    talk.lost("Foldaway Synth", Direction.OUT)
    assert 'upper, channel 2: "Foldaway Synth" is gone' in all_pedals(talk).not_ready


def test_a_keyboard_without_a_sound_in_the_show_is_not_missed() -> None:
    spare = msgspec.structs.replace(RIG.keyboards[1], name="spare", port="Attic", channel=5)
    rig = msgspec.structs.replace(RIG, keyboards=(*RIG.keyboards, spare))
    assert all_pedals(checked(begun(rig), *RIGHT)).ready


def test_a_sound_that_the_rig_lacks_is_not_ready() -> None:
    fault = 'show.yaml:9:1: the rig "Home" has no sound "lute"'
    report = all_pedals(checked(msgspec.structs.replace(begun(), missed=(fault,)), *RIGHT))
    assert report.not_ready == (fault,)


def test_pedals_not_pressed_are_listed_together() -> None:
    talk = checked(begun(), *RIGHT)
    talk.press("Foot Box", 64)
    talk.key("enter")
    assert report_of(talk.state).not_ready == ("3 pedals not pressed: left, turner, your sustain on Stage Piano",)


def test_a_level_that_could_not_be_kept_is_not_ready() -> None:
    talk = checked(begun(), *RIGHT)
    talk.take(NotKept("the disk is full"))
    assert all_pedals(talk).not_ready == ("not kept: the disk is full",)


def test_changed_levels_are_listed_with_their_old_values() -> None:
    report = all_pedals(checked(begun(), "-", "enter", "-", "enter", "enter", "enter", "enter"))
    told = list(page(report))
    assert "         grand piano on lower: volume 92, was not set, not kept in the rig file" in told
    assert "         organ on lower: volume 101, was 110, not kept in the rig file" in told


def test_a_stop_is_reported() -> None:
    talk = checked(begun(), "enter")
    talk.stop()
    report = report_of(talk.state)
    assert report.stopped == "interrupted"
    assert any("Run the same command to continue" in line for line in page(report))


def test_without_midi_the_port_list_says_only_that() -> None:
    talk = checked(msgspec.structs.replace(begun(), no_midi="no MIDI"), ports=False)
    talk.stop()
    assert report_of(talk.state).not_ready[0] == "no MIDI"
    assert not any("nothing was found" in line for line in report_of(talk.state).not_ready)


def test_the_page_is_one_page() -> None:
    talk = checked(begun())
    talk.stop()
    assert len(list(page(report_of(talk.state)))) < 40


def test_the_report_is_json_that_reads_back() -> None:
    report = all_pedals(checked(begun(), *RIGHT))
    assert msgspec.json.decode(msgspec.json.encode(report), type=Report) == report


@pytest.mark.parametrize(
    ("width_mm", "distance_m", "least_mm", "section_mm"),
    [
        # visual angle h = 2 d tan(a / 2) by hand: 20' at 1 m is 5.82 mm, 60' is 17.45 mm
        (345.0, 1.8, 10.47, 31.42),
        (345.0, 1.0, 10.45, 31.36),  # seen nearer than usual: written larger, in proportion to the picture
    ],
)
def test_the_letters_are_as_high_as_the_visual_angle_asks(
    width_mm: float, distance_m: float, least_mm: float, section_mm: float
) -> None:
    told = screen_report(width_mm, distance_m)
    assert told.least_mm == pytest.approx(least_mm, abs=0.06)
    assert told.section_mm == pytest.approx(section_mm, abs=0.15)
    assert told.least_arcmin >= 20  # ISO 9241-3, preferred: 20' to 22'
    assert not told.assumed


def test_an_unmeasured_screen_is_assumed_and_the_page_says_so() -> None:
    rig = msgspec.structs.replace(RIG, screen=Screen())
    report = all_pedals(checked(begun(rig), *RIGHT))
    assert report.ready
    assert report.screen.assumed
    assert any("assumed: write screen:" in line for line in page(report))
