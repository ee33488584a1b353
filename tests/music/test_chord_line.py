"""Chord lines: each sign of the table, beats, repeats, lengths, other keys, and faults at their character."""

from fractions import Fraction

import pytest
import yaml
from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st
from music.reading import music_or_fault
from music.strategies import chord_lines, keys, usual_meters

from companion.music import (
    SIGNS,
    ChordLine,
    Key,
    Meter,
    NotMusic,
    Sign,
    Struck,
    read_chord_line,
    read_key,
    read_meter,
)
from companion.music.chord_line import COMMON, NUMBER_SYSTEM
from companion.music.chord_line_signs import LONGEST_LINE


def played(text: str, meter: str = "4/4") -> list[str]:
    """Return the chords of each bar as played."""
    bars = read_chord_line(text, read_meter(meter)).played
    return [" ".join(str(struck.chord) for struck in bar.chords) for bar in bars]


def beats(text: str, meter: str = "4/4") -> list[Fraction]:
    """Return the beats of each chord in the first bar."""
    return [struck.beats for struck in read_chord_line(text, read_meter(meter)).played[0].chords]


@pytest.mark.parametrize("sign", SIGNS, ids=lambda sign: sign.example)
def test_every_sign_of_the_table_is_read_and_written_back(sign: Sign) -> None:
    line = read_chord_line(sign.example)
    assert line.bars == sign.bars == len(line.played)
    assert read_chord_line(str(line)) == line
    assert sign.source in (COMMON, NUMBER_SYSTEM)


@pytest.mark.parametrize("sign", SIGNS, ids=lambda sign: sign.example)
def test_every_sign_can_be_typed_in_yaml_without_quotes(sign: Sign) -> None:
    assert yaml.safe_load(f"chords: {sign.example}") == {"chords": sign.example}
    assert yaml.safe_load(f"{{chords: {sign.example}, bars: 4}}")["chords"] == sign.example


def test_repeat_signs_are_read_as_on_paper() -> None:
    """Only in quotes: YAML reads a colon before a space as a key."""
    assert read_chord_line("|: 1 | 4 :| x3") == read_chord_line("(1 | 4) x3")


@pytest.mark.parametrize(
    ("text", "bars"),
    [
        ("1 | 5/7 | 6- | 4", ["1", "5/7", "6-", "4"]),
        ("| C | F#m7 |", ["C", "F#m7"]),
        ("C|F", ["C", "F"]),
        ("1 | %", ["1", "1"]),
        ("1 | 4 | %2 | %", ["1", "4", "1", "4", "4"]),
        ("(1 | 4) x3", ["1", "4"] * 3),
        ("(1 | 4)", ["1", "4"] * 2),
        ("5 | (1) x1 | 4", ["5", "1", "4"]),
        ("(1 | 1st 5 | 2nd 4 | 6-)", ["1", "5", "1", "4", "6-"]),
        ("(1 | 1st-3rd 5 | 4th 4)", ["1", "5"] * 3 + ["1", "4"]),
        ("(1 | 1st % | 2nd 5 | %)", ["1", "1", "1", "5", "5"]),
        ("(1 | 4) x2 | %", ["1", "4", "1", "4", "4"]),
        ("(1 | 4) 5 | 6-", ["1", "4", "1", "4", "5", "6-"]),  # the end of a repeat is a bar line
        ("1 |: 4 5 :| 6-", ["1", "4 5", "4 5", "6-"]),
        ("1 | 4\n5 | 1\n", ["1", "4", "5", "1"]),
        ("1 | 4 |\n| 5 | 1 |", ["1", "4", "5", "1"]),
        ("N.C. | nc | 1", ["N.C.", "N.C.", "1"]),
        ("N.C. | C", ["N.C.", "C"]),
        ("C7(b9 #11) | C(add9)", ["C7b9#11", "Cadd9"]),
        ("(1(2) | 4)", ["1add9", "4", "1add9", "4"]),
        ("in 2/4 C | F", ["C", "F"]),
        ("1 | #4o | 4#o", ["1", "#4o", "#4o"]),
    ],
)
def test_bars_are_played_in_the_written_order(text: str, bars: list[str]) -> None:
    assert played(text) == bars
    assert read_chord_line(text).bars == len(bars)


