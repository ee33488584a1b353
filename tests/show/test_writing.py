"""Writing a show: any show reads back the same, and other YAML readers agree."""

import datetime as dt
import re
from typing import Any

import jsonschema
import msgspec
import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st
from show.scenes import read
from show.test_reading import DESIGN_PAGE, READ

from companion.changes import Change
from companion.files.kinds import YES_OR_NO
from companion.music import Key, Meter, Mode
from companion.show import Begins, Ending, PracticeTime, Section, Set, Show, Song, SoundCall, Steps, show_schema
from companion.show.show_text import write_show

ODD = ["no", "On", "~", "3:40", "1e3", "010", "1999", "2027-06-19", "a: b", "- a", "#x", "a #b", "@x", "'90s", '"Hi"',
       "1 | #4", "{a}", "[b", "x,", "é😀♭", " a ", "%", "&a", "*b", "!c", "|", ">", "?", "`", "a:", "null", "=", "<<",
       "0x1F", ".5", "\u00a0a", "\ufeffa"]  # fmt: skip
LETTERS = st.characters(exclude_categories=("Cc", "Cs", "Zl", "Zp"))
words = st.sampled_from(ODD) | st.text(LETTERS, min_size=1, max_size=12).filter(str.strip)
lines = words | st.text(LETTERS | st.just("\n"), min_size=1, max_size=20).filter(str.strip)
no_yes = words.filter(lambda text: text.lower() not in YES_OR_NO)
keys = st.builds(Key.signed, st.integers(-7, 7), st.sampled_from(Mode))
sounds = (
    st.just(())
    | words.map(lambda sound: (SoundCall(sound),))
    | st.dictionaries(words, words, min_size=1, max_size=3).map(
        lambda calls: tuple(SoundCall(sound, keyboard) for keyboard, sound in calls.items())
    )
)


def perhaps(what: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    return st.none() | what


sections = st.builds(
    Section,
    name=words,
    bars=perhaps(st.integers(1, 400)),
    passes=st.integers(1, 32),
    open=st.booleans(),
    feature=perhaps(st.just("feature") | no_yes),
    sounds=sounds,
    change=perhaps(st.sampled_from(Change)),
    chords=perhaps(lines),
    hits=perhaps(words),
    cue=perhaps(words),
    watch=perhaps(words),
    key=perhaps(keys),
    first_words=perhaps(words),
    tacet=st.booleans(),
    ending=st.booleans(),
)
songs = st.builds(
    Song,
    title=words,
    key=perhaps(keys),
    record_key=perhaps(keys),
    fingered_in=perhaps(keys),
    chords_in=perhaps(keys),
    first_words=perhaps(words),
    tempo_bpm=perhaps(st.integers(20_000, 400_000).map(lambda thousandths: thousandths / 1000)),
    meter=perhaps(st.builds(Meter, st.integers(1, 32), st.sampled_from([1, 2, 4, 8, 16, 32]))),
    length_s=perhaps(st.integers(1, 7200)),
    starts_with=perhaps(words),
    count_off=perhaps(words),
    begins=st.sampled_from(Begins),
    steps=st.sampled_from(Steps),
    ending=perhaps(st.sampled_from(Ending)),
    sounds=sounds,
    change=perhaps(st.sampled_from(Change)),
    chart=perhaps(st.booleans() | no_yes.filter(str.isprintable)),
    known=perhaps(st.integers(0, 5)),
    hard=perhaps(st.integers(0, 5)),
    recording=perhaps(words),
    artist=perhaps(words),
    notes=perhaps(lines),
    road_map=st.lists(sections, max_size=3).map(tuple),
    segue=perhaps(words),
    tacet=st.booleans(),
)
sets = st.builds(
    Set,
    name=words,
    starts_min=perhaps(st.integers(0, 30 * 60 - 1)),
    minutes=perhaps(st.integers(1, 600)),
    songs=st.lists(songs, max_size=3).map(tuple),
)
times = st.builds(
    PracticeTime,
    minutes=st.lists(st.integers(0, 960), min_size=7, max_size=7).map(tuple),
    days_off=st.lists(st.integers(0, 6) | st.dates(), max_size=5, unique=True).map(tuple),
    listening=st.integers(0, 960),
    rehearsals=st.lists(st.dates(), max_size=3, unique=True).map(sorted).map(tuple),
)
shows = st.builds(
    Show,
    title=words,
    band=perhaps(words),
    date=perhaps(st.dates()),
    venue=perhaps(words),
    notes=perhaps(lines),
    sets=st.lists(sets, max_size=2).map(tuple),
    practice=perhaps(times),
)


def test_the_builders_above_leave_no_field_out() -> None:
    for made, strategy in ((Show, shows), (PracticeTime, times), (Set, sets), (Song, songs), (Section, sections)):
        assert f"{made.__name__}," in repr(strategy) or made.__name__ in repr(strategy)
        for field in made.__struct_fields__:
            assert f"{field}=" in repr(strategy), field


@given(shows)
def test_any_show_is_written_and_read_back(show: Show) -> None:
    assert read(write_show(show)).show == show


@given(shows)
def test_what_is_written_fits_the_schema_as_other_readers_see_it(show: Show) -> None:
    seen = msgspec.to_builtins(yaml.safe_load(write_show(show)))
    jsonschema.Draft202012Validator(show_schema()).validate(seen)
    assert seen["show"] == show.title
    assert [song["title"] for one in seen.get("sets", ()) for song in one.get("songs", ())] == [
        song.title for one in show.sets for song in one.songs
    ]


def test_a_show_is_written_as_a_player_would() -> None:
    written = write_show(READ)
    assert read(written).show == READ
    typed = {re.sub(r"  +#.*", "", line) for line in DESIGN_PAGE.split("\n") if "{section" not in line}
    assert not typed - set(written.split("\n")) - {"        road_map:"}
    assert written.split("\n")[written.split("\n").index("        road_map: |-") :][1:7] == [
        "          Intro 4 *riff alone @bright piano | 1 | 5/7 | 6- | 4",
        "          Verse 16",
        "          Chorus 8 hits 4, 4& @tonewheel organ",
        "          Solo 16 open *solo watch drummer (two fingers up is one more round)",
        "          Chorus 8 in C",
        "          Outro 8 open watch singer",
    ]


@pytest.mark.parametrize(
    ("value", "written"),
    [
        ("no", 'notes: "no"'),
        ("1999", 'notes: "1999"'),
        ("half-time, then out", "notes: half-time, then out"),
        ("a #b", 'notes: "a #b"'),
        ('say "so"', 'notes: "say \\"so\\""'),
        ("one\ntwo", "notes: |-\n  one\n  two"),
        ("one\n two", 'notes: "one\\n two"'),
        ("\ufeffa", 'notes: "\\ufeffa"'),
    ],
)
def test_quotes_stand_only_where_they_are_needed(value: str, written: str) -> None:
    assert write_show(Show("S", notes=value)) == f"show: S\n{written}\n"


def test_times_are_quoted_for_readers_that_count_in_sixties() -> None:
    show = Show("S", date=dt.date(2027, 6, 19), sets=(Set("A", 1530, songs=(Song("T", length_s=3723),)),))
    assert write_show(show).split("\n")[1:8] == [
        "date: 2027-06-19",
        "sets:",
        "  - set: A",
        '    starts: "25:30"',
        "    songs:",
        "      - title: T",
        '        length: "1:02:03"',
    ]
