"""What the screen says while something beside the show is in trouble: its disk, or the screen itself."""

from night.evening import Evening

from companion.night.happenings import ScreenGone, ScreenReady
from companion.night.notices import NOTICE_MS
from companion.ports import Direction, PortLost
from companion.ports.watch import STALLED
from companion.view import LineMark, LineRole


def test_a_disk_that_does_not_save_is_on_the_screen_as_long_as_it_does_not() -> None:
    evening = Evening()
    evening.press()
    evening.notebook.is_unsaved = True
    evening.night.take(None)  # nothing but time
    assert "disk not saving: a restart loses this place" in [line.text for line in evening.wall.views[-1].lines]
    evening.notebook.is_unsaved = False
    evening.night.take(None)
    assert not [line.text for line in evening.wall.views[-1].lines if "disk" in line.text]


def test_a_screen_that_comes_back_says_so_for_a_while() -> None:
    evening = Evening()
    evening.night.take(ScreenReady())
    assert not [line.text for line in evening.wall.views[-1].lines if line.text == "screen restarted"]
    for happened in (ScreenGone(), ScreenReady()):
        evening.night.take(happened)
    assert "screen restarted" in [line.text for line in evening.wall.views[-1].lines]
    evening.now_ms += NOTICE_MS
    evening.night.take(None)
    assert "screen restarted" not in [line.text for line in evening.wall.views[-1].lines]


def seen(evening: Evening, part: LineRole) -> list[tuple[str, LineMark]]:
    return [(line.text, line.mark) for line in evening.wall.views[-1].lines if line.part is part]


def test_a_server_that_does_not_answer_is_not_a_keyboard_that_is_not_connected() -> None:
    evening = Evening()
    evening.press()
    evening.found("lower port", Direction.OUT)
    evening.night.take(PortLost("lower port", Direction.OUT, STALLED, 0))
    assert seen(evening, LineRole.NOTICE) == [("waiting for the MIDI server", LineMark.TORN)]
    assert {mark for _, mark in seen(evening, LineRole.SOUND)} == {LineMark.RIPPED}
    evening.found("lower port", Direction.OUT)
    assert {mark for _, mark in seen(evening, LineRole.SOUND)} == {LineMark.TAPE}


def test_the_strips_are_torn_when_the_last_keyboard_goes_and_whole_where_none_has_been() -> None:
    for was_there in (True, False):
        evening = Evening()
        evening.press()
        if was_there:
            evening.found("lower port", Direction.OUT)
        evening.night.take(PortLost("lower port", Direction.OUT, "the cable is out", 0))
        assert ("no keyboard connected", LineMark.TORN) in seen(evening, LineRole.NOTICE)
        assert {mark for _, mark in seen(evening, LineRole.SOUND)} == {LineMark.RIPPED if was_there else LineMark.TAPE}
