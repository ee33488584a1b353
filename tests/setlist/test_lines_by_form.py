"""Lines of a list by their own form: numbers and pictures in front, crosses, heads, breaks, dates, talk."""

import pytest

from companion.setlist import SetList
from companion.setlist.model import ListRow, SourceLine
from companion.setlist.parsing import line_kinds
from companion.setlist.parsing.list_head import could_name_list
from companion.setlist.parsing.not_played import is_crossed, names_taken_out, replaced, taken_out, without_cross
from companion.setlist.parsing.set_headings import read_heading, short_heading, times_in
from companion.setlist.parsing.short_headings import short_headings
from companion.setlist.parsing.text_lines import lines_of, unmarked, without_emoji
from companion.setlist.parsing.understand import take_in
from companion.setlist.parsing.words_of_events import ends_a_set, is_event, may_be_event, names_event
from companion.setlist.readers.text import pages_of_text


def listed(*lines: str) -> SetList:
    return take_in(pages_of_text("\n".join(lines), "list.txt"), "List")


def sets(found: SetList) -> list[list[str]]:
    return [[song.title for song in one.songs] for one in found.show.sets]


@pytest.mark.parametrize(
    ("text", "rest"),
    [
        ("3. Moth", ("Moth", 3, False, False)),
        ("- Moth", ("Moth", None, True, False)),
        ("a) Moth", ("Moth", None, False, True)),
        ("- [ ] 1. Moth", ("Moth", 1, True, False)),
        ("1. 2. Moth", ("2. Moth", 1, False, False)),
        ("a) b) Moth", ("b) Moth", None, False, True)),
        ("1. a) Moth", ("a) Moth", 1, False, False)),
        ("- - - - Moth", ("- Moth", None, True, False)),
        ("Moth", ("Moth", None, False, False)),
    ],
)
def test_numbers_letters_and_bullets_come_off_the_front(text: str, rest: tuple[str, int | None, bool, bool]) -> None:
    assert unmarked(text) == rest


@pytest.mark.parametrize(
    ("text", "parted"),
    [
        ("Moth", ("Moth", "")),
        ("🎹 Moth", ("Moth", "🎹")),
        ("Moth 🎹", ("Moth", "🎹")),
        ("🎹 Moth 🔥🔥", ("Moth", "🎹 🔥🔥")),
        ("🎹", ("🎹", "")),
        ("Mo🎹th", ("Mo🎹th", "")),
        ("Moth ♭", ("Moth ♭", "")),
        ("Moth é", ("Moth é", "")),
    ],
)
def test_pictures_come_off_both_ends(text: str, parted: tuple[str, str]) -> None:
    assert without_emoji(text) == parted


@pytest.mark.parametrize(
    ("text", "inside", "is_struck", "struck"),
    [
        ("~ Moth ~", "Moth", False, ""),
        ("*** Moth ***", "Moth", False, ""),
        ("~~Moth~~", "Moth", True, "Moth"),
        ("~~Moth~~ (Bo is ill)", "Moth (Bo is ill)", True, "Moth"),
        ("~~Moth~~ no time", "Moth no time", True, "Moth"),
        ("~~Moth~~ Weeds", "Weeds", False, "Moth"),
        ("Weeds ~~slow~~", "Weeds", False, "slow"),
        ("Weeds ~~slow~~ fast", "Weeds fast", False, "slow"),
        ("~~2. Moth~~", "Moth", True, "2. Moth"),
        ("2. ~~Moth~~", "Moth", True, "Moth"),
    ],
)
def test_a_struck_or_framed_line_keeps_its_words(text: str, inside: str, struck: str, *, is_struck: bool) -> None:
    (line,) = lines_of([ListRow(SourceLine(1), (text,), text)])
    assert (line.text, line.is_struck, line.struck) == (inside, is_struck, struck)
    assert line.is_framed is (text[0] in "~*" and text[:2] != "~~")


@pytest.mark.parametrize(
    ("text", "out"),
    [
        ("Gasworks Corner - A - DROPPED", ("Gasworks Corner - A", "DROPPED")),
        ("Moth (not tonight)", ("Moth", "not tonight")),
        ("Moth, cut!", ("Moth", "cut")),
        ("Moth CUT", ("Moth", "CUT")),
        ("MOTH CUT", None),
        ("MOTH - CUT", ("MOTH", "CUT")),
        ("Way Out", None),
        ("Cut", None),
        ("Moth: skipped this time", ("Moth", "skipped this time")),
    ],
)
def test_words_behind_a_song_take_it_out(text: str, out: tuple[str, str] | None) -> None:
    assert taken_out(text) == out


