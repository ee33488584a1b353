"""MIDI files: a whole one by its bytes, markers, meters, keys with and without a signature, and all that is broken."""

import errno
import os
from pathlib import Path

import mido
import pytest
from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.errors import FaultyFile
from companion.files import SourceFile
from companion.music import Meter
from companion.setlist.readers.midi_file import MAX_BYTES, MidiSong, as_show, midi_song, read_midi_file
from companion.show.show_file import show_in
from companion.show.show_text import write_show

pytestmark = pytest.mark.usefixtures("reads_here")

WHOLE = bytes.fromhex(  # Standard MIDI Files 1.0, put together by hand: 112 bpm, Bb major, marker "Verse" at bar 5
    "4D54686400000006000100 0101E04D54726B0000001B00FF51030 82CA200FF5902FE00BC00FF06055665727365 00FF2F00".replace(
        " ", ""
    )
)
SCALE = (0, 2, 4, 5, 7, 9, 11, 12, 7, 4, 0)


def saved(path: Path, *messages: mido.Message | mido.MetaMessage, kind: int = 1) -> Path:
    file = mido.MidiFile(type=kind, ticks_per_beat=480)
    track = mido.MidiTrack(messages)
    file.tracks.append(track)
    file.save(path)
    return path


def meta(kind: str, time: int = 0, **values: object) -> mido.MetaMessage:
    return mido.MetaMessage(kind, time=time, **values)


def tune(tonic: int, times: int = 4) -> list[mido.Message]:
    notes = []
    for step in SCALE * times:
        notes.append(mido.Message("note_on", note=60 + tonic + step, velocity=80))
        notes.append(mido.Message("note_off", note=60 + tonic + step, time=480))
    return notes


def test_a_complete_midi_file_is_read(tmp_path: Path) -> None:
    path = tmp_path / "gasworks_corner.mid"
    path.write_bytes(WHOLE)
    song = read_midi_file(path).song
    assert (song.title, song.tempo_bpm, str(song.key), song.meter) == ("gasworks corner", 112.0, "Bb", Meter(4, 4))
    assert [(section.name, section.bars) for section in song.road_map] == [("Intro", 4)]


def test_markers_become_the_road_map_and_lyrics_its_cues(tmp_path: Path) -> None:
    bar = 1920
    path = saved(
        tmp_path / "a.mid",
        meta("track_name", name="Gasworks Corner"),
        meta("set_tempo", tempo=535_714),
        meta("time_signature", numerator=4, denominator=4),
        meta("marker", text="Intro"),
        meta("marker", text="Verse", time=4 * bar),
        meta("lyrics", text="un"),
        meta("lyrics", text="der ", time=240),
        meta("lyrics", text="the ", time=240),
        meta("lyrics", text="lamps ", time=480),
        meta("lyrics", text="we ", time=960),
        meta("marker", text="Chorus", time=15 * bar),
        meta("end_of_track", time=8 * bar),
    )
    found = read_midi_file(path)
    assert found.song.title == "Gasworks Corner"
    assert [(section.name, section.bars) for section in found.song.road_map] == [
        ("Intro", 4),
        ("Verse", 16),
        ("Chorus", 8),
    ]
    assert found.song.road_map[1].first_words == "under the lamps"


@pytest.mark.parametrize(
    ("beats", "unit", "tempo_us", "bpm"),
    [  # the event counts quarters whatever the meter (Standard MIDI Files 1.0); we count what the foot taps
        (4, 4, 500_000, 120.0),
        (6, 8, 740_741, 54.0),
        (12, 8, 833_333, 48.0),
        (2, 2, 500_000, 60.0),
    ],
)
def test_the_tempo_counts_felt_beats(tmp_path: Path, beats: int, unit: int, tempo_us: int, bpm: float) -> None:
    path = saved(
        tmp_path / "a.mid",
        meta("time_signature", numerator=beats, denominator=unit),
        meta("set_tempo", tempo=tempo_us),
        meta("end_of_track", time=9_600),
    )
    song = read_midi_file(path).song
    assert (song.meter, song.tempo_bpm) == (Meter(beats, unit), bpm)


@pytest.mark.parametrize(("tonic", "key"), [(0, "C"), (2, "D"), (3, "Eb"), (6, "Gb"), (10, "Bb")])
def test_without_a_key_signature_the_key_is_estimated_and_marked(tmp_path: Path, tonic: int, key: str) -> None:
    found = read_midi_file(saved(tmp_path / "a.mid", *tune(tonic)))
    assert str(found.song.key) == key
    assert any("no key signature" in words for words in found.remarks)


