"""The show file: every key, all that may be left out, and each fault with its place and what to write."""

import datetime as dt
from pathlib import Path
from typing import Any

import jsonschema
import msgspec
import pytest
import yaml
from show.scenes import faults, read, song, warnings, with_song

from companion.changes import Change
from companion.errors import FaultyFile
from companion.files import Form
from companion.music import Key, Meter, Mode, Pitch, read_key
from companion.show import (
    Begins,
    Ending,
    PracticeTime,
    Section,
    Set,
    Show,
    Song,
    SoundCall,
    Steps,
    read_show,
    show_schema,
)
from companion.show.practice_time import PRACTICE
from companion.show.show_file import SECTION, SET, SHOW, SONG

DESIGN_PAGE = """\
show: Pier Street midsummer dance
band: The Tidewater Nine
date: 2027-06-19
sets:
  - set: First
    starts: "20:00"
    minutes: 45
    songs:
      - title: Gasworks Corner
        key: Bb
        record_key: C            # the recording's key: information, nothing is retuned by it
        fingered_in: C           # the player's fingers are in C, the instrument is tuned so that Bb sounds
        first_words: under the   # where a singer's words are the landmark; also per section; a few words only
        tempo: 112
        meter: 4/4
        length: "3:40"
        starts_with: keys
        count_off: two bars, sticks
        ending: ritard
        sound: tonewheel organ
        chart: charts/gasworks-corner.pdf   # a file, or yes / no
        known: 2                 # 0 never heard ... 5 could play it tonight
        hard: 3
        recording: audio/gasworks-corner.ogg
        notes: half-time in the bridge
        road_map:
          - {section: Intro, bars: 4, feature: riff alone, sound: bright piano, chords: "1 | 5/7 | 6- | 4"}
          - {section: Verse, bars: 16}
          - {section: Chorus, bars: 8, sound: tonewheel organ, hits: "4, 4&"}
          - {section: Solo, bars: 16, feature: solo, open: true, watch: drummer, cue: two fingers up is one more round}
          - {section: Chorus, bars: 8, key: C}        # last one up a tone
          - {section: Outro, bars: 8, open: true, watch: singer}
        segue: Kettle on the Jetty      # straight into it
      - title: Kettle on the Jetty
        road_map: Intro 4*, Verse 16, Chorus 8 @strings, Solo 16 x2* @lead, Chorus 8, Outro open
"""
ORGAN = (SoundCall("tonewheel organ"),)
READ = Show(
    "Pier Street midsummer dance",
    "The Tidewater Nine",
    dt.date(2027, 6, 19),
    sets=(
        Set(
            "First",
            20 * 60,
            45,
            (
                Song(
                    "Gasworks Corner",
                    key=Key(Pitch("B", -1)),
                    record_key=Key(Pitch("C")),
                    fingered_in=Key(Pitch("C")),
                    first_words="under the",
                    tempo_bpm=112,
                    meter=Meter(4, 4),
                    length_s=220,
                    starts_with="keys",
                    count_off="two bars, sticks",
                    ending=Ending.RITARD,
                    sounds=ORGAN,
                    chart="charts/gasworks-corner.pdf",
                    known=2,
                    hard=3,
                    recording="audio/gasworks-corner.ogg",
                    notes="half-time in the bridge",
                    road_map=(
                        Section(
                            "Intro",
                            4,
                            feature="riff alone",
                            sounds=(SoundCall("bright piano"),),
                            chords="1 | 5/7 | 6- | 4",
                        ),
                        Section("Verse", 16),
                        Section("Chorus", 8, sounds=ORGAN, hits="4, 4&"),
                        Section(
                            "Solo",
                            16,
                            open=True,
                            feature="solo",
                            watch="drummer",
                            cue="two fingers up is one more round",
                        ),
                        Section("Chorus", 8, key=Key(Pitch("C"))),
                        Section("Outro", 8, open=True, watch="singer"),
                    ),
                    segue="Kettle on the Jetty",
                ),
                Song(
                    "Kettle on the Jetty",
                    road_map=(
                        Section("Intro", 4, feature="feature"),
                        Section("Verse", 16),
                        Section("Chorus", 8, sounds=(SoundCall("strings"),)),
                        Section("Solo", 16, 2, feature="feature", sounds=(SoundCall("lead"),)),
                        Section("Chorus", 8),
                        Section("Outro", open=True),
                    ),
                ),
            ),
        ),
    ),
)


