"""The debrief tells a night from its journal, and writes what was learned into the show file, comments kept."""

from collections.abc import Callable
from pathlib import Path

import msgspec
import pytest

from companion.cli import main
from companion.debrief import night_report as debrief_room
from companion.debrief.learned import rewritten
from companion.debrief.night_report import NO_RIG, Debrief, Learned, LengthLearned, debrief
from companion.debrief.report_text import debrief_lines, debrief_page
from companion.night import memory as memory_room
from companion.night.entries import Entry, EntryContext, JournalNote, entry_line, note_line
from companion.night.memory import StartOptions, memory_of
from companion.show import read_show
from companion.stage import Again, AnyEvent, Call, Next, TakeBack, landmark, make_book, step

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
    """A show file, and a home of its own."""
    monkeypatch.setattr(memory_room, "data_path", lambda: tmp_path)
    monkeypatch.setattr(debrief_room, "data_path", lambda: tmp_path)
    (tmp_path / "boathouse.yaml").write_text(SHOW, encoding="utf-8")
    return tmp_path / "boathouse.yaml"


def live(show: Path, *events: AnyEvent, wish: StartOptions | None = None, end: bool = True) -> None:
    """Live one night, and note that a port was lost after its first step."""
    book, _ = make_book(read_show(show).show, NO_RIG)
    with memory_of(show, book, wish or StartOptions(), pytest.fail) as memory:
        state = memory.taken_up.state
        for number, event in enumerate(events):
            state, _ = step(state, event)
            memory.write(entry_line(Entry(event, landmark(state))))
            if number == 0:
                memory.note(note_line(JournalNote(event.at_ms, EntryContext.PORT_LOST, landmark(state), "Foot Box")))
        if end:
            memory.end()


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


def told(show: Path) -> Debrief:
    night = debrief(show)
    assert night is not None
    return night


def test_a_show_file_that_is_not_there_is_told_before_any_night_is_missed(
    show: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["debrief", str(show.with_name("peir.yaml"))]) == 1
    assert "peir.yaml: there is no such file" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("raw", "problem"),
    [(None, "a folder, not a file"), (b"", "there is nothing in this file"), (b"show:\x00 Pier", "not a text file")],
)
def test_what_is_no_show_is_told_before_any_night_is_missed(
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


def test_a_night_is_told_line_by_line(show: Path) -> None:
    live(show, *NIGHT)
    assert list(debrief_lines(told(show))) == [
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
        "Taken back, places to practise:",
        "  Lanterns out, Solo: next",
        "During the show:",
        "  0:00 port lost: Foot Box, at Lanterns out, Intro",
        "Learned:",
        "  Lanterns out takes 1:36 for 2:00",
        "  Ferryman's | Coat takes 1:20",
        "  Lanterns out, Solo is open",
        "  Ferryman's | Coat, Solo is open",
        "  the songs were played in a different order",
    ]


def test_the_page_has_a_row_a_song_and_no_title_breaks_its_table(show: Path) -> None:
    live(show, *NIGHT)
    page = debrief_page(told(show))
    assert r"| 2 | First | Ferryman's \| Coat | 1:20 |  |  |  | repeated: Solo (+1) |" in page
    assert "## During the show\n\n- 0:00 port lost: Foot Box" in page


def test_a_night_is_told_as_it_was_played_though_the_show_was_edited_since(show: Path) -> None:
    live(show, *NIGHT)
    before = told(show)
    show.write_text("show: Something else\nsongs: [Nothing]\n", encoding="utf-8")
    assert told(show) == before


def test_lengths_are_the_median_of_all_nights(show: Path) -> None:
    for seconds in (16, 20, 60):
        live(show, *every(seconds, Next, Next, Next, Next), wish=StartOptions(fresh=True))
    assert told(show).learned.lengths == (LengthLearned("Lanterns out", 1, 120, 60, 3),)


def test_what_was_learned_is_written_with_comments_kept(show: Path) -> None:
    live(show, *NIGHT)
    after = rewritten(show, told(show).learned)
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


def test_a_title_that_stood_alone_gets_its_length(show: Path) -> None:
    after = rewritten(show, Learned((LengthLearned("Paper Oars", 1, None, 61, 1),)))
    assert read_show(show).show.sets[0].songs[1].length_s is None
    after.write()
    assert read_show(show).show.sets[0].songs[1].length_s == 61


def test_a_song_that_is_not_in_the_file_is_told_and_left(show: Path) -> None:
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


def test_the_debrief_is_told_as_json(show: Path, capsys: pytest.CaptureFixture[str]) -> None:
    live(show, *NIGHT, end=False)
    assert main(["debrief", str(show), "--json"]) == 0
    night = msgspec.json.decode(capsys.readouterr().out)
    assert night["songs"][0]["repeated"] == ["Solo (+1)"]
    assert night["ended"] is False


def test_what_is_no_journal_is_refused_by_name(show: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["debrief", str(show), "--journal", str(show)]) == 1
    assert "is not a readable journal" in capsys.readouterr().err


def test_the_part_of_a_night_before_an_edit_is_named(show: Path) -> None:
    live(show, *NIGHT[:3], end=False)
    show.write_text(SHOW.replace("Paper Oars", "Paper Sails"), encoding="utf-8")
    live(show, Next(200_000))
    night = told(show)
    assert [one.what for one in night.around] == [EntryContext.TAKEN_UP, EntryContext.PORT_LOST]
    assert any("the show was edited" in line for line in night.said)
