"""Four hours at a thousand times speed: memory stays flat, and the last presses cost what the first did."""

import gc
import statistics
import sys
import time
import tracemalloc

import msgspec
import pytest
from night.evening import PEDALS, Evening
from stage.scenes import SOUNDS, book_of, rig_of, song

from companion.night.happenings import KeyReceived
from companion.stage import Book, PositionKind

SONGS, PRESSES, FEWER = 70, 3000, 500
BETWEEN_MS = 4 * 3_600_000 // PRESSES
GROWTH_AT_MOST = 1024 * 1024  # bytes, from the end of the warm-up on


def long_book() -> Book:
    """Return a show of 70 songs whose every step has another sound, with tempos."""
    rig = msgspec.structs.replace(rig_of("lower"), pedals=PEDALS)
    names = ("Intro", "Verse", "Chorus", "Verse_two", "Solo", "Outro")
    road_map = ", ".join(f"{name} @{sound}" for name, sound in zip(names, SOUNDS, strict=True))
    songs = [msgspec.structs.replace(song(f"Study {one}", road_map), tempo_bpm=120.0) for one in range(SONGS)]
    return book_of(songs[:24], songs[24:48], songs[48:], rig=rig)


class Soaked:
    """A night that keeps none of its output."""

    def __init__(self) -> None:
        self.evening = Evening(long_book())
        self.press_ns: list[int] = []

    def press(self, number: int) -> None:
        evening = self.evening
        evening.now_ms += BETWEEN_MS
        pressed = evening.came(b"\xb0\x40\x7f") if number % 7 == 0 else KeyReceived("a", down=True)
        begun = time.perf_counter_ns()
        evening.night.take(pressed)
        took_ns = time.perf_counter_ns() - begun
        if number % 7 == 0:
            self.press_ns.append(took_ns)
        evening.now_ms += 100
        evening.night.take(evening.came(b"\xb0\x40\x00"))
        if number % 10 == 0:
            evening.night.take(KeyReceived("r", down=True))
        if number % 50 == 0:
            for key in ("f", "s", "t", "escape"):
                evening.night.take(KeyReceived(key, down=True, text=key))
        for kept in (evening.tape.sent, evening.notebook.lines, evening.wall.views, evening.clocks, evening.said):
            kept.clear()


def grown_by(presses: int) -> int:
    """Press so often; the bytes by which memory has grown since the first tenth."""
    soaked = Soaked()
    tracemalloc.start()
    try:
        sizes = []
        for number in range(presses):
            soaked.press(number)
            if number in (presses // 10, presses - 1):
                gc.collect()
                sizes.append(tracemalloc.get_traced_memory()[0])
    finally:
        tracemalloc.stop()
    grown = sizes[1] - sizes[0]
    sys.stdout.write(f"\n{grown / 1024:.0f} KiB grown, {grown / presses / 0.9:.0f} bytes a press\n")
    return grown


@pytest.mark.long
def test_a_press_leaves_only_its_take_back_record_in_memory() -> None:
    assert grown_by(FEWER) < GROWTH_AT_MOST * FEWER // PRESSES


@pytest.mark.long
def test_memory_stays_flat_over_three_thousand_presses() -> None:
    assert grown_by(PRESSES) < GROWTH_AT_MOST


@pytest.mark.long
def test_the_last_presses_still_step_and_their_times_are_printed() -> None:
    soaked = Soaked()
    for number in range(PRESSES):
        soaked.press(number)
    assert soaked.evening.night.state.place.where is not PositionKind.END, "the last presses are steps as well"
    tenth = len(soaked.press_ns) // 10
    first, last = (statistics.median(part) for part in (soaked.press_ns[:tenth], soaked.press_ns[-tenth:]))
    sys.stdout.write(
        f"\na press: first tenth {first / 1000:.0f} us, last tenth {last / 1000:.0f} us, {last / first:.2f}\n"
    )
