"""The road map: the short form of the margin and the long one read to the same sections."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from show.scenes import faults, sections, with_song

from companion.show import Section, SoundCall
from companion.show.roadmap import MAX_SECTIONS
from companion.show.show_text import short_road_map


def test_the_line_of_the_design_page() -> None:
    line = "Intro 4*, Verse 16, Chorus 8 @strings, Solo 16 x2* @lead, Chorus 8, Outro open"
    assert sections(line) == (
        Section("Intro", 4, feature="feature"),
        Section("Verse", 16),
        Section("Chorus", 8, sounds=(SoundCall("strings"),)),
        Section("Solo", 16, 2, feature="feature", sounds=(SoundCall("lead"),)),
        Section("Chorus", 8),
        Section("Outro", open=True),
    )


TABLE = [
    ("Verse", Section("Verse")),
    ("Verse 16", Section("Verse", 16)),
    ("Verse 2 16", Section("Verse 2", 16)),
    ("Verse 016", Section("Verse", 16)),
    ("Pre-chorus 8", Section("Pre-chorus", 8)),
    ("Vamp 2 x2 open", Section("Vamp", 2, 2, open=True)),
    ("Vamp 2x2", Section("Vamp", 2, 2)),
    ("Vamp 2 ×2", Section("Vamp", 2, 2)),
    ("Vamp x2 2", Section("Vamp", 2, 2)),
    ("Vamp open 8", Section("Vamp", 8, open=True)),
    ("Solo*", Section("Solo", feature="feature")),
    ("Solo *", Section("Solo", feature="feature")),
    ("Solo 16* x2", Section("Solo", 16, 2, feature="feature")),
    ("Bridge 8 tacet", Section("Bridge", 8, tacet=True)),
    ("Open", Section("Open")),  # a lone word is the name
    ("Open 8 open", Section("Open", 8, open=True)),
    ("16", Section("16")),
    ("Solo 8 @synth lead", Section("Solo", 8, sounds=(SoundCall("synth lead"),))),
    ("Solo 8@lead", Section("Solo", 8, sounds=(SoundCall("lead"),))),
    ("Solo 8 @upper=solo lead", Section("Solo", 8, sounds=(SoundCall("solo lead", "upper"),))),
    (
        "Solo 8 @upper=solo lead @lower=grand piano",
        Section("Solo", 8, sounds=(SoundCall("solo lead", "upper"), SoundCall("grand piano", "lower"))),
    ),
]


@pytest.mark.parametrize(("short", "section"), TABLE)
@pytest.mark.parametrize("quoted", ["{}", '"{}"', "'{}'", "\n      {}", "|\n      {}", "\n      - {}"])
def test_a_section_in_short_form(short: str, section: Section, quoted: str) -> None:
    assert sections(quoted.format(short)) == (section,)


def test_both_forms_can_stand_in_one_list() -> None:
    assert sections("\n      - Intro 4*\n      - {section: Verse, bars: 8}\n      - Chorus 8, Outro open") == (
        Section("Intro", 4, feature="feature"),
        Section("Verse", 8),
        Section("Chorus", 8),
        Section("Outro", open=True),
    )


def test_the_long_form_says_what_no_line_can() -> None:
    written = (
        "[{section: Solo, bars: 16, passes: 2, open: yes, feature: solo, sound: {upper: lead}, hits: '4, 4&', "
        "change: when hands lift, chords: '1 | 5', cue: one more, watch: drummer, key: C, first_words: and then, "
        "tacet: no, ending: yes}]"
    )
    (section,) = sections(written)
    assert section.sounds == (SoundCall("lead", "upper"),)
    assert (section.feature, section.watch, section.ending) == ("solo", "drummer", True)
    assert short_road_map((section,)) == ""


def test_a_feature_is_yes_or_what_is_played() -> None:
    written = (
        "[{section: A, feature: yes}, {section: B, feature: no}, {section: C, feature: riff}, {section: D, feature: }]"
    )
    assert [section.feature for section in sections(written)] == ["feature", None, "riff", None]


NO_MORE = "Write: only xN, open, tacet, * and @sound after the bars"


# Columns are of the character at fault; the road map begins in column 15.
@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("Intro 4, Verse 0", "4:30: 0 is out of range: whole bars, 1 to 400. Write: 1"),
        ("Intro 4, Verse 16 x99", "4:34: 99 is out of range: passes, 1 to 32. Write: 32"),
        ("Intro 4, Verse 16x99", "4:33: 99 is out of range: passes, 1 to 32. Write: 32"),
        ("Intro 4, Chorus 8 opne", '4:33: "opne" is not understood after "8". Write: open'),
        ("Verse 8 bars", f'4:23: "bars" is not understood after "8". {NO_MORE}'),
        ("Solo *loud", f'4:21: "loud" is not understood after "*". {NO_MORE}'),
        ("Intro 4,, Verse 8", "4:23: a section is missing before this comma. Write: a section's name there"),
        (", Verse 8", "4:15: a section is missing before this comma. Write: a section's name there"),
        ("Intro 4, * @lead", "4:24: a section has no name. Write: its name first, as in Verse 16"),
        ("Intro 4 x2 x3", "4:24: passes is in this section twice. Write: it once"),
        ("Intro 4 * open*", "4:23: feature is in this section twice. Write: it once"),
        ("Intro 4 @", "4:24: there is nothing after the @. Write: @sound, or @keyboard=sound"),
        ("Intro 4 @upper=", "4:30: there is nothing after the @. Write: @sound, or @keyboard=sound"),
        ("Intro 4 @=lead", "4:25: there is nothing after the @. Write: @sound, or @keyboard=sound"),
        ("Intro 4 @lead @upper=organ", "4:24: with several sounds, each needs its keyboard. Write: @keyboard=lead"),
        ("Intro 4 @up=a @up=b", '4:30: "up" already has a sound. Write: one sound for each keyboard'),
    ],
)  # fmt: skip
def test_a_fault_points_into_the_line(line: str, told: str) -> None:
    text = line if line[0] not in ",*" else f"'{line}'"
    if text != line:
        told = f"4:{int(told.split(':')[1]) + 1}:{told.split(':', 2)[2]}"
    assert faults(with_song(f"road_map: {text}")) == [told]


@pytest.mark.parametrize(
    ("written", "place"),
    [
        ("\n      Intro 4,\n      Verse 0", "6:17"),  # over two lines
        (">\n      Intro 4,\n      Verse 0", "6:17"),
        ('"Intro \\u0034, Verse 0"', "4:36"),  # an escape is longer than what it stands for
        ("'Intro''s 4, Verse 0'", "4:34"),
        ("\n      - Intro 4\n      - Verse 0", "6:19"),
        ("\n      - Intro 4\n      - {section: Verse, bars: 0}", "6:36"),
    ],
)
def test_a_fault_points_into_the_line_however_it_is_written(written: str, place: str) -> None:
    (fault,) = faults(with_song(f"road_map: {written}"))
    assert fault.startswith(f"{place}: 0 is out of range")


def test_a_comma_at_the_end_is_forgiven() -> None:
    assert sections("Intro 4, Verse 8,") == (Section("Intro", 4), Section("Verse", 8))


def test_a_road_map_of_keys_is_told() -> None:
    assert faults(with_song("road_map: {Intro: 4}")) == [
        "4:15: a road map is a list of sections, or one line of them. Write: a dash before each section"
    ]


def test_a_map_with_more_sections_than_any_song_is_refused() -> None:
    line = ", ".join(["A 1"] * (MAX_SECTIONS + 1))
    assert faults(with_song(f"road_map: {line}")) == [
        "4:15: 401 sections, at most 400. Write: x2 for a section played twice"
    ]
    (fault,) = faults(with_song(f"road_map: {'A 1,' * 3000}"))
    assert fault.startswith("4:15: a road map of 12000 characters, at most 8000")


@given(st.text(st.sampled_from("Vx12 *,@=open×tacet\t'"), max_size=40))
def test_any_line_is_read_or_told_within_itself(line: str) -> None:
    quoted = "'" + line.replace("'", "''") + "'"
    for fault in faults(with_song(f"road_map: {quoted}")):
        row, column, _ = fault.split(":", 2)
        assert int(row) == 4
        assert 15 <= int(column) <= 16 + len(quoted)


@given(
    st.lists(
        st.builds(
            Section,
            st.sampled_from(["Intro", "Verse B", "Pre-chorus", "A"]),
            st.none() | st.integers(1, 400),
            st.integers(1, 32),
            st.booleans(),
            st.sampled_from([None, "feature"]),
            st.sampled_from(
                [(), (SoundCall("lead"),), (SoundCall("lead", "upper"), SoundCall("grand piano", "lower"))]
            ),
            tacet=st.booleans(),
        ),
        min_size=1,
        max_size=6,
    )
)
def test_what_the_margin_can_say_is_written_short_and_read_back(written: list[Section]) -> None:
    line = short_road_map(tuple(written))
    assert line
    assert sections(f'"{line}"') == tuple(written)
