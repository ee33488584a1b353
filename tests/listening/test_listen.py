"""Listening: what counts as heard, the road map beside the music, keys, and files that are not there."""

import datetime as dt
import math
import os
import struct
import time
import wave
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from planning.shows import song

from companion.errors import NoStage
from companion.listening.heard_parts import HeardStretches, Timed, section_at, timed_sections
from companion.listening.player import Listened, Mixer, Now, Press, listen, records_of
from companion.listening.playlist import Track
from companion.practice_log.records import LogKind
from companion.show import Section

MAP = (Section("Intro", 4), Section("Verse", 8), Section("Chorus", 8, feature="riff"))
MOTH = song("Moth", "C", tempo_bpm=120.0, road_map=MAP)  # a bar is two seconds: 8, 16 and 16 seconds


class Turntable:
    """A player that is moved on by the test: a tenth of a second a wait."""

    def __init__(self, lengths: dict[str, float]) -> None:
        self.lengths = lengths
        self.path = ""
        self.at = 0.0
        self.held = False
        self.begun: list[tuple[str, float]] = []

    def play(self, path: str, from_s: float) -> None:
        if path not in self.lengths:
            raise NoStage(f"{path} is not there")
        self.path, self.at, self.held = path, from_s, False
        self.begun.append((path, from_s))

    def pause(self, paused: bool) -> None:  # noqa: FBT001  as the shape has it
        self.held = paused

    def at_s(self) -> float | None:
        return self.at if self.at < self.lengths[self.path] else None

    def stop(self) -> None:
        self.at = math.inf

    def length_s(self, path: str) -> float:
        return self.lengths[path]

    def wait(self) -> None:
        if not self.held:
            self.at += 0.1


def play(table: Turntable, tracks: list[Track], presses: dict[int, Press] | None = None) -> tuple[Listened, list[Now]]:
    """Play; ``presses`` are by the number of looks before them."""
    told: list[Now] = []
    looks = iter(range(100_000))

    def pressed() -> Iterator[Press]:
        at = next(looks)
        if presses and at in presses:
            yield presses[at]

    return listen(tracks, lambda where: where, table, pressed, told.append, table.wait), told


def test_a_whole_song_counts_as_a_hearing_and_three_quarters_do_not() -> None:
    listened, _ = play(Turntable({"a": 40.0}), [Track(MOTH, "a")])
    ((_, share),) = listened.heard
    assert share >= 0.99
    skipped, _ = play(Turntable({"a": 40.0}), [Track(MOTH, "a")], {300: Press.SKIP})
    ((_, share),) = skipped.heard
    assert 0.7 < share < 0.8


def test_going_back_does_not_count_twice() -> None:
    listened, _ = play(Turntable({"a": 40.0}), [Track(MOTH, "a")], {150: Press.BACK, 200: Press.BACK, 330: Press.SKIP})
    ((_, share),) = listened.heard
    assert share < 0.5


def test_a_pause_does_not_count_as_listening() -> None:
    table = Turntable({"a": 40.0})
    listened, _ = play(table, [Track(MOTH, "a")], {100: Press.PAUSE, 500: Press.SKIP})
    ((_, share),) = listened.heard
    assert share == pytest.approx(0.25, abs=0.02)


def test_the_road_map_moves_with_the_music() -> None:
    _, told = play(Turntable({"a": 40.0}), [Track(MOTH, "a")])
    assert [told[at].section for at in (10, 100, 300)] == ["Intro", "Verse", "Chorus"]
    assert told[100].coming == "Chorus * in 14 s"


def test_the_sections_of_a_draft_move_with_the_music() -> None:
    """The recording has two seconds of silence before bar one."""
    told: list[Now] = []
    table = Turntable({"a": 40.0})
    drafted = [Timed("A", 2.0, 10.0), Timed("B", 10.0, 26.0)]
    listen([Track(song("Moth"), "a")], str, table, lambda: iter(()), told.append, table.wait, lambda _song: drafted)
    assert [told[at].section for at in (10, 50, 150, 300)] == ["", "A", "B", ""]
    assert told[50].coming == "B in 5 s"


