"""Stage, paper, crib sheet and quiz show the same chords of the same song: those that the hands play."""

import pytest
from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from show.scenes import read, with_song
from show.test_chords_on import songs

from companion.music import Key, read_key
from companion.paper.bar_row import pieces
from companion.paper.chart import ChartBar, chart_of
from companion.paper.crib_sheet import first_chord
from companion.paper.readers import reader_for
from companion.quiz.cards import Subject, cards_of
from companion.rig import Keyboard, Rig
from companion.show import Section, Set, Show, Song
from companion.show.checks import check
from companion.stage import KeyDown, KeyUp, PositionKind, ShowPosition, State, Surroundings, at_start, make_book, step
from companion.view import LineRole, Looks, view

PLAIN = str.maketrans({"♭": "b", "♯": "#"})
KEYS = reader_for("keys")
RIG = Rig("hired", (Keyboard("board", port="Board"),))  # it cannot be tuned from here


@st.composite
def songs_in_keys(draw: st.DrawFn) -> Song:
    """Draw a song that may be fingered or written in another key than its own."""
    one = draw(songs())
    assert one.key
    keys = st.none() | st.integers(-6, 6).map(one.key.transposed)
    return replace(one, fingered_in=draw(keys), chords_in=draw(keys))


def on_stage(one: Song, shift: int = 0) -> list[list[str]]:
    """Return the chords that the screen shows in each section."""
    book, _missed = make_book(Show("S", sets=(Set("One", songs=(one,)),)), RIG)
    state: State = at_start(book)
    for number in range(abs(shift)):
        state, _effects = step(state, (KeyUp if shift > 0 else KeyDown)(at_ms=number))
    found = []
    for number in range(len(one.road_map)):
        here = replace(state, place=ShowPosition(PositionKind.PLAYING, section=number))
        line = view(here, Surroundings(), Looks(chords=True)).of(LineRole.CHORDS)
        found.append(line.text.translate(PLAIN).split(" | ") if line else [])
    return found


def on_paper(one: Song, key: Key | None = None) -> list[list[str]]:
    """Return the chords of each section of the keys' chart; one that is played like another has that one's."""
    sections = {section.name: section for section in chart_of(one, KEYS, key).sections}
    return [
        [
            "".join(text for text, _part, _up in pieces(struck.chord)).translate(PLAIN)
            for row in sections[section.as_before or section.name].rows
            for bar in row
            for struck in bar.chords
        ]
        for section in sections.values()
    ]


@settings(deadline=None, max_examples=examples(50))
@given(songs_in_keys())
def test_the_stage_and_the_chart_show_the_same_chords_and_bars(one: Song) -> None:
    assert on_stage(one) == on_paper(one)
    book, _missed = make_book(Show("S", sets=(Set("One", songs=(one,)),)), RIG)
    bars = [section.section.bars for section in book.songs[0].sections]
    counted = [section.counted for section in chart_of(one, KEYS).sections]
    assert [words.partition(",")[0] for words in counted] == [f"{number} bars" if number else "" for number in bars]


@pytest.mark.parametrize(
    ("chords", "bars", "stage", "paper", "counted", "warned"),
    [  # on paper: the written bars of each row, and how often a repeat plays them
        ("1 | 4 | 5 | 1", 4, "1 | 4 | 5 | 1", ["4"], "4 bars", ""),
        ("1 | 4 | 5 | 1", 8, "(1 | 4 | 5 | 1) x2", ["4 twice"], "8 bars", "played 2 times"),
        ("| 1 | 4 |", 12, "(1 | 4) x6", ["2 x6"], "12 bars", "played 6 times"),
        ("1 | 4\n5 | 1", 8, "(1 | 4 || 5 | 1) x2", ["2", "2 twice"], "8 bars", "played 2 times"),
        ("(1 | 4)", 8, "(1 | 4) | (1 | 4)", ["4 twice twice"], "8 bars", "played 2 times"),
        ("1 | 4 | 5 | 1 | 1 | 4", 8, "for 6 bars: 1 | 4 | 5 | 1 | 1 | 4", ["4", "2 + 2 empty"],
         "8 bars, chords for 6", "2 fewer than its 8"),
        ("1 | 4 || 5", 8, "for 3 bars: 1 | 4 || 5", ["2", "1 + 3 empty", "0 + 2 empty"],
         "8 bars, chords for 3", "5 fewer than its 8"),
        ("1 | 4 | 5", 64, "for 3 bars: 1 | 4 | 5", ["3 + 61 empty"], "64 bars, chords for 3", "61 fewer than its 64"),
        ("1 | 4 | 5 | 1", 3, "for 4 bars: 1 | 4 | 5 | 1", ["4"], "3 bars, chords for 4", "1 more than its 3"),
    ],
)  # fmt: skip
def test_stage_chart_and_check_agree_on_chords_that_are_shorter_or_longer_than_their_section(
    chords: str, bars: int, stage: str, paper: list[str], counted: str, warned: str
) -> None:
    one = Song("Moth", key=read_key("C"), road_map=(Section("Verse", bars, chords=chords), Section("Verse", bars)))
    book, _missed = make_book(Show("S", sets=(Set("One", songs=(one,)),)), RIG)
    for number in range(2):
        here = replace(at_start(book), place=ShowPosition(PositionKind.PLAYING, section=number))
        seen = view(here, Surroundings())
        line, length = seen.of(LineRole.CHORDS), seen.of(LineRole.BARS)
        assert line is not None
        assert length is not None
        assert (f"{line.label} {line.text}".strip(), length.text) == (stage, f"{bars} bars")
    first, second = chart_of(one, KEYS).sections
    assert [described(row) for row in first.rows] == paper
    assert (first.counted, second.counted, second.as_before) == (counted, counted, "Verse 1")
    typed = chords.replace("\n", "\\n")
    text = with_song(f'road_map:\n  - {{section: Verse, bars: {bars}, chords: "{typed}"}}')
    told = [one.problem for one in check(read(text)).warnings]
    assert [warned in problem for problem in told] == ([True] if warned else [])


def described(row: tuple[ChartBar, ...]) -> str:
    empty = sum(bar.empty or not bar.chords for bar in row)
    repeats = "".join(f" x{bar.times}" if bar.times else " twice" for bar in row if bar.closes)
    return f"{sum(bool(bar.chords) for bar in row)}{repeats}" + (f" + {empty} empty" if empty else "")


@settings(deadline=None, max_examples=examples(30))
@given(songs_in_keys(), st.integers(-11, 11))
def test_the_band_s_shift_on_stage_is_what_a_chart_in_that_key_says(one: Song, shift: int) -> None:
    assert one.key
    there = one.key.transposed(shift)
    one = replace(one, fingered_in=None)
    assert on_stage(one, shift) == on_paper(one, there)


@settings(deadline=None, max_examples=examples(30))
@given(songs_in_keys())
def test_the_crib_sheet_and_the_quiz_begin_with_the_chord_that_the_stage_shows(one: Song) -> None:
    first = next((chords[0] for chords in on_stage(one) if chords), "")
    assert first_chord(one).translate(PLAIN) == first
    asked = [card for card in cards_of(Show("S", sets=(Set("One", songs=(one,)),))) if card.asks is Subject.CHORD]
    assert [(card.hands or card.chord) and (card.hands or card.chord).shown for card in asked] == [first] * len(asked)  # type: ignore[union-attr]
    assert len(asked) == bool(first)
