"""A chart before it is laid out: keys, parts, numbers, what is written once, phrases, repeats, hits."""

from pathlib import Path

import msgspec
import pytest
from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st
from music.tables import cells

from companion.music import Key, read_key, read_meter
from companion.paper.bar_row import need, pieces
from companion.paper.chart import ChartBar, ChartSection, SongChart, chart_of
from companion.paper.chart_sheets import chart_sheets
from companion.paper.leaves import Leaf, Paper, Words
from companion.paper.paper_fonts import FACES
from companion.paper.readers import NoReader, reader_for, readers_for, requested_key
from companion.show import Section, Song, SoundCall
from companion.show.sounding import sounds_on


def song(*sections: Section, key: str | None = "Bb", meter: str | None = None, **more: object) -> Song:
    return Song(
        "Gasworks Corner",
        key=read_key(key) if key else None,
        meter=read_meter(meter) if meter else None,
        road_map=sections,
        **more,  # type: ignore[arg-type]  # whatever a song has
    )


def chords(section: ChartSection) -> list[list[str]]:
    """Return the rows as text."""
    return [[shown(bar) for bar in row] for row in section.rows]


def shown(bar: ChartBar) -> str:
    if bar.again:
        return "%" * bar.again
    return " ".join("".join(text for text, _share, _up in pieces(struck.chord)) for struck in bar.chords)


def chart(one: Song, reader: str = "keys", key: Key | None = None, *, numbers: bool = False) -> SongChart:
    return chart_of(one, reader_for(reader, in_numbers=numbers), key)


def chart_leaves(made: SongChart, paper: Paper) -> list[Leaf]:
    return [leaf for sheets in chart_sheets([(made, "")], paper) for leaf in sheets.leaves]


@pytest.mark.parametrize(
    ("reader", "numbers", "key", "written"),
    [  # by hand; parts from any orchestration book
        ("C", False, None, ["B♭", "F/A", "Gm", "E♭"]),
        ("Bb", False, None, ["C", "G/B", "Am", "F"]),
        ("Eb", False, None, ["G", "D/F♯", "Em", "C"]),
        ("F", False, None, ["F", "C/E", "Dm", "B♭"]),
        ("horn", False, None, ["F", "C/E", "Dm", "B♭"]),
        ("C", True, None, ["1", "5/7", "6-", "4"]),
        ("Bb", True, None, ["1", "5/7", "6-", "4"]),
        ("C", False, "B", ["B", "F♯/A♯", "G♯m", "E"]),
        ("Bb", False, "A", ["B", "F♯/A♯", "G♯m", "E"]),
    ],
)
@pytest.mark.parametrize("line", ["1 | 5/7 | 6- | 4", "Bb | F/A | Gm | Eb"])
def test_each_player_gets_the_line_in_their_own_reading(
    line: str, reader: str, written: list[str], key: str | None, *, numbers: bool
) -> None:
    one = song(Section("Intro", bars=4, chords=line))
    (section,) = chart(one, reader, read_key(key) if key else None, numbers=numbers).sections
    assert chords(section) == [written]


def test_a_section_in_another_key_is_written_and_labelled_in_that_key() -> None:
    verse, last, outro = chart(
        song(
            Section("Chorus", bars=2, chords="1 | 4"),
            Section("Chorus", bars=2, key=read_key("C")),
            Section("Outro", bars=1, chords="1"),
        )
    ).sections
    assert chords(verse) == [["B♭", "E♭"]]
    assert (chords(last), last.key) == ([["C", "F"]], "in C")
    assert (chords(outro), outro.key) == ([["C"]], "")


def test_letters_of_a_section_in_another_key_move_with_it() -> None:
    _first, last = chart(
        song(Section("Chorus", bars=2, chords="Bb | Eb"), Section("Chorus", bars=2, key=read_key("C")))
    ).sections
    assert chords(last) == [["C", "F"]]