def test_words_before_songs_take_them_out_and_one_song_replaces_another() -> None:
    assert names_taken_out("Not tonight: Moth, Weeds") == "Moth, Weeds"
    assert names_taken_out("Tonight: Moth") is None
    assert replaced("Moth (D) -> REPLACED by Weeds (A)") == ("Moth (D)", "Weeds (A)")
    assert replaced("Moth replaced by Weeds" + " " * 200 + "x") is None
    assert replaced("Moth and Weeds") is None


@pytest.mark.parametrize(
    ("text", "emoji", "is_out"),
    [("x Moth", "", True), ("✗ Moth", "", True), ("xMoth", "", False), ("Moth", "❌", True), ("Moth", "🎹", False)],
)
def test_a_cross_stands_before_a_line(text: str, emoji: str, *, is_out: bool) -> None:
    assert is_crossed(text, emoji) is is_out
    assert without_cross("x Moth") == "Moth"


SONGS = ("Postbox Tango in G", "Harbour Lamps in C", "Tram Home in D", "Slow Ferry in Em")


@pytest.mark.parametrize(
    ("lines", "played"),
    [
        (("x Postbox Tango in G", *SONGS[1:]), ["Harbour Lamps", "Tram Home", "Slow Ferry"]),
        (("X Postbox Tango in G", *SONGS[1:]), ["X Postbox Tango", "Harbour Lamps", "Tram Home", "Slow Ferry"]),
        (("X Postbox Tango in G", "X Harbour Lamps in C", *SONGS[2:]), ["Tram Home", "Slow Ferry"]),
        (tuple(f"x {song}" for song in SONGS[:3]) + SONGS[3:], None),
        (
            (*SONGS[:3], "Slow Ferry in Em -> replaced by Wet Paint in A"),
            ["Postbox Tango", "Harbour Lamps", "Tram Home", "Wet Paint"],
        ),
        ((*SONGS[:3], "Slow Ferry in Em - CUT"), ["Postbox Tango", "Harbour Lamps", "Tram Home"]),
    ],
    ids=["a cross", "an X that may be a word", "two crosses", "most are crossed", "replaced", "cut"],
)
def test_lines_that_say_so_are_not_played(lines: tuple[str, ...], played: list[str] | None) -> None:
    found = listed(*lines)
    if played is None:
        assert not found.set_aside, "a cross before most lines means something else"
        assert len(sets(found)[0]) == len(SONGS)
    else:
        assert sets(found) == [played]


def test_a_line_that_is_taken_out_asks_whether_it_is_played() -> None:
    (aside,) = [line for line in listed(*SONGS[:3], "Slow Ferry in Em - CUT").lines if line.doubts]
    (doubt,) = aside.doubts
    assert (str(doubt), doubt.question) == ("CUT: not played", "Is 'Slow Ferry' played?")
    assert [answer.word for answer in doubt.answers] == ["no", "yes"]
    (song,) = doubt.answers[1].corrections
    assert (getattr(song, "title", None), getattr(song, "key", None)) == ("Slow Ferry", "Em")


@pytest.mark.parametrize(
    ("text", "could"),
    [
        ("Pier Street Summer Ball", True),
        ("Pier", False),
        ("one two three four five six seven eight", True),
        ("one two three four five six seven eight nine", False),
        ("Hello everybody!", False),
        ("Songs for you:", False),
        ("- Pier Street", False),
        ("1. Pier Street", False),
        ("Pier Street Bb", False),
        ("Pier Street (C)", False),
        ("Pier Street C", True),
        ("Pier Street 3:20", False),
        ("Pier Street 19 June 2027", True),
    ],
)
def test_a_list_is_named_by_a_few_words(text: str, *, could: bool) -> None:
    assert could_name_list(text) is could


@pytest.mark.parametrize(
    ("head", "below"),
    [
        (("Pier Street Ball",), ("Set 1", *SONGS)),
        (("Pier Street Ball", "19 June 2027"), ("Set 1", *SONGS)),
        (("Pier Street Ball", ""), SONGS),
        (("Set list for the ball",), SONGS),
        (("Pier Street Ball", "Set list"), ("", *SONGS)),
    ],
    ids=["above a set", "with its date", "an empty line below", "says so", "two lines"],
)
def test_a_head_names_the_list_and_is_no_song(head: tuple[str, ...], below: tuple[str, ...]) -> None:
    assert sets(listed(*head, *below)) == [["Postbox Tango", "Harbour Lamps", "Tram Home", "Slow Ferry"]]


def test_where_every_line_has_an_empty_one_below_the_first_is_a_song_too() -> None:
    lines = [
        line for song in ("Pier Street Ball", "Postbox Tango", "Harbour Lamps", "Tram Home") for line in (song, "")
    ]
    assert sets(listed(*lines)) == [["Pier Street Ball", "Postbox Tango", "Harbour Lamps", "Tram Home"]]