def test_the_file_of_the_design_page_is_read_in_full() -> None:
    found = read(DESIGN_PAGE)
    assert found.show == READ
    assert found.warnings == ()


@pytest.mark.parametrize("end", ["\r\n", "\r"])
def test_the_same_file_from_another_system_is_the_same_show(end: str, tmp_path: Path) -> None:
    file = tmp_path / "pier.yaml"
    file.write_bytes(b"\xef\xbb\xbf" + DESIGN_PAGE.replace("\n", end).encode())
    assert read_show(file).show == READ


def test_only_a_title_is_needed() -> None:
    assert read("show: S").show == Show("S")
    assert read("show: S\nsets:").show == Show("S")
    assert read("show: S\nsets: [{}]").show == Show("S", sets=(Set("Set 1"),))
    assert read("show: S\nsongs: [One, {title: Two}]").show == Show(
        "S", sets=(Set("Set 1", songs=(Song("One"), Song("Two"))),)
    )
    assert read("show: S\nsets: [{songs: [One]}, {set: Late}, {}]").show.sets == (
        Set("Set 1", songs=(Song("One"),)),
        Set("Late"),
        Set("Set 3"),
    )


@pytest.mark.parametrize(
    ("keys", "field", "means"),
    # YAML 1.1, or 1.2, would make something else of each of these
    [
        ("chart: no", "chart", False),
        ('chart: "no"', "chart", False),
        ("chart: yes", "chart", True),
        ("chart: no.pdf", "chart", "no.pdf"),
        ("length: 3:40", "length_s", 220),
        ("length: 0:45", "length_s", 45),
        ("length: 220", "length_s", 220),
        ("tempo: 1e2", "tempo_bpm", 100.0),
        ("tempo: 092", "tempo_bpm", 92.0),
        ("tempo: 112.5", "tempo_bpm", 112.5),
        ("key: E", "key", Key(Pitch("E"))),
        ("key: Bb", "key", Key(Pitch("B", -1))),
        ("key: F#m", "key", Key(Pitch("F", 1), Mode.MINOR)),
        ("key:", "key", None),
        ("starts_with: on", "starts_with", "on"),
        ("artist: 1999", "artist", "1999"),
        ("notes: ~", "notes", "~"),
        ("begins: first note", "begins", Begins.FIRST_NOTE),
        ("steps: by bars", "steps", Steps.BY_BARS),
        ("change: when hands lift", "change", Change.WHEN_HANDS_LIFT),
        ("tacet: yes", "tacet", True),
        ("sound: lead", "sounds", (SoundCall("lead"),)),
        (
            "sound: {upper: solo lead, lower: grand piano}",
            "sounds",
            (SoundCall("solo lead", "upper"), SoundCall("grand piano", "lower")),
        ),
        ("road_map: [{section: A, bars: 010}]", "road_map", (Section("A", 10),)),
        ('notes: "a\\nb"', "notes", "a\nb"),
    ],
)
def test_a_value_means_what_the_player_typed(keys: str, field: str, means: object) -> None:
    assert getattr(song(keys), field) == means


def test_the_practice_time_is_read() -> None:
    text = "show: S\npractice:\n  minutes: 45, weekend=120 mon=0\n  days_off: sun, 2027-06-09\n  listening: 30"
    time = read(text).show.practice
    assert time == PracticeTime((0, 45, 45, 45, 45, 120, 120), (6, dt.date(2027, 6, 9)), 30)
    assert [time.on(dt.date(2027, 6, day)) for day in (7, 8, 9, 12, 13)] == [0, 45, 0, 120, 0]
    assert read("show: S\npractice:\n  rehearsals: 2027-06-09").show.practice == PracticeTime(
        rehearsals=(dt.date(2027, 6, 9),)
    )
    assert read("show: S\npractice:").show.practice is None
    assert read("show: S\npractice: {days_off: none}").show.practice == PracticeTime()


def test_a_bare_date_and_time_are_read() -> None:
    found = read("show: S\ndate: 2027-06-19\nsets: [{starts: 20:00}, {starts: 25:30}]").show
    assert found.date == dt.date(2027, 6, 19)
    assert [one.starts_min for one in found.sets] == [1200, 1530]


