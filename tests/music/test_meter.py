"""Meters: as written and as felt."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from music.reading import music_or_fault
from music.strategies import meters

from companion.music import Meter, NotMusic, read_meter


@pytest.mark.parametrize(
    (
        "text",
        "felt_beats",
        "felt_beat",
    ),  # 6/8, 9/8, 12/8 in dotted quarters, 7/8 is 3.5 quarters; the others common practice
    [
        ("4/4", Fraction(4), Fraction(1, 4)),
        ("3/4", Fraction(3), Fraction(1, 4)),
        ("2/4", Fraction(2), Fraction(1, 4)),
        ("6/8", Fraction(2), Fraction(3, 8)),
        ("9/8", Fraction(3), Fraction(3, 8)),
        ("12/8", Fraction(4), Fraction(3, 8)),
        ("3/8", Fraction(1), Fraction(3, 8)),
        ("12/16", Fraction(4), Fraction(3, 16)),
        ("7/8", Fraction(7, 2), Fraction(1, 4)),
        ("5/8", Fraction(5, 2), Fraction(1, 4)),
        ("5/4", Fraction(5), Fraction(1, 4)),
        ("6/4", Fraction(6), Fraction(1, 4)),
        ("2/2", Fraction(2), Fraction(1, 2)),
    ],
)
def test_meters_count_the_felt_beats(text: str, felt_beats: Fraction, felt_beat: Fraction) -> None:
    meter = read_meter(text)
    assert (meter.felt_beats, meter.felt_beat) == (felt_beats, felt_beat)


@pytest.mark.parametrize(
    ("text", "meter"), [("C", "4/4"), ("c", "4/4"), ("¢", "2/2"), ("C|", "2/2"), (" 6 / 8 ", "6/8")]
)
def test_common_time_and_spaces_are_accepted(text: str, meter: str) -> None:
    assert str(read_meter(text)) == meter


@pytest.mark.parametrize(
    ("text", "column", "write"),
    [
        ("", 0, "4/4, for example"),
        ("4", 0, "4/4"),
        ("waltz", 0, "4/4, for example"),
        ("5/7", 2, "5/8"),
        ("4/5", 2, "4/4"),
        ("0/4", 0, "4/4"),
        ("33/8", 0, "4/8"),
        ("4/0", 2, "4/1"),
        (" 4/4/4", 1, "4/4"),
        ("44", 0, "4/4"),
        ("4/4" * 300, 0, "4/4, for example"),
    ],
)
def test_an_unreadable_meter_is_reported_with_place_and_fix(text: str, column: int, write: str) -> None:
    with pytest.raises(NotMusic) as fault:
        read_meter(text)
    assert (fault.value.column, fault.value.write) == (column, write)


@given(meters)
def test_every_meter_reads_back_and_its_felt_beats_fill_the_bar(meter: Meter) -> None:
    assert read_meter(str(meter)) == meter
    assert meter.felt_beats * meter.felt_beat == meter.whole_notes == Fraction(meter.beats, meter.unit)


@given(st.text(max_size=20) | st.text(alphabet="0123456789/ ", max_size=8))
def test_any_text_is_a_meter_or_a_fault_inside_it(text: str) -> None:
    meter = music_or_fault(read_meter, text)
    if isinstance(meter, NotMusic):
        assert 0 <= meter.column <= max(len(text) - 1, 0)
        assert meter.write
    else:
        assert read_meter(str(meter)) == meter
