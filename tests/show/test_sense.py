"""What is allowed in a show and probably not meant: each warning, and what is no reason for one."""

import pytest
from show.scenes import read, with_song

from companion.show.checks import check


def warnings(text: str) -> list[str]:
    return [str(warning).removeprefix("show.yaml:") for warning in check(read(text)).warnings]


def section(keys: str, meter: str = "4/4") -> str:
    return with_song(f"meter: {meter}\nroad_map:\n  - {{section: A, {keys}}}")


ONE_TWO = "show: S\nsongs:\n  - {{title: One, segue: {0}}}\n  - Two\n  - Three\n"
SHORT = "1 of unknown length"
END = "show: S\nsets:\n  - songs: [{title: One, segue: Two}]\n  - songs: [Two]\n"


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (ONE_TWO.format("Two"), []),
        (ONE_TWO.format("two"), []),
        (ONE_TWO.format("Three"), [('3:25: the segue leads to "Three", but "Two" follows. '
                                   "Write: Three as the next song, or no segue")]),
        (ONE_TWO.format("Twoo"), ['3:25: the segue leads to "Twoo", but "Two" follows. Write: Two']),
        (ONE_TWO.format("Zebra"), [('3:25: the segue leads to "Zebra", but "Two" follows. '
                                   "Write: the title of the next song, or no segue")]),
        (END, [('3:33: the segue leads to "Two", but the end of the set follows. '
               "Write: Two as the next song, or no segue")]),
    ],
)  # fmt: skip
def test_a_segue_leads_into_the_song_that_follows(text: str, told: list[str]) -> None:
    assert warnings(text) == told


def test_a_repeated_title_is_reported_at_the_second_song() -> None:
    (told,) = warnings("show: S\nsets:\n  - songs: [One, Two]\n  - songs: [ONE]\n")
    assert told.startswith('4:13: there is another song "ONE" in this show. Write: ')


@pytest.mark.parametrize(
    ("set_keys", "told"),
    [
        ("minutes: 8, songs: [{title: A, length: 4:00}, {title: B, length: 4:00}]", []),
        ("minutes: 8, songs: [{title: A, length: 4:00}, {title: B, length: 4:01}]",
         ['2:18: the songs of "Set 1" take 8:01, and 8 minutes are planned. Write: minutes: 9, or fewer songs']),
        ("minutes: 8, songs: [{title: A, length: 9:00}, B]",
         [(f'2:18: the songs of "Set 1" take 9:00, with {SHORT}, and 8 minutes are planned. '
           "Write: minutes: 9, or fewer songs")]),
        ("minutes: 8, songs: [{title: A, length: 4:00}, B]", []),
        ("songs: [{title: A, length: 9:00}]", []),
    ],
)  # fmt: skip
def test_a_set_longer_than_planned_is_reported(set_keys: str, told: list[str]) -> None:
    assert warnings(f"show: S\nsets: [{{{set_keys}}}]") == told


@pytest.mark.parametrize(
    ("first", "second", "is_told"),
    [
        ("starts: 22:30, minutes: 80", "starts: 23:45", True),
        ("starts: 22:30, minutes: 75", "starts: 23:45", False),
        ("starts: 23:30, minutes: 45", "starts: 00:10", True),
        ("starts: 23:30, minutes: 40", "starts: 00:10", False),
        ("starts: 21:00, songs: [{title: A, length: 9:01}]", "starts: 21:09", True),
        ("starts: 21:00, minutes: 45", "starts: 20:00", False),
        ("minutes: 45", "starts: 20:00", False),
    ],
)
def test_a_set_that_runs_into_the_next_ones_start_is_reported(first: str, second: str, *, is_told: bool) -> None:
    sets = f"{{set: Third, {first}}}, {{set: Encore, {second}}}"
    found = [one for one in warnings(f"show: S\nsets: [{sets}]") if "runs until" in one]
    assert bool(found) is is_told
    if first == "starts: 22:30, minutes: 80":
        says = '"Third" runs until 23:50, and "Encore" starts at 23:45'
        assert f"{says}. Write: starts: 23:50, or fewer minutes before it" in found[0]


@pytest.mark.parametrize("hits", ['"4, 4&"', '"1 & 3"', '"bar 8 4, 4& | bar 16 1"', '"2e, 2a"'])
def test_hits_are_rhythm(hits: str) -> None:
    assert warnings(section(f"hits: {hits}")) == []


def test_words_in_hits_are_reported_where_they_begin() -> None:
    (told,) = warnings(section('hits: "4, 4& with drums"'))
    assert told.startswith('6:35: "with drums" is not a rhythm. Write: ')
    assert "cue" in told


