"""A sitting that rates songs: what each key does, what is in the file after each, and a real terminal."""

import os
import select
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from planning.shows import show, song

from companion.edits import undo_of
from companion.planning.rate_writing import sit_rating
from companion.planning.rating import RATE_KEYS, RatePress, Rating, RatingStep, rating_of
from companion.show import Section, Song, SoundCall, read_show

SOUNDS = tuple(f"sound {at}" for at in range(1, 13))
FILE = """show: Pier Street  # mine
songs:
  - Moth
  - title: Weeds   # the slow one
    known: 2
  - {title: Tidal, hard: 4}
  - title: Brass fanfare
    tacet: yes
  - Moth
"""


@pytest.fixture
def pier(tmp_path: Path) -> Path:
    path = tmp_path / "pier.yaml"
    path.write_text(FILE)
    return path


def sat(pier: Path, keys: str) -> tuple[Rating, int, list[str]]:
    """Press these keys, words for those that are no letter; return the sitting, the answers, what each step asked."""
    asked: list[str] = []

    def draw(now: Rating, says: str) -> None:
        asked.append(f"{now.song.title} {now.rates.value}{f': {says}' if says.startswith('taken') else ''}")

    over, count = sit_rating(pier, rating_of(read_show(pier).show, SOUNDS), keys.split(), draw)
    return over, count, asked


def said(pier: Path) -> dict[str, tuple[int | None, int | None, str]]:
    songs = read_show(pier).show.sets[0].songs
    return {one.title: (one.known, one.hard, "".join(call.sound for call in one.sounds)) for one in songs}


def test_three_keystrokes_rate_a_song_also_where_a_question_has_its_answer(pier: Path) -> None:
    over, count, asked = sat(pier, "1 3 2 space 0 4 5 space 1")
    assert asked == [f"{title} {asks}" for title in ("Moth", "Weeds", "Tidal") for asks in ("known", "hard", "sound")]
    assert (over.is_over, over.open_steps, count) == (True, 0, 7)
    assert said(pier) == {
        "Moth": (1, 3, "sound 2"),
        "Weeds": (2, 0, "sound 4"),
        "Tidal": (5, 4, "sound 1"),
        "Brass fanfare": (None, None, ""),
    }


def test_each_answer_changes_its_own_lines_and_is_saved_before_the_next_question(pier: Path) -> None:
    seen: list[str] = []
    sit_rating(
        pier,
        rating_of(read_show(pier).show, SOUNDS),
        ["space", "space", "space", "3"],
        lambda _now, _says: seen.append(pier.read_text()),
    )
    assert seen[-2] == FILE
    assert seen[-1] == FILE.replace("    known: 2\n", "    known: 3\n")


def test_a_song_played_twice_is_rated_once(pier: Path) -> None:
    sat(pier, "4 q")
    assert [one.known for one in read_show(pier).show.sets[0].songs if one.title == "Moth"] == [4, 4]


def test_keys_typed_in_one_rhythm_stay_with_their_song_also_after_known_5_and_a_sound_in_the_road_map(
    pier: Path,
) -> None:
    pier.write_text(FILE.replace("{title: Tidal, hard: 4}", "{title: Tidal, road_map: [Intro 4 @organ]}"))
    over, count, asked = sat(pier, "5 2 1 5 1 3 1 4 2")
    assert said(pier) == {
        "Moth": (5, 2, "organ"),
        "Weeds": (5, 1, "sound 2"),
        "Tidal": (1, 4, ""),
        "Brass fanfare": (None, None, ""),
    }
    assert (over.is_over, count) == (True, 8)
    assert len(asked) == 9


def test_a_song_with_nothing_open_is_passed_and_a_question_open_nowhere_is_not_asked() -> None:
    organ = (SoundCall("organ"),)
    songs = (
        Song("A", known=3, hard=1, sounds=organ),
        Song("B", known=5, sounds=organ),
        Song("C", known=2, sounds=organ),
    )
    rating = rating_of(show(*songs))
    assert (rating.song.title, rating.rates, rating.open_steps) == ("C", RatingStep.HARD, 1)
    assert rating.pressed(RatePress.SKIP).is_over


def test_what_an_earlier_show_says_of_a_song_is_not_asked_again() -> None:
    organ = (SoundCall("organ"),)
    songs = show(Song("A", sounds=organ), Song("B", sounds=organ), Song("C", hard=1, sounds=organ))
    rating = rating_of(songs, before={"a": 5, "b": 3})
    assert (rating.song.title, rating.rates, rating.open_steps) == ("B", RatingStep.KNOWN, 2)
    assert rating.pressed(RatePress.SKIP).rates is RatingStep.HARD
    assert rating_of(songs, before={"a": 5, "b": 5, "c": 2}).open_steps == 0


def test_what_each_key_wrote_and_which_key_wrote_nothing_is_said(pier: Path) -> None:
    told: list[str] = []
    sit_rating(
        pier, rating_of(read_show(pier).show, SOUNDS), ["1", "7", "3", "2", "4"], lambda _now, says: told.append(says)
    )
    assert told == [
        "",
        "Moth: known 1",
        "7 is no answer here: Moth waits for hard",
        "Moth: hard 3",
        "Moth: sound sound 2",
        "Weeds: known 4, was 2",
    ]