MINOR_SCALE = (0, 2, 3, 5, 7, 8, 11, 12, 7, 3, 0)  # harmonic minor


def minor(tonic: int) -> list[mido.Message]:
    moved = dict(zip(SCALE, MINOR_SCALE, strict=True))
    return [one.copy(note=60 + tonic + moved[one.note - 60]) for one in tune(0)]


@pytest.mark.parametrize(
    ("signature", "notes", "key", "says"),
    [
        ("C", minor(5), "Fm", "key Fm, from its notes"),  # a signature that many programs write for any key
        ("C", tune(7), "G", "key G, from its notes"),
        ("Ab", minor(5), "Fm", "key Fm, from its notes"),  # the same flats, in minor
        ("C", tune(0), "C", "key C, from its key signature"),
        ("F#", tune(6), "F#", "key F#, from its key signature"),  # the ear's Gb
        ("Eb", tune(7), "Eb", "its notes fit G better: check it"),
        ("Fm", minor(5), "Fm", "key Fm, from its key signature"),
    ],
)
def test_a_key_signature_counts_unless_it_is_a_default_that_the_notes_contradict(
    tmp_path: Path, signature: str, notes: list[mido.Message], key: str, says: str
) -> None:
    found = read_midi_file(saved(tmp_path / "a.mid", meta("key_signature", key=signature), *notes))
    assert str(found.song.key) == key
    assert any(says in words for words in found.remarks)


def test_drums_have_no_key(tmp_path: Path) -> None:
    drums = [message.copy(channel=9) for message in tune(0)]
    assert read_midi_file(saved(tmp_path / "a.mid", *drums)).song.key is None


def test_without_markers_what_repeats_gets_the_same_letter(tmp_path: Path) -> None:
    def block(*notes: int) -> list[mido.Message]:
        played = []
        for note in notes * 8:
            played.append(mido.Message("note_on", note=note, velocity=80))
            played.append(mido.Message("note_off", note=note, time=480))
        return played

    verse, chorus = block(60, 64, 67, 64), block(65, 69, 72, 71)
    found = read_midi_file(saved(tmp_path / "a.mid", *verse, *chorus, *verse, *chorus, *chorus))
    assert [(section.name, section.bars, section.passes) for section in found.song.road_map] == [
        ("Part A", 8, 1),
        ("Part B", 8, 1),
        ("Part A", 8, 1),
        ("Part B", 8, 2),
    ]
    assert any("proposed" in words for words in found.remarks)


def test_a_tempo_of_0_is_left_out(tmp_path: Path) -> None:
    path = saved(tmp_path / "a.mid", meta("set_tempo", tempo=0), meta("set_tempo", tempo=500_000), *tune(0))
    found = read_midi_file(path)
    assert found.song.tempo_bpm == 120
    assert "a tempo of 0 is ignored" in found.remarks


def test_a_key_signature_that_no_key_has_is_left_out(tmp_path: Path) -> None:
    path = tmp_path / "a.mid"
    path.write_bytes(WHOLE.replace(b"\xff\x59\x02\xfe\x00", b"\xff\x59\x02\x0b\x00"))
    assert read_midi_file(path).song.key is None


@pytest.mark.parametrize(
    ("raw", "problem"),
    [
        (b"", "not a Standard MIDI File"),
        (b"RIFF....", "not a Standard MIDI File"),
        (WHOLE[:-12], "cut short"),
        (WHOLE[:9] + b"\x02" + WHOLE[10:], "type 2"),
        (WHOLE[:12] + b"\xe7\x28" + WHOLE[14:], "counts time in frames"),  # 25 frames of 40 ticks
        (WHOLE[:12] + b"\x00\x00" + WHOLE[14:], "counts time in frames"),
    ],
)
def test_a_midi_file_without_a_song_is_reported_with_what_to_do(tmp_path: Path, raw: bytes, problem: str) -> None:
    path = tmp_path / "a.mid"
    path.write_bytes(raw)
    with pytest.raises(FaultyFile, match=problem) as caught:
        read_midi_file(path)
    assert caught.value.faults[0].write


def test_a_song_of_a_midi_file_is_written_as_a_show_and_reads_back(tmp_path: Path) -> None:
    name = "Verse: the #1, {loud}"
    path = saved(tmp_path / "a.mid", meta("marker", text="x\ny"), meta("marker", text=name, time=1920), *tune(0))
    show = as_show(read_midi_file(path))
    assert [section.name for section in show.sets[0].songs[0].road_map] == ["x y", name]
    assert show_in(SourceFile("song.yaml", write_show(show))).show == show