def test_letters_written_in_another_key_are_moved_and_labelled_once() -> None:
    """By hand; a part reads its own key, so a player who fingers as written needs no remark."""
    one = song(Section("Verse", bars=4, chords="A | D | E | A"), key="G", chords_in=read_key("A"))
    found = chart(one)
    assert chords(found.sections[0]) == [["G", "C", "D", "G"]]
    assert found.notes == ("Chords written in A, moved to G.",)
    assert chords(chart(one, "Bb").sections[0]) == [["A", "D", "E", "A"]]
    assert (chords(chart(one, numbers=True).sections[0]), chart(one, numbers=True).notes) == (
        [["1", "4", "5", "1"]],
        (),
    )
    mine = chart(msgspec.structs.replace(one, fingered_in=read_key("A")))
    assert (chords(mine.sections[0]), mine.notes) == ([["A", "D", "E", "A"]], ())
    for same in (one, msgspec.structs.replace(one, fingered_in=read_key("D"))):  # what was asked for is what is read
        assert chords(chart(same, key=read_key("C")).sections[0]) == [["C", "F", "G", "C"]]
    other = chart(one, key=read_key("C"))
    assert (chords(other.sections[0]), other.notes) == ([["C", "F", "G", "C"]], ("Here in C; the band's list says G.",))


def test_a_chorus_of_another_length_is_written_out() -> None:
    short, long, again = chart(
        song(Section("Chorus", bars=2, chords="1 | 4"), Section("Chorus", bars=4), Section("Chorus", bars=2))
    ).sections
    assert (chords(short), chords(long), again.as_before) == ([["B♭", "E♭"]], [["", "", "", ""]], "Chorus 1")


def test_a_transposed_song_transposes_its_key_change() -> None:
    _first, last = chart(
        song(Section("Chorus", bars=2, chords="1 | 4"), Section("Chorus", bars=2, key=read_key("C"))),
        key=read_key("G"),
    ).sections
    assert (chords(last), last.key) == ([["A", "D"]], "in A")


def test_a_repeated_section_is_written_once() -> None:
    sections = chart(
        song(
            Section("Verse", bars=2, chords="1 | 4"),
            Section("Chorus", bars=1, chords="5"),
            Section("Verse", bars=2),
            Section("Chorus", bars=1, chords="4"),
            Section("Chorus", bars=1),
        )
    ).sections
    assert [one.as_before for one in sections] == ["", "", "Verse 1", "", "Chorus 2"]


@pytest.mark.parametrize(
    ("line", "rows"),
    [
        ("1 | 2- | 3- | 4 | 5 | 6-", [4, 2]),
        ("1 | 2- | 3- || 4 | 5 | 6-", [3, 3]),
        ("1 | 2- | 3- | 4 | 5 || 6-", [5, 1]),
        ("(1 | 4) x3 || 5", [2, 1]),
        ("(1 | 4 | 1st 5 | 2nd 1)", [4]),
        (" | ".join("1" * 20) + " || 4", [8, 8, 4, 1]),
    ],
)
def test_a_row_holds_one_phrase_or_four_bars(line: str, rows: list[int]) -> None:
    (section,) = chart(song(Section("Verse", chords=line))).sections
    assert [len(row) for row in section.rows] == rows


def test_a_repeat_keeps_its_signs_and_endings() -> None:
    (section,) = chart(song(Section("Chorus", chords="(1 | 4 | 1st-2nd 5 | 3rd 1) | (1) x5"))).sections
    bars = [bar for row in section.rows for bar in row]
    assert [bar.opens for bar in bars] == [True, False, False, False, True]
    assert [bar.closes for bar in bars] == [False, False, True, False, True]
    assert [bar.ending for bar in bars] == ["", "", "1st–2nd", "3rd", ""]
    assert [bar.times for bar in bars] == [0, 0, 0, 0, 5]


def test_hits_stand_under_their_bars_with_the_repeat_written_out() -> None:
    (section,) = chart(song(Section("Vamp", chords="(1 | 4) x2", hits="bar 3 1, 4&"))).sections
    bars = [bar for row in section.rows for bar in row]
    assert [shown(bar) for bar in bars] == ["B♭", "E♭", "B♭", "E♭"]
    assert [bar.hits for bar in bars] == [(), (), (0.0, 3.5), ()]


def test_words_about_hits_are_printed_as_words() -> None:
    (section,) = chart(song(Section("Chorus", bars=8, hits="every other bar"))).sections
    assert section.hits is None
    assert ("hits", "every other bar") in section.lines


def test_a_section_without_chords_has_empty_bars_for_a_pencil() -> None:
    (section,) = chart(song(Section("Solo", bars=6))).sections
    assert [len(row) for row in section.rows] == [4, 2]
    (long,) = chart(song(Section("Solo", bars=400))).sections
    assert [[bar.empty for bar in row] for row in long.rows] == [[400]]