def test_back_skip_undo_and_stop_work_and_the_next_sitting_continues(pier: Path) -> None:
    over, count, asked = sat(pier, "1 2 b 4 n u q")
    assert asked == [
        "Moth known",
        "Moth hard",
        "Moth sound",
        "Moth hard",  # b
        "Moth sound",  # 4 in place of 2
        "Weeds known",  # n
        "Moth hard: taken back: hard of Moth",  # u
    ]
    assert said(pier)["Moth"] == (1, 2, "")
    assert (over.is_over, count) == (False, 2)
    assert sat(pier, "q")[2] == ["Moth known"]  # the next sitting
    assert undo_of(pier) is not None


def test_undoing_all_answers_restores_the_file(pier: Path) -> None:
    _, count, asked = sat(pier, "1 2 3 u u u u q")
    assert (pier.read_text(), count) == (FILE, 0)
    assert asked[-1] == "Moth known"


def test_an_unknown_key_does_nothing(pier: Path) -> None:
    over, count, _ = sat(pier, "6 7 x up m 9 u q")
    assert (over.step, count, pier.read_text()) == (0, 0, FILE)


def test_more_than_nine_sounds_take_further_pages(pier: Path) -> None:
    sat(pier, "space space m 3 n n n")
    assert said(pier)["Moth"][2] == "sound 12"
    _, _, asked = sat(pier, "space space space space space m 4 q")
    assert asked[-1] == asked[-2]  # the second page has three sounds


def test_the_sounds_that_the_show_uses_come_first_and_keep_their_digits() -> None:
    organ, strings = (SoundCall("organ"),), (SoundCall("strings"),)
    one = show(song("A", sounds=strings), song("B", sounds=organ), song("C", sounds=organ), song("D"))
    rating = rating_of(one, ("piano", "organ"))
    assert rating.sounds == ("organ", "strings", "piano")


def test_a_sound_in_the_road_map_is_not_asked_for() -> None:
    own = Song("A", known=1, road_map=(Section("Intro", 4, sounds=(SoundCall("organ"),)),))
    rating = rating_of(show(own), SOUNDS).pressed(RatePress.SKIP)
    assert rating.is_over  # its first sound is known
    back = rating.pressed(RatePress.BACK)
    assert (back.rates, back.answer_to("1")) == (RatingStep.SOUND, None)


def test_a_value_that_an_editor_changed_meanwhile_is_shown_and_not_overwritten(pier: Path) -> None:
    def keys() -> Iterator[str]:
        pier.write_text(FILE.replace("- Moth\n  - title: W", "- {title: Moth, known: 3}\n  - title: W"))
        yield "1"
        assert said(pier)["Weeds"] == (2, None, "")
        yield "4"

    asked: list[tuple[int | None, str]] = []
    rating = rating_of(read_show(pier).show, SOUNDS)
    sit_rating(pier, rating, keys(), lambda now, says: asked.append((now.song.known, says)))
    assert asked[1] == (3, "known of Moth is 3 in the file now. Answer again to change it")
    assert [one.known for one in read_show(pier).show.sets[0].songs if one.title == "Moth"] == [4, 4]


def test_a_song_removed_from_the_file_is_reported_and_the_sitting_continues(pier: Path) -> None:
    def keys() -> Iterator[str]:
        pier.write_text(FILE.replace("  - Moth\n", ""))
        yield from ("1", "n", "2")

    asked: list[str] = []
    rating = rating_of(read_show(pier).show, SOUNDS)
    _, count = sit_rating(pier, rating, keys(), lambda _now, says: asked.append(says))
    assert "is gone" in asked[1]
    assert count == 1
    assert said(pier)["Weeds"] == (2, None, "")


def test_a_rated_show_can_be_rated_again(pier: Path) -> None:
    sat(pier, "1 3 2 2 0 4 5 4 1")
    _, _, asked = sat(pier, "2 q")
    assert asked[0] == "Moth known"
    assert said(pier)["Moth"][0] == 2


def test_each_keystroke_has_one_meaning() -> None:
    assert set(RATE_KEYS.values()) == set(RatePress)
    assert not set(RATE_KEYS) & set("0123456789")


@pytest.mark.skipif(sys.platform == "win32", reason="a pseudo terminal is not to be had there")
def test_in_a_terminal_keystrokes_rate_songs_and_the_title_is_large(pier: Path) -> None:
    import pty  # noqa: PLC0415  not on Windows

    ours, theirs = pty.openpty()
    command = (sys.executable, "-m", "companion.cli", "rate", str(pier))
    env = {**os.environ, "COLUMNS": "100", "PYTHONUTF8": "1"}
    with subprocess.Popen(command, stdin=theirs, stdout=theirs, stderr=theirs, env=env) as running:
        os.close(theirs)
        for key, shown in (("", "1 of 3"), ("1", "known 1"), ("3", "hard 3"), ("2", "2 of 3"), ("q", "still open")):
            os.write(ours, key.encode())
            text = shown_until(ours, shown)
            if shown == "1 of 3":
                assert "█" in text
                assert "How well do you know it?" in text
        assert running.wait(timeout=20) == 0
    os.close(ours)
    assert said(pier)["Moth"] == (1, 3, "electric piano")


def shown_until(terminal: int, words: str) -> str:
    """Read what the terminal shows until these words come."""
    text, until = "", time.monotonic() + 30
    while words not in text or ("kept" not in text and "still open" not in text):
        assert time.monotonic() < until, text
        if select.select([terminal], [], [], 0.1)[0]:
            text += os.read(terminal, 65536).decode("utf-8", "replace")
    return text


def test_without_a_terminal_the_message_says_what_to_do(pier: Path) -> None:
    command = (sys.executable, "-m", "companion.cli", "rate", str(pier))
    done = subprocess.run(command, stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False)
    assert done.returncode == 1
    assert "it needs a terminal" in done.stderr
