"""The commands of the days before, as the shell sees them: output, files written, exit codes."""

import datetime as dt
import functools
import json
import shutil
from pathlib import Path

import pytest

from companion.cli import main
from companion.commands import days_before, planning_days, practising
from companion.screen import pictures as screen_pictures
from companion.show import read_show

pytestmark = pytest.mark.usefixtures("reads_here")

NOW = dt.datetime(2027, 5, 29, 12, tzinfo=dt.UTC)  # three weeks before the demo's show, a Saturday
SHOWS = Path(__file__).parents[2] / "shows"
LIST = "Set 1\n1. Postbox Tango - Bb - 3:40 keys intro\n2. Nine Wet Umbrellas (Gm)\n3. Tram Home\n"


@pytest.fixture(autouse=True)
def noon_three_weeks_before(monkeypatch: pytest.MonkeyPatch) -> None:
    """Set the clock of the commands: what a plan says must not depend on the day on which the tests run."""
    for module in (days_before, planning_days, practising):
        monkeypatch.setattr(module, "time_now", lambda: NOW)


@pytest.fixture
def show(tmp_path: Path) -> Path:
    """Return the demo's show."""
    shutil.copytree(SHOWS, tmp_path / "shows")
    return tmp_path / "shows" / "pier-street.yaml"


def answer(*words: object, out: pytest.CaptureFixture[str]) -> dict[str, object]:
    """Run a command with --json and return its output."""
    assert main([*map(str, words), "--json"]) == 0
    said = json.loads(out.readouterr().out)
    assert isinstance(said, dict)
    return said


def test_a_pasted_list_becomes_a_show(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "list.txt").write_text(LIST)
    assert main(["import", str(tmp_path / "list.txt"), "--into", str(tmp_path / "new.yaml")]) == 0
    assert "3 songs in 1 set, 1 without a key" in capsys.readouterr().out
    assert read_show(tmp_path / "new.yaml").show.sets[0].songs[0].title == "Postbox Tango"


