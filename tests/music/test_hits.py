"""Hits: rhythm as it is counted, for one bar or bar by bar."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from music.reading import music_or_fault
from music.strategies import usual_meters

from companion.music import Hit, HitBar, Hits, Meter, NotMusic, read_hits, read_meter


@pytest.mark.parametrize(
    ("text", "written"),  # common practice, no source: beats are counted 1 e & a
    [
        ("4, 4&", "4, 4&"),
        ("4 4&", "4, 4&"),
        ("4&, 4", "4, 4&"),
        ("1 & 3", "1, 1&, 3"),
        ("4+", "4&"),
        ("4and", "4&"),
        ("& of 4", "4&"),
        ("and of 2, 4", "2&, 4"),
        ("2e, 2a", "2e, 2a"),
        ("1 e & a 2", "1, 1e, 1&, 1a, 2"),
        ("/ | 1 | % | 4, 4&", "bar 2 1 | bar 3 1 | bar 4 4, 4&"),
        ("//// | 1", "bar 2 1"),
        ("bar 8 4, 4&", "bar 8 4, 4&"),
        ("bar 8 4, 4& | bar 16 1", "bar 8 4, 4& | bar 16 1"),
    ],
)
def test_hits_are_read_as_they_are_counted(text: str, written: str) -> None:
    assert str(read_hits(text)) == written
    assert read_hits(written) == read_hits(text)


def test_hits_of_one_bar_need_no_bar_number() -> None:
    hits = read_hits("4, 4&")
    assert hits == Hits((HitBar(None, (Hit(4), Hit(4, 2))),))
    assert (hits.last_bar, hits.in_bar(1)) == (0, ())


def test_bar_numbers_of_hits_count_from_the_sections_first_bar() -> None:
    hits = read_hits("/ | 1 | % | 4, 4&")
    assert hits.in_bar(1) == ()
    assert hits.in_bar(2) == hits.in_bar(3) == (Hit(1),)
    assert hits.last_bar == 4


def test_each_hit_has_a_distance_from_the_bar_line() -> None:
    assert [hit.at for hit in read_hits("1, 2e, 4&, 4a").bars[0].hits] == [
        0,
        Fraction(5, 4),
        Fraction(7, 2),
        Fraction(15, 4),
    ]


def test_hits_in_six_eight_count_to_six() -> None:
    assert read_hits("4, 6", read_meter("6/8")).bars[0].hits == (Hit(4), Hit(6))


@pytest.mark.parametrize(
    ("text", "column", "write"),
    [
        ("", 0, "the beats, as in 4, 4&"),
        ("  ", 0, "/ for a bar without hits"),
        ("/ | /", 0, "the beats, as in 4, 4&"),
        ("5", 0, "4"),
        ("1, 0", 3, "4"),
        ("1 | 2, 7", 7, "4"),
        ("stabs on 1", 0, "the beats, as in 4, 4&; words belong in cue"),
        ("1 and then 4", 6, "the beats, as in 4, 4&; words belong in cue"),
        ("& 1", 0, "the beats, as in 4, 4&; words belong in cue"),
        ("4&&", 0, "the beats, as in 4, 4&; words belong in cue"),
        ("1 |  | 3", 3, "/ for a bar without hits"),
        ("bar 8 1 | 4", 9, "bar 2"),
        ("1 | bar 8 4", 3, "bar 2"),
        ("bar 0 1", 0, "bar 1"),
        ("bar 401 1", 0, "bar 1"),
        ("bar 8", 4, "/ for a bar without hits"),
        ("1, " * 1000, 2000, "the bars that matter"),
    ],
)
def test_an_unreadable_rhythm_is_reported_with_place_and_fix(text: str, column: int, write: str) -> None:
    with pytest.raises(NotMusic) as fault:
        read_hits(text)
    assert (fault.value.column, fault.value.write) == (column, write)


@st.composite
def any_hits(draw: st.DrawFn, meter: Meter) -> Hits:
    hit = st.builds(Hit, st.integers(1, meter.beats), st.integers(0, 3))
    of_a_bar = st.sets(hit, min_size=1, max_size=6).map(lambda hits: tuple(sorted(hits)))
    if draw(st.booleans()):
        return Hits((HitBar(None, draw(of_a_bar)),))
    bars = draw(st.sets(st.integers(1, 400), min_size=1, max_size=5))
    return Hits(tuple(HitBar(bar, draw(of_a_bar)) for bar in sorted(bars)))


@given(st.data(), usual_meters)
def test_all_hits_read_back(data: st.DataObject, meter: Meter) -> None:
    hits = data.draw(any_hits(meter))
    assert read_hits(str(hits), meter) == hits


@given(st.text(max_size=40) | st.text(alphabet="1234 &,e|/%bar+", max_size=16))
def test_any_text_is_hits_or_a_fault_inside_it(text: str) -> None:
    hits = music_or_fault(read_hits, text)
    if isinstance(hits, NotMusic):
        assert 0 <= hits.column <= len(text)
        assert hits.write
    else:
        assert read_hits(str(hits)) == hits