ENDINGS = "cold, ritard, fade, tag, vamp-out or segue"
COLON = "a value with a colon and a space in it needs quotes"
ALONE = "is alone: inside braces a comma ends the value"
BY_NAME = "sounds for several keyboards are listed under the keyboards' names"
SONG_KEYS = f"{', '.join(list(SONG.keys)[:-1])} or {list(SONG.keys)[-1]}"
# What was typed on the song's first line; its fault; what to write; and the line that is then read.
MENDED = [
    ("tempoo: 112", '4:5: a song has no key "tempoo"', "tempo", "tempo: 112"),
    ("tempo: 1e3", "4:12: a tempo is from 20 to 400 beats a minute", "400", "tempo: 400"),
    ("tempo: fast 112", '4:12: "fast 112" is not a tempo', "112", "tempo: 112"),
    ("key: H", '4:10: "H" is not a key', "B", "key: B"),
    ("key: Bb mayor", '4:13: "mayor" after Bb is not a kind of key', "Bb", "key: Bb"),
    ("meter: 4/5", "4:14: there is no note value 5", "4/4", "meter: 4/4"),
    ("ending: ritardando", f'4:13: "ritardando" is not one of {ENDINGS}', "ritard", "ending: ritard"),
    ("known: 6", "4:12: 6 is out of range: how well it is known, 0 to 5", "5", "known: 5"),
    ("length: 3.40", '4:13: "3.40" is not a length', "3:40", "length: 3:40"),
    ("whereabouts: 1", '4:5: a song has no key "whereabouts"', SONG_KEYS, "notes: 1"),
    ("segue: A: b", f"4:13: {COLON}", 'segue: "A: b"', 'segue: "A: b"'),
    ("road_map: [{section: A, hits: 4, 4&}]", f'4:38: "4&" {ALONE}', 'hits: "4, 4&"',
     'road_map: [{section: A, hits: "4, 4&"}]'),
    ("sound: [a, b]", f"4:12: {BY_NAME}", "{upper: ..., lower: ...}", "sound: {upper: a, lower: b}"),
]  # fmt: skip


@pytest.mark.parametrize(("typed", "fault", "write", "mended"), MENDED)
def test_a_fault_names_its_place_and_a_fix_that_reads_well(typed: str, fault: str, write: str, mended: str) -> None:
    assert faults(with_song(typed)) == [f"{fault}. Write: {write}"]
    assert faults(with_song(mended)) == []


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("band: B", ['1:1: a show has no "show". Write: show: its title']),
        ("show: S\nsongs: [{key: C}]", ['2:9: a song has no "title". Write: title: its title']),
        ("show: S\nsongs: [{title: }]", ['2:10: a song has no "title". Write: title: its title']),
        ("show: S\nsongs: One", ["2:8: songs must be a list. Write: a dash and a space before each"]),
        ("show: S\nsongs: [[One]]", ["2:9: a song is written as keys and values, not as a list. Write: title: ..."]),
        (
            "show: S\nsets: []\nsongs: []",
            ["3:1: with sets, songs belong inside them. Write: them under a set"],
        ),
        ("- One\n- Two", ["1:1: a show is written as keys and values, not as a list. Write: show: ..."]),
        ("show: S\ndate: 19.6.2027", ['2:7: "19.6.2027" is not a date. Write: 2027-06-19']),
        (
            "show: S\npractice: {minutes: an hour}",
            ['2:21: "an" is not a number of minutes a day. Write: 60, or 45, sat=120, sun=0'],
        ),
        (
            "show: S\npractice:\n  days_off: sun, tomorrow",
            ['3:18: "tomorrow" is not a date or a weekday. Write: sun, 2027-06-12'],
        ),
        (
            "show: S\npractice: {listening: 2000}",
            ["2:23: 2000 is out of range: minutes of listening a day, 0 to 960. Write: 960"],
        ),
        ("show: S\nsets: [{minutes: 0}]", ["2:18: 0 is out of range: minutes, 1 to 600. Write: 1"]),
    ],
)
def test_a_show_written_another_way_gets_the_right_advice(text: str, told: list[str]) -> None:
    assert faults(text) == told


