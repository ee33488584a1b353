"""The debrief: report a night from its journal; write what was learned and keep the comments."""

import datetime as dt
from collections.abc import Callable
from pathlib import Path

import msgspec
import pytest
from ports.test_journal import fail_unless_late

from companion.cli import main
from companion.debrief import night_report as debrief_room
from companion.debrief.learned import rewritten
from companion.debrief.night_kinds import JournalKind
from companion.debrief.night_report import NO_RIG, Debrief, Learned, LengthLearned, debrief
from companion.debrief.report_text import debrief_lines, debrief_page
from companion.debrief.songs_known import KnownLearned
from companion.night import memory as memory_room
from companion.night.entries import Entry, EntryContext, JournalNote, entry_line, note_line
from companion.night.memory import StartOptions, memory_of
from companion.ports import journal as journal_room
from companion.show import Song, read_show
from companion.stage import Again, AnyEvent, Call, Next, PutIn, TakeBack, landmark, make_book, step

SHOW = """\
show: Boathouse supper   # the small hall
sets:
  - set: First
    songs:
      # sung by the drummer
      - title: Lanterns out
        tempo: 120
        length: "2:00"   # from the record
        road_map:
          - {section: Intro, bars: 8}
          - section: Solo   # hers
            bars: 8
          - {section: Outro, bars: 8}
      - Paper Oars
      # a quiet one
      - title: Ferryman's | Coat
        road_map: Intro 8, Solo 8 x2*, Outro 8
"""


