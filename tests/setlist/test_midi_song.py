"""A MIDI file into a show that has had work done: its one song is added or filled in, all else stays."""

import difflib
from pathlib import Path

import pytest

from companion.cli import main
from companion.setlist.midi_song import import_midi
from companion.show import read_show

pytestmark = pytest.mark.usefixtures("reads_here")

# 480 ticks, 112 bpm, Bb major, track name "Moth", marker "Verse" at bar 5 of 4/4, and the end of the track a bar later
# (Standard MIDI Files 1.0, worked out by hand).
TRACK = "00FF03044D6F7468 00FF5103082CA2 00FF5902FE00 BC00FF06055665727365 8F00FF2F00"
SONG = (
    bytes.fromhex("4D546864 00000006 0001 0001 01E0 4D54726B")
    + len(bytes.fromhex(TRACK)).to_bytes(4)
    + bytes.fromhex(TRACK)
)
SHOW = """\
# my show
show: Mine   # two weeks of work
sets:
  - set: First
    songs:
      - title: Gasworks Corner
        key: C   # the leader's
        road_map: Intro 4*, Verse 16
{song}      - Weeds
"""


@pytest.fixture
def song(tmp_path: Path) -> Path:
    (tmp_path / "moth.mid").write_bytes(SONG)
    return tmp_path / "moth.mid"


def changed(before: str, after: str) -> list[str]:
    lines = difflib.ndiff(before.splitlines(), after.splitlines())
    return [line for line in lines if line[0] in "+-"]


def imported(song: Path, before: str, *words: str) -> list[str]:
    show = song.with_name("mine.yaml")
    show.write_text(before)
    assert main(["import", str(song), "--into", str(show), *words]) == 0
    read_show(show)
    return changed(before, show.read_text())


def test_a_new_song_is_added_and_no_other_line_changes(song: Path) -> None:
    assert imported(song, SHOW.format(song=""), "--yes")[:5] == [
        "+       - title: Moth",
        "+         key: Bb",
        "+         tempo: 112",
        "+         meter: 4/4",
        "+         road_map: Intro 4, Verse 1",
    ]


@pytest.mark.parametrize("typed", ["      - Moth   # soon\n", "      - {title: Moth}\n"])
def test_a_bare_title_is_filled_in(song: Path, typed: str) -> None:
    imported(song, SHOW.format(song=typed), "--yes")
    moth = read_show(song.with_name("mine.yaml")).show.sets[0].songs[1]
    assert (str(moth.key), moth.tempo_bpm, [one.name for one in moth.road_map]) == ("Bb", 112, ["Intro", "Verse"])
    assert moth.notes is None


def test_the_players_own_values_stay_and_are_reported(song: Path, capsys: pytest.CaptureFixture[str]) -> None:
    written = "      - title: Moth\n        key: A   # sure\n        road_map: Verse 8\n"
    assert imported(song, SHOW.format(song=written), "--yes") == ["+         tempo: 112", "+         meter: 4/4"]
    out = capsys.readouterr().out
    assert "Moth: key stays A; the MIDI file says Bb" in out
    assert "Moth: tempo 112" in out


def test_nothing_is_written_without_a_yes_or_a_gap_to_fill(song: Path) -> None:
    assert imported(song, SHOW.format(song="")) == []
    assert imported(song, SHOW.format(song=""), "--yes")
    show = song.with_name("mine.yaml")
    again = show.read_text()
    assert not import_midi(song, show).is_written
    assert show.read_text() == again


def test_a_file_that_is_not_a_show_is_not_overwritten(song: Path) -> None:
    text = "groceries:\n  - milk\n"
    song.with_name("mine.yaml").write_text(text)
    assert main(["import", str(song), "--into", str(song.with_name("mine.yaml")), "--yes"]) == 1
    assert song.with_name("mine.yaml").read_text() == text


def test_a_new_file_contains_only_the_song(song: Path) -> None:
    assert main(["import", str(song), "--into", str(song.with_name("new.yaml"))]) == 0
    (one,) = read_show(song.with_name("new.yaml")).show.sets
    assert [song.title for song in one.songs] == ["Moth"]


def test_a_new_file_is_reported_as_new_and_written(song: Path) -> None:
    made = import_midi(song, song.with_name("new.yaml"))
    assert (made.is_new, made.is_written) == (True, True)
    again = import_midi(song, song.with_name("new.yaml"))
    assert (again.is_new, again.is_written) == (False, False)