def test_the_keys_read_what_they_finger_and_others_read_what_sounds() -> None:
    """A keyboard that is tuned down a tone: hands in C, B flat sounds; up a tone at the end they go to D."""
    one = song(Section("Verse", chords="1 | 5"), Section("Verse", key=read_key("C")), fingered_in=read_key("C"))
    mine, theirs = chart(one), chart(one, "C")
    assert ([chords(section) for section in mine.sections], mine.sections[1].key) == (
        [[["C", "G"]], [["D", "A"]]],
        "in D",
    )
    assert [chords(section) for section in theirs.sections] == [[["B♭", "F"]], [["C", "G"]]]


def test_a_verse_played_after_a_tacet_one_is_written_out() -> None:
    sections = chart(
        song(Section("Verse", bars=16, tacet=True), Section("Verse", bars=16), Section("Verse", bars=16))
    ).sections
    assert [(one.rests, len(one.rows), one.as_before) for one in sections] == [
        (True, 0, ""),
        (False, 4, ""),
        (False, 0, "Verse 2"),
    ]


def test_a_song_without_a_road_map_is_an_empty_page() -> None:
    found = chart(song())
    assert ([len(row) for row in found.sections[0].rows], found.sections[0].counted) == ([4] * 8, "")
    assert found.notes == ("No road map yet: pencil in the sections and chords.",)


def test_only_the_keys_read_sounds_features_and_their_own_tacet() -> None:
    one = song(Section("Intro", bars=4, feature="riff", sounds=(SoundCall("lead"),)), Section("Verse", tacet=True))
    mine, theirs = chart(one).sections, chart(one, "trumpet").sections
    assert (mine[0].feature, mine[0].sound, mine[1].rests) == ("riff", "lead", True)
    assert (theirs[0].feature, theirs[0].sound, theirs[1].rests) == ("", "", False)


def test_numbers_of_a_minor_song_say_what_they_count_from() -> None:
    found = chart(song(Section("Verse", chords="Am | F | C | G"), key="Am"), numbers=True)
    assert chords(found.sections[0]) == [["6-", "4", "1", "5"]]  # the default practice of companion.music
    assert found.notes == ("In Am. Numbers count from C, the relative major.",)


def test_without_a_key_numbers_stay_and_letters_move_by_the_interval() -> None:
    found = chart(song(Section("Verse", chords="1 | 4"), Section("Chorus", chords="C | Am"), key=None), "Bb")
    assert [chords(one) for one in found.sections] == [[["1", "4"]], [["D", "Bm"]]]


def test_an_unreadable_chord_line_is_printed_as_written() -> None:
    verse, again = chart(song(Section("Verse", chords="Bb | Ebx"), Section("Verse"))).sections
    assert (verse.unread, verse.rows) == (("Bb | Ebx", '"x" is not a chord sign in "Ebx"'), ())
    assert (again.as_before, again.unread) == ("Verse 1", None)


@pytest.mark.parametrize(
    ("key", "later", "counts_from", "now"),
    [  # the relative major, by hand: F sharp minor and A have three sharps, D dorian and C none
        ("F#m", None, "A", ""),
        ("D dorian", None, "C", ""),
        ("Bb", None, "B♭", ""),
        ("F#m", "Gm", "A", "1 = B♭"),
        ("Am", "C", "C", ""),  # 1 is where it was
        ("C", "D", "C", "1 = D"),
    ],
)
def test_numbers_count_from_one_key_throughout(key: str, later: str | None, counts_from: str, now: str) -> None:
    sections = [Section("Verse", chords="1 | 4"), Section("Verse", key=read_key(later) if later else None)]
    made = chart(song(*sections, key=key), numbers=True)
    texts = [mark.text for leaf in chart_leaves(made, Paper.A4) for mark in leaf.marks if isinstance(mark, Words)]
    assert [text for text in texts if text.startswith("1 = ")] == [f"1 = {counts_from}"]
    assert [text.removeprefix("now ") for text in texts if text.startswith("now ")] == ([now] if now else [])
    count = [text for text in texts if "count from" in text]
    assert not count or counts_from in count[0]


CAPO = [
    (shape, int(column.removeprefix("capo ")), sounding)
    for shape, column, either in cells("capo", "shape")
    for sounding in either.split("|")
]


@pytest.mark.parametrize(("shape", "fret", "sounding"), CAPO)
def test_a_guitar_with_a_capo_reads_chord_shapes(shape: str, fret: int, sounding: str) -> None:
    one = song(Section("Intro", bars=1, chords="1 | 5"), key=sounding)
    made = chart_of(one, reader_for("guitar", capo=fret))
    in_shapes = chart(song(Section("Intro", bars=1, chords="1 | 5"), key=shape))
    assert made.written == read_key(shape)
    assert chords(made.sections[0]) == chords(in_shapes.sections[0])