def test_a_missing_midi_file_is_reported(tmp_path: Path) -> None:
    with pytest.raises(FaultyFile, match=f"cannot be read: {os.strerror(errno.ENOENT)}"):
        read_midi_file(tmp_path / "none.mid")


@settings(max_examples=examples(150), deadline=None)
@given(st.data())
def test_any_bytes_give_a_song_or_a_fault(data: st.DataObject) -> None:
    raw = bytearray(WHOLE)
    for _change in range(data.draw(st.integers(0, 4))):
        raw[data.draw(st.integers(14, len(raw) - 1))] = data.draw(st.integers(0, 255))
    cut = bytes(raw[: data.draw(st.integers(14, len(raw)))])
    try:
        found = read_from(cut)
    except FaultyFile:
        return
    show = as_show(found)
    assert show_in(SourceFile("song.yaml", write_show(show))).show == show


def read_from(raw: bytes) -> MidiSong:
    return midi_song(raw, "a.mid")


def held(note: int, bars: int) -> list[mido.Message]:
    """Return a note that is struck once a bar of 4/4."""
    return [
        message
        for _ in range(bars)
        for message in (mido.Message("note_on", note=note), mido.Message("note_off", note=note, time=1920))
    ]


@pytest.mark.parametrize(
    ("notes", "parts"),
    [
        ([(60, 8), (62, 8), (64, 1)], [("Part A", 8, 1), ("Part B", 8, 1), ("Part C", 1, 1)]),
        ([(60, 16), (62, 8), (60, 8)], [("Part A", 8, 2), ("Part B", 8, 1), ("Part A", 8, 1)]),
        ([(60, 7)], [("Part A", 7, 1)]),
        ([(60, 264)], [("Part A", 8, 32), ("Part A", 8, 1)]),
    ],
)
def test_blocks_of_eight_bars_are_parts_and_the_rest_is_one_too(
    tmp_path: Path, notes: list[tuple[int, int]], parts: list[tuple[str, int, int]]
) -> None:
    path = saved(tmp_path / "a.mid", *(message for note, bars in notes for message in held(note, bars)))
    road_map = midi_song(path.read_bytes(), "a.mid").song.road_map
    assert [(section.name, section.bars, section.passes) for section in road_map] == parts


@pytest.mark.parametrize(("first", "then", "bpm"), [(4, 3, 120.0), (3, 4, 90.0)])
def test_the_tempo_that_lasts_longest_counts(tmp_path: Path, first: int, then: int, bpm: float) -> None:
    notes = [
        meta("set_tempo", tempo=500_000),
        *held(60, first),
        mido.MetaMessage("set_tempo", tempo=666_667),
        *held(60, then),
    ]
    found = midi_song(saved(tmp_path / "a.mid", *notes).read_bytes(), "a.mid")
    assert found.song.tempo_bpm == bpm
    assert f"the tempo changes; {bpm:g} lasts longest" in found.remarks


@pytest.mark.parametrize(
    ("markers", "parts"),
    [
        ([(0, "Verse"), (4, "Chorus")], [("Verse", 4), ("Chorus", 4)]),
        ([(2, "Verse"), (4, "Chorus")], [("Intro", 2), ("Verse", 2), ("Chorus", 4)]),
        ([(0, "Verse"), (0, "Again"), (4, "Chorus")], [("Again", 4), ("Chorus", 4)]),
    ],
)
def test_markers_begin_sections_and_bars_before_the_first_are_the_intro(
    tmp_path: Path, markers: list[tuple[int, str]], parts: list[tuple[str, int]]
) -> None:
    track = mido.MidiTrack()
    before = 0
    for bar, name in markers:
        track.append(meta("marker", text=name, time=(bar - before) * 1920))
        before = bar
    file = mido.MidiFile(type=1, ticks_per_beat=480)
    file.tracks += [track, mido.MidiTrack(held(60, 8))]
    file.save(tmp_path / "a.mid")
    road_map = midi_song((tmp_path / "a.mid").read_bytes(), "a.mid").song.road_map
    assert [(section.name, section.bars) for section in road_map] == parts


def test_a_file_that_is_too_large_is_refused_before_it_is_read(tmp_path: Path) -> None:
    path = tmp_path / "a.mid"
    with path.open("wb") as file:
        file.truncate(MAX_BYTES + 1)
    with pytest.raises(FaultyFile, match=f"it is larger than {MAX_BYTES / 2**20:g} MiB"):
        read_midi_file(path)
