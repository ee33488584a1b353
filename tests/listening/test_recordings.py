"""A folder of recordings: which file is of which song, what its tags add, and files that mean no good."""

import os
import struct
import sys
import wave
from pathlib import Path

import msgspec
import pytest
from planning.shows import song

from companion import child
from companion.child import ChildOutput, Ended
from companion.cli import main
from companion.errors import CompanionError
from companion.listening import recording_folder
from companion.listening.recording_folder import attach_recordings, line_of, look_for_recordings
from companion.listening.recordings import HowSure, RecordingFile, recordings_for
from companion.listening.tag_reader import RecordingTags
from companion.listening.tags_apart import read_tags
from companion.show import read_show

SHOW = """show: Pier Street  # mine
songs:
  - Gasworks Corner
  - title: Moth   # the slow one
    artist: The Nine
    length: "3:00"
  - {title: Seven Bridges, recording: there.wav}
  - Kettle on the Jetty
  - Moth
"""


def sound(path: Path, seconds: float = 2.0) -> Path:
    """Write a silent recording by the standard library."""
    path.parent.mkdir(parents=True, exist_ok=True)
    with wave.open(str(path), "wb") as out:
        out.setnchannels(1)
        out.setsampwidth(1)
        out.setframerate(100)
        out.writeframes(b"\x80" * int(100 * seconds))
    return path


def tagged(path: Path, **frames: str) -> Path:
    """Write an MP3 of silence with an ID3 tag: ID3v2.3.0 (id3.org), 3.1 (header), 3.3 (frames), 4.2.1 (texts).

    Each frame of sound has 417 bytes (ISO 11172-3: 144 x 128,000 / 44,100 Hz, layer III) and lasts 1152 / 44,100 s.
    """
    body = b""
    for name, text in frames.items():
        data = b"\x01" + text.encode("utf-16")
        body += name.encode() + struct.pack(">IH", len(data), 0) + data
    size = bytes(len(body) >> shift & 0x7F for shift in (21, 14, 7, 0))
    path.write_bytes(b"ID3\x03\x00\x00" + size + body + (b"\xff\xfb\x90\x00" + bytes(413)) * 77)
    return path


def file(stem: str, title: str = "", artist: str = "") -> RecordingFile:
    return RecordingFile(f"{stem}.mp3", stem, title, artist)


@pytest.fixture
def pier(tmp_path: Path) -> Path:
    folder = tmp_path / "gig"
    folder.mkdir()
    sound(folder / "there.wav")
    (folder / "pier.yaml").write_text(SHOW)
    return folder / "pier.yaml"


@pytest.mark.parametrize(
    ("one", "how"),
    [
        (file("track07", "Gasworks Corner"), HowSure.TAG),
        (file("Gasworks Corner"), HowSure.NAME),
        (file("07 Gasworks Corner"), HowSure.NAME),
        (file("1-07. gasworks_corner"), HowSure.NAME),
        (file("07 - Harbour Brass - Gasworks Corner"), HowSure.NAME),
        (file("Gasworks Corner - Harbour Brass"), HowSure.NAME),
        (file("Gasworks Corner (Official Audio) [2019 remaster]"), HowSure.NAME),
        (file("Gasworks Corner (live at the pier)"), HowSure.VERSION),
        (file("track07", "Gasworks Corner (acoustic)"), HowSure.VERSION),
        (file("Gaswork Corner"), HowSure.ALIKE),
        (file("band practice gasworks corner take 3"), HowSure.WITHIN),
        (file("Ferry Harbour"), None),
        (file("01"), None),
        (file("", ""), None),
    ],
)
def test_a_recording_matches_a_song_by_tags_or_name_or_is_in_doubt(one: RecordingFile, how: HowSure | None) -> None:
    found = recordings_for([song("Kettle on the Jetty"), song("Gasworks Corner")], [one])
    assert [(match.song.title, match.how) for match in found.found] == ([("Gasworks Corner", how)] if how else [])
    assert found.without_song == (() if how else (one,))


@pytest.mark.parametrize("stem", ["7 Bridges", "03 7 Bridges", "7_bridges"])
def test_a_title_that_begins_with_a_number_keeps_it(stem: str) -> None:
    (match,) = recordings_for([song("7 Bridges")], [file(stem)]).found
    assert match.is_sure