@pytest.mark.parametrize(
    ("text", "form"),
    [
        ("II", ("roman", 2)),
        ("VI.", ("roman", 6)),
        ("2", ("number", 2)),
        ("2)", ("number", 2)),
        ("7", None),
        ("S2", ("letter", 2)),
        ("pt. 3", ("letter", 3)),
        ("2nd", ("ordinal", 2)),
        ("the second one", ("word", 2)),
        ("fifth", None),
        ("Moth", None),
    ],
)
def test_a_heading_may_be_hardly_more_than_a_number(text: str, form: tuple[str, int] | None) -> None:
    assert short_heading(text) == form


@pytest.mark.parametrize(
    ("texts", "sets_before", "found"),
    [
        (["1st", "Moth", "2nd", "Weeds"], 0, {0: True, 2: True}),
        (["Moth", "2nd", "Weeds"], 1, {1: True}),
        (["Moth", "2nd", "Weeds"], 0, {1: False}),
        (["Moth", "1st", "Weeds"], 0, {1: False}),
        (["Moth", "3rd", "Weeds", "4th", "Tram"], 2, {1: False, 3: False}),
        (["2nd", "Moth", "1st", "Weeds"], 0, {0: False, 2: False}),
        (["Moth", "2nd"], 1, {}),
        (["Moth", "2nd", None], 1, {}),
        (["1", "a", "b", "c", "2", "d", "e", "f"], 0, {0: True, 4: True}),
        (["1", "a", "b", "2", "d", "e", "f"], 0, {}),
        (["1", "a", "2", "b"], 0, {}),
        (["a", "2", "b", "c", "d"], 1, {}),
    ],
)
def test_short_headings_confirm_each_other(texts: list[str | None], sets_before: int, found: dict[int, bool]) -> None:
    assert {at: sure for at, (_, sure) in short_headings(texts, sets_before).items()} == found


@pytest.mark.parametrize(
    ("text", "name", "starts_min", "minutes", "also"),
    [
        ("Set 1", "First", None, None, ""),
        ("SECOND SET (21:15, 45 min)", "Second", 1275, 45, ""),
        ("Set 7", "Set 7", None, None, ""),
        ("Set A", "Set A", None, None, ""),
        ("20:00 SET 1", "First", 1200, None, ""),
        ("20:00 - 20:45 Set 1", "First", 1200, 45, ""),
        ("Set 2 23:30-0:15", "Second", 1410, 45, ""),
        ("Set 2 (9-9.45pm)", "Second", 1260, 45, ""),
        ("Encore", "Encore", None, None, ""),
        ("Encore 2", "Encore 2", None, None, ""),
        ("Encore for Nobody", None, None, None, ""),
        ("Second Set of Keys", None, None, None, ""),
        ("Dance set 60 min", "Dance set", None, 60, ""),
        ("Set 1 (600 min)", "First", None, 600, ""),
        ("Set 1 (601 min)", "First", None, None, ""),
        ("Set 1 - all in costume", "First", None, None, "all in costume"),
        ("and then the second set", "Second", None, None, ""),
        ("", None, None, None, ""),
        ("Moth", None, None, None, ""),
    ],
)
def test_a_heading_says_its_name_start_and_length(
    text: str, name: str | None, starts_min: int | None, minutes: int | None, also: str
) -> None:
    found = read_heading(text)
    assert (found and (found.name, found.starts_min, found.minutes, found.also)) == (
        name and (name, starts_min, minutes, also)
    )


@pytest.mark.parametrize(
    ("text", "has_times"),
    [("COCKTAIL HOUR (6-7PM)", True), ("Moth 6-7", False), ("Moth 45 min", True), ("Moth", False)],
)
def test_times_beside_words_are_seen(text: str, *, has_times: bool) -> None:
    assert times_in(text) is has_times


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        ("-----", {"rule", "line"}),
        ("* * *", {"rule", "line"}),
        ("--", {"rule"}),
        ("Page 2 of 3", {"rule"}),
        ("yes!", {"assent"}),
        ("Yes Sir", set()),
        ("Total 45:12", {"total"}),
        ("23 songs", {"total"}),
        ("Total Eclipse", set()),
        ("* = organ solo", {"mark"}),
        ("✅ = in, ❌ = out", {"legend"}),
        ("✅ = in, Moth", set()),
        ("Band: The Tidewater Nine", {"about"}),
        ("Doors 7; load in 16:00", {"about"}),
        ("19 June 2027", {"date", "title"}),
        ("Wednesday, 16 June 2027", {"date", "title"}),
        ("Moth at Noon on 16 June 2027", {"title"}),
        ("Our set list", {"title"}),
        ("Hello Bo,", {"chat"}),
        ("cheers, Bo", {"chat", "farewell"}),
        ("I will bring the big piano and both of the pedals.", {"chat", "sentence"}),
        ("I will bring the big piano too.", {"sentence"}),
        ("I will bring it.", {"sentence"}),
        ("I bring it.", set()),
        ("Bring the Big Piano.", set()),
        ("Moth", set()),
    ],
)
def test_a_line_is_of_these_kinds_and_no_others(text: str, kinds: set[str]) -> None:
    found = {
        "rule": line_kinds.is_rule(text),
        "line": line_kinds.is_line(text),
        "assent": line_kinds.is_assent(text),
        "total": line_kinds.is_total(text),
        "mark": line_kinds.mark_meaning(text) is not None,
        "legend": line_kinds.is_legend(text),
        "about": line_kinds.about(text) is not None,
        "date": line_kinds.is_date(text),
        "title": line_kinds.is_title_of_list(text),
        "chat": line_kinds.is_chat(text),
        "farewell": line_kinds.is_farewell(text),
        "sentence": line_kinds.is_sentence(text),
    }
    assert {kind for kind, holds in found.items() if holds} == kinds


