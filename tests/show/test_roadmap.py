"""The road map: shorthand and the long form read to the same sections."""

import json
from pathlib import Path
from textwrap import indent

import pytest
from hypothesis import given
from hypothesis import strategies as st
from show.scenes import faults, sections, with_song

from companion.changes import Change
from companion.music import Key, Mode, Pitch
from companion.show import Section, SoundCall
from companion.show.road_map_text import short_road_map
from companion.show.roadmap import MAX_SECTIONS
from companion.show.shorthand import ONLY
from companion.show.shorthand_lines import parts_of


def test_a_line_with_every_sign_is_read() -> None:
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
    ("open (half)", Section("open (half)")),  # a sign can begin a name
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


EVERYTHING = Section(
    "Solo",
    bars=16,
    passes=2,
    open=True,
    feature="organ alone",
    sounds=(SoundCall("lead", "upper"), SoundCall("organ", "lower")),
    change=Change.WHEN_HANDS_LIFT,
    chords="1 | 5\n4 | 1",
    hits="4, 4&",
    cue="two fingers, then out",
    watch="the drummer",
    key=Key(Pitch("E")),
    first_words="and then",
    tacet=True,
    ending=True,
)
SAID = (
    "Solo 16 x2 open tacet ending *organ alone in E when hands lift watch the drummer hits 4, 4& "
    "(two fingers, then out) words and then @upper=lead @lower=organ | 1 | 5\n| 4 | 1"
)


def test_both_forms_can_hold_everything_that_a_section_has() -> None:
    written = (
        "[{section: Solo, bars: 16, passes: 2, open: yes, feature: organ alone, sound: {upper: lead, lower: organ}, "
        "hits: '4, 4&', change: when hands lift, chords: \"1 | 5\\n4 | 1\", cue: 'two fingers, then out', "
        "watch: the drummer, key: E, first_words: and then, tacet: yes, ending: yes}]"
    )
    assert sections(written) == (EVERYTHING,)
    assert all(getattr(EVERYTHING, field) != getattr(Section("Solo"), field) for field in Section.__struct_fields__[1:])
    assert short_road_map((EVERYTHING,)) == SAID
    assert sections("|\n" + indent(SAID, "      ")) == (EVERYTHING,)


# On paper these stand in the margin; nobody writes braces or quotes there.
PENCILLED = [
    ("Chorus 8 in E", Section("Chorus", 8, key=Key(Pitch("E")))),
    ("Chorus in E", Section("Chorus", key=Key(Pitch("E")))),
    ("Chorus in E 8", Section("Chorus", 8, key=Key(Pitch("E")))),
    ("Chorus 8 in F# minor", Section("Chorus", 8, key=Key(Pitch("F", 1), Mode.MINOR))),
    ("Chorus 8 in D dorian x2", Section("Chorus", 8, 2, key=Key(Pitch("D"), Mode.DORIAN))),
    ("Break in 8", Section("Break in", 8)),
    ("Outro open watch singer", Section("Outro", open=True, watch="singer")),
    ("Outro watch singer", Section("Outro", watch="singer")),
    ("Outro 8 watch the singer open", Section("Outro", 8, open=True, watch="the singer")),
    ("Outro 8 watch (Ann, then Bo)", Section("Outro", 8, watch="Ann, then Bo")),
    ("Wrist watch 8", Section("Wrist watch", 8)),
    ("Solo 16 (two fingers up is one more)", Section("Solo", 16, cue="two fingers up is one more")),
    ("Solo 16 (bass only, then all)", Section("Solo", 16, cue="bass only, then all")),
    ("Solo 16 (out (all of us))", Section("Solo", 16, cue="out (all of us)")),
    ("Solo 16 (out (all), then in)", Section("Solo", 16, cue="out (all), then in")),
    ("Solo 16 ( slow )", Section("Solo", 16, cue="slow")),
    ("Chorus (half) 8", Section("Chorus (half)", 8)),
    ("Solo (half)", Section("Solo (half)")),
    ("Chorus 8 hits 4, 4&", Section("Chorus", 8, hits="4, 4&")),
    ("Chorus 8 hits 4 4& watch bass", Section("Chorus", 8, hits="4 4&", watch="bass")),
    ("Chorus 8 hits (bar 8 4 | bar 16 1)", Section("Chorus", 8, hits="bar 8 4 | bar 16 1")),
    ("Brass hits 4", Section("Brass hits", 4)),
    ("Verse 8 words pedal on past", Section("Verse", 8, first_words="pedal on past")),
    ("Verse 8 words watch me in E", Section("Verse", 8, first_words="watch me in E")),
    ("Verse 8 words (oh, you) watch bass", Section("Verse", 8, first_words="oh, you", watch="bass")),
    ("Last words 8", Section("Last words", 8)),
    ("Intro 4 *riff alone", Section("Intro", 4, feature="riff alone")),
    ("Intro 4 *riff alone x2", Section("Intro", 4, 2, feature="riff alone")),
    ("Intro 4 *(riff, alone)", Section("Intro", 4, feature="riff, alone")),
    ("Intro 4*open", Section("Intro", 4, open=True, feature="feature")),
    ("Intro 4 | 1 | 5/7 | 6- | 4", Section("Intro", 4, chords="1 | 5/7 | 6- | 4")),
    ("Intro | 1 | 5/7", Section("Intro", chords="1 | 5/7")),
    ("Intro 4 @lead | (C | Dm7) x2", Section("Intro", 4, sounds=(SoundCall("lead"),), chords="(C | Dm7) x2")),
    ("Solo 8 @brass hits", Section("Solo", 8, sounds=(SoundCall("brass hits"),))),
    ("Solo 8 at once @lead", Section("Solo", 8, sounds=(SoundCall("lead"),), change=Change.AT_ONCE)),
    ("Outro 4 ending", Section("Outro", 4, ending=True)),
    ("False ending 4", Section("False ending", 4)),
    ("Intro 4 | C7(b9,13) | F", Section("Intro", 4, chords="C7(b9,13) | F")),
]