@pytest.mark.parametrize(
    ("meter", "text", "each"),  # evenly, or by dots: public descriptions of the number system
    [
        ("4/4", "1", [4]),
        ("4/4", "1 4", [2, 2]),
        ("4/4", "1 4 5 1", [1, 1, 1, 1]),
        ("4/4", "1... 5.", [3, 1]),
        ("4/4", "1.. 4. 5.", [2, 1, 1]),
        ("4/4", "1 4. 5.", [2, 1, 1]),
        ("4/4", "1 / / 5", [3, 1]),
        ("4/4", "1 / 4 /", [2, 2]),
        ("4/4", "1 2 3 4 5 6 7 1", [Fraction(1, 2)] * 8),
        ("3/4", "1.. 5.", [2, 1]),
        ("6/8", "1 4", [3, 3]),
        ("6/8", "1. 4.", [3, 3]),
        ("6/8", "1.... 4..", [4, 2]),
        ("12/8", "1... 5.", [9, 3]),
        ("12/8", "1 5", [6, 6]),
        ("7/8", "1.... 4...", [4, 3]),
        ("2/2", "1 4", [1, 1]),
    ],
)
def test_chords_share_a_bar_evenly_or_by_their_dots(meter: str, text: str, each: list[Fraction]) -> None:
    assert beats(text, meter) == each


def test_a_diamond_a_push_and_a_stop_are_kept() -> None:
    held, pushed, stopped, pushed_and_held, pushed_and_stopped = read_chord_line("<1> | <4 | 5^ | <<6-> | <1^").played
    (one,) = held.chords
    assert one == Struck(one.chord, Fraction(4), held=True)
    assert (pushed.chords[0].pushed, pushed.chords[0].held) == (True, False)
    assert stopped.chords[0].stopped
    assert (pushed_and_held.chords[0].pushed, pushed_and_held.chords[0].held) == (True, True)
    assert (pushed_and_stopped.chords[0].pushed, pushed_and_stopped.chords[0].stopped) == (True, True)


def test_a_change_of_meter_lasts_one_bar() -> None:
    line = read_chord_line("1 | in 2/4 5 | 1")
    assert [bar.meter for bar in line.played] == [None, Meter(2, 4), None]
    assert line.whole_notes == Fraction(5, 2)  # 4/4 + 2/4 + 4/4
    assert read_chord_line("in 4/4 1").played[0].meter is None


def test_phrases_end_at_a_double_bar_or_a_new_line() -> None:
    for text in ("1 | 4 || 5 | 1", "1 | 4\n5 | 1", "1 | 4 |\n| 5 | 1 |\n"):
        assert [bar.ends_phrase for bar in read_chord_line(text).played] == [False, True, False, False]
    assert str(read_chord_line("(1 | 4)\n(5 | 1)")) == "(1 | 4) || (5 | 1)"


@pytest.mark.parametrize(
    ("text", "written"),
    [
        ("1 / / 5", "1... 5."),
        ("1.. 4..", "1 4"),
        ("|: 1 | 4 :|", "(1 | 4)"),
        ("(1 | 4) x2", "(1 | 4)"),
        ("nc | C-7", "N.C. | Cm7"),
        ("<4^..  1..", "<4^ 1"),
        ("N.C.. 1...", "N.C.. 1..."),
    ],
)
def test_each_line_has_one_written_form(text: str, written: str) -> None:
    assert str(read_chord_line(text)) == written


@pytest.mark.parametrize(
    ("text", "column", "write"),
    [
        ("", 0, "chords, as in 1 | 5 | 6- | 4"),
        ("|", 0, "chords, as in 1 | 5 | 6- | 4"),
        ("1 | | 4", 4, "% for the bar before again, or N.C."),
        ("1 | 15", 5, "1 5 or 1(5)"),
        ("1 | 4 | Xm", 8, "numbers or letters for the whole line"),
        ("1 | 4 | 9-", 8, "a number from 1 to 7, as in 1 or b7"),
        ("C | Fmaj9x", 9, "Fmaj9"),
        ("C | <Fmaj9x>", 10, "Fmaj9"),
        ("am | C", 0, "Am"),
        ("1 | 4 5 6-", 4, "4.. 5. 6-."),
        ("1.. 4.", 0, "4 beats in all"),
        ("1..... 4", 0, "4 beats in all"),
        ("1.... 4", 0, "4 beats in all"),  # no beat is left for the second chord
        ("C | 5", 4, "letters or numbers for the whole line"),
        ("1 | C", 4, "numbers or letters for the whole line"),
        ("% | 1", 0, "the chords of that bar"),
        ("1 | %2", 4, "the chords of that bar"),
        ("1 | (% | 4)", 5, "the chords of that bar"),
        ("1 | 4 %", 6, "a number from 1 to 7, as in 1 or b7"),
        ("(1 | 4", 0, ") where it ends"),
        ("1 | 4)", 5, "( where it begins"),
        ("1 (4)", 2, "| ("),
        ("C | C7(b9 | F", 6, "C7( ... )"),
        ("(1 | (4))", 5, "the inner one written out"),
        ("()", 1, "a bar before it"),
        ("(1st 4)", 1, "a bar before it"),
        ("1 | 1st 4", 4, "( before the bars that end in 1st"),
        ("(1 | 2nd 4)", 5, "1st"),
        ("(1 | 1st 4 | 3rd 5)", 13, "2nd"),
        ("(1 | 1st | 2nd 5)", 9, "% for the bar before again, or N.C."),
        ("(1 | 1st 4 | 2nd 5) x3", 20, "x2"),
        ("(1) x0", 4, "x2"),
        ("(1) x99", 4, "x32"),
        ("1 x3", 2, "(1 | 4) x3"),
        ("in 5/7 1", 5, "5/8"),
        ("1 | in", 4, "in 2/4 and a chord"),
        ("in 2/4", 0, "in 2/4 and a chord, or N.C."),
        ("/ 1", 0, "% for the bar before again"),
        ("1. / 4", 0, "dots or slashes"),
        ("<4>^", 2, "4"),
        ("4^^", 1, "4"),
        ("1 :", 2, "|: or :| for a repeat"),
        ("1 | " * 401, 0, "two sections"),
        ("(" + "1|" * 20 + "1) x32", 0, "two sections"),
        ("1" * (LONGEST_LINE + 1), LONGEST_LINE, "two sections"),
    ],
)
def test_an_unreadable_chord_line_is_reported_with_place_and_fix(text: str, column: int, write: str) -> None:
    with pytest.raises(NotMusic) as fault:
        read_chord_line(text)
    assert (fault.value.column, fault.value.write) == (column, write)
    assert len(str(fault.value)) < 200