def test_a_chart_with_a_capo_says_so_beside_the_key() -> None:
    one = song(Section("Verse", chords="Bb | Gm"), Section("Verse", key=read_key("C")))
    made = chart_of(one, reader_for("guitar", capo=3))
    assert [chords(section) for section in made.sections] == [[["G", "Em"]], [["A", "F♯m"]]]
    (leaf,) = chart_leaves(made, Paper.A4)
    texts = [mark.text for mark in leaf.marks if isinstance(mark, Words)]
    assert texts[0] == "capo 3: G"
    assert "guitar, sounds in B♭" in texts
    assert "now in A" in texts


def test_numbers_with_a_capo_count_from_the_chord_shapes() -> None:
    made = chart_of(song(Section("Verse", chords="6- | 4"), key="F#m"), reader_for("guitar", in_numbers=True, capo=2))
    (leaf,) = chart_leaves(made, Paper.A4)
    texts = [mark.text for mark in leaf.marks if isinstance(mark, Words)]
    assert texts[0] == "capo 2: 1 = G"
    assert "In Em with capo 2. Numbers count from G, the relative major." in texts


@pytest.mark.parametrize("player", ["trumpet", "keys", "Bb", "bass"])
def test_only_a_guitar_can_have_a_capo(player: str) -> None:
    with pytest.raises(NoReader, match=r"Write: --for guitar --capo 3"):
        readers_for((player,), in_numbers=False, capo=3)
    both = readers_for((player, "guitar"), in_numbers=False, capo=3)
    assert [one.capo for one in both] == [0, 3]


@pytest.mark.parametrize(
    ("asked", "write"), [("trumpett", "trumpet"), ("B♭♭", "Bb"), ("", "C, Bb"), ("kazoo", "C, Bb")]
)
def test_an_unknown_part_is_reported_with_the_nearest(asked: str, write: str) -> None:
    with pytest.raises(NoReader, match=rf"Write: --for .*{write}"):
        reader_for(asked)


@pytest.mark.parametrize(
    ("key", "asked", "write"),
    [("Gm", "A", '--key "Am"'), ("D dorian", "Em", '--key "E dorian"'), ("C", "H", "--key B")],
)
def test_a_key_in_another_mode_is_refused(key: str, asked: str, write: str) -> None:
    with pytest.raises(NoReader, match=write):
        requested_key(song(key=key), asked)


def test_sounds_follow_the_rule_of_the_show_file() -> None:
    """design: a section's own; else the last of the same name; else the song's; else the section before."""
    strings, lead = (SoundCall("strings"),), (SoundCall("lead"),)
    one = song(Section("Chorus", sounds=strings), Section("Solo", sounds=lead), Section("Chorus"), Section("Outro"))
    assert sounds_on(one) == (strings, lead, strings, strings)
    upper = SoundCall("brass", "upper")
    two = song(Section("Verse"), Section("Chorus", sounds=(upper,)), Section("Verse"), sounds=(SoundCall("piano"),))
    assert sounds_on(two) == ((SoundCall("piano"),), (SoundCall("piano"), upper), (SoundCall("piano"), upper))


CHORD = st.sampled_from(["C", "F#m7", "Bb7#9b13", "Ebmaj7#11/Bb", "Abm7b5", "N.C.", "G13sus4add3", "<D>", "<E", "A^"])
LINES = st.lists(st.lists(CHORD, min_size=1, max_size=2).map(" ".join), min_size=1, max_size=40).map(" | ".join)


@settings(max_examples=examples(25))
@given(LINES, st.sampled_from(["keys", "Bb", "F"]), st.sampled_from(Paper), st.booleans())
def test_any_readable_line_fits_the_sheet(line: str, reader: str, paper: Paper, numbers: bool) -> None:  # noqa: FBT001 - drawn
    made = chart(song(Section("Verse", chords=line)), reader, numbers=numbers)
    for leaf in chart_leaves(made, paper):
        for mark in leaf.marks:
            assert 0 <= getattr(mark, "x", 0) <= paper.width
            assert 0 <= getattr(mark, "y", 0) <= paper.height
    assert all(need(bar) > 0 for row in made.sections[0].rows for bar in row)
    assert made.sections[0].rows or made.sections[0].unread


def test_the_fonts_are_the_projects_own() -> None:
    assert all(
        path.is_file() and path.parent == Path(__file__).parents[2] / "companion/screen/fonts" for _n, path in FACES
    )
