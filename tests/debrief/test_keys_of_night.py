"""A key of one night is not the usual one: the songbook keeps that unless the player says otherwise."""

import datetime as dt
from pathlib import Path

import pytest

from companion.cli import main
from companion.debrief.keys_of_night import keys_before
from companion.edits import SetValue, SongNamed, open_text, save
from companion.show import read_show

SHOW = """\
show: Lock Keepers' Ball
date: 2027-06-19
band: The Paper Nine
songs:
  - title: Moth
    key: G
    road_map: Intro 4 | 1 | 4 | 5 | 1
  - title: Weeds
    key: D
"""
DAY = dt.datetime(2027, 6, 19, 18, tzinfo=dt.UTC)


@pytest.fixture
def show(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    (tmp_path / "ball.yaml").write_text(SHOW, encoding="utf-8")
    return tmp_path / "ball.yaml"


def change(show: Path, at: dt.datetime, title: str, key: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Change a song's key at this time."""

    class Clock(dt.datetime):
        @classmethod
        def now(cls, tz: dt.tzinfo | None = None) -> "Clock":
            return cls.fromtimestamp(at.timestamp(), tz)

    with monkeypatch.context() as patched:
        patched.setattr("companion.edits.undo_list.dt.datetime", Clock)
        save(open_text(show), [SetValue((SongNamed(title), "key"), key)], "key")


@pytest.fixture
def changed(show: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return the show: Weeds was corrected a week before, and Moth changed on the day."""
    change(show, DAY - dt.timedelta(days=7), "Weeds", "E", monkeypatch)
    change(show, DAY, "Moth", "F", monkeypatch)
    return show


def book(show: Path) -> str:
    return show.with_name("songbook.yaml").read_text(encoding="utf-8")


def keys(show: Path) -> dict[str, str]:
    return {song.title: str(song.key) for one in read_show(show).show.sets for song in one.songs}


def test_the_usual_key_of_a_new_song_goes_into_the_songbook_and_the_nights_stays_with_the_show(changed: Path) -> None:
    assert {title: str(key) for title, key in keys_before(changed, DAY.date()).items()} == {"moth": "G", "weeds": "E"}
    assert main(["songbook", str(changed), "--yes"]) == 0
    assert "moth:\n  title: Moth\n  key: G\n" in book(changed)
    assert "weeds:\n  title: Weeds\n  key: E\n" in book(changed)
    assert keys(changed) == {"Moth": "F", "Weeds": "E"}


@pytest.mark.parametrize(("pressed", "usual"), [("y\ry", "G"), ("ysy", "G"), ("yey", "F")])
def test_the_player_is_asked_which_key_is_usual_and_enter_leaves_it(
    changed: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], pressed: str, usual: str
) -> None:
    left = iter(pressed)
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    monkeypatch.setattr("click.getchar", lambda: next(left))
    assert main(["songbook", str(changed)]) == 0
    assert "key F since the day of the show, G before: Which is usual? e for everyone" in capsys.readouterr().err
    assert f"  title: Moth\n  key: {usual}\n" in book(changed)
    assert keys(changed) == {"Moth": "F", "Weeds": "E"}
    assert next(left, None) is None


def test_a_key_that_the_songbook_has_stays_there_where_nothing_is_asked(show: Path) -> None:
    show.with_name("songbook.yaml").write_text(
        "moth: {title: Moth, key: C}\nweeds: {title: Weeds, key: D, tempo: 90}\n"
    )
    assert main(["songbook", str(show), "--yes"]) == 0
    assert "moth: {title: Moth, key: C}" in book(show)
    assert "moth@" not in book(show)
    assert keys(show) == {"Moth": "G", "Weeds": "D"}


def test_before_the_day_and_without_a_history_nothing_is_known(show: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert keys_before(show, DAY.date()) == {}
    change(show, DAY - dt.timedelta(days=7), "Weeds", "E", monkeypatch)
    assert keys_before(show, DAY.date()) == {}
    assert keys_before(show, None) == {}
    change(show, DAY + dt.timedelta(days=1), "Moth", "F", monkeypatch)
    assert keys_before(show, DAY.date()) == {}, "a change after the show is a correction"
