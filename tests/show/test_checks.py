"""Everything a show still lacks, the most important first, each with its place and what to write."""

import itertools

import pytest
from show.scenes import read, with_song

from companion.show.checks import WEIGHTS, check
from companion.show.missing_text import KINDS, in_short

WHOLE = """\
show: S
band: B
date: 2027-06-19
sets:
  - set: First
    starts: 20:00
    minutes: 45
    songs:
      - title: T
        key: C
        tempo: 112
        meter: 4/4
        length: 3:40
        starts_with: keys
        count_off: one bar
        ending: cold
        sound: organ
        chart: no
        known: 2
        hard: 3
        recording: a.ogg
        road_map: [{section: Intro, bars: 4, feature: yes}, {section: Outro, open: yes, watch: singer}]
"""


def missing(text: str) -> list[str]:
    return [one.what for one in check(read(text)).missing]


def test_a_complete_show_lacks_nothing() -> None:
    assert missing(WHOLE) == []
    assert check(read(WHOLE)).warnings == ()


@pytest.mark.parametrize(
    ("before", "after", "what", "told"),
    [
        ("        key: C\n", "", "key of a feature", "9:9: T has no key. Write: key: Bb"),
        ("starts_with: keys", "starts_with:", "starts_with", "9:9: T has no starts_with. Write: starts_with: keys"),
        ("        tempo: 112\n", "", "tempo", "9:9: T has no tempo. Write: tempo: 112"),
        ("        meter: 4/4\n", "", "meter", "9:9: T has no meter. Write: meter: 4/4"),
        ("        length: 3:40\n", "", "length", '9:9: T has no length. Write: length: "3:40"'),
        ("count_off: one bar", "count_off:", "count_off", "9:9: T has no count_off. Write: count_off: one bar, sticks"),
        ("        ending: cold\n", "", "ending", "9:9: T has no ending. Write: ending: cold"),
        ("        sound: organ\n", "", "sound of a feature", ("21:20: T, Intro: a feature without a sound. "
         "Write: sound: its name")),
        ("        chart: no\n", "", "chart", "9:9: T has no chart. Write: chart: no, or a file"),
        ("        known: 2\n", "", "known", "9:9: T has no known. Write: known: 0 to 5"),
        ("        hard: 3\n", "", "hard", "9:9: T has no hard. Write: hard: 0 to 5"),
        ("        recording: a.ogg\n", "", "recording", "9:9: T has no recording. Write: recording: a file"),
        (", watch: singer", "", "watch", ("22:61: T, Outro: open, but nobody is named to watch. "
         "Write: watch: singer")),
        ("bars: 4, ", "", "bars", "22:20: T, Intro: its bars are missing. Write: bars: 8"),
        ("band: B\n", "", "band", "1:1: the show has no band. Write: band: its name"),
        ("date: 2027-06-19\n", "", "date", "1:1: the show has no date. Write: date: its day, such as 2027-06-19"),
        ("    starts: 20:00\n", "", "starts", '5:5: the set First has no starts. Write: starts: "20:00"'),
        ("    minutes: 45\n", "", "minutes", "5:5: the set First has no minutes. Write: minutes: 45"),
    ],
)  # fmt: skip
def test_a_removed_value_is_the_only_one_missing(before: str, after: str, what: str, told: str) -> None:
    assert before in WHOLE
    (only,) = check(read(WHOLE.replace(before, after))).missing
    assert only.what == what
    assert only.weight == WEIGHTS[what][0]
    assert str(only) == f"show.yaml:{told}"


def test_a_title_alone_lacks_everything_in_the_order_of_the_weights() -> None:
    found = missing("show: S\nsongs: [T]")
    expected = ["key", "starts_with", "road_map", "tempo", "ending", "count_off", "date", "sound", "chart", "length",
                "minutes", "starts", "meter", "known", "hard", "recording", "band"]  # fmt: skip
    assert found == expected