@pytest.mark.parametrize(("meter", "chords"), [("4/4", 3), ("3/4", 2), ("7/8", 2), ("5/4", 2), ("6/8", 4)])
def test_chords_that_do_not_fill_a_bar_evenly_are_reported_with_a_readable_fix(meter: str, chords: int) -> None:
    with pytest.raises(NotMusic, match="do not divide") as fault:
        read_chord_line(" ".join("1" * chords), read_meter(meter))
    assert len(beats(fault.value.write, meter)) == chords


def test_letters_numbers_and_other_keys_keep_all_signs() -> None:
    line = read_chord_line("(<1> | <5/7... 4^. | 1st 6- || 2nd in 2/4 N.C.) | b7 | %")
    letters = line.as_letters(read_key("Gb"))
    assert str(letters) == "(<Gb> | <Db/F... Cb^. | 1st Ebm || 2nd in 2/4 N.C.) | Fb | %"
    assert not letters.in_numbers
    assert letters.as_numbers(read_key("Gb")) == line
    assert letters.as_letters(read_key("C")) == letters
    moved = letters.moved(read_key("Gb"), read_key("G"))
    assert str(moved) == "(<G> | <D/F#... C^. | 1st Em || 2nd in 2/4 N.C.) | F | %"
    assert line.moved(read_key("C"), read_key("G")) == line
    assert str(read_chord_line("1 | b3").as_letters(read_key("Gb")).plain) == "Gb | A"


@settings(max_examples=examples(60))
@given(chord_lines())
def test_every_line_reads_back_with_as_many_bars_as_are_played(line: ChordLine) -> None:
    assert read_chord_line(str(line), line.meter) == line
    assert line.bars == len(line.played)
    assert all(bar.chords for bar in line.played)


@settings(max_examples=examples(60))
@given(chord_lines())
def test_the_chords_of_a_bar_add_up_to_its_length(line: ChordLine) -> None:
    for bar in line.played:
        assert sum(struck.beats for struck in bar.chords) == (bar.meter or line.meter).beats


@settings(max_examples=examples(40))
@given(chord_lines(), keys)
def test_numbers_in_any_key_have_the_same_bars(line: ChordLine, key: Key) -> None:
    numbers = line.as_numbers(key)
    assert numbers.bars == line.bars
    assert [bar.meter for bar in numbers.played] == [bar.meter for bar in line.played]
    assert read_chord_line(str(numbers), line.meter) == numbers


SIGN_SOUP = st.text(alphabet="1456C|():%<>^./ x23stnd-b#N\n", max_size=24)


@given(st.text(max_size=80) | SIGN_SOUP, usual_meters)
def test_any_text_is_a_chord_line_or_a_fault_inside_it(text: str, meter: Meter) -> None:
    line = music_or_fault(lambda text: read_chord_line(text, meter), text)
    if isinstance(line, NotMusic):
        assert 0 <= line.column <= len(text)
        assert line.write
    else:
        assert read_chord_line(str(line), meter) == line
        assert line.bars == len(line.played)
