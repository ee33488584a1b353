"""The strokes of a chart, taken from the leaf: slashes, hits with their stems, repeat dots; and texts that are cut."""

import pytest

from companion.music import Chord, NumberChord, read_chord, read_number
from companion.music.chord_line import Bar
from companion.music.chord_line_signs import read_chord_line
from companion.music.key import read_key
from companion.music.meter import Meter
from companion.paper.bar_row import INSIDE, draw_hits, draw_row, pieces
from companion.paper.chart import ChartBar
from companion.paper.leaves import Bookmark, Paper, PaperInk, PenLine, Words
from companion.paper.paper_fonts import ELLIPSIS, cut, width_pt
from companion.paper.pen import LeafPen
from companion.paper.set_list import set_list_leaves
from companion.paper.words_of import set_words
from companion.show import Set, Show, Song

SIZE = 20.0
FOUR = Meter(4, 4)


def lines(pen: LeafPen) -> list[PenLine]:
    return [mark for mark in pen.marks if isinstance(mark, PenLine)]


def slanted(pen: LeafPen, ink: PaperInk) -> list[PenLine]:
    """Return the slashes in this ink: strokes that rise to the right from below the middle."""
    return [line for line in lines(pen) if line.ink is ink and line.x1 < line.x2 and line.y1 > line.y2]


@pytest.mark.parametrize(
    ("chord", "printed"),  # text, and whether it is raised; by hand
    [
        (read_chord("N.C."), [("N.C.", False)]),
        (read_number("N.C."), [("N.C.", False)]),
        (read_chord("F#m7b5/A"), [("F♯", False), ("m7♭5", True), ("/A", False)]),
        (read_number("b7"), [("♭7", False)]),
        (read_number("2-7/5"), [("2", False), ("-7", True), ("/5", False)]),
    ],
)
def test_a_chord_is_printed_as_root_raised_kind_and_bass(
    chord: Chord | NumberChord, printed: list[tuple[str, bool]]
) -> None:
    assert [(text, up > 0) for text, _size, up in pieces(chord)] == printed
    root, *others = [size for _text, size, _up in pieces(chord)]
    assert all(size < root for size in others)


def test_beats_without_a_hit_are_light_and_each_hit_is_heavy() -> None:
    pen = LeafPen(Paper.A4)
    draw_hits(pen, FOUR, (0.0, 2.5), 50, 100, 200, SIZE)
    light, heavy = slanted(pen, PaperInk.PENCIL), slanted(pen, PaperInk.PEN)
    assert len(light) == 3, "beats 2, 3 and 4; beat 1 is hit, and 'and of 3' leaves beat 3 as it is"
    assert len(heavy) == 2
    assert heavy[0].x1 < light[0].x1 < light[1].x1 < heavy[1].x1 < light[2].x1
    assert min(line.thick for line in heavy) > max(line.thick for line in light)


def test_a_stem_rises_from_the_end_of_its_slash_and_each_flag_from_the_stem() -> None:
    pen = LeafPen(Paper.A4)
    draw_hits(pen, FOUR, (1.0, 2.5, 3.25), 50, 100, 200, SIZE)
    heavy = slanted(pen, PaperInk.PEN)
    bars = {50.0, 250.0}
    stems = [line for line in lines(pen) if line.x1 == line.x2 and line.x1 not in bars]
    assert [stem.x1 for stem in stems] == pytest.approx([slash.x2 for slash in heavy])
    flags = [line for line in lines(pen) if line.ink is PaperInk.PEN and line.y1 < line.y2 and line.x1 < line.x2]
    rising = [sum(flag.x1 == stem.x1 for flag in flags) for stem in stems]
    assert rising == [0, 1, 2], "a beat has no flag, an eighth one, a sixteenth two"


