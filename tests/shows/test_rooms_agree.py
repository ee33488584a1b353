"""Stage, paper, crib sheet and quiz show the same chords of the same song: those that the hands play."""

from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from show.test_chords_on import songs

from companion.music import Key
from companion.paper.bar_row import pieces
from companion.paper.chart import chart_of
from companion.paper.crib_sheet import first_chord
from companion.paper.readers import reader_for
from companion.quiz.cards import Asks, cards_of
from companion.rig import Keyboard, Rig
from companion.show import Set, Show, Song
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
    assert counted == [f"{number} bars" if number else "" for number in bars]


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
    asked = [card for card in cards_of(Show("S", sets=(Set("One", songs=(one,)),))) if card.asks is Asks.CHORD]
    assert [(card.hands or card.chord) and (card.hands or card.chord).shown for card in asked] == [first] * len(asked)  # type: ignore[union-attr]
    assert len(asked) == bool(first)