def test_the_weights_fall_and_every_one_of_them_can_be_missing() -> None:
    weights = [weight for weight, _ in WEIGHTS.values()]
    assert all(heavier >= lighter for heavier, lighter in itertools.pairwise(weights))
    taken = set(missing("show: S\nsongs: [T]")) | {"key of a feature", "sound of a feature", "watch", "bars"}
    assert taken == set(WEIGHTS)


def test_keys_of_features_come_before_keys_and_songs_keep_their_order() -> None:
    text = "show: S\nsongs: [One, Two, {title: Three, road_map: Solo 8*}, {title: Four, starts_with: keys}]"
    keys = [(one.what, one.title) for one in check(read(text)).missing if "key" in one.what]
    assert keys == [("key of a feature", "Three"), ("key of a feature", "Four"), ("key", "One"), ("key", "Two")]


@pytest.mark.parametrize(
    ("road_map", "silent"),
    [
        ("Verse 8 @organ, Solo 8*", []),  # the section before has one
        ("Solo 8*, Verse 8 @organ", ["T, Solo: a feature without a sound"]),
        ("Solo 8* @lead, Verse 8", []),
        ("Intro 4*, Solo 8*", ["T, Intro: a feature without a sound", "T, Solo: a feature without a sound"]),
    ],
)
def test_a_feature_is_silent_where_no_section_up_to_it_has_a_sound(road_map: str, silent: list[str]) -> None:
    found = check(read(with_song(f"road_map: {road_map}"))).missing
    assert [one.fault.problem for one in found if one.what == "sound of a feature"] == silent
    assert not [one for one in found if one.what == "sound"]


def test_a_tacet_song_lacks_nothing() -> None:
    assert not [one for one in check(read(with_song("tacet: yes"))).missing if one.title == "T"]


def test_bars_that_the_chords_tell_are_not_missing() -> None:
    road_map = '[{section: Verse, chords: "1 | 4"}, {section: Verse}, {section: Chorus}]'
    missing = [
        one.fault.problem for one in check(read(with_song(f"road_map: {road_map}"))).missing if one.what == "bars"
    ]
    assert missing == ["T, Chorus: its bars are missing"]


@pytest.mark.parametrize(
    ("keys", "told"),
    [
        ("road_map: Intro, Verse 16", "4:15: T, Intro: its bars are missing. Write: Intro 8"),
        ("road_map: [{section: Intro}]", "4:16: T, Intro: its bars are missing. Write: bars: 8"),
        ("road_map: Outro open", "4:15: T, Outro: open, but nobody is named to watch. Write: Outro open watch singer"),
        ("road_map: Solo 8*", "4:15: T, Solo: a feature without a sound. Write: @ and the sound's name"),
    ],
)
def test_advice_on_a_road_map_uses_the_form_it_is_written_in(keys: str, told: str) -> None:
    assert f"show.yaml:{told}" in [str(one) for one in check(read(with_song(keys))).missing]


MANY = " (Song 0, Song 1, Song 2 and 51 more)"


def test_a_new_show_lists_the_ten_most_important_things() -> None:
    show = "show: S\nsongs:\n" + "".join(f"  - Song {number}\n" for number in range(54))
    missing = check(read(show)).missing
    lines, rest = in_short(missing)
    assert len(missing) > 600
    assert str(lines[0]) == f"show.yaml:3:5: 54 songs have no key{MANY}: {WEIGHTS['key'][1]}. Write: key: Bb"
    assert lines[1].problem == f"54 songs do not say who starts them{MANY}: {WEIGHTS['starts_with'][1]}"
    assert len(lines) == 10
    assert rest == len(missing) - 9 * 54 - 1  # nine kinds that each song lacks, and the date


def test_every_kind_of_missing_thing_has_its_line() -> None:
    assert set(KINDS) == set(WEIGHTS)


def test_a_show_that_lacks_two_things_has_two_lines() -> None:
    missing = check(read(WHOLE.replace("        tempo: 112\n", "").replace("        key: C\n", ""))).missing
    lines, rest = in_short(missing)
    assert (lines, rest) == ([one.fault for one in missing], 0)
