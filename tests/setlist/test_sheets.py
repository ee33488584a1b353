"""Workbooks of several sheets, rows hidden, struck out or coloured, and what the player's word changes in a list."""

import pytest

from companion.setlist.correcting import corrected
from companion.setlist.doubt_answers import answer_to
from companion.setlist.model import (
    Doubt,
    DoubtAnswer,
    FieldCorrection,
    LineCorrection,
    LineKind,
    ListLine,
    ListPage,
    ListRow,
    SetList,
    SourceLine,
)
from companion.setlist.notation import Notation
from companion.setlist.parsing.understand import take_in
from companion.setlist.revising.dropped_songs import shelf_path, slug_of
from companion.show import Set, Show, Song

FOUR = ("Postbox Tango", "Harbour Lamps", "Tram Home", "Slow Ferry")


def sheet(name: str | None, *titles: str, is_hidden: bool = False) -> ListPage:
    """Return a sheet of titles in C below the names of its columns."""
    cells = [("Title", "Key"), *((title, "C") for title in titles)]
    rows = [ListRow(SourceLine(at, sheet=name), row, " ".join(row)) for at, row in enumerate(cells, 1)]
    return ListPage(tuple(rows), is_grid=True, name=name, is_hidden=is_hidden)


def sets(found: SetList) -> dict[str, int]:
    return {one.name: len(one.songs) for one in found.show.sets}


@pytest.mark.parametrize(
    ("names", "chosen", "read"),
    [
        (("19 June 2099", "12 June 2099"), None, 1),
        (("12 June 2099", "19 June 2099"), None, 0),
        (("12 June 2020", "19 June 2020"), None, 1),
        (("Wedding", "Ball"), None, 0),
        (("Repertoire", "Ball"), None, 1),
        (("All songs", "Old ideas"), None, 0),
        (("Wedding", "Ball"), "Ball", 1),
        (("Wedding", "Ball"), "Nowhere", 0),
    ],
)
def test_of_several_gigs_the_next_is_read_and_the_others_are_set_aside(
    names: tuple[str, ...], chosen: str | None, read: int
) -> None:
    pages = [sheet(name, *(f"{title} {number}" for title in FOUR)) for number, name in enumerate(("one", "two"))]
    pages = [ListPage(page.rows, page.is_grid, name) for page, name in zip(pages, names, strict=True)]
    found = take_in(pages, "Pier", chosen=chosen)
    assert [song.title for one in found.show.sets for song in one.songs] == [f"{title} {read}" for title in FOUR]
    assert (found.choices, found.chosen) == (names, names[read])
    assert {one.reason for one in found.set_aside} == {f"of another sheet: {names[1 - read]}"}
    assert len(found.set_aside) == 5
    assert len(found.doubts) == 1


@pytest.mark.parametrize("names", [("Set 1", "Set 2"), ("Sheet1", "Sheet2"), ("Tabelle 1", "Set 2")])
def test_sheets_of_sets_are_one_list(names: tuple[str, ...]) -> None:
    found = take_in([sheet(name, *FOUR[at * 2 :][:2]) for at, name in enumerate(names)], "Pier")
    assert list(sets(found).values()) == [2, 2]
    assert (found.choices, found.set_aside, found.doubts) == ((), (), ())


@pytest.mark.parametrize(("rows", "sheets"), [(1, 1), (2, 2)])
def test_a_sheet_with_fewer_than_three_rows_is_no_list_of_its_own(rows: int, sheets: int) -> None:
    found = take_in([sheet("Ball", *FOUR), sheet("Contacts", *("Dot Farrow", "Bo Quill")[:rows])], "Pier")
    assert len(found.choices) == (2 if sheets == 2 else 0)


def test_a_hidden_sheet_is_set_aside_unless_it_is_chosen_or_there_is_no_other() -> None:
    pages = [sheet("Ball", *FOUR[:3]), sheet("Old", *FOUR[:1], "Wet Paint", "Moth at Noon", is_hidden=True)]
    found = take_in(pages, "Pier")
    assert sets(found) == {"Ball": 3}
    assert {one.reason for one in found.set_aside} == {"of the hidden sheet Old"}
    chosen = take_in(pages, "Pier", chosen="Old")
    assert [song.title for one in chosen.show.sets for song in one.songs] == [
        "Postbox Tango",
        "Wet Paint",
        "Moth at Noon",
    ]
    assert take_in(pages[1:], "Pier").set_aside == ()


def grid(*rows: ListRow) -> SetList:
    head = ListRow(SourceLine(1), ("Title", "Key"), "Title Key")
    return take_in([ListPage((head, *rows), is_grid=True)], "Pier")