def test_the_same_title_by_another_artist_is_a_doubt() -> None:
    moth = song("Moth", artist="The Nine")
    (other,) = recordings_for([moth], [file("a", "Moth", "Harbour Brass")]).found
    (same,) = recordings_for([moth], [file("a", "Moth", "Nine")]).found
    assert (other.how, same.how) == (HowSure.VERSION, HowSure.TAG)


def test_of_several_recordings_the_surest_is_used_and_a_tie_is_in_doubt() -> None:
    moth = song("Moth")
    live, plain, tags = file("Moth (live)"), file("Moth"), file("x", "Moth")
    found = recordings_for([moth], [live, plain, tags])
    assert [(match.file, match.how) for match in found.found] == [(tags, HowSure.TAG)]
    assert found.without_song == (live, plain)
    (match,) = recordings_for([moth], [file("02 Moth"), file("01 Moth")]).found
    assert (match.file.stem, match.how) == ("01 Moth", HowSure.SEVERAL)


@pytest.mark.parametrize(
    ("bpm", "key", "tempo", "record_key"),
    [
        ("112", "Am", 112, "Am"),
        ("92.46", "F#", 92.5, "F#"),
        ("0", "8A", None, None),
        ("fast", "", None, None),
        ("1e9", "o", None, None),
    ],
)
def test_tempo_and_key_come_from_the_tags(bpm: str, key: str, tempo: float | None, record_key: str | None) -> None:
    one = RecordingFile("a.mp3", "a", bpm=bpm, key=key)
    assert one.tempo_bpm == tempo
    assert (str(one.record_key) if one.record_key else None) == record_key


def test_recordings_and_their_tags_are_added_without_touching_written_values(pier: Path) -> None:
    folder = pier.parent / "rec"
    sound(folder / "sub" / "04 Kettle on the Jetty.wav", 201.4)
    tagged(folder / "track.mp3", TIT2="Moth", TPE1="The Nine", TBPM="96", TKEY="Dm")
    sound(folder / "Seven Bridges.wav")
    sound(folder / "soundcheck.wav")
    looked = look_for_recordings(pier, folder)
    assert [line_of(one) for one in looked.matches.found] == [
        "Moth: rec/track.mp3, by its tags; tempo 96; recorded in Dm",
        "Kettle on the Jetty: rec/sub/04 Kettle on the Jetty.wav, by its name; length 3:21",
    ]
    assert [one.stem for one in looked.matches.without_song] == ["Seven Bridges", "soundcheck"]
    attach_recordings(pier, looked.matches.found)
    text = pier.read_text()
    assert text.startswith("show: Pier Street  # mine\nsongs:\n  - Gasworks Corner\n  - title: Moth   # the slow one\n")
    assert "  - {title: Seven Bridges, recording: there.wav}\n" in text
    songs = {one.title: one for one in read_show(pier).show.sets[0].songs}
    moth, kettle = songs["Moth"], songs["Kettle on the Jetty"]
    assert (moth.recording, moth.tempo_bpm, str(moth.record_key), moth.key) == ("rec/track.mp3", 96, "Dm", None)
    assert moth.length_s is None  # the last of its two places: its recording is two seconds long, and 3:00 was written
    assert (kettle.recording, kettle.length_s) == ("rec/sub/04 Kettle on the Jetty.wav", 201)


def test_a_recording_outside_the_shows_folder_is_written_with_its_full_path(pier: Path, tmp_path: Path) -> None:
    there = sound(tmp_path / "music" / "Moth.wav")
    (match,) = look_for_recordings(pier, there.parent).matches.found
    assert match.file.path == there.as_posix()


def test_the_length_in_a_file_is_read_exactly(tmp_path: Path) -> None:
    tags = read_tags([sound(tmp_path / "a.wav", 12.5), tagged(tmp_path / "b.mp3", TIT2="Café – naïve", TBPM="101")])
    assert tags[0].seconds == pytest.approx(12.5)
    assert tags[1].seconds == pytest.approx(77 * 1152 / 44_100, abs=0.06)
    assert (tags[1].title, tags[1].bpm) == ("Café – naïve", "101")


