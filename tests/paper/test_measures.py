"""How wide and how high texts and bars are, and where they break: the arithmetic under every sheet, by hand."""

import pytest

from companion.music import Meter, read_key
from companion.music.chord_line import Bar
from companion.music.chord_line_signs import read_chord_line
from companion.paper.bar_row import (
    BRACKET,
    DIAMOND,
    GAP,
    INSIDE,
    LEAST_SHRUNK,
    METER,
    REPEAT,
    RHYTHM,
    ROW,
    SLASH,
    chord_share,
    fitting_rows,
    need,
    row_height,
    spread,
)
from companion.paper.chart import ChartBar
from companion.paper.leaves import POINT_MM, Paper, letter_height_pt
from companion.paper.paper_fonts import cut, lacks, runs, width_pt, wrapped
from companion.paper.pen import EDGE_PT, LeafPen
from companion.paper.words_of import keys_words, length_words, sound_words, tempo_words
from companion.show import Section, Song, SoundCall


def bar(line: str, **signs: object) -> ChartBar:
    """Return one bar with these chords and signs."""
    (one,) = (part for part in read_chord_line(line).parts if isinstance(part, Bar))
    shown = ChartBar(one.chords, one.meter or Meter(4, 4), meter_shown=one.meter is not None)
    return ChartBar(**{name: getattr(shown, name) for name in shown.__struct_fields__} | signs)


C = width_pt("C", 1.0)
ROOMS = [  # a bar, and the width that it needs, as a share of the size
    (ChartBar(), 3.0),
    (ChartBar(empty=8), 3.0),
    (ChartBar(again=1), 3.0),
    (ChartBar(again=2), 6.0),
    (bar("C"), C + GAP + 2 * INSIDE),
    (bar("C C"), 2 * (C + GAP) + 2 * INSIDE),
    (bar("C... C."), 2 * (C + GAP) + 2 * (SLASH + GAP) + 2 * INSIDE),
    (bar("C", opens=True), C + GAP + 2 * INSIDE + REPEAT),
    (bar("C", closes=True), C + GAP + 2 * INSIDE + REPEAT),
    (bar("in 3/4 C"), C + GAP + 2 * INSIDE + width_pt("3/4", METER) + GAP),
]


@pytest.mark.parametrize(("one", "share"), ROOMS)
def test_a_bar_needs_room_for_its_chords_slashes_gaps_and_signs(one: ChartBar, share: float) -> None:
    assert need(one) == pytest.approx(share)


@pytest.mark.parametrize(("line", "more"), [("C", 0), ("<C>", 2 * DIAMOND), ("<C", 0.45), ("C^", 0.4), ("<<C>", 1.29)])
def test_the_signs_of_a_chord_widen_it(line: str, more: float) -> None:
    assert chord_share(bar(line).chords[0]) == pytest.approx(C + more)


@pytest.mark.parametrize(
    ("bars", "height"),
    [
        ([bar("C")], ROW),
        ([bar("C"), bar("C", ending="1st")], ROW + BRACKET),
        ([bar("C", hits=(0.0,)), bar("C")], ROW + RHYTHM),
        ([bar("C", hits=(0.0,)), bar("C", ending="2nd")], ROW + BRACKET + RHYTHM),
    ],
    ids=["chords", "an ending", "hits", "both"],
)
def test_a_row_is_as_high_as_what_is_over_and_under_it(bars: list[ChartBar], height: float) -> None:
    assert row_height(bars, 20) == pytest.approx(height * 20)


def test_a_row_is_halved_until_its_chords_keep_their_share_of_the_size() -> None:
    row = [bar("C C C C")] * 5
    width = need(row[0]) * 20
    just = width * 5 * LEAST_SHRUNK
    assert [len(part) for part in fitting_rows(row, 20, just + 0.01)] == [5]
    assert [len(part) for part in fitting_rows(row, 20, just - 0.01)] == [3, 2]
    assert [len(part) for part in fitting_rows(row, 20, width * 2 * LEAST_SHRUNK + 0.01)] == [2, 1, 2]
    assert [len(part) for part in fitting_rows(row, 20, 1)] == [1] * 5, "a single bar is not broken"
    assert [len(part) for part in fitting_rows([ChartBar()] * 5, 20, 1)] == [5], "empty bars shrink instead"


@pytest.mark.parametrize(
    ("least", "room", "shares", "widths"),
    [
        ([10, 10], 40, None, [20, 20]),
        ([10, 10], 40, [1, 3], [10, 30]),
        ([30, 10], 40, None, [30, 10]),
        ([30, 10], 20, None, [15, 5]),
        ([30, 10, 10], 60, [1, 1, 2], [30, 10, 20]),
        ([30, 12, 10], 60, [1, 1, 2], [30, 12, 18]),
        ([5], 9, None, [9]),
    ],
)
def test_room_is_shared_out_after_the_least_widths(
    least: list[float], room: float, shares: list[float] | None, widths: list[float]
) -> None:
    assert spread(least, room, shares) == pytest.approx(widths)


SPACE = width_pt(" ", 10)


def wide(text: str) -> float:
    return width_pt(text, 10)