def row(*cells: str, at: int = 2, is_hidden: bool = False, marked: str = "", comments: tuple[str, ...] = ()) -> ListRow:
    return ListRow(SourceLine(at), cells, " ".join(cells), is_hidden=is_hidden, marked=marked, comments=comments)


PLAIN = (row("Harbour Lamps", "C", at=7), row("Tram Home", "D", at=8), row("Slow Ferry", "Em", at=9))


@pytest.mark.parametrize(
    ("one", "reason", "text"),
    [
        (row("Moth", "Bb", is_hidden=True), "hidden in the sheet", "Moth Bb"),
        (row("~~Moth~~", "~~Bb~~"), "struck out", "Moth Bb"),
        (row("~~Moth~~", "Bb"), "struck out", "Moth Bb"),
        (ListRow(SourceLine(2), ("~~Moth", "Bb~~"), "~~Moth Bb~~"), "struck out", "Moth Bb"),
    ],
)
def test_a_row_that_is_hidden_or_struck_out_is_set_aside(one: ListRow, reason: str, text: str) -> None:
    found = grid(one, *PLAIN)
    assert sets(found) == {"First": 3}
    assert [(aside.text, aside.reason) for aside in found.set_aside] == [(text, reason)]


def test_a_struck_value_is_kept_aside_and_the_new_one_counts() -> None:
    found = grid(row("Moth", "~~Bb~~ C"), *PLAIN)
    assert str(found.show.sets[0].songs[0].key) == "C"
    assert [(aside.text, aside.reason) for aside in found.set_aside] == [("Bb", "struck out")]


def test_a_colour_and_a_comment_are_notes_and_a_row_says_what_the_colour_means() -> None:
    coloured = row("Moth", "Bb", marked="yellow", comments=("watch Bo",))
    found = grid(coloured, *PLAIN, row("yellow = keys solo", at=10))
    assert found.show.sets[0].songs[0].notes == "watch Bo; marked yellow (keys solo)"
    above = grid(row("keys solo", marked="yellow"), row("Moth", "Bb", at=3, marked="yellow"), *PLAIN)
    assert above.show.sets[0].songs[0].notes == "marked yellow (keys solo)"
    assert grid(coloured, *PLAIN).show.sets[0].songs[0].notes == "watch Bo; marked yellow"


@pytest.mark.parametrize(
    ("cells", "kind", "says"),
    [
        (("* = organ solo",), LineKind.MARK, "* is organ solo"),
        (("Band: The Nine",), LineKind.ABOUT, "band: The Nine"),
        (("Venue", "The Hall"), LineKind.ABOUT, "venue: The Hall"),
        (("BREAK", "20 min"), LineKind.BREAK, "BREAK 20 min"),
        (("21:05", "BREAK"), LineKind.BREAK, "21:05 BREAK"),
        (("Total", "12:35"), LineKind.TOTAL, "Total 12:35"),
        (("---", "---"), LineKind.RULE, ""),
        (("Set 2",), LineKind.SET, "Second"),
        (("", "Bb"), LineKind.LEFT, "kept in the show's notes"),
    ],
)
def test_a_row_that_is_no_song_is_accounted_for(cells: tuple[str, ...], kind: LineKind, says: str) -> None:
    found = grid(PLAIN[0], row(*cells, at=7), *PLAIN[1:])
    (line,) = [line for line in found.lines[1:] if line.took is not LineKind.SONG]
    assert (line.took, line.says) == (kind, says)
    assert sum(sets(found).values()) == 3


PLACE = SourceLine(1)


def one_song(doubt: Doubt) -> SetList:
    song = Song("Moth", notes="slow")
    line = ListLine(PLACE, "Moth", LineKind.SONG, "Moth", (doubt,), 1)
    return SetList(Show("Pier", sets=(Set("One", songs=(song, Song("Weeds"))),)), (line,))


@pytest.mark.parametrize(
    ("field", "said", "value"),
    [
        ("key", "bb", "Bb"),
        ("key", "nothing", None),
        ("record_key", "F#m", "F#m"),
        ("length", "3:40", "220"),
        ("length", "220", "220"),
        ("length", "long", None),
        ("tempo", "112.5", "112.5"),
        ("tempo", "900", None),
        ("meter", "6/8", "6/8"),
        ("meter", "six", None),
        ("title", "  Moth  at Noon ", "Moth at Noon"),
        ("artist", "The Kettles", "The Kettles"),
        ("notes", "", None),
        ("", "anything", None),
    ],
)
def test_a_word_counts_if_the_doubts_field_can_hold_it(field: str, said: str, value: str | None) -> None:
    answer = answer_to(Doubt("?", "?", asks_for=field), said)
    assert (answer and answer.corrections) == (value and (FieldCorrection(field, value),))


