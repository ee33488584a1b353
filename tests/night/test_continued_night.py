"""A continued night says where it goes on; one key starts from the top instead, until the first step."""

import msgspec
from night.evening import Evening
from stage.scenes import place_text, rig_of

from companion.rig import Action, Pedal
from companion.view import LineRole


def notices_of(evening: Evening) -> list[str]:
    return [line.text for line in evening.wall.views[-1].lines if line.part is LineRole.NOTICE]


def test_a_continued_night_starts_from_the_top_by_one_key_and_backspace_returns() -> None:
    evening = Evening(resumed="continued at A, Verse", presses=2)
    assert notices_of(evening) == ["continued at A, Verse; 0 starts from the top"]
    evening.new()
    evening.key("0")
    assert (place_text(evening.night.state), evening.new()) == ("A up next", ["c0 01"])
    assert notices_of(evening) == ["from the top: A; to undo: backspace"]
    assert len(evening.notebook.lines) == 1, "a restart finds the show at its top"
    evening.key("backspace")
    assert (place_text(evening.night.state), evening.new()) == ("Verse of A", ["c0 03"])


def test_the_key_that_starts_from_the_top_does_nothing_once_the_night_goes_on() -> None:
    evening = Evening(resumed="continued at A, Verse", presses=2)
    evening.press()
    evening.key("0")
    assert place_text(evening.night.state) == "Chorus of A"
    fresh = Evening(presses=2)
    fresh.key("0")
    assert place_text(fresh.night.state) == "Verse of A"


def test_while_the_keys_are_shown_the_key_for_the_top_only_closes_them() -> None:
    evening = Evening(resumed="continued at A, Verse", presses=2)
    evening.key("?")
    evening.key("0")
    assert place_text(evening.night.state) == "Verse of A"
    evening.key("0")
    assert place_text(evening.night.state) == "A up next"


def test_a_pedal_that_sends_the_key_for_the_top_keeps_it() -> None:
    rig = msgspec.structs.replace(rig_of("lower"), pedals=(Pedal("turner", key="0", press=Action.NEXT),))
    evening = Evening(rig=rig, resumed="continued at A, Verse", presses=2)
    assert notices_of(evening) == ["continued at A, Verse"]
    evening.key("0")
    assert place_text(evening.night.state) == "Chorus of A"