def test_facts_about_the_show_are_read_with_their_word() -> None:
    assert line_kinds.about("Band: The Tidewater Nine") == ("band", "The Tidewater Nine")
    assert line_kinds.about("Doors 7pm") == ("schedule", "Doors 7pm")
    assert line_kinds.about("Doors 7pm, " * 11) is None, "no day has so long a course"
    assert line_kinds.mark_meaning("(** means segue)") == ("**", "segue")


def test_a_line_of_dashes_between_songs_ends_a_set_in_doubt_unless_headings_do() -> None:
    lines = ("Postbox Tango", "Harbour Lamps", "-----", "Tram Home", "Slow Ferry")
    found = listed(*lines)
    assert sets(found) == [["Postbox Tango", "Harbour Lamps"], ["Tram Home", "Slow Ferry"]]
    assert [str(doubt) for line in found.lines for doubt in line.doubts] == [
        "a line between two songs: read as the end of a set"
    ]
    headed = listed("Set 1", *lines, "Set 2", "Wet Paint")
    assert sets(headed) == [["Postbox Tango", "Harbour Lamps", "Tram Home", "Slow Ferry"], ["Wet Paint"]]
    assert sets(listed("-----", "Postbox Tango", "Harbour Lamps", "-----")) == [["Postbox Tango", "Harbour Lamps"]]
    broken = listed("Postbox Tango", "-----", "Harbour Lamps", "BREAK", "Tram Home")
    assert sets(broken) == [["Postbox Tango", "Harbour Lamps"], ["Tram Home"]], "a break that says so parts the sets"


@pytest.mark.parametrize(
    ("above", "heading", "sizes"),
    [
        (4, "Encore", [4, 2]),
        (3, "Encore", [2]),
        (2, "Encore", [2]),
        (4, "Set 2", [4, 2]),
        (3, "Set 2", [3, 2]),
        (2, "Set 2", [2]),
        (4, "Set 1", [2]),
    ],
)
def test_songs_above_the_first_heading_are_a_set_if_it_names_a_later_one(
    above: int, heading: str, sizes: list[int]
) -> None:
    """Encores and spares need most of the list above them, a second set three lines; fewer may name the list."""
    titles = ("Postbox Tango", "Harbour Lamps", "Tram Home", "Slow Ferry")[:above]
    found = listed(*titles, heading, "Wet Paint", "Moth at Noon")
    assert [len(one) for one in sets(found)] == sizes


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        ("Raffle", {"event", "names", "pause", "may be"}),
        ("Speeches", {"event", "names", "may be"}),
        ("the big summer raffle", {"names", "pause"}),
        ("the big summer raffle tonight", {"pause"}),
        ("Coffee", {"may be"}),
        ("Moth at Noon", set()),
    ],
)
def test_words_for_an_event_may_stand_alone_or_among_a_few_others(text: str, kinds: set[str]) -> None:
    found = {"event": is_event, "names": names_event, "pause": ends_a_set, "may be": may_be_event}
    assert {kind for kind, holds in found.items() if holds(text)} == kinds


@pytest.mark.parametrize("line", ["3 sets, 2 breaks, soup at ten", "2 Sätze, 1 Pause, Essen gibt's", "3 sets + pie"])
def test_a_number_of_sets_is_no_number_of_a_song(line: str) -> None:
    found = listed(
        "Foundry Revue", line, "", "1st set", "1 Moth . E", "2 Weeds . A", "2nd set", "1 Kite . D", "2 Owl . G"
    )
    assert sets(found) == [["Moth", "Weeds"], ["Kite", "Owl"]]


def test_a_sentence_that_says_in_capitals_that_a_song_above_is_out_takes_it_out() -> None:
    found = listed("1. Moth Parade - E", "2. Weeds - A", "3. Kite - D", "4. Owl - G", "", "ha ok. Moth Parade is OUT")
    assert sets(found) == [["Weeds", "Kite", "Owl"]]
