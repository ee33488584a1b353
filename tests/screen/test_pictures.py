"""A picture for every state, in both lights, without a display."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from PIL import Image

from companion.music import read_key
from companion.rig import Keyboard, Rig, Screen, Sound
from companion.screen.pictures import pictures
from companion.screen.scenes import every_state, scenes
from companion.show import Section, Set, Show, Song, SoundCall
from companion.stage import PositionKind, make_book
from companion.view import Looks

ROAD_MAP = (
    Section("Intro", 4, feature="riff alone", sounds=(SoundCall("piano"),)),
    Section("Verse", 16, first_words="under the"),
    Section("Solo", 8, feature="solo", open=True, watch="drummer", cue="two fingers up"),
    Section("Bridge", 8, tacet=True),
    Section("Chorus", 8, passes=2, key=read_key("C"), hits="4, 4&"),
)
BOOK, _ = make_book(
    Show(
        "Pier Street",
        sets=(
            Set(
                "First",
                1200,
                45,
                (Song("Kettle", tempo_bpm=112.0, road_map=ROAD_MAP, segue="Jetty"), Song("Jetty"), Song("Tram")),
            ),
            Set("Second", 1265, 45, (Song("Lantern", road_map=ROAD_MAP),)),
        ),
    ),
    Rig("test", (Keyboard("lower", port="Stage Piano", sounds=(Sound("piano", 0),)),), screen=Screen(345, 1.8)),
)

# The states that the screen must have a picture for
STATES = {
    *(
        "before the show",
        "up next",
        "playing",
        "feature coming",
        "feature",
        "open",
        "open, round 2",
        "bar count",
        "overrun",
    ),
    *("hands not lifted", "key changes", "tacet", "segue", "call", "between sets", "show over", "running late"),
    *("port lost", "port found", "dry run", "screen restarted", "keys", "everything", "beat mark", "count-off"),
}


def test_every_state_has_its_scene() -> None:
    assert {scene.name for scene in scenes(BOOK)} >= STATES


def test_a_night_as_written_goes_from_the_first_song_to_the_end() -> None:
    night = every_state(BOOK)
    assert night[-1].place.where is PositionKind.END
    assert {state.song.song.title for state in night if state.song} == {"Kettle", "Jetty", "Tram", "Lantern"}


def test_an_empty_show_has_pictures_too(tmp_path: Path) -> None:
    book, _ = make_book(Show("Empty"), BOOK.rig)
    assert [path.name for path in pictures(book, tmp_path, (320, 180))]


def test_pictures_have_the_requested_size(tmp_path: Path) -> None:
    told: list[tuple[int, int]] = []
    written = pictures(BOOK, tmp_path / "new", (320, 180), progress=lambda done, of: told.append((done, of)))
    assert told == [(done, len(written)) for done in range(len(written) + 1)]
    assert len(written) == 2 * len(list(scenes(BOOK)))
    assert {path.name.rpartition(", ")[2] for path in written} == {"dark.png", "day.png"}
    dark, day = (Image.open(path).convert("L") for path in written[:2])
    assert dark.size == day.size == (320, 180)
    assert dark.tobytes()[-1] < 40
    assert day.tobytes()[-1] > 220


FULL_DISK = """
import resource, signal, sys
from pathlib import Path
from screen.test_pictures import BOOK
from companion.view import Looks
from companion.screen.pictures import pictures
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (1000, 1000))
try:
    pictures(BOOK, Path(sys.argv[1]), (320, 180))
except OSError as refused:
    print("refused:", refused.strerror)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="no limits of a file's size there")
def test_pictures_left_empty_by_a_full_disk_are_a_failure(tmp_path: Path) -> None:
    """A limit of 1,000 bytes a file stands for the disk."""
    here = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[1])}
    command = [sys.executable, "-c", FULL_DISK, str(tmp_path)]
    done = subprocess.run(command, capture_output=True, text=True, check=True, env=here)
    assert "refused: File too large" in done.stdout


def test_the_pictured_page_of_keys_has_the_stages_keys() -> None:
    looks = Looks(keys=(("right", "next"),))
    seen = next(scene.view for scene in scenes(BOOK, looks) if scene.name == "keys")
    assert "right" in {line.label for line in seen.lines}


def test_the_engine_does_not_import_the_window() -> None:
    code = "import sys; from companion.view import view; print('pygame' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "False\n"