@pytest.mark.skipif(sys.platform == "win32", reason="links need rights there, and names are text")
def test_links_and_odd_names_are_skipped_and_reported(pier: Path, tmp_path: Path) -> None:
    folder = tmp_path / "odd"
    outside = sound(tmp_path / "elsewhere" / "Moth.wav")
    folder.mkdir()
    (folder / "Moth.wav").symlink_to(outside)
    (folder / "more").symlink_to(tmp_path)
    sound(folder / "x.wav").rename(folder / os.fsdecode(b"Gasworks Corner \xff.wav"))
    sound(folder / "Kettle on the Jetty\x1b[2J.wav")
    sound(folder / "Kettle\non the Jetty.wav")
    os.mkfifo(folder / "Moth.mp3")
    looked = look_for_recordings(pier, folder)
    assert looked.matches.found == ()
    assert sorted(line.partition(": ")[2] for line in looked.aside) == [
        "a link, not followed",
        "a link, not followed",
        *["its name cannot be written in a show file. Rename it"] * 3,
    ]


def test_a_damaged_recording_is_still_found_by_its_name(pier: Path) -> None:
    folder = pier.parent / "bad"
    folder.mkdir()
    (folder / "Moth.mp3").write_bytes(b"")
    (folder / "Gasworks Corner.flac").write_bytes(b"fLaC" + b"\xff" * 200)
    (folder / "Kettle on the Jetty.m4a").write_bytes(struct.pack(">I4s", 0x7FFFFFFF, b"moov") * 50)
    looked = look_for_recordings(pier, folder)
    assert {one.song.title for one in looked.matches.found} == {"Moth", "Gasworks Corner", "Kettle on the Jetty"}
    assert all(one.file.length_s is None for one in looked.matches.found)


def test_a_file_that_crashes_its_reader_does_not_affect_the_others(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    paths = [tmp_path / "a.wav", tmp_path / "bomb.mp3", tmp_path / "b.wav"]

    def ask(_command: list[str], given: bytes, **_limits: float) -> ChildOutput:
        asked = msgspec.json.decode(given, type=list[str])
        if any("bomb" in path for path in asked):
            return ChildOutput(Ended.TOO_MUCH, b"")
        return ChildOutput(Ended.WELL, b"".join(msgspec.json.encode(RecordingTags()) + b"\n" for _ in asked))

    monkeypatch.setattr(child, "ask", ask)
    tags = read_tags(paths)
    assert [bool(one.problem) for one in tags] == [False, True, False]


def test_only_so_many_recordings_are_read(pier: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(recording_folder, "MAX_FILES", 2)
    for name in ("a/Gasworks Corner", "b/Moth", "c/Kettle on the Jetty"):
        sound(pier.parent / "rec" / f"{name}.wav")
    looked = look_for_recordings(pier, pier.parent / "rec")
    assert [one.song.title for one in looked.matches.found] == ["Gasworks Corner", "Moth"]
    assert looked.aside == ("more than 2 recordings; the rest was not looked at",)


def test_a_path_that_is_not_a_folder_is_refused(pier: Path) -> None:
    with pytest.raises(CompanionError, match="is not a folder"):
        look_for_recordings(pier, pier)


def test_without_a_terminal_doubts_are_listed_and_only_what_is_sure_is_written(
    pier: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    sound(pier.parent / "rec" / "Moth (live).wav")
    sound(pier.parent / "rec" / "Gasworks Corner.wav")
    assert main(["listen", str(pier), "--recordings", str(pier.parent / "rec")]) == 0
    said = capsys.readouterr()
    assert "doubt: Moth: rec/Moth (live).wav, perhaps another version" in said.out
    assert "pass --yes" in said.err
    assert pier.read_text() == SHOW
    assert main(["listen", str(pier), "--recordings", str(pier.parent / "rec"), "--yes"]) == 0
    recorded = {one.title: one.recording for one in read_show(pier).show.sets[0].songs}
    assert (recorded["Moth"], recorded["Gasworks Corner"]) == (None, "rec/Gasworks Corner.wav")