@pytest.fixture
def show(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a show file, with its own home folder."""
    monkeypatch.setattr(memory_room, "data_path", lambda: tmp_path)
    monkeypatch.setattr(debrief_room, "data_path", lambda: tmp_path)
    (tmp_path / "boathouse.yaml").write_text(SHOW, encoding="utf-8")
    return tmp_path / "boathouse.yaml"


def live(
    show: Path, *events: AnyEvent, options: StartOptions | None = None, end: bool = True, dry_run: bool = False
) -> None:
    """Play one night; a port is lost after its first step."""
    book, _ = make_book(read_show(show).show, NO_RIG)
    with memory_of(show, book, options or StartOptions(), fail_unless_late) as memory:
        state = memory.resumed.state
        for number, event in enumerate(events):
            state, _ = step(state, event)
            memory.write(entry_line(Entry(event, landmark(state))))
            if number == 0:
                memory.note(note_line(JournalNote(event.at_ms, EntryContext.PORT_LOST, landmark(state), "Foot Box")))
        if end:
            memory.end(dry_run=dry_run)


def every(seconds: int, *kinds: Callable[..., AnyEvent]) -> list[AnyEvent]:
    return [kind(at_ms=1000 * seconds * number) for number, kind in enumerate(kinds)]


NIGHT = (
    # Lanterns out: 16 s a section of eight bars at 120; its solo once more, and a step too far that is taken back
    *every(16, Next, Next, Again, Next, TakeBack, Next),
    Call(96_000, 2),  # Ferryman's Coat before its turn
    Next(100_000),
    Next(120_000),
    Again(130_000),
    Next(140_000),
    Next(160_000),
    Next(180_000),
)


def debrief_of(show: Path) -> Debrief:
    night = debrief(show)
    assert night is not None
    return night


def test_a_missing_show_file_is_reported_before_a_missing_night(show: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["debrief", str(show.with_name("peir.yaml"))]) == 1
    assert "peir.yaml: there is no such file" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("raw", "problem"),
    [(None, "a folder, not a file"), (b"", "there is nothing in this file"), (b"show:\x00 Pier", "not a text file")],
)
def test_a_file_that_is_not_a_show_is_reported_before_a_missing_night(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], raw: bytes | None, problem: str
) -> None:
    path = tmp_path / "peir.yaml"
    path.mkdir() if raw is None else path.write_bytes(raw)
    assert main(["debrief", str(path)]) == 1
    told = capsys.readouterr()
    assert f"peir.yaml: {problem}" in told.err
    assert "Write: " in told.err
    assert told.out == ""


def test_a_show_that_was_never_played_has_no_debrief(show: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert debrief(show) is None
    assert main(["debrief", str(show)]) == 0
    assert "No night of" in capsys.readouterr().out


def test_a_night_is_reported_line_by_line(show: Path) -> None:
    live(show, *NIGHT)
    assert list(debrief_lines(debrief_of(show))) == [
        "Boathouse supper: 2 songs in 3:00",
        "First:",
        "   1. Lanterns out, 1:36 (planned 2:00)",
        "        repeated: Solo (+1)",
        "   2. Ferryman's | Coat, 1:20",
        "        repeated: Solo (+1)",
        "Order:",
        "  1:36 called: Ferryman's | Coat",
        "Not played:",
        "  Paper Oars",
        "Steps taken back on stage:",
        '  "next" at Lanterns out, Solo',
        "During the show:",
        "  0:00 port lost: Foot Box, at Lanterns out, Intro",
        "Learned:",
        "  1. Lanterns out takes 1:36, not 2:00",
        "  2. Ferryman's | Coat takes 1:20",
        "  3. Lanterns out, Solo is open",
        "  4. Ferryman's | Coat, Solo is open",
        "  5. the songs were played in a different order",
        "     First: Lanterns out, Ferryman's | Coat (was 3), Paper Oars",
        "  6. known now: Lanterns out, Ferryman's | Coat",
    ]


def test_the_page_has_a_row_for_each_song_and_no_title_breaks_the_table(show: Path) -> None:
    live(show, *NIGHT)
    page = debrief_page(debrief_of(show))
    assert r"| 2 | First | Ferryman's \| Coat | 1:20 |  |  |  | repeated: Solo (+1) |" in page
    assert "## During the show\n\n- 0:00 port lost: Foot Box" in page


def test_a_night_is_reported_as_played_although_the_show_was_edited_since(show: Path) -> None:
    live(show, *NIGHT)
    *before, _ = debrief_lines(debrief_of(show))  # the last line is about songs that the file no longer has
    show.write_text("show: Something else\nsongs: [Nothing]\n", encoding="utf-8")
    assert list(debrief_lines(debrief_of(show))) == before


def test_lengths_are_the_median_of_all_nights(show: Path) -> None:
    for seconds in (16, 20, 60):
        live(show, *every(seconds, Next, Next, Next, Next), options=StartOptions(fresh=True))
    assert debrief_of(show).learned.lengths == (LengthLearned("Lanterns out", 1, 120, 60, 3),)


def test_lessons_are_written_and_comments_stay(show: Path) -> None:
    live(show, *NIGHT)
    after = rewritten(show, msgspec.structs.replace(debrief_of(show).learned, known=KnownLearned()))
    assert after.left == ()
    assert show.read_text(encoding="utf-8") == SHOW
    assert (
        after.after
        == """\
show: Boathouse supper   # the small hall
sets:
  - set: First
    songs:
      # sung by the drummer
      - title: Lanterns out
        tempo: 120
        length: "1:36"   # from the record
        road_map:
          - {section: Intro, bars: 8}
          - section: Solo   # hers
            bars: 8
            open: yes
          - {section: Outro, bars: 8}
      # a quiet one
      - title: Ferryman's | Coat
        length: "1:20"
        road_map: Intro 8, Solo 8 x2 open*, Outro 8
      - Paper Oars
"""
    )
    assert '-        length: "2:00"   # from the record' in after.difference


def test_a_song_written_as_a_bare_title_gets_its_length(show: Path) -> None:
    after = rewritten(show, Learned((LengthLearned("Paper Oars", 1, None, 61, 1),)))
    assert read_show(show).show.sets[0].songs[1].length_s is None
    after.write(dt.datetime.now().astimezone())
    assert read_show(show).show.sets[0].songs[1].length_s == 61


def test_a_song_missing_from_the_file_is_reported_and_left(show: Path) -> None:
    after = rewritten(show, Learned((LengthLearned("Wish", 1, None, 61, 1),)))
    assert (after.after, after.left) == (SHOW, ("Wish is no longer in the show file",))


def test_the_command_asks_before_it_writes(
    show: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    live(show, *NIGHT)
    for answer, written in (("no", False), ("yes", True)):
        monkeypatch.setattr("click.termui.visible_prompt_func", lambda *_, answer=answer: answer)
        assert main(["debrief", str(show), "--write", "--markdown", str(tmp_path / "page.md")]) == 0
        assert (show.read_text(encoding="utf-8") != SHOW) is written
    assert '+        length: "1:36"   # from the record' in capsys.readouterr().err
    assert (tmp_path / "page.md").read_text(encoding="utf-8").startswith("# Boathouse supper")


def test_the_debrief_is_printed_as_json(show: Path, capsys: pytest.CaptureFixture[str]) -> None:
    live(show, *NIGHT, end=False)
    assert main(["debrief", str(show), "--json"]) == 0
    night = msgspec.json.decode(capsys.readouterr().out)
    assert night["songs"][0]["repeated"] == ["Solo (+1)"]
    assert night["ended"] is False


def test_a_file_that_is_not_a_journal_is_refused_by_name(show: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["debrief", str(show), "--journal", str(show)]) == 1
    assert "is not a readable journal" in capsys.readouterr().err


def test_a_night_with_an_edit_in_it_is_one_night(show: Path) -> None:
    begun = (*every(16, Next, Next, Next, Next), Next(70_000))  # Lanterns out whole, Paper Oars begun
    live(show, *begun, end=False)
    show.write_text(SHOW.replace("a quiet one", "a loud one").replace("Solo 8 x2*", "Solo 16 x2*"), encoding="utf-8")
    live(show, Next(200_000))
    night = debrief_of(show)
    assert [(one.title, one.at_ms, one.lasted_ms) for one in night.songs] == [
        ("Lanterns out", 0, 48_000),
        ("Paper Oars", 70_000, 130_000),
    ]
    assert night.not_played == ("Ferryman's | Coat",)
    assert [one.what for one in night.around] == [EntryContext.PORT_LOST, EntryContext.TAKEN_UP, EntryContext.PORT_LOST]
    assert {one.song for one in night.learned.lengths} == {"Lanterns out", "Paper Oars"}


def test_a_song_called_but_never_begun_keeps_its_place(show: Path) -> None:
    live(show, *every(16, Next, Next, Next, Next), Call(96_000, 2))
    night = debrief_of(show)
    assert [one.song for one in night.changes] == ["Ferryman's | Coat"]
    assert night.learned.order == ()


def test_a_song_that_was_stepped_through_has_no_length(show: Path) -> None:
    live(show, *every(3, Next, Next, Next, Next))
    assert debrief_of(show).songs[0].whole
    assert debrief_of(show).learned.lengths == ()


DATED = "date: 2027-06-19\n" + SHOW


@pytest.mark.parametrize(
    ("ended", "kind"),
    [
        ("2027-06-19 23:50", JournalKind.NIGHT),
        ("2027-06-20 03:00", JournalKind.NIGHT),
        ("2027-06-20 13:00", JournalKind.REHEARSAL),
        ("2027-06-19 02:00", JournalKind.REHEARSAL),  # still the evening before
        ("2027-06-12 20:00", JournalKind.REHEARSAL),
    ],
)
def test_a_journal_of_another_day_is_a_rehearsal(
    show: Path, monkeypatch: pytest.MonkeyPatch, ended: str, kind: JournalKind
) -> None:
    show.write_text(DATED, encoding="utf-8")
    moment = dt.datetime.fromisoformat(ended).astimezone().timestamp()
    monkeypatch.setattr(journal_room, "wall_time_s", lambda: moment)
    live(show, *NIGHT)
    night = debrief_of(show)
    assert night.kind is kind
    assert bool(night.learned.lengths) is (kind is JournalKind.NIGHT)
    assert bool(night.learned.order) is (kind is JournalKind.NIGHT)
    assert night.learned.opened  # a rehearsal with the band teaches that
    assert any("2027-06-19; lengths and the order are not offered" in one for one in night.remarks) is (
        not night.learned.order
    )


def test_nothing_is_learned_from_a_dry_run_nor_its_lengths_counted_later(show: Path) -> None:
    live(show, *NIGHT, dry_run=True)
    assert debrief_of(show).kind is JournalKind.DRY_RUN
    assert debrief_of(show).learned == Learned()
    assert EntryContext.DRY_RUN not in [one.what for one in debrief_of(show).around]
    live(show, *every(60, Next, Next, Next, Next), options=StartOptions(fresh=True))
    assert debrief_of(show).learned.lengths == (LengthLearned("Lanterns out", 1, 120, 180, 1),)


def test_a_night_can_be_marked_as_rehearsal_and_back(show: Path, capsys: pytest.CaptureFixture[str]) -> None:
    live(show, *NIGHT)
    assert main(["debrief", str(show), "--rehearsal"]) == 0
    assert "rehearsal: as you marked it; lengths and the order are not offered" in capsys.readouterr().out
    assert debrief_of(show).learned.lengths == ()
    live(show, *every(60, Next, Next, Next, Next), options=StartOptions(fresh=True))
    assert debrief_of(show).learned.lengths[0].nights == 1
    assert main(["debrief", str(show), "--night", "--journal", debrief_of(show).journal]) == 0


@pytest.mark.parametrize(
    ("keys", "length", "is_open"),
    [("ynnnnn", 96, False), ("nnynn\r", 120, True), ("a", 96, True), ("q", 120, False), ("x?ynq", 96, False)],
)
def test_each_lesson_is_taken_or_left_with_one_key(
    show: Path, monkeypatch: pytest.MonkeyPatch, keys: str, length: int, *, is_open: bool
) -> None:
    live(show, *NIGHT)
    pressed = iter(keys)
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    monkeypatch.setattr("click.getchar", lambda: next(pressed))
    monkeypatch.setattr("click.prompt", lambda *_, **__: "")
    assert main(["debrief", str(show), "--write"]) == 0
    song = next(one for one in read_show(show).show.sets[0].songs if one.title == "Lanterns out")
    assert (song.length_s, song.road_map[1].open) == (length, is_open)
    assert next(pressed, "") == ""


@pytest.mark.parametrize(
    ("take", "length", "is_open"), [("1", 96, False), ("2-3", 120, True), ("1, 3", 96, True), ("all", 96, True)]
)
def test_a_script_names_the_lessons_to_take(show: Path, take: str, length: int, *, is_open: bool) -> None:
    live(show, *NIGHT)
    assert main(["debrief", str(show), "--take", take]) == 0
    song = next(one for one in read_show(show).show.sets[0].songs if one.title == "Lanterns out")
    assert (song.length_s, song.road_map[1].open) == (length, is_open)


def test_a_lesson_that_is_not_there_changes_nothing(show: Path, capsys: pytest.CaptureFixture[str]) -> None:
    live(show, *NIGHT)
    assert main(["debrief", str(show), "--take", "1,7"]) == 1
    assert 'there is no lesson "7". Write: numbers from the debrief (1 to 6)' in capsys.readouterr().err
    assert show.read_text(encoding="utf-8") == SHOW


def test_a_note_goes_below_the_songs_own_notes(show: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for note in ("watch the bass", "no solo"):
        assert main(["debrief", str(show), "--note", "paper oars", note]) == 0
    assert read_show(show).show.sets[0].songs[1].notes == "watch the bass\nno solo"
    assert main(["debrief", str(show), "--note", "Paper Ors", "x"]) == 1
    assert 'has no song "Paper Ors". Write: Paper Oars' in capsys.readouterr().err


def test_a_section_of_a_songbooks_song_is_opened_in_the_songbook(show: Path) -> None:
    book = show.with_name("songbook.yaml")
    book.write_text(
        "lanterns:   # mine\n  title: Lanterns out\n  tempo: 120\n"
        "  road_map: |\n    Intro 8\n    Solo 8 | 1 | 4\n    Outro 8\n"
        "lanterns@nine:\n  use: songbook.yaml#lanterns\n  key: Bb\n"
    )
    show.write_text("show: Boathouse supper\nsongs:\n  - use: songbook.yaml#lanterns@nine\n  - Paper Oars\n  - Ferry\n")
    live(show, *every(16, Next, Next, Again, Next, Next))
    assert main(["debrief", str(show), "--take", "all"]) == 0
    assert "    Solo 8 open | 1 | 4\n" in book.read_text()
    assert book.read_text().startswith("lanterns:   # mine\n")
    assert read_show(show).show.sets[0].songs[0].length_s == 64


@pytest.mark.parametrize(("more", "is_open"), [(1, False), (2, True)])
def test_one_chorus_more_is_tonights_alone(show: Path, more: int, *, is_open: bool) -> None:
    show.write_text("show: Supper\nsongs:\n  - {title: Moth, tempo: 120, road_map: 'Intro 8, Chorus 8, Outro 8'}\n")
    live(show, *every(16, Next, Next, *[Again] * more, Next, Next))
    assert [one.section for one in debrief_of(show).learned.opened] == ["Chorus"] * is_open


def test_notes_are_asked_for_by_the_numbers_of_the_debrief(show: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    live(show, *NIGHT)
    typed = iter(["9", "2", "coat on first", "1", "", ""])
    monkeypatch.setattr("sys.stdin.isatty", lambda: True)
    monkeypatch.setattr("click.getchar", lambda: "q")
    monkeypatch.setattr("click.prompt", lambda *_, **__: next(typed))
    assert main(["debrief", str(show), "--write"]) == 0
    assert {song.title: song.notes for song in read_show(show).show.sets[0].songs} == {
        "Lanterns out": None,
        "Paper Oars": None,
        "Ferryman's | Coat": "coat on first",
    }
    assert next(typed, None) is None


def test_a_song_that_was_put_in_on_the_night_is_reported(show: Path) -> None:
    request = PutIn(at_ms=200_000, song=Song("A Request"))
    live(show, *every(16, Next, Next, Next, Next), request, *every(300, Next, Next, Next)[1:])
    report = debrief_of(show)
    assert "A Request" in [one.title for one in report.songs]
    assert "A Request" not in report.not_played
