"""What the screen says while something beside the show is in trouble: its disk, or the screen itself."""

from night.evening import Evening

from companion.night.happenings import ScreenGone, ScreenReady
from companion.night.notices import NOTICE_MS


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