def test_a_second_list_changes_nothing_without_a_yes(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    new = tmp_path / "new.yaml"
    (tmp_path / "list.txt").write_text(LIST)
    (tmp_path / "later.txt").write_text(LIST.replace("(Gm)", "(Am)"))
    main(["import", str(tmp_path / "list.txt"), "--into", str(new)])
    before = new.read_text()
    assert main(["import", str(tmp_path / "later.txt"), "--into", str(new)]) == 0
    assert new.read_text() == before
    assert "Nine Wet Umbrellas" in capsys.readouterr().out
    main(["import", str(tmp_path / "later.txt"), "--into", str(new), "--yes"])
    assert str(read_show(new).show.sets[0].songs[1].key) == "Am"


def test_a_file_that_is_not_a_list_is_a_fault_without_a_traceback(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "list.pdf").write_bytes(b"%PDF-1.4 garbage")
    assert main(["import", str(tmp_path / "list.pdf")]) == 1
    assert str(tmp_path / "list.pdf") in capsys.readouterr().err


def test_the_questions_ask_for_the_three_missing_keys_and_the_reply_lands(
    show: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["questions", str(show)]) == 0
    asked = capsys.readouterr().out
    assert all(title in asked for title in ("Seventeen Umbrellas", "Nobody's Deckchair", "Crêpe Paper Armada"))
    (show.parent / "reply.txt").write_text("4 Bb\n")
    assert main(["questions", str(show), "--answers", str(show.parent / "reply.txt"), "--yes"]) == 0
    assert str(read_show(show).show.sets[0].songs[3].key) == "Bb"


def test_the_plan_has_days_and_explains_a_songs_place(show: Path, capsys: pytest.CaptureFixture[str]) -> None:
    ics = show.parent / "days.ics"
    assert answer("plan", show, "--minutes", "45,sat=120", "--off", "sun", "--ics", ics, out=capsys)
    assert ics.read_bytes().startswith(b"BEGIN:VCALENDAR\r\n")
    assert main(["plan", str(show), "--why", "Gasworks"]) == 0
    assert capsys.readouterr().out.startswith("Gasworks Corner is number ")
    assert main(["plan", str(show), "--why", "Nowhere"]) == 1


def test_the_plan_keeps_its_minutes_with_the_show_where_that_is_agreed(
    show: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    before = show.read_text(encoding="utf-8")
    assert main(["plan", str(show), "--minutes", "20"]) == 0
    said = capsys.readouterr()
    assert "20 minutes a day at the keyboard, 45 of listening; off: Sunday" in said.out
    assert "Nothing written; pass --yes to confirm" in said.err
    assert show.read_text(encoding="utf-8") == before
    assert main(["plan", str(show), "--minutes", "20", "--yes"]) == 0
    assert show.read_text(encoding="utf-8") == before.replace("minutes: 45, sat=120", "minutes: 20")
    assert capsys.readouterr().out.endswith(f"Wrote {show}\n")
    assert main(["plan", str(show), "--why", "Gasworks"]) == 0
    assert "pass --yes" not in capsys.readouterr().err  # nothing new to keep


def test_what_was_practised_is_recorded_and_the_plan_shown_is_the_kept_one(
    show: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    kept = answer("plan", show, out=capsys)
    said = answer("plan", show, "--practised", "Gasworks", "--took", "12", out=capsys)
    assert said["time"] == kept["time"] == {"minutes": "45, sat=120", "days_off": "sun", "listening": 45}
    main(["plan", str(show), "--export", str(show.parent / "log.json"), "--practised", "set 1"])
    log = json.loads((show.parent / "log.json").read_text(encoding="utf-8"))
    assert [(one["title"], one["minutes"]) for one in log[:2]] == [("Gasworks Corner", 12), ("Gasworks Corner", 10)]


def test_today_recorded_twice_says_that_nothing_is_left_to_record(
    show: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for says in ("recorded: practised ", "nothing recorded: nothing is left in today's plan"):
        assert main(["plan", str(show), "--practised", "today"]) == 0
        assert says in capsys.readouterr().out


def test_a_day_off_has_nothing_to_record(show: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", str(show), "--off", f"{NOW:%Y-%m-%d}", "--yes"]) == 0
    assert main(["plan", str(show), "--practised", "today"]) == 0
    assert "nothing recorded: nothing is left in today's plan" in capsys.readouterr().out


def test_plan_says_how_ready_the_night_is(show: Path, capsys: pytest.CaptureFixture[str]) -> None:
    night = answer("plan", show, "--ready", out=capsys)
    assert night["ready"] is False
    assert main(["plan", str(show), "--ready"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == "Points out of 100: ready from 80, nearly ready from 50."
    assert lines[2].endswith("not yet   Gasworks Corner: 0 of 4 blocks played")
    assert lines[-3] == "In the next half hour:"
    assert main(["listen", str(show), "--heard", "set 1"]) == 0
    assert "Kettle on the Jetty" in capsys.readouterr().out


def test_two_questions_at_once_are_refused_before_anything_is_recorded(
    show: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["plan", str(show), "--ready", "--known", "--practised", "Gasworks"]) == 2
    assert "--known and --ready cannot be combined" in capsys.readouterr().err
    assert not (show.parent / "pier-street.practice.jsonl").exists()


def test_today_is_all_that_is_planned(show: Path, capsys: pytest.CaptureFixture[str]) -> None:
    planned = answer("plan", show, out=capsys)
    assert main(["listen", str(show), "--heard", "today"]) == 0
    said = capsys.readouterr().out
    days = planned["days"]
    assert isinstance(days, list)
    assert all(one["title"] in said for one in days[0]["listening"] if one["times"])


def test_playlists_are_written_in_set_order(show: Path, capsys: pytest.CaptureFixture[str]) -> None:
    answer("playlist", show, "--to", show.parent, out=capsys)
    assert (show.parent / "pier-street.m3u8").read_text(encoding="utf-8").startswith("#EXTM3U")


def test_the_quiz_lists_what_to_brush_up(show: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["quiz", str(show), "--list"]) == 0
    assert "In which key is" in capsys.readouterr().out


def test_the_quiz_lists_only_the_song_that_was_asked_for(show: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["quiz", str(show), "--list", "--only", "gasworks"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines
    assert {line.partition(":")[0] for line in lines} == {"Gasworks Corner"}
    assert main(["quiz", str(show), "--list", "--only", "zebra crossing"]) == 1


@pytest.mark.parametrize("words", [["plan", "{}", "--minutes", "many"], ["plan", "{}", "--off", "someday"]])
def test_unreadable_words_are_reported_with_what_to_write(
    show: Path, words: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main([word.format(show) for word in words]) == 1
    assert "Write:" in capsys.readouterr().err


def test_every_state_of_the_screen_is_written_as_a_picture(
    show: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    small = functools.partial(screen_pictures.pictures, size_px=(320, 180))  # sixty whole screens take seconds
    monkeypatch.setattr(screen_pictures, "pictures", small)
    pictures = show.parent / "pictures"
    assert main(["check", str(show), "--screens", str(pictures)]) == 0
    written = sorted(picture.name for picture in pictures.iterdir())
    assert f"{len(written)} pictures" in capsys.readouterr().out
    assert {name.rpartition(", ")[2] for name in written} == {"dark.png", "day.png"}
    assert all(picture.read_bytes().startswith(b"\x89PNG") for picture in pictures.iterdir())


FILE_IN_IT = "{there} cannot be written: it is a folder. Write: {option}the path of a file in it"
NO_FOLDER = (
    "{none} cannot be written: there is no folder {parent}. Write: {option}the path of a file in an existing folder"
)
FOLDER = "{text} is not a folder. Write: {option} and a folder, new or existing"


@pytest.mark.parametrize(
    ("words", "option", "told"),
    [
        ("plan {show} --export {there}", "", FILE_IN_IT),
        ("plan {show} --ics {none}", "", NO_FOLDER),
        ("plan {show} --pdf {there}", "", FILE_IN_IT),
        ("print {show} --out {none}", "--out and ", NO_FOLDER),
        ("print {show} --out {there}", "--out and ", FILE_IN_IT),
        ("check {show} --screens {text}", "--screens", FOLDER),
        ("playlist {show} --to {text}", "--to", "{text} is not a folder. Write: --to and an existing folder"),
        ("playlist {show} --to {none}", "--to", "there is no folder {none}. Write: --to and an existing folder"),
    ],
)
def test_an_unwritable_place_is_reported_with_what_to_write(
    show: Path, words: str, option: str, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    there, text, none = show.parent / "there", show.parent / "a.txt", show.parent / "nowhere" / "x.pdf"
    there.mkdir()
    text.write_text("hello")
    places = {"show": show, "there": there, "text": text, "none": none, "parent": none.parent, "option": option}
    assert main([word.format(**places) for word in words.split()]) == 1
    assert told.format(**places) in capsys.readouterr().err
    assert list(there.iterdir()) == []
    assert text.read_text() == "hello"


# 480 ticks, 112 bpm, Bb major, marker "Verse" at bar 5 of 4/4 ("Standard MIDI Files 1.0", worked out by hand).
SONG = bytes.fromhex(
    "4D546864 00000006 0001 0001 01E0 4D54726B 0000001B 00FF5103082CA2 00FF5902FE00 BC00FF06055665727365 00FF2F00"
)


def test_a_midi_file_becomes_a_song_and_is_not_written_over_without_a_yes(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "song.mid").write_bytes(SONG)
    into = tmp_path / "song.yaml"
    assert main(["import", str(tmp_path / "song.mid"), "--into", str(into)]) == 0
    song = read_show(into).show.sets[0].songs[0]
    assert (str(song.key), song.tempo_bpm) == ("Bb", 112)
    into.write_text("show: Mine\n")
    assert main(["import", str(tmp_path / "song.mid"), "--into", str(into)]) == 0
    assert into.read_text() == "show: Mine\n"
    assert "unchanged" in capsys.readouterr().out


def test_a_plan_works_before_the_file_has_a_date(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "list.txt").write_text(LIST)
    main(["import", str(tmp_path / "list.txt"), "--into", str(tmp_path / "new.yaml")])
    assert main(["plan", str(tmp_path / "new.yaml")]) == 1
    assert "--date 2027-06-19" in capsys.readouterr().err
    assert len(answer("plan", tmp_path / "new.yaml", "--date", "2027-06-07", out=capsys)["days"]) == 9  # type: ignore[arg-type]  # JSON


def test_known_is_written_only_with_a_yes(show: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for _ in range(4):
        main(["plan", str(show), "--practised", "Gasworks Corner", "--minutes", "12"])
    before = show.read_text(encoding="utf-8")
    capsys.readouterr()
    offered = answer("plan", show, "--known", out=capsys)
    assert offered["written"] is False
    assert show.read_text(encoding="utf-8") == before
    assert answer("plan", show, "--known", "--yes", out=capsys)["written"] is True
    assert answer("plan", show, "--known", "--yes", out=capsys) == {"offered": [], "written": False}
    assert main(["plan", str(show), "--export", str(show.parent / "done.csv")]) == 0
    assert "done.csv: 5 records" in capsys.readouterr().out
    assert main(["plan", str(show), "--pdf", str(show.parent / "plan.pdf"), "--paper", "letter"]) == 0
    assert (show.parent / "plan.pdf").read_bytes().startswith(b"%PDF")
    assert len(capsys.readouterr().out.splitlines()) == 2, "what was written and what it comes to, and not all days"


def test_a_songbook_is_checked_as_its_songs(show: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(show.parent / "songbook.yaml")]) == 0
    said = capsys.readouterr().out
    assert "songbook.yaml:30:1: Everybody off the Pier has no chart" in said
    assert "no date" not in said


@pytest.mark.parametrize("made", [True, False])
def test_a_rig_file_that_is_not_there_is_made_from_the_built_in_one_if_the_player_agrees(
    show: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, *, made: bool
) -> None:
    rig = show.parent / "my-rig.yaml"
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    monkeypatch.setattr("click.confirm", lambda _question: made)
    assert main(["check", str(show), "--rig", str(rig)]) == (0 if made else 1)
    assert rig.exists() is made
    assert ("Enter your keyboards" in capsys.readouterr().out) is made
