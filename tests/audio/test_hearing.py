"""A rendered song, whose truth is known, is heard whole: through the command, and again from what was kept."""

import json
import shutil
from pathlib import Path

import numpy as np
import pytest
from audio.invented_songs import Call, Part
from audio.recorded_songs import CHORUS, VERSE, part, recorded
from click.testing import CliRunner
from numpy.typing import NDArray

from companion.audio.constant_q import RATE
from companion.audio.decoding import decoded
from companion.audio.heard_draft import SongDraft, draft_of
from companion.audio.hearing import at_one_level, hearing_of, raw_hearing
from companion.cli import main
from companion.commands.group import companion
from companion.commands.practising import opened
from companion.show import read_show


@pytest.fixture(scope="module")
def cache(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return where the command keeps what it heard; the second test that asks finds there what the first one heard."""
    return tmp_path_factory.mktemp("cache")


def test_the_command_drafts_a_song_and_caches_the_result(
    short_recording: Path, cache: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(cache))
    shutil.copy(short_recording, tmp_path / "lanterns.wav")
    show = tmp_path / "gig.yaml"
    show.write_text(
        "show: Gig\nsets:\n  - set: First\n    songs:\n"
        "      - title: Lanterns\n        recording: lanterns.wav\n      - title: Gone\n        recording: gone.mp3\n",
        encoding="utf-8",
    )
    said = CliRunner().invoke(companion, ["hear", str(show), "--yes", "--json"])
    assert said.exit_code == 0, said.output
    lanterns, gone = json.loads(said.stdout)
    draft = lanterns["draft"]
    assert draft["record_key"] == "G"
    assert abs(draft["tempo_bpm"] - 118) <= 1
    assert draft["meter"] == "4/4"
    assert [section["bars"] for section in draft["sections"]] == [4, 4]
    assert draft["sections"][0]["chords"] == "G | Em | C | D"
    assert "gone.mp3" in gone["problem"]
    text = show.read_text(encoding="utf-8")
    assert "record_key: G" in text
    assert "tempo: 118" in text
    again = CliRunner().invoke(companion, ["hear", str(show), "--json"])
    assert json.loads(again.stdout)[0]["seconds"] == 0


def test_a_show_without_recordings_says_what_to_write(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    show = tmp_path / "gig.yaml"
    show.write_text("show: Gig\nsongs: [Lanterns]\n", encoding="utf-8")
    assert main(["hear", str(show)]) == 1
    assert "Write: recording: and a file beside the show" in capsys.readouterr().err


def test_listen_opens_with_the_draft(
    short_recording: Path, cache: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The sections of the draft stand where the recording has them; without a draft, where the road map says."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "empty"))
    shutil.copy(short_recording, tmp_path / "lanterns.wav")
    show = tmp_path / "gig.yaml"
    show.write_text(
        "show: Gig\nsongs:\n  - title: Lanterns\n    recording: lanterns.wav\n    tempo: 60\n"
        "    road_map: [Verse 4*, Chorus 4]\n",
        encoding="utf-8",
    )
    song = read_show(show).show.sets[0].songs[0]
    assert [one.begin_s for one in opened(show, song)] == [0, 16]
    monkeypatch.setenv("XDG_CACHE_HOME", str(cache))
    assert CliRunner().invoke(companion, ["hear", str(show), "--json"]).exit_code == 0
    verse, chorus = opened(show, song)
    assert (verse.name, verse.feature, chorus.name) == ("Verse", "feature", "Chorus")
    assert chorus.begin_s - verse.begin_s == pytest.approx(4 * 4 * 60 / 118, abs=0.2)


@pytest.mark.long
def test_an_introduction_without_drums_is_a_hint_and_bar_one_comes_after_the_count_off(tmp_path: Path) -> None:
    intro = Part("I", part("I", VERSE, 0.55).bars[:4], full=0.55, no_drums=True)
    song, path = recorded((intro, part("A", CHORUS, 1.0)), tmp_path / "keys.wav", count_off=1, silence_s=1.7)
    draft = heard(decoded(path))
    assert [one.is_thin for one in draft.sections] == [True, False]
    assert draft.first_bar_s == pytest.approx(song.downbeats[0], abs=0.07)
    assert song.downbeats[0] > 3.5


@pytest.mark.long
def test_a_named_downbeat_puts_a_recording_right_without_listening_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Every chord comes half a bar after the bar line, and no drums say where that is."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    loop = [(7, "maj"), (4, "min"), (0, "maj"), (2, "maj")] * 3
    late = [
        (Call(before[0], before[1], 2), Call(one[0], one[1], 2))
        for before, one in zip(loop[-1:] + loop, loop, strict=False)
    ]
    song, _path = recorded((Part("A", tuple(late), 0.75),), tmp_path / "late.wav")
    show = tmp_path / "gig.yaml"
    show.write_text("show: Gig\nsongs:\n  - {title: Late, recording: late.wav}\n", encoding="utf-8")

    def first_bar(*more: str) -> tuple[float, float]:
        said = CliRunner().invoke(companion, ["hear", str(show), "--song", "Late", "--json", *more])
        assert said.exit_code == 0, said.output
        (told,) = json.loads(said.stdout)
        return float(told["draft"]["first_bar_s"]), float(told["seconds"])

    bar_s = 4 * 60 / song.bpm
    assert (first_bar()[0] - song.downbeats[0]) % bar_s == pytest.approx(bar_s / 2, abs=0.07)
    place = song.downbeats[6]
    put_right, seconds = first_bar("--downbeat", f"{int(place) // 60}:{place % 60:.1f}")
    assert (put_right - song.downbeats[0] + 0.1) % bar_s < 0.2
    assert seconds == 0


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (["--downbeat", "1:12.4"], "--downbeat needs one song. Write: --song and its title"),
        (["--song", "Late", "--downbeat", "noon"], "noon is not a place in a recording. Write: 1:12.4"),
        (["--song", "Late", "--downbeat=-3"], "-3 is not a place in a recording"),
    ],
)
def test_a_downbeat_needs_a_song_and_a_place(tmp_path: Path, options: list[str], says: str) -> None:
    show = tmp_path / "gig.yaml"
    show.write_text("show: Gig\nsongs:\n  - {title: Late, recording: late.wav}\n", encoding="utf-8")
    said = CliRunner().invoke(companion, ["hear", str(show), *options])
    assert said.exit_code
    assert says in f"{said.output}{said.exception}"


def heard(samples: NDArray[np.float32]) -> SongDraft:
    return draft_of(hearing_of(raw_hearing(samples.astype(np.float32))))


@pytest.mark.parametrize("times", [0.001, 0.1, 3.0])
def test_music_is_brought_to_one_level_however_loud_its_file_is(times: float) -> None:
    music = np.random.default_rng(1).normal(0, 0.2, 10 * RATE).astype(np.float32)
    music[: 4 * RATE] *= 0.3
    late = np.concatenate([np.zeros(2 * RATE, np.float32), times * music])
    np.testing.assert_allclose(at_one_level(late)[2 * RATE :], at_one_level(music), rtol=1e-3)
    assert np.sqrt(np.mean(np.square(at_one_level(music)))) == pytest.approx(10 ** (-16 / 20), rel=0.01)


@pytest.mark.parametrize("samples", [np.zeros(RATE, np.float32), np.zeros(0, np.float32), np.ones(5, np.float32)])
def test_silence_and_a_few_samples_keep_their_level(samples: NDArray[np.float32]) -> None:
    assert np.array_equal(at_one_level(samples), samples)