def test_a_section_loops_until_the_player_stops_looping() -> None:
    table = Turntable({"a": 40.0})
    _, told = play(table, [Track(MOTH, "a")], {100: Press.LOOP, 500: Press.LOOP})
    assert max(now.at_s for now in told[101:500]) < 24.3
    assert ("a", 8.0) in table.begun
    assert told[-1].section == "Chorus"


def test_a_missing_file_is_skipped_and_reported() -> None:
    listened, _ = play(Turntable({"b": 5.0}), [Track(MOTH, "a"), Track(song("Weeds"), "b")])
    assert [(track.song.title, word) for track, word in listened.unplayable] == [("Moth", "a is not there")]
    assert [one.title for one, _ in listened.heard] == ["Weeds"]


def test_quitting_ends_the_playback() -> None:
    listened, _ = play(Turntable({"a": 40.0, "b": 5.0}), [Track(MOTH, "a"), Track(song("Weeds"), "b")], {3: Press.QUIT})
    assert [one.title for one, _ in listened.heard] == ["Moth"]


def test_hearings_are_recorded() -> None:
    at = dt.datetime(2027, 6, 5, tzinfo=dt.UTC)
    assert [(one.did, one.share) for one in records_of(Listened(((MOTH, 0.9), (MOTH, 0.0))), at)] == [
        (LogKind.HEARD, 0.9)
    ]


@given(st.lists(st.tuples(st.floats(0, 100), st.floats(0, 100)), max_size=20))
def test_stretches_stay_apart_and_in_order(pairs: list[tuple[float, float]]) -> None:
    heard = HeardStretches()
    for begin, end in pairs:
        heard = heard.with_stretch(begin, end)
    flat = [edge for stretch in heard.stretches for edge in stretch]
    assert flat == sorted(flat)
    assert heard.seconds <= 100
    assert 0 <= heard.share(100) <= 1


def test_without_tempo_or_bars_no_section_is_shown() -> None:
    assert timed_sections(song("Moth", road_map=MAP)) == ()
    assert timed_sections(song("Moth", tempo_bpm=100.0, road_map=(Section("Intro"),))) == ()
    counted = song("Moth", tempo_bpm=120.0, road_map=(Section("Verse", chords="1 | 4"), Section("Verse")))
    assert [(one.begin_s, one.end_s) for one in timed_sections(counted)] == [(0.0, 4.0), (4.0, 8.0)]
    assert section_at(timed_sections(MOTH), 99) is None


def test_the_mixer_plays_a_real_file_from_any_position(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(os.environ, "SDL_AUDIODRIVER", "dummy")
    path = tmp_path / "a.wav"
    with wave.open(str(path), "wb") as file:
        file.setparams((1, 2, 22050, 0, "NONE", ""))
        file.writeframes(b"".join(struct.pack("<h", int(9000 * math.sin(at / 8))) for at in range(22050)))
    mixer = Mixer()
    try:
        assert mixer.length_s(str(path)) == pytest.approx(1.0, abs=0.05)
        mixer.play(str(path), 0.5)
        assert (mixer.at_s() or 0) >= 0.5
        deadline = time.monotonic() + 20
        while mixer.at_s() is not None and time.monotonic() < deadline:
            time.sleep(0.02)
        assert mixer.at_s() is None
        with pytest.raises(NoStage, match="is missing"):
            mixer.play(str(tmp_path / "gone.ogg"), 0)
        (tmp_path / "b.ogg").write_bytes(b"no music")
        with pytest.raises(NoStage, match="cannot be played"):
            mixer.play(str(tmp_path / "b.ogg"), 0)
    finally:
        mixer.close()