@pytest.mark.parametrize(
    ("text", "room", "lines", "first", "broken"),
    [
        ("one two", wide("one two"), 1, None, ["one two"]),
        ("one two", wide("one two") - 0.01, 2, None, ["one", "two"]),
        ("one two six", wide("one two"), 2, None, ["one two", "six"]),
        ("one two six", wide("one two"), 2, wide("one"), ["one", "two six"]),
        ("one two six", wide("one two"), 2, wide("on"), ["", "one…"]),
        ("harbour", wide("harb…"), 1, None, ["harb…"]),
        ("a harbour b", wide("harb…"), 3, None, ["a", "harb…", "b"]),
        ("a harbour b", wide("harb…"), 2, None, ["a", "harb…"]),
        ("", 100.0, 3, None, []),
        ("  one \n two ", 100.0, 3, None, ["one two"]),
    ],
)
def test_a_text_breaks_at_words(text: str, room: float, lines: int, first: float | None, broken: list[str]) -> None:
    assert wrapped(text, 10, room, lines, first) == broken


@pytest.mark.parametrize(
    ("text", "pieces"),
    [
        ("Moth", ((0, "Moth"),)),
        ("B♭7", ((0, "B"), (1, "♭"), (0, "7"))),
        ("♭♯", ((1, "♭♯"),)),
        ("→ א", ((2, "→"), (0, " "), (2, "א"))),
        ("", ()),
    ],
)
def test_a_text_is_set_in_the_first_font_that_has_each_sign(text: str, pieces: tuple[tuple[int, str], ...]) -> None:
    assert runs(text) == pieces


@pytest.mark.parametrize(
    ("sign", "is_lacking"), [("a", False), ("♭", False), ("א", False), ("\n", False), ("曲", True)]
)
def test_a_sign_that_no_font_has_is_known(sign: str, *, is_lacking: bool) -> None:
    assert lacks(sign) is is_lacking
    assert width_pt(sign, 10) > 0 or sign == "\n"


def test_a_text_that_fits_exactly_is_not_cut() -> None:
    assert cut("harbour wall", 10, wide("harbour wall")) == "harbour wall"
    assert cut("harbour wall", 10, wide("harbour wall") - 0.01) == "harbour…"
    assert cut("harbour, wall", 10, wide("harbour, wal")) == "harbour…", "no comma before the sign"
    assert cut("harbour", 10, 0.1) == "…"


@pytest.mark.parametrize(
    ("paper", "width_mm", "height_mm"),
    [(Paper.A4, 210, 297), (Paper.LETTER, 215.9, 279.4)],  # ISO 216; ANSI/ASME Y14.1 size A: 8.5 by 11 inches
)
def test_papers_have_their_standards_sizes_and_a_half_inch_edge(
    paper: Paper, width_mm: float, height_mm: float
) -> None:
    assert (paper.width * POINT_MM, paper.height * POINT_MM) == pytest.approx((width_mm, height_mm))
    pen = LeafPen(paper)
    assert (pen.left, pen.top, paper.width - pen.right, paper.height - pen.bottom) == pytest.approx((EDGE_PT,) * 4)


def test_a_capital_subtends_its_angle() -> None:
    """By hand: 2 x 1,700 mm x tan(10') is 9.89 mm; the angle doubles the height, and so does the distance."""
    assert letter_height_pt(20, 1.7) * POINT_MM == pytest.approx(9.89, abs=0.005)
    assert letter_height_pt(40, 1.7) == pytest.approx(2 * letter_height_pt(20, 1.7), rel=1e-4)
    assert letter_height_pt(20, 3.4) == pytest.approx(2 * letter_height_pt(20, 1.7))


@pytest.mark.parametrize(
    ("song", "words"),
    [
        (Song("Moth"), ""),
        (Song("Moth", tempo_bpm=112), "♩ = 112"),
        (Song("Moth", tempo_bpm=112.5, meter=Meter(4, 4)), "♩ = 112.5"),
        (Song("Moth", tempo_bpm=76, meter=Meter(6, 8)), "♩. = 76, 6/8"),
        (Song("Moth", tempo_bpm=60, meter=Meter(2, 2)), "half = 60, 2/2"),
        (Song("Moth", tempo_bpm=150, meter=Meter(7, 8)), "♩ = 150, 7/8"),
        (Song("Moth", meter=Meter(3, 4)), "3/4"),
    ],
)
def test_a_tempo_names_its_beat_and_an_unusual_meter(song: Song, words: str) -> None:
    assert tempo_words(song) == words


@pytest.mark.parametrize(
    ("song", "words"),
    [
        (Song("Moth"), ""),
        (Song("Moth", sounds=(SoundCall("organ"),)), "organ"),
        (
            Song(
                "Moth",
                sounds=(SoundCall("organ"),),
                road_map=(
                    Section("A", tacet=True, sounds=(SoundCall("brass"),)),
                    Section("B", sounds=(SoundCall("pad"),)),
                ),
            ),
            "pad, organ, brass",
        ),
        (
            Song("Moth", road_map=(Section("A", sounds=(SoundCall("pad"),)), Section("B", sounds=(SoundCall("pad"),)))),
            "pad",
        ),
    ],
)
def test_the_sounds_of_a_song_are_named_once_the_first_played_first(song: Song, words: str) -> None:
    assert sound_words(song) == words


def test_an_unknown_key_or_length_is_left_to_the_pencil() -> None:
    assert keys_words(Song("Moth")) == "__"
    assert keys_words(Song("Moth", key=read_key("F# dorian"))) == "F♯ dorian"
    assert length_words(Song("Moth")) == ""
    assert length_words(Song("Moth", length_s=220)) == "3:40"
