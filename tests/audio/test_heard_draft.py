"""A draft is what a player would write: short lines that read back, and only where nothing is written."""

from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace

from companion.audio import show_hearing
from companion.audio.anchors import anchors_of
from companion.audio.bars import BarGrid
from companion.audio.draft_lines import lines_beside, section_line
from companion.audio.form import HeardSection
from companion.audio.heard_chords import HeardChord
from companion.audio.heard_draft import SongDraft, chord_line, chord_name, draft_of
from companion.audio.hearing import Hearing
from companion.audio.keys import HeardKey
from companion.audio.landing import agreement, key_text, offered, road_map_of, sure_parts, tonight_too, with_drafts
from companion.audio.medleys import SongBreak
from companion.audio.show_hearing import SongHeard, songs_with_recordings
from companion.cli import main
from companion.commands.group import companion
from companion.errors import CompanionError
from companion.music import read_key
from companion.music.chord import read_chord
from companion.music.chord_line_signs import read_chord_line
from companion.show import Show, Song, read_show
from companion.show.chords import chords_on

BAR = st.sampled_from(["C", "G7", "Am", "F/A", "C G", "Dm7 G7"])


@given(st.lists(BAR, min_size=1, max_size=24))
def test_a_chord_line_reads_back_to_the_same_bars(bars: list[str]) -> None:
    """Read by the show file's own reader, repeats and % unrolled."""
    line = read_chord_line(chord_line(bars))
    assert line.bars == len(bars)


@pytest.mark.parametrize(
    ("bars", "line"),
    [
        (["C", "G", "Am", "F"] * 4, "(C | G | Am | F) x4"),
        (["C"] * 8, "(C) x8"),
        (["C", "C", "F", "G"], "C | % | F | G"),
        (["C", "G", "C", "F"], "C | G | C | F"),
    ],
)
def test_a_loop_is_written_once(bars: list[str], line: str) -> None:
    assert chord_line(bars) == line


@pytest.mark.parametrize(
    ("chord", "key", "name"),
    [
        ((10, "maj", 0, 4), "F", "Bb/D"),
        ((10, "maj", 0, 4), "F#m", "A#/D"),
        ((6, "min", 10, 0), "D", "F#m7"),
        ((11, "dim", 10, 0), "C", "Bm7b5"),
        ((0, "maj", 11, 0), "C", "Cmaj7"),
        ((7, "sus4", 10, 0), "C", "G7sus4"),
    ],
)
def test_a_chord_is_spelled_in_its_key_and_can_be_read(chord: tuple[int, str, int, int], key: str, name: str) -> None:
    root, triad, seventh, bass = chord
    said = chord_name(HeardChord(0, 4, root, triad, seventh, bass), read_key(key))
    assert said == name
    sounding = {pitch.semitone for pitch in read_chord(said).pitches}
    assert {root, (root + bass) % 12} <= sounding


def hearing(*, key_sure: float = 0.99, lift: int = 0, first_bar_s: float = 0.0, begins: float = 1.0) -> Hearing:
    """Return a song of 12 bars in G: four bars of introduction and eight of verse, which may be moved up.

    ``begins``: how much begins in a bar of the introduction, beside the others.
    """
    beats = np.arange(48, dtype=np.float64) * 0.5
    chords = tuple(
        HeardChord(4 * bar, 4 * bar + 4, ((7, 0, 2, 7)[bar % 4] + lift * (bar >= 4)) % 12, "maj", sure=0.98)
        for bar in range(12)
    )
    return Hearing(
        seconds=24.0,
        cents=-30.0,
        tempo_bpm=119.8,
        tempo_first_bpm=120.0,
        tempo_last_bpm=119.6,
        other_tempo_bpm=None,
        tempo_sure=0.99,
        grid=BarGrid(np.asarray(beats, np.float64), tuple(range(0, 48, 4)), 4, 2, 0.99),
        bar_s=tuple(first_bar_s + 2.0 * bar for bar in range(13)),
        key=HeardKey(read_key("G"), key_sure, read_key("Em")),
        chords=chords,
        sections=(HeardSection(0, 4, "A", 0, 1.0), HeardSection(4, 8, "A" if lift else "B", lift, 0.95)),
        busy=(begins,) * 4 + (1.0,) * 8,
    )