@pytest.mark.parametrize(("short", "section"), PENCILLED)
@pytest.mark.parametrize("written", ["{}", "Verse 16, {}, Verse 16", "|\n      Verse 16\n      {}\n      Verse 16"])
def test_shorthand_needs_no_quotes(short: str, section: Section, written: str) -> None:
    verse = (Section("Verse", 16),)
    around = verse if "Verse 16" in written else ()
    assert sections(written.format(short)) == (*around, section, *around)


def test_each_section_can_stand_on_its_own_line() -> None:
    lines = """|
      Intro 4 *riff alone @bright piano | 1 | 5/7 | 6- | 4

      Verse 16 words under the,
      Chorus 8 hits 4, 4&, Solo 8
      Outro 8 open
        | 1 | 4 | 1 | 5
        | 1 | %
    """
    assert sections(lines) == (
        Section("Intro", 4, feature="riff alone", sounds=(SoundCall("bright piano"),), chords="1 | 5/7 | 6- | 4"),
        Section("Verse", 16, first_words="under the"),
        Section("Chorus", 8, hits="4, 4&"),
        Section("Solo", 8),
        Section("Outro", 8, open=True, chords="1 | 4 | 1 | 5\n1 | %"),
    )


def test_a_feature_is_yes_or_what_people_listen_for() -> None:
    written = (
        "[{section: A, feature: yes}, {section: B, feature: no}, {section: C, feature: riff}, {section: D, feature: }]"
    )
    assert [section.feature for section in sections(written)] == ["feature", None, "riff", None]


