"""Bars on stage: counted from the press, and the steps of a song that steps by bars."""

import msgspec
from night.evening import PEDALS, Evening
from stage.scenes import book_of, place_text, rig_of, song

from companion.show import Steps
from companion.view import LineRole


def tempo_evening(road_map: str, *, steps: Steps = Steps.BY_FOOT) -> Evening:
    """Return an evening of a song at 120 in 4/4: a bar is two seconds."""
    rig = msgspec.structs.replace(rig_of("lower"), pedals=PEDALS)
    written = msgspec.structs.replace(song("A", road_map), tempo_bpm=120.0, steps=steps)
    return Evening(book_of([written, song("B", "Intro")], rig=rig), rig=rig)


def count(evening: Evening) -> str | None:
    line = evening.wall.views[-1].of(LineRole.BARS)
    return line.text if line else None


def test_bars_are_counted_from_the_press_and_past_the_written_end() -> None:
    evening = tempo_evening("Verse, Chorus")
    evening.key("page down")
    evening.key("r")
    assert count(evening) == "bar 1 of 8"
    evening.now_ms += 4100
    evening.night.take(None)
    assert count(evening) == "bar 3 of 8"
    evening.now_ms += 14_000
    evening.night.take(None)
    assert count(evening) == "8 bars +2"
    assert place_text(evening.night.state) == "Verse of A", "it informs, it never steps"


def test_an_early_or_late_press_realigns_the_count() -> None:
    evening = tempo_evening("Verse, Chorus")
    evening.key("page down")
    evening.key("r")
    evening.now_ms += 15_000
    evening.key("page down")
    assert count(evening) == "bar 1 of 8"


def test_a_song_that_steps_by_bars_waits_in_an_open_section() -> None:
    evening = tempo_evening("Verse x2, Chorus, Solo open, Outro", steps=Steps.BY_BARS)
    evening.key("page down")
    began = evening.night.state.section_began_ms
    for bars, place in [(8, "Verse 2/2 of A"), (16, "Chorus of A"), (24, "Solo of A"), (60, "Solo of A")]:
        evening.now_ms = began + bars * 2000 + 30
        evening.night.take(None)
        assert place_text(evening.night.state) == place
    assert evening.night.state.section_began_ms == began + 24 * 2000, "what is late does not add up"


def test_a_step_by_bars_that_is_taken_back_waits_for_a_press_and_an_early_press_for_its_bar() -> None:
    evening = tempo_evening("Verse, Chorus, Outro", steps=Steps.BY_BARS)
    evening.key("page down")
    began = evening.night.state.section_began_ms
    evening.now_ms = began + 5000
    evening.key("page down")
    evening.key("backspace")
    assert place_text(evening.night.state) == "Verse of A", "the press came too early; its bars are not over"
    evening.now_ms = began + 8 * 2000 + 30
    evening.night.take(None)
    assert place_text(evening.night.state) == "Chorus of A"
    evening.key("backspace")
    evening.now_ms += 20_000
    evening.night.take(None)
    assert place_text(evening.night.state) == "Verse of A", "the band goes round again, for as long as it likes"
    evening.key("page down")
    evening.now_ms += 8 * 2000
    evening.night.take(None)
    assert place_text(evening.night.state) == "Outro of A"