def test_all_faults_of_a_file_are_reported_in_line_order() -> None:
    text = (
        "shw: S\ndate: x\nsets:\n  - minutes: 0\n    songs:\n      - {title: A, key: X}\n      - {title: B, sond: y}\n"
    )
    assert [fault.split(": ")[0] for fault in faults(text)] == ["1:1", "1:1", "2:7", "4:14", "6:25", "7:20"]


def test_faults_are_raised_with_the_path_as_it_was_given(tmp_path: Path) -> None:
    file = tmp_path / "bad.yaml"
    file.write_text("show: S\nbend: X\n", encoding="utf-8")
    with pytest.raises(FaultyFile) as caught:
        read_show(file)
    assert str(caught.value) == f'{file}:2:1: a show has no key "bend". Write: band'


@pytest.mark.parametrize(
    ("keys", "place", "cut", "whole"),
    [
        ("road_map:\n  - section: A\n    chords: 1 | #4o | 5", "6:21", "#4o | 5", "1 | #4o | 5"),
        ("road_map:\n  - section: A\n    chords: #4o", "6:17", "#4o", "#4o"),
        ("road_map:\n  - section: A\n    chords: 1 | 4 |\n      5 | #4o", "7:15", "#4o", "1 | 4 | 5 | #4o"),
        ("road_map: Intro 4, Verse 8 #2", "4:32", "#2", "Intro 4, Verse 8 #2"),
        ("key: F #minor", "4:12", "#minor", "F #minor"),
        ("segue: Number #9", "4:19", "#9", "Number #9"),
    ],
)
def test_text_cut_off_by_a_hash_is_reported(keys: str, place: str, cut: str, whole: str) -> None:
    told = f'"{cut}" is read as a comment, because of the space before the #. Write: "{whole}", in quotes'
    assert warnings(with_song(keys)) == [f"{place}: {told}"]


@pytest.mark.parametrize(
    "keys",
    [
        "road_map:\n  - section: A\n    chords: 1 | 5  # the record has 4",
        'road_map:\n  - section: A\n    chords: "1 | #4o"  #mine',
        "road_map:\n  - section: A\n    chords: 1 |\n      #4o | 5",  # a line of its own
        "road_map: [{section: A, chords: 1 | b7 | 4 }]",
        "key: F # or G",
        "key: F #the leader's",
        "notes: one #two",
    ],
)
def test_a_comment_is_a_comment(keys: str) -> None:
    assert warnings(with_song(keys)) == []


def test_a_sharp_without_a_space_before_it_stays() -> None:
    assert song("key: C#m").key == read_key("C#m")
    assert song("key: C# minor").key == read_key("C#m")


FORMS: list[Form[Any]] = [SHOW, PRACTICE, SET, SONG, SECTION]


@pytest.mark.parametrize("form", FORMS, ids=lambda form: form.makes.__name__)
def test_every_field_of_the_model_has_a_key(form: Form[Any]) -> None:
    assert {field.name for field in form.fields.values()} >= set(form.makes.__struct_fields__)


def plain(text: str) -> Any:  # noqa: ANN401  what an editor's own reader makes of it
    return msgspec.to_builtins(yaml.safe_load(text))


def test_the_schema_is_valid_and_accepts_the_example_file() -> None:
    schema = show_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    jsonschema.Draft202012Validator(schema).validate(plain(DESIGN_PAGE))


@pytest.mark.parametrize(
    ("text", "fits"),
    [
        ("show: S\nsets: [{starts: 20:00, songs: [One, {title: 1999, length: 3:40, chart: no, key: }]}]", True),
        ("show: S\nsongs: [{use: 'book.yaml#one', key: C}]", True),
        ("show: S\nsongs: [{title: T, sound: {upper: a}, road_map: [Verse 8, {section: A, open: yes}]}]", True),
        ("show: S\nsongs: [{key: C}]", False),
        ("show: S\nsongs: [{title: T, tempoo: 1}]", False),
        ("show: S\nsongs: [{title: T, ending: slow}]", False),
        ("show: S\nsongs: [{title: T, road_map: [{bars: 8}]}]", False),
        ("show: S\nsongs: [{title: T, known: 9}]", False),
        ("songs: []", False),
    ],
)
def test_the_schema_and_the_reader_agree(text: str, *, fits: bool) -> None:
    assert jsonschema.Draft202012Validator(show_schema()).is_valid(plain(text)) == fits
    if "use:" not in text:
        assert (faults(text) == []) == fits