# Columns are of the character at fault; the road map begins in column 15.
@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("Intro 4, Verse 0", "4:30: 0 is out of range: whole bars, 1 to 400. Write: 1"),
        ("Intro 4, Verse 16 x99", "4:34: 99 is out of range: passes, 1 to 32. Write: 32"),
        ("Intro 4, Verse 16x99", "4:33: 99 is out of range: passes, 1 to 32. Write: 32"),
        ("Intro 4, Chorus 8 opne", '4:33: "opne" is not understood after "8". Write: open'),
        ("Verse 8 bars", '4:23: "bars" is not understood after "8". Write: 8, without the word bars'),
        ("Verse 8 loudly", '4:23: "loudly" is not understood after "8". Write: (loudly), free words in brackets'),
        (
            "Solo 16 *keys solo, 16 more if good",
            ('4:38: "more" is not understood after "16". Write: brackets around a text with a comma, as in '
             "*(riff, then strings); free words too: (more if good)"),
        ),
        ("Outro 8 ritard", ('4:23: "ritard" says how the song ends, which has its own field: Ending, beside the road '
                            "map. Write: ritard there (ending: ritard), or (ritard) here, as a cue")),
        ("Outro 8 open rit.", ('4:28: "rit." says how the song ends, which has its own field: Ending, beside the road '
                               "map. Write: ritard there (ending: ritard), or (rit.) here, as a cue")),
        ("Outro 8 vamp-out", ('4:23: "vamp-out" says how the song ends, which has its own field: Ending, beside the '
                              "road map. Write: vamp-out there (ending: vamp-out), or (vamp-out) here, as a cue")),
        ("Outro 8 x2 half-time", f'4:26: "half-time" is not understood after "x2". Write: {ONLY}'),
        ("Solo * loud", '4:22: "loud" is not understood after "*". Write: *loud'),
        ("Intro 4,, Verse 8", "4:23: a section is missing before this comma. Write: a section's name there"),
        (", Verse 8", "4:15: a section is missing before this comma. Write: a section's name there"),
        ("Intro 4, * @lead", "4:24: a section has no name. Write: its name first, as in Verse 16"),
        ("Intro 4 x2 x3", "4:24: the number of passes is in this section twice. Write: x2 or x3, not both"),
        ("Intro 4 * open*", "4:23: the * is in this section twice. Write: it once"),
        ("Intro 4 @", "4:24: there is nothing after the @. Write: @sound, or @keyboard=sound"),
        ("Intro 4 @upper=", "4:30: there is nothing after the @. Write: @sound, or @keyboard=sound"),
        ("Intro 4 @=lead", "4:25: there is nothing after the @. Write: @sound, or @keyboard=sound"),
        (
            "Solo 8 open @organ *solo watch Sam",
            "4:28: the sound comes last, before the chords. Write: *solo watch Sam @organ",
        ),
        ("Intro 4 @lead @upper=organ", "4:24: with several sounds, each needs its keyboard. Write: @keyboard=lead"),
        ("Intro 4; Verse 16", "4:22: a comma separates sections, not a ;. Write: Intro 4, Verse 16"),
        ("Intro 4 in H", '4:26: "H" is not a key. Write: B'),
        ("Intro 4 in", '4:23: there is no key after "in". Write: in E'),
        ("Intro 4 in E in F", "4:31: the key is in this section twice. Write: E or F, not both"),
        ("Intro 4 hits", '4:23: there is nothing after "hits". Write: hits 4, 4&, the beats'),
        ("Intro 4 hits loud", '4:28: "loud" is not a beat. Write: hits 4, 4&; words belong in (a cue)'),
        ("Intro 4 hits 4 loud", '4:30: "loud" is not understood after "4". Write: (loud), free words in brackets'),
        ("Intro 4 wach drummer", '4:23: "wach" is not understood after "4". Write: watch'),
        ("Intro 4 (two fingers", "4:23: this bracket is never closed. Write: (two fingers)"),
        ("Intro 4 ()", "4:23: there is nothing in these brackets. Write: (two fingers up)"),
        ("Intro 4 |, Verse 8", "4:23: there are no chords after this bar line. Write: | 1 | 4 | 5 | 1"),
        (
            "Intro 4 hits bar 1 4 | bar 2 1",
            '4:28: "bar" is not a beat. Write: hits (bar 1 4 | bar 2 1)',
        ),
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


def test_a_trailing_comma_is_allowed() -> None:
    assert sections("Intro 4, Verse 8,") == (Section("Intro", 4), Section("Verse", 8))


def test_a_road_map_written_as_keys_is_reported() -> None:
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


PIECES = (
    "Verse_8_x2_in_E_watch_drummer_hits_4_4&_,_words_(_)_(a, b)_*_*riff_@lead_|_| 1 | 4_at_once_open_ending_;_bar 2"
)