@pytest.mark.parametrize(
    ("keys", "told"),
    [
        ('bars: 4, chords: "1 | 5/7 | 6- | 4"', []),
        ('chords: "1 | 5/7 | 6- | 4"', []),  # bars not known: nothing to compare
        ('bars: 8, chords: "(1 | 5/7 | 6- | 4) x2"', []),
        ('bars: 8, chords: "1 | 5/7 | 6- | 4"', [("6:39: the chords of A have 4 bars and are played 2 times, to fill "
                                                 "its 8. Write: (1 | 5/7 | 6- | 4) x2 if that is right")]),
        ('bars: 8, chords: "(1 | 4)"', [("6:39: the chords of A have 4 bars and are played 2 times, to fill its 8. "
                                         "Write: bars: 4, or the other chords")]),
        ('bars: 8, chords: "1 | 5/7 | 6-"', [("6:39: the chords of A have 3 bars, 5 fewer than its 8. "
                                             "Write: bars: 3, or the other chords")]),
        ('bars: 2, chords: "C | G | C"', [("6:39: the chords of A have 3 bars, 1 more than its 2. "
                                          "Write: bars: 3, or the other chords")]),
    ],
)  # fmt: skip
def test_chords_and_bars_agree_or_the_difference_is_reported(keys: str, told: list[str]) -> None:
    assert warnings(section(keys)) == told


def test_an_unreadable_chord_is_reported_at_its_character() -> None:
    found = check(read(section('chords: "C | Xyz | G"')))
    ((_path, line, column, problem, write),) = found.faults
    assert (line, column, bool(write)) == (6, 35, True)
    assert "Xyz" in problem
    assert not {warning for warning in found.warnings if "Xyz" in warning.problem}  # reported once


def test_numbered_names_in_the_margin_are_no_bars() -> None:
    (told,) = warnings(with_song("road_map: Verse 1, Chorus 8, Verse 2, Chorus 8"))
    assert told == (
        "4:15: Verse 1 and Verse 2 are read as one bar and two bars of Verse. "
        "Write: Verse 1 16 for a first Verse of 16 bars"
    )
    assert warnings(with_song("road_map: Verse 1 16, Chorus 8, Verse 2 16, Chorus 8")) == []
    assert warnings(with_song("road_map: Tag 1, Verse 16")) == []


def test_a_missing_file_is_reported_where_the_disk_can_be_read() -> None:
    shown = read(with_song("chart: a.pdf\nrecording: b.ogg\nartist: X"))
    asked: list[str] = []

    def exists(path: str) -> bool:
        asked.append(path)
        return path == "b.ogg"

    (told,) = check(shown, exists).warnings
    assert str(told) == 'show.yaml:4:12: there is no file "a.pdf". Write: the path of one, or yes or no'
    assert asked == ["a.pdf", "b.ogg"]
    assert check(shown).warnings == ()
    linked = read(with_song("chart: yes\nrecording: https://example.org/b.ogg"))
    assert check(linked, lambda _path: False).warnings == ()


def test_warnings_from_reading_are_included() -> None:
    (told,) = warnings(with_song("key: F #minor"))
    assert told.startswith('4:12: "#minor" is read as a comment')


AS_SECTION = '"{0}" is read as a section, because of the comma before it. Write: no comma before {0}'


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("Outro 8 open, watch singer", AS_SECTION.format("watch singer")),
        ("Chorus 8, in E", AS_SECTION.format("in E")),
        ("Brass hits 4, 4&", AS_SECTION.format("4&")),
        ('"Intro: 4"', '"Intro:" is read as the name, with its colon. Write: Intro'),
        ('"Intro 4: piano"', '"Intro 4: piano" is read as the name, with its colon. Write: Intro 4 piano'),
        ("Chorus 2x", '"Chorus 2x" is read as the name. Write: Chorus x2, to play it 2 times'),
        (
            "Intro 8 | 1 | 4",
            ("the chords of Intro have 2 bars and are played 4 times, to fill its 8. "
             "Write: | (1 | 4) x4 if that is right"),
        ),
        ("Intro; Verse", '"Intro; Verse" is read as one section\'s name. Write: Intro, Verse'),
    ],
)  # fmt: skip
def test_a_slip_in_shorthand_is_doubted(line: str, told: str) -> None:
    read_show = read(with_song(f"road_map: {line}"))
    (warning,) = check(read_show).warnings
    assert str(warning).split(": ", 1)[1] == told


def test_a_hash_that_cuts_off_a_section_in_a_list_is_reported() -> None:
    told = [str(one) for one in read(with_song("road_map:\n  - Intro 4\n  - Verse 3 | 1 | #4o | 5")).warnings]
    assert len(told) == 1
    assert told[0].startswith('show.yaml:6:23: "#4o | 5" is read as a comment')