def written(tmp_path: Path, song: str) -> Path:
    path = tmp_path / "gig.yaml"
    path.write_text(f"# mine\nshow: Gig\nsets:\n  - set: First\n    songs:\n{song}", encoding="utf-8")
    return path


def test_a_draft_fills_only_empty_fields(tmp_path: Path) -> None:
    path = written(tmp_path, "      - {title: Kettle, tempo: 118, recording: kettle.mp3}  # keep\n")
    song = read_show(path).show.sets[0].songs[0]
    draft = draft_of(hearing())
    assert offered(song, draft) == {"key": "G", "form": road_map_of(draft)}
    done = with_drafts(path, [(song, draft, ("key", "tempo", "meter", "form"))])
    done.write()
    after = read_show(path).show.sets[0].songs[0]
    assert (str(after.record_key), after.tempo_bpm) == ("G", 118)
    assert [(one.name, one.bars, one.chords) for one in after.road_map] == [
        ("A", 4, "G | C | D | G"),
        ("B", 8, "(G | C | D | G) x2"),
    ]
    text = path.read_text(encoding="utf-8")
    assert "# mine" in text
    assert "# keep" in text


def test_a_key_that_no_section_is_in_is_a_doubt() -> None:
    """The whole speaks for D, surely; each section by itself is nearer to G: the key is not written as sure."""
    draft = draft_of(replace(hearing(), key=HeardKey(read_key("D"), 0.95, read_key("G"))))
    assert str(draft.record_key) == "D"
    assert "key: D or G?" in draft.doubts
    assert "key" not in sure_parts(draft)


def test_a_doubtful_result_is_marked_unsure(tmp_path: Path) -> None:
    del tmp_path
    draft = draft_of(hearing(key_sure=0.6))
    assert draft.doubts == ("key: G or Em?",)
    assert "key" not in sure_parts(draft)
    assert "tempo" in sure_parts(draft)


def test_a_form_is_no_surer_than_the_meter_the_tempo_and_the_chords_it_is_written_with() -> None:
    whole = draft_of(hearing())
    assert {"form", "chords"} <= set(sure_parts(whole))
    assert "form" not in sure_parts(replace(whole, meter_sure=0.6))
    assert "form" not in sure_parts(replace(whole, tempo_sure=0.6))
    dim = tuple(replace(one, chords_sure=0.7) for one in whole.sections)
    assert "form" not in sure_parts(replace(whole, sections=dim))


def test_of_a_medley_nothing_is_sure_and_the_second_song_is_the_first_doubt() -> None:
    draft = draft_of(replace(hearing(key_sure=0.6), second_song=SongBreak(127.0, 92.2, 118.0)))
    assert draft.doubts[0] == (
        "one song? At 2:07 the tempo goes from 92 to 118. If a second song begins there, cut the recording in two"
    )
    assert sure_parts(draft) == ()


def test_every_start_and_every_chord_line_that_is_not_sure_is_named_in_a_doubt() -> None:
    whole = hearing()
    starts = replace(whole, sections=(whole.sections[0], replace(whole.sections[1], sure=0.7)))
    assert draft_of(starts).doubts == ("form: does a new section begin here? B at 0:08",)
    dim = replace(whole, chords=tuple(replace(one, sure=0.6) for one in whole.chords[:4]) + whole.chords[4:])
    assert draft_of(dim).doubts == ("chords: check them here: A at 0:00",)
    assert "form" not in sure_parts(draft_of(dim))


def test_of_a_voice_alone_nothing_is_sure_but_its_key() -> None:
    draft = draft_of(replace(hearing(), has_clear_chords=False))
    assert draft.doubts[0].startswith("chords: hardly any are clear. Is this a voice")
    assert sure_parts(draft) == ("key",)


