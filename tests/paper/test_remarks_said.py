"""Remarks one after the other (``LeafPen.say``), the rows and columns of a crib sheet, long titles on the floor."""

import itertools

import pytest

from companion.music import read_key
from companion.paper.crib_sheet import crib_leaves
from companion.paper.floor_list import WIDE, floor_list_leaves
from companion.paper.leaves import Highlighter, Leaf, Paper, Words
from companion.paper.paper_fonts import width_pt
from companion.paper.pen import LEADING, LeafPen
from companion.paper.set_list import set_list_leaves
from companion.show import Ending, Section, Set, Show, Song

SIZE = 10.0
FIRST = "watch the singer"


def said(room: float, lines: int, *more: tuple[str, str, bool]) -> tuple[list[Words], float]:
    """Say one remark and then these in this room; return the words, and the baseline after them."""
    pen = LeafPen(Paper.A4)
    after = pen.say(50, 100, room, [("", FIRST, False), *more], SIZE, lines)
    return [mark for mark in pen.marks if isinstance(mark, Words)], after


def test_remarks_follow_each_other_and_a_label_is_lighter_than_its_text() -> None:
    words, after = said(400, 1, ("ends:", "cold", False))
    assert [(one.text, one.y) for one in words] == [(FIRST, 100), ("ends: ", 100), ("cold", 100)]
    assert words[1].x == pytest.approx(50 + width_pt(FIRST, SIZE) + SIZE * 1.2)
    assert (words[1].ink is words[0].ink, words[2].ink is words[0].ink) == (False, True)
    assert after == 100 + SIZE * LEADING


@pytest.mark.parametrize(
    ("song", "remarks"),
    [
        (
            Song("Moth", starts_with="keys", notes="piano solo!!; piano solo 16; watch Gaz"),
            ["piano solo 16", "the keys start", "watch Gaz"],
        ),
        (Song("Moth", starts_with="drums", notes="loud"), ["starts: ", "drums", "loud"]),
        (
            Song("Moth", notes="piano solo!!; loud", road_map=(Section("Solo", 16, feature="piano solo"),)),
            ["piano solo", "loud"],
        ),
    ],
)
def test_a_set_list_says_each_thing_about_a_song_once(song: Song, remarks: list[str]) -> None:
    (leaf,) = set_list_leaves(Show("Pier", sets=(Set("First", songs=(song,)),)), Paper.A4)
    words = [one.text for one in leaf.marks if isinstance(one, Words)]
    assert words[-len(remarks) :] == remarks


def test_nothing_said_takes_no_line() -> None:
    pen = LeafPen(Paper.A4)
    assert (pen.say(50, 100, 400, [], SIZE), pen.marks) == (100, [])


@pytest.mark.parametrize(("spare", "is_said"), [(2.9, False), (3.1, True), (9, True)])  # in widths of a letter
def test_on_the_last_line_a_remark_without_room_for_three_letters_is_left_out(spare: float, *, is_said: bool) -> None:
    room = width_pt(FIRST, SIZE) + SIZE * 1.2 + spare * SIZE
    words, _ = said(room, 1, ("", "cold ending, all of us together, on the last word", False))
    assert len(words) == 1 + is_said
    assert [one.text[-1] for one in words[1:]] == ["…"] * is_said
    assert all(one.x + width_pt(one.text, SIZE) <= 50 + room + 0.01 for one in words)


def test_a_remark_that_does_not_fit_beside_another_begins_the_next_line() -> None:
    words, after = said(width_pt(FIRST, SIZE) + 50, 2, ("", "tenor takes it", False))
    assert [(one.text, one.x, one.y) for one in words] == [
        (FIRST, 50, 100),
        ("tenor takes it", 50, 100 + SIZE * LEADING),
    ]
    assert after == 100 + 2 * SIZE * LEADING


def test_the_highlighter_reaches_a_little_over_the_words_on_both_sides() -> None:
    pen = LeafPen(Paper.A4)
    pen.say(50, 100, 400, [("", FIRST, True)], SIZE)
    (stroke,) = [mark for mark in pen.marks if isinstance(mark, Highlighter)]
    assert 0 < 50 - stroke.x < 3
    assert stroke.x + stroke.width - 50 - width_pt(FIRST, SIZE) == pytest.approx(50 - stroke.x)
    assert stroke.y < 100 - SIZE / 2
    assert 100 < stroke.y + stroke.height < 100 + SIZE / 2


def crib(*songs: Song) -> Leaf:
    (leaf,) = crib_leaves(Show("Pier", sets=(Set("One", songs=songs),)), Paper.A4)
    return leaf


def words_of(leaf: Leaf) -> list[Words]:
    return [mark for mark in leaf.marks if isinstance(mark, Words)]


def test_thirty_songs_on_a_crib_sheet_are_evenly_spaced_with_and_without_remarks() -> None:
    remarks = "the verse is half time until the drummer turns round, then four bars of nothing but hi-hat " * 4
    songs = [
        Song(
            f"Song {at}",
            key=read_key("C"),
            starts_with="drums" if at % 3 else None,
            ending=Ending.COLD if at % 2 else None,
            notes=remarks,
        )
        for at in range(30)
    ]
    tops = [one.y for one in words_of(crib(*songs)) if one.text.startswith("Song ")]
    gaps = {round(below - above, 3) for above, below in itertools.pairwise(tops)}
    assert len(tops) == 30
    assert len(gaps) == 1


def test_long_keys_on_a_crib_sheet_are_squeezed_and_end_before_the_title() -> None:
    keys = ("D mixolydian", "E mixolydian", "F# mixolydian", "Ab mixolydian")
    sections = tuple(Section(f"Part {key}", 4, key=read_key(key)) for key in keys)
    long, short = Song("Moth", key=read_key("Eb dorian"), road_map=sections), Song("Weeds", key=read_key("C"))
    words = words_of(crib(long, short))
    moth = next(one for one in words if one.text == "Moth")
    shown = next(one for one in words if "→" in one.text)
    assert shown.squeeze < 1
    assert moth.x - (shown.x + width_pt(shown.text, shown.size) * shown.squeeze) == pytest.approx(6)
    assert next(one for one in words if one.text == "C").squeeze == 1


@pytest.mark.parametrize("letters", range(40, 90))
def test_no_line_of_a_long_title_on_the_floor_is_narrower_than_can_be_read(letters: int) -> None:
    title = ("Everybody Who Ever Waited for the Last Ferry Home to the Old Harbour Wall in November Rain")[
        :letters
    ].strip()
    (leaf,) = floor_list_leaves(Show("Pier", sets=(Set("One", songs=(Song(title, key=read_key("C")),)),)), Paper.A4)
    lines = [one for one in words_of(leaf) if one.text in title]
    assert " ".join(one.text for one in lines if one.text not in ("One", "C")) == title
    assert min(one.squeeze for one in lines) >= WIDE.narrowest - 0.001