def test_german_words_for_keys_answer_a_german_list() -> None:
    doubt = Doubt("?", "?", (DoubtAnswer("yes"), DoubtAnswer("no")), asks_for="key")
    found = answer_to(doubt, "H", SetList(Show("Kiln"), (), notation=Notation.GERMAN))
    assert found is not None
    assert found.corrections == (FieldCorrection("key", "B"),)
    assert answer_to(doubt, "h") is None
    assert [answer_to(doubt, word) for word in ("ja", "NOPE")] == list(doubt.answers)


@pytest.mark.parametrize(
    ("field", "value", "name", "then"),
    [
        ("key", "Bb", "key", "Bb"),
        ("key", None, "key", "None"),
        ("record_key", "C", "record_key", "C"),
        ("length", "220", "length_s", "220"),
        ("length", None, "length_s", "None"),
        ("tempo", "112", "tempo_bpm", "112.0"),
        ("tempo", None, "tempo_bpm", "None"),
        ("meter", "6/8", "meter", "6/8"),
        ("meter", None, "meter", "None"),
        ("title", "Moths", "title", "Moths"),
        ("title", None, "title", "Moth"),
        ("artist", "The Kettles", "artist", "The Kettles"),
        ("notes", "loud", "notes", "loud; slow"),
        ("notes", None, "notes", "None"),
    ],
)
def test_an_answer_sets_its_field_of_its_song(field: str, value: str | None, name: str, then: str) -> None:
    doubt = Doubt("?", "?", song=1)
    after = corrected(one_song(doubt), [(doubt, DoubtAnswer("x", (FieldCorrection(field, value),)))])
    moth, weeds = after.show.sets[0].songs
    assert str(getattr(moth, name)) == then
    assert weeds == Song("Weeds")
    assert after.lines[0].doubts == ()


def listed(*lines: tuple[str, LineKind]) -> tuple[SetList, list[Doubt]]:
    """Return a list of one set with a doubt about each line, and the doubts."""
    doubts = [Doubt(f"about {text}", "?") for text, _ in lines]
    numbers = iter(range(1, 9))
    made = [
        ListLine(SourceLine(at), text, took, text, (doubt,), next(numbers) if took is LineKind.SONG else None)
        for at, ((text, took), doubt) in enumerate(zip(lines, doubts, strict=True), 1)
    ]
    songs = tuple(Song(text) for text, took in lines if took is LineKind.SONG)
    return SetList(Show("Pier", sets=(Set("One", songs=songs),)), tuple(made)), doubts


def answered(doubt: Doubt, took: LineKind, title: str = "", key: str | None = None) -> tuple[Doubt, DoubtAnswer]:
    return doubt, DoubtAnswer("x", (LineCorrection(took, title, key),))


def test_lines_become_songs_below_the_song_above_them() -> None:
    left, song = LineKind.LEFT, LineKind.SONG
    found, doubts = listed(("A", left), ("B", song), ("C", left), ("D", left), ("E", song))
    after = corrected(
        found, [answered(doubts[at], song, f"{name} song", "G") for at, name in ((0, "A"), (2, "C"), (3, "D"))]
    )
    assert [(one.title, str(one.key)) for one in after.show.sets[0].songs] == [
        ("A song", "G"),
        ("B", "None"),
        ("C song", "G"),
        ("D song", "G"),
        ("E", "None"),
    ]
    assert [line.took for line in after.lines] == [song] * 5


def test_a_song_that_is_a_note_goes_to_the_song_above_or_to_the_show() -> None:
    song = LineKind.SONG
    found, doubts = listed(("A", song), ("B", song), ("C", song))
    after = corrected(found, [answered(doubts[1], LineKind.NOTE), answered(doubts[2], LineKind.NOTE)])
    assert [(one.title, one.notes) for one in after.show.sets[0].songs] == [("A", "B; C")]
    first = corrected(found, [answered(doubts[0], LineKind.NOTE)])
    assert ([one.title for one in first.show.sets[0].songs], first.show.notes) == (["B", "C"], "A")
    aside = corrected(found, [answered(doubts[1], LineKind.ASIDE)])
    assert [(one.text, one.reason) for one in aside.set_aside] == [("B", "no song, as you said")]
    assert [one.title for one in aside.show.sets[0].songs] == ["A", "C"]


@pytest.mark.parametrize(
    ("title", "taken", "slug"),
    [
        ("Café Morgenrot", (), "cafe-morgenrot"),
        ("Moth", ("moth",), "moth-2"),
        ("Moth", ("moth", "moth-2"), "moth-3"),
        ("99", (), "song-99"),
        ("Yes!", (), "song-yes"),
        ("???", (), "song"),
    ],
)
def test_a_slug_is_a_title_in_plain_letters_once(title: str, taken: tuple[str, ...], slug: str) -> None:
    assert slug_of(title, taken) == slug
    assert shelf_path("pier.yaml").name == "pier.dropped.yaml"
