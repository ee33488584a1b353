"""Tempo and time: bars, songs, taps, and how a length is shown."""

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from music.strategies import meters
from music.tables import table

from companion.music import (
    Meter,
    NotMusic,
    bar_seconds,
    read_meter,
    read_tempo,
    shown_length,
    song_seconds,
    tap_tempo,
)


@pytest.mark.parametrize(
    ("meter", "bpm", "ms"),  # n x (4/d) x 60000/bpm; (n/3) x 60000/bpm where dotted quarters are counted
    [
        ("4/4", 112, 2142.857),
        ("3/4", 90, 2000),
        ("7/8", 140, 1500),
        ("5/4", 100, 3000),
        ("6/8", 60, 2000),
        ("12/8", 72, 3333.333),
        ("6/8", 54, 2222.222),
    ],
)
def test_a_bar_lasts_as_long_as_its_felt_beats(meter: str, bpm: float, ms: float) -> None:
    assert bar_seconds(read_meter(meter), bpm) * 1000 == pytest.approx(ms, abs=0.0006)


def test_two_bars_of_count_off_at_112_last_4286_ms() -> None:
    assert song_seconds(2, Meter(4, 4), 112) * 1000 == pytest.approx(
        4285.714, abs=0.0006
    )  # computed: 2 x 4 x 60000/112


@pytest.mark.parametrize("row", table("song_length"), ids=lambda row: f"{row['bars']} bars at {row['bpm']}")
def test_a_songs_length_agrees_with_the_table(row: dict[str, str]) -> None:
    meters_of = {"3": "3/4", "4": "4/4", "3.5": "7/8", "2": "6/8", "6": "6/4"}
    seconds = song_seconds(int(row["bars"]), read_meter(meters_of[row["beats a bar"]]), float(row["bpm"]))
    assert seconds == pytest.approx(float(row["seconds"]), abs=0.0006)
    assert shown_length(seconds) == row["shown"]


@pytest.mark.parametrize(
    ("seconds", "shown"),  # to the nearest second, half up
    [
        (0, "0:00"),
        (59.4, "0:59"),
        (59.5, "1:00"),
        (60.5, "1:01"),
        (2970, "49:30"),
        (3599.5, "1:00:00"),
        (3723, "1:02:03"),
    ],
)
def test_a_length_is_shown_to_the_nearest_second(seconds: float, shown: str) -> None:
    assert shown_length(seconds) == shown


@pytest.mark.parametrize(
    ("taps_ms", "bpm", "dropped"),
    [
        ([0, 500, 1000, 1500], 120, 0),  # 60000 x (taps - 1) / (last - first)
        ([0, 536, 1071, 1607], 112.01, 0),  # same
        ([0, 501], 119.76, 0),  # same
        ([0, 500, 1000, 1500, 1900, 2500, 3000], 120, 0),  # a slip of 100 ms is no outlier and averages out
        ([0, 500, 1000, 1150, 1500, 2000], 120, 2),  # a doubled tap: both gaps beside it are dropped
        ([0, 500, 1000, 2000, 2500], 120, 1),  # a missed one
        ([0, 300, 600, 3000, 3500, 4000], 120, 0),  # two seconds of silence: starts again
        ([0, 500, 500, 400, 900], 120, 0),  # a clock that stands or goes back counts for nothing
    ],
)
def test_taps_give_a_tempo(taps_ms: list[float], bpm: float, dropped: int) -> None:
    tapped = tap_tempo(taps_ms)
    assert tapped is not None
    assert tapped.tempo_bpm == pytest.approx(bpm, abs=0.005)
    assert tapped.dropped == dropped


@pytest.mark.parametrize("taps_ms", [[], [0], [0, 3000], [5, 5]])
def test_one_tap_gives_no_tempo(taps_ms: list[float]) -> None:
    assert tap_tempo(taps_ms) is None


@pytest.mark.parametrize(
    ("taps", "off_bpm"),  # bpm x 1.414 s / ((taps - 1) x beat) at 120 and s = 10 ms
    [(2, 3.39), (3, 1.70), (5, 0.85), (9, 0.42)],
)
def test_the_error_of_unsteady_taps_agrees_with_the_formula(taps: int, off_bpm: float) -> None:
    chance = random.Random(7)  # noqa: S311 - unsteady hands, no secret
    errors = []
    for _ in range(4000):
        tapped = tap_tempo([500 * beat + chance.gauss(0, 10) for beat in range(taps)])
        assert tapped
        errors.append(tapped.tempo_bpm - 120)
    assert (sum(error * error for error in errors) / len(errors)) ** 0.5 == pytest.approx(off_bpm, rel=0.05)


@pytest.mark.parametrize(
    ("text", "bpm"),
    [
        *(("112", 112), (" 112.5 ", 112.5), ("112,5", 112.5), ("112 bpm", 112), ("112BPM", 112), ("20", 20)),
        *(("♩=112", 112), ("♩. = 60", 60), ("q = 90", 90), ("ca. 90", 90), ("c 90", 90), ("~90", 90), ("400", 400)),
    ],
)
def test_a_tempo_is_read_as_people_write_it(text: str, bpm: float) -> None:
    assert read_tempo(text) == bpm


@pytest.mark.parametrize(
    ("text", "column", "write"),
    [
        ("", 0, "beats a minute, as in 112"),
        (" ", 0, "beats a minute, as in 112"),
        ("   ", 2, "beats a minute, as in 112"),  # inside the text
        ("  fast", 2, "beats a minute, as in 112"),
        ("fast", 0, "beats a minute, as in 112"),
        ("110-112", 0, "110"),
        ("0", 0, "20"),
        ("19.9", 0, "20"),
        ("♩=401", 2, "400"),
        ("1e3", 0, "beats a minute, as in 112"),
        ("nan", 0, "beats a minute, as in 112"),
        ("-90", 0, "90"),
        ("١٢٠", 0, "beats a minute, as in 112"),  # digits, but not ours
        ("9" * 999, 0, "999"),
    ],
)
def test_an_unreadable_tempo_is_reported_with_place_and_fix(text: str, column: int, write: str) -> None:
    with pytest.raises(NotMusic) as fault:
        read_tempo(text)
    assert (fault.value.column, fault.value.write) == (column, write)


@given(st.floats(20, 400).map(lambda bpm: round(bpm, 3)))
def test_every_tempo_reads_back(bpm: float) -> None:
    assert read_tempo(f"{bpm:.3f}") == bpm


@given(meters, st.floats(20, 400))
def test_a_bars_length_is_its_felt_beats_at_that_tempo(meter: Meter, bpm: float) -> None:
    assert bar_seconds(meter, bpm) == pytest.approx(float(meter.felt_beats) * 60 / bpm)


@given(st.lists(st.floats(-1e9, 1e9), max_size=12))
def test_any_taps_give_a_positive_tempo_or_none(taps_ms: list[float]) -> None:
    tapped = tap_tempo(taps_ms)
    assert tapped is None or tapped.tempo_bpm > 0
