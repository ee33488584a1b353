"""Faults in the program itself: each is reported, and the show continues."""

import pytest
from night.evening import Evening, stop
from stage.scenes import place_text

from companion.night.happenings import KeyReceived
from companion.night.keyboards import Keyboards
from companion.view import LineRole, Picture, View


def with_broken_display() -> Evening:
    """Return a night whose display raises an error for each view."""
    evening = Evening()

    def broken(view: View) -> None:
        del view
        message = "the wall fell down"
        raise RuntimeError(message)

    evening.wall.show = broken  # type: ignore[method-assign] # what must never happen
    return evening


def test_a_fault_in_the_program_is_shown_and_the_show_continues() -> None:
    evening = with_broken_display()
    evening.inbox.put(KeyReceived("page down", down=True))
    evening.inbox.put(KeyReceived("page down", down=False))
    evening.inbox.put(stop())
    evening.night.run()
    assert place_text(evening.night.state) == "Intro of A"
    assert any("the wall fell down" in line for line in evening.said)
    assert evening.wall.views[0].picture is Picture.BEFORE


def test_a_failing_timer_loses_no_press(monkeypatch: pytest.MonkeyPatch) -> None:
    class StillWaitingError(BaseException):
        """The loop asked ten times, and took nothing."""

    evening, asked = Evening(), []

    def broken(_at_ms: int) -> int:
        asked.append(_at_ms)
        if len(asked) > 10:
            raise StillWaitingError
        message = "the hourglass broke"
        raise RuntimeError(message)

    monkeypatch.setattr(evening.night._pacing, "next_ms", broken)  # noqa: SLF001 - one of the timers
    evening.inbox.put(KeyReceived("page down", down=True))
    evening.inbox.put(stop())
    assert evening.night.run() == stop()
    assert place_text(evening.night.state) == "Intro of A"
    assert any("hourglass" in line for line in evening.said)


def test_a_fault_before_the_first_press_is_shown_and_the_night_begins() -> None:
    evening = with_broken_display()
    evening.night.begin()
    assert any("the wall fell down" in line for line in evening.said)


def test_a_fault_at_the_end_leaves_no_note_hanging(monkeypatch: pytest.MonkeyPatch) -> None:
    evening, silenced = Evening(), []

    def broken() -> None:
        message = "the tuning fork broke"
        raise RuntimeError(message)

    monkeypatch.setattr(Keyboards, "leave_in_tune", lambda _: broken())
    monkeypatch.setattr(Keyboards, "silence", lambda _: silenced.append("all off"))
    evening.inbox.put(stop())
    assert evening.night.run() == stop()
    assert (silenced, ["fork" in line for line in evening.said]) == (["all off"], [True])


def test_after_a_fault_behind_the_sound_the_screen_still_shows_where_the_show_is(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def broken(*_: object) -> None:
        message = "the watch stopped"
        raise RuntimeError(message)

    evening = Evening()
    evening.press()
    monkeypatch.setattr(evening.night._pacing, "seen", broken)  # noqa: SLF001 - what runs after the sound
    evening.inbox.put(KeyReceived("page down", down=True))
    evening.inbox.put(stop())
    evening.night.run()
    assert any("the watch stopped" in line for line in evening.said)
    section = evening.wall.views[-1].of(LineRole.SECTION)
    assert section is not None
    assert section.text == "Verse"


def test_an_entry_that_cannot_be_written_holds_back_no_sound(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(record: bytes) -> None:
        message = f"no room for {len(record)} bytes"
        raise RuntimeError(message)

    evening = Evening()
    evening.press()
    evening.new()
    monkeypatch.setattr(evening.notebook, "write", broken)
    evening.inbox.put(KeyReceived("page down", down=True))
    evening.inbox.put(stop())
    evening.night.run()
    assert "c0 03" in evening.new()
    assert any("no room" in line for line in evening.said)