def test_repeat_dots_are_two_inside_the_bar_lines_evenly_about_the_middle() -> None:
    pen = LeafPen(Paper.A4)
    draw_row(pen, (ChartBar(empty=2, opens=True, closes=True),), 50, 100, 200, SIZE)
    upright = [line for line in lines(pen) if line.x1 == line.x2 and line.y1 != line.y2]
    top, bottom, left = upright[0].y1, upright[0].y2, upright[0].x1
    right = upright[1].x1
    dots = [line for line in lines(pen) if (line.x1, line.y1) == (line.x2, line.y2)]
    assert [dot.x1 for dot in dots] == pytest.approx([left + SIZE / 4] * 2 + [right - SIZE / 4] * 2)
    assert all(top < dot.y1 < bottom for dot in dots)
    for pair in (dots[:2], dots[2:]):
        assert pair[0].x1 == pair[1].x1
        assert (pair[0].y1 + pair[1].y1) / 2 == pytest.approx((top + bottom) / 2)
        assert pair[1].y1 - pair[0].y1 == pytest.approx(0.44 * SIZE)


@pytest.mark.parametrize(
    ("text", "kept"),
    [
        ("harbour lights at closing time", "harbour lights at" + ELLIPSIS),
        ("a conversationalist", "a conversat" + ELLIPSIS),
        ("of, conversationalists", "of, conver" + ELLIPSIS),
    ],
    ids=["at a word", "one letter is less than half", "a short word is less than half"],
)
def test_a_text_is_cut_at_a_word_only_where_that_keeps_half_of_it(text: str, kept: str) -> None:
    room = width_pt(kept, SIZE) + (width_pt(" clo", SIZE) if "lights" in text else 0.5)
    assert cut(text, SIZE, room) == kept


def test_a_leaf_can_be_jumped_to_by_its_name_though_no_outline_names_it() -> None:
    assert LeafPen(Paper.A4).leaf(name="song 3").bookmarks == (Bookmark("", 0, "song 3"),)
    assert LeafPen(Paper.A4).leaf("Moth").bookmarks == (Bookmark("Moth", 0, ""),)
    assert LeafPen(Paper.A4).leaf().bookmarks == ()


def test_a_song_without_keys_says_tacet_in_the_ink_of_the_other_remarks() -> None:
    (leaf,) = set_list_leaves(Show("Pier", sets=(Set("One", songs=(Song("Moth", tacet=True),)),)), Paper.A4)
    (tacet,) = [mark for mark in leaf.marks if isinstance(mark, Words) and mark.text == "tacet"]
    assert not [mark for mark in leaf.marks if not isinstance(mark, Words | PenLine)], "no highlighter under it"
    assert tacet.ink is PaperInk.PEN


def test_a_key_is_as_large_as_its_title_or_a_little_larger() -> None:
    (leaf,) = set_list_leaves(Show("Pier", sets=(Set("One", songs=(Song("Moth", key=read_key("E")),)),)), Paper.A4)
    sizes = {mark.text: mark.size for mark in leaf.marks if isinstance(mark, Words)}
    assert 1.0 <= sizes["E"] / sizes["Moth"] <= 1.25


def test_the_beats_of_a_bar_fill_it_to_the_bar_line() -> None:
    pen = LeafPen(Paper.A4)
    draw_hits(pen, FOUR, (), 50, 100, 200, SIZE)
    first, second, *_, last = (slash.x1 for slash in slanted(pen, PaperInk.PENCIL))
    assert last + (second - first) == pytest.approx(250 - INSIDE / 2 * SIZE)


@pytest.mark.parametrize(
    ("starts_min", "minutes", "words"),
    [
        (20 * 60 + 15, 45, "20:15 · 45 min"),
        (24 * 60 + 30, 60, "0:30 · 60 min"),
        (None, 50, "50 min"),
        (61, None, "1:01"),
    ],
    ids=str,
)
def test_a_set_says_when_it_starts_and_how_long_it_is(starts_min: int | None, minutes: int | None, words: str) -> None:
    assert set_words(Set("One", starts_min=starts_min, minutes=minutes)) == words


def test_the_kind_of_a_chord_is_raised_and_its_bass_stands_on_the_line_of_its_root() -> None:
    pen = LeafPen(Paper.A4)
    (bar,) = (part for part in read_chord_line("Cm7/G").parts if isinstance(part, Bar))
    draw_row(pen, (ChartBar(chords=bar.chords),), 50, 100, 200, SIZE)
    root, kind, bass = (mark for mark in pen.marks if isinstance(mark, Words))
    assert (root.text, kind.text, bass.text) == ("C", "m7", "/G")
    assert root.y - kind.y == pytest.approx(SIZE / 10)
    assert bass.y == root.y