def test_yes_says_what_it_did_not_write_and_why(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = written(tmp_path, "      - {title: Kettle, recording: kettle.mp3}\n")
    draft = draft_of(hearing(key_sure=0.6))
    monkeypatch.setattr(show_hearing, "hear_songs", lambda songs, *_: [SongHeard(one, draft, draft) for one in songs])
    said = CliRunner().invoke(companion, ["hear", str(path), "--yes"])
    assert said.exit_code == 0, said.output
    assert "Kettle: tempo, form" in said.stderr
    assert "Kettle: not written, not sure: key on the record (key: G or Em?)" in said.stderr
    assert "Run it again without --yes" in said.stderr
    after = read_show(path).show.sets[0].songs[0]
    assert after.record_key is None
    assert [(one.name, one.bars) for one in after.road_map] == [("A", 4), ("B", 8)]


def test_enter_alone_writes_what_is_sure_and_nothing_in_doubt(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = written(tmp_path, "      - {title: Kettle, recording: kettle.mp3}\n")
    draft = draft_of(hearing(key_sure=0.6))
    monkeypatch.setattr(show_hearing, "hear_songs", lambda songs, *_: [SongHeard(one, draft, draft) for one in songs])
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    monkeypatch.setattr("click.termui.visible_prompt_func", lambda *_: "")
    assert main(["hear", str(path)]) == 0
    after = read_show(path).show.sets[0].songs[0]
    assert (after.record_key, after.tempo_bpm, len(after.road_map)) == (None, 120, 2)


def test_the_draft_is_compared_with_the_players_own_work(tmp_path: Path) -> None:
    path = written(
        tmp_path,
        "      - {title: Kettle, record_key: G, tempo: 60, road_map: 'Intro 4, Verse 8, Coda 2', recording: k.mp3}\n",
    )
    song = read_show(path).show.sets[0].songs[0]
    draft: SongDraft = draft_of(hearing())
    agreed = agreement(song, draft)
    assert (agreed.key, agreed.tempo, agreed.meter) == (1.0, 0.0, None)
    assert agreed.form == pytest.approx(2 / 3)
    assert offered(song, draft) == {}


def landed(tmp_path: Path, song: str, parts: tuple[str, ...], *, lift: int = 0) -> str:
    path = written(tmp_path, song)
    one = read_show(path).show.sets[0].songs[0]
    known = anchors_of(one)
    with_drafts(path, [(one, draft_of(hearing(lift=lift), known), parts)]).write()
    read_show(path)
    return path.read_text(encoding="utf-8")


def test_the_players_own_sections_get_chords(tmp_path: Path) -> None:
    song = (
        "      - title: Kettle\n        record_key: G\n        recording: k.mp3\n        road_map:\n"
        "          - Intro 4\n          - Verse 4 x2* @organ  # mine\n"
    )
    text = landed(tmp_path, song, ("key", "form", "chords"))
    assert "- Intro 4 | G | C | D | G\n" in text
    assert "- Verse 4 x2* @organ | G | C | D | G" in text
    assert "# mine\n" in text.partition("x2*")[2]


TWICE = (
    "      - title: Kettle\n        record_key: G\n        road_map: Intro 4, Verse 8\n"
    "  - set: Encore\n    songs:\n"
    "      - title: Kettle\n        record_key: G\n        recording: k.mp3\n        road_map: Chorus 8, Outro 4\n"
)


def test_chords_land_in_the_entry_whose_recording_was_heard(tmp_path: Path) -> None:
    path = written(tmp_path, TWICE)
    (song,) = songs_with_recordings(read_show(path).show)
    with_drafts(path, [(song, draft_of(hearing(), anchors_of(song)), ("tempo", "chords"))]).write()
    first, encore = (one.songs[0] for one in read_show(path).show.sets)
    assert (first.tempo_bpm, [one.chords for one in first.road_map]) == (None, [None, None])
    assert encore.tempo_bpm == 120
    assert all(one.chords for one in encore.road_map)


def test_of_two_entries_with_one_recording_the_one_that_was_heard_gets_the_draft(tmp_path: Path) -> None:
    both = TWICE.replace(
        "record_key: G\n        road_map: Intro", "record_key: G\n        recording: k.mp3\n        road_map: Intro"
    )
    path = written(tmp_path, both)
    show = read_show(path).show
    assert songs_with_recordings(show) == [show.sets[0].songs[0]]
    encore = show.sets[1].songs[0]
    with_drafts(path, [(encore, draft_of(hearing(), anchors_of(encore)), ("chords",))]).write()
    first, after = (one.songs[0] for one in read_show(path).show.sets)
    assert not any(one.chords for one in first.road_map)
    assert all(one.chords for one in after.road_map)


def test_two_recordings_of_one_title_are_both_heard() -> None:
    songs = [Song("Kettle", recording="a.mp3"), Song("Moth"), Song("Kettle", recording="b.mp3")]
    songs += [Song("Lamp", recording="a.mp3"), Song("Kettle", recording="a.mp3", tempo_bpm=99)]
    assert songs_with_recordings(Show("Gig"), songs) == [songs[0], songs[2], songs[3]]


@pytest.mark.parametrize(
    "now", ["Intro 4, Verse 4 x2, Coda 4", "Chorus 8, Outro 4", "Intro 4, Verse 4", "Intro, Verse"]
)
def test_a_road_map_that_changed_while_the_questions_were_asked_gets_no_chords(tmp_path: Path, now: str) -> None:
    song = "      - {title: Kettle, record_key: G, recording: k.mp3, road_map: 'Intro 4, Verse 8'}\n"
    path = written(tmp_path, song)
    heard = read_show(path).show.sets[0].songs[0]
    path.write_text(path.read_text(encoding="utf-8").replace("Intro 4, Verse 8", now), encoding="utf-8")
    done = with_drafts(path, [(heard, draft_of(hearing(), anchors_of(heard)), ("tempo", "chords"))])
    assert done.what == ("Kettle: tempo",)
    assert "|" not in done.after


def test_a_recording_that_was_exchanged_meanwhile_gets_nothing(tmp_path: Path) -> None:
    path = written(tmp_path, "      - {title: Kettle, recording: other.mp3}\n")
    with pytest.raises(CompanionError, match="not in the show any more"):
        with_drafts(path, [(Song("Kettle", recording="k.mp3"), draft_of(hearing()), ("key",))])


@pytest.mark.parametrize(
    ("written_keys", "parts", "chords_in", "letters"),
    [
        ("record_key: G, key: Bb,", ("form",), "chords_in: G", "G | C | D"),
        ("key: Bb,", ("key", "form"), "chords_in: G", "G | C | D"),
        ("", ("key", "form"), "chords_in: G", "G | C | D"),
        ("key: G,", ("key", "form"), "", "G | C | D"),
        ("key: Bb,", ("form",), "", ""),  # nobody knows in which key the letters are
        ("record_key: G, chords_in: F,", ("form",), "chords_in: F", ""),
    ],
)
def test_the_letters_of_a_record_in_another_key_say_so(
    tmp_path: Path, written_keys: str, parts: tuple[str, ...], chords_in: str, letters: str
) -> None:
    text = landed(tmp_path, f"      - {{title: Kettle, {written_keys} recording: k.mp3}}\n", parts)
    assert (letters in text) if letters else ("|" not in text)
    assert (chords_in in text) if chords_in else ("chords_in" not in text)


@pytest.mark.parametrize(
    ("keys", "parts", "chorus"),
    [
        ("record_key: G, key: G,", ("form",), "A 8 in A | (A | D | E | A) x2"),
        ("record_key: G, key: Bb,", ("form",), "A 8 in C | (A | D | E | A) x2"),  # the letters are the record's
        ("", ("key", "tonight", "form"), "A 8 in A | (A | D | E | A) x2"),
        ("record_key: G,", ("form",), "A 8 | (A | D | E | A) x2"),  # tonight's key is not known
    ],
)
def test_a_lift_is_written_as_the_sections_key(tmp_path: Path, keys: str, parts: tuple[str, ...], chorus: str) -> None:
    text = landed(tmp_path, f"      - {{title: Kettle, {keys} recording: k.mp3}}\n", parts, lift=2)
    assert chorus in text


@pytest.mark.parametrize(("keys", "shown"), [("key: G", "A"), ("key: Bb", "C"), ("", "A")])
def test_the_stage_shows_the_lifted_chords_in_tonights_key(tmp_path: Path, keys: str, shown: str) -> None:
    landed(tmp_path, f"      - {{title: Kettle, record_key: G, recording: k.mp3, {keys}}}\n", ("form",), lift=2)
    song = read_show(tmp_path / "gig.yaml").show.sets[0].songs[0]
    chorus = chords_on(song)[1]
    assert str(chorus.line_in(chorus.sounds)).lstrip("(").startswith(f"{shown} ")


def test_a_lift_in_the_players_own_sections_is_written_too(tmp_path: Path) -> None:
    song = (
        "      - title: Kettle\n        key: F\n        record_key: G\n        recording: k.mp3\n        road_map:\n"
        "          - Intro 4\n          - Chorus 8\n"
    )
    text = landed(tmp_path, song, ("chords",), lift=1)
    assert "- Chorus 8 in Gb | (Ab | Db | Eb | Ab) x2\n" in text


def test_the_records_key_is_offered_for_tonight_only_as_a_question() -> None:
    draft = draft_of(hearing())
    assert tonight_too(Song("Kettle"), draft) == "G"
    assert tonight_too(Song("Kettle", key=read_key("Bb")), draft) == ""
    assert "tonight" not in sure_parts(draft)
    assert "tonight" not in offered(Song("Kettle"), draft)


@pytest.mark.parametrize(
    ("tonight", "told"),
    [
        (None, "G, 30 cents flat"),
        ("G", "G, 30 cents flat"),
        ("Bb", "G, 30 cents flat; tonight Bb"),
        ("Em", "G, 30 cents flat"),  # the same notes
    ],
)
def test_the_records_key_is_told_beside_tonights(tonight: str | None, told: str) -> None:
    key = read_key(tonight) if tonight else None
    assert key_text(Song("Kettle", key=key), draft_of(hearing())) == told


def test_a_draft_is_shown_beside_what_is_written() -> None:
    song = Song("Kettle", key=read_key("Bb"), record_key=read_key("G"), tempo_bpm=126.0)
    draft = draft_of(hearing(key_sure=0.6, first_bar_s=2.5, begins=0.5))
    assert lines_beside(song, draft) == [
        "key: G, 30 cents flat; tonight Bb",
        "tempo: 120 (written: 126)",
        "meter: 4/4",
        "sections: A 4, B 8",
        "bar one at 0:02, after silence or a count-off",
        "A at 0:02: hardly any drums. Are the keys alone? Then mark it: A*",
        "? key: G or Em?",
    ]


@pytest.mark.parametrize(("begins", "is_thin"), [(0.5, True), (0.69, True), (0.8, False), (1.4, False)])
def test_a_thin_introduction_is_a_hint_to_a_feature(begins: float, is_thin: bool) -> None:  # noqa: FBT001
    assert [one.is_thin for one in draft_of(hearing(begins=begins)).sections] == [is_thin, False]


def test_an_unsure_key_change_is_shown_as_a_doubt_and_not_written() -> None:
    draft = draft_of(hearing(lift=2))
    unsure = replace(draft, sections=(draft.sections[0], replace(draft.sections[1], key_sure=0.6)))
    assert section_line(unsure.sections[1]) == "A 8 in A?"
    assert " in " not in road_map_of(unsure, read_key("G"))
    assert " in A" in road_map_of(draft, read_key("G"))