@given(
    st.text(st.sampled_from("Vx12 *,@=open×tacet\t'"), max_size=40)
    | st.lists(
        st.sampled_from(PIECES.split("_")),
        max_size=12,
    ).map(" ".join)
)
def test_any_line_is_read_or_its_faults_point_into_it(line: str) -> None:
    quoted = "'" + line.replace("'", "''") + "'"
    for fault in faults(with_song(f"road_map: {quoted}")):
        row, column, _ = fault.split(":", 2)
        assert int(row) == 4
        assert 15 <= int(column) <= 16 + len(quoted)


NAMES = st.sampled_from(["Intro", "Verse B", "Pre-chorus", "A", "Chorus (half)", "Brass hits", "Break in", "Verse 2"])
TEXTS = st.none() | st.sampled_from(
    [
        "drummer",
        "two fingers up",
        "Ann, then Bo",
        "watch me in E",
        "open",
        "x2 8",
        "hits 4",
        "(so)",
        "a: b #c",
        "*",
        "@",
        "4",
    ]
)


@given(
    st.lists(
        st.builds(
            Section,
            NAMES,
            st.integers(1, 400),
            st.integers(1, 32),
            st.booleans(),
            st.just("feature") | TEXTS,
            st.sampled_from(
                [(), (SoundCall("lead"),), (SoundCall("lead", "upper"), SoundCall("grand piano", "lower"))]
            ),
            tacet=st.booleans(),
            ending=st.booleans(),
            change=st.none() | st.sampled_from(Change),
            key=st.none() | st.builds(Key.signed, st.integers(-7, 7), st.sampled_from(Mode)),
            cue=TEXTS,
            watch=TEXTS,
            first_words=TEXTS,
            hits=st.none() | st.sampled_from(["4, 4&", "1 & 3", "bar 8 4, 4& | bar 16 1", "/ | 1 | %", "loud, late"]),
            chords=st.none() | st.sampled_from(["1 | 4", "(C | F#m7) x2", "1 | in 2/4 5\n1 | %", "C7(b9,13) || F"]),
        ),
        min_size=1,
        max_size=6,
    )
)
def test_what_the_margin_can_say_is_written_short_and_read_back(written: list[Section]) -> None:
    line = short_road_map(tuple(written))
    assert line
    assert sections(json.dumps(line)) == tuple(written)


def test_hits_reach_no_further_than_a_section_may_hold() -> None:  # so that a hostile line is cut in linear time
    assert len(parts_of("A 1 hits 1" + ",1" * 190)) == 1
    assert len(parts_of("A 1 hits 1" + ",1" * 3900)) > 3000


def test_a_bracket_ends_with_its_line() -> None:
    line = "Intro 4 (slow\nVerse 8, Chorus 8 fast)"
    assert [line[start:end].strip() for start, end in parts_of(line)] == ["Intro 4 (slow", "Verse 8", "Chorus 8 fast)"]


@pytest.mark.parametrize(
    ("line", "place"),
    [
        ("Verse 16  # half-time", "6:17"),
        ("Verse 16 @organ  # half-time", "6:24"),
        ("Verse 16 | 1 | 4#o  #half-time", "6:27"),
        ("# half-time", "6:7"),
    ],
)
def test_a_comment_between_sections_is_reported(line: str, place: str) -> None:
    (fault,) = faults(with_song(f"road_map: |\n  Intro 4\n  {line}\n  Outro 8 | 1 | #4o"))
    assert fault == f"{place}: in these lines a # begins no comment. Write: (half-time), as a cue, or leave it out"


GUIDE = (Path(__file__).parents[2] / "companion" / "guide" / "show.md").read_text(encoding="utf-8")
IN_TABLE = [line[3:].split("` |")[0].replace("\\|", "|") for line in GUIDE.split("\n") if line.startswith("| `")]


@pytest.mark.parametrize("example", IN_TABLE)
def test_each_example_of_the_guide_is_read_and_written_back_the_same_way(example: str) -> None:
    (section,) = sections(example)
    assert short_road_map((section,)) == example


def test_the_guide_shows_every_sign() -> None:
    bare = Section("")
    found = {
        name
        for example in IN_TABLE
        for section in sections(example)
        for name in Section.__struct_fields__
        if getattr(section, name) != getattr(bare, name)
    }
    assert found == set(Section.__struct_fields__)
