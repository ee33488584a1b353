"""One night: a killed program continues; an ended or old one starts from the top; an edited show is found again."""

import errno
import os
import threading
from pathlib import Path
from typing import Any

import msgspec
import pytest
from stage.scenes import book_of, place_text, song

from companion.errors import NoStage
from companion.night import memory as memory_room
from companion.night.entries import Entry, entry_line, fingerprint
from companion.night.memory import Memory, StartOptions, memory_of, should_resume
from companion.ports import Header, Journal, NotAJournal, journals_on, read_journal, shelf_of, wall_time_s
from companion.stage import Book, Call, Next, PutIn, carried_over, landmark, replay, step

BOOK = book_of([song("A", "Intro @organ, Verse @lead, Chorus"), song("B", "Intro, Verse")])
SHOW = Path("shows/a.yaml")


@pytest.fixture(autouse=True)
def _own_directory(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(memory_room, "data_path", lambda: tmp_path)


@pytest.fixture
def said() -> list[str]:
    """What the player reads."""
    return []


def play(memory: Memory, presses: int) -> None:
    """Press next so many times, and write it down."""
    state = memory.resumed.state
    for number in range(presses):
        event = Next(at_ms=memory.resumed.at_ms + 1000 * (number + 1))
        state, _ = step(state, event)
        memory.write(entry_line(Entry(event, landmark(state))))


def night(
    said: list[str], presses: int = 0, *, book: Book = BOOK, options: StartOptions | None = None, end: bool = False
) -> str:
    """Live one night: return where it began; press next; end it cleanly, or kill it."""
    with memory_of(SHOW, book, options or StartOptions(), said.append) as memory:
        play(memory, presses)
        if end:
            memory.end()
        return place_text(memory.resumed.state)


def test_a_killed_night_continues_at_its_place(said: list[str]) -> None:
    assert night(said, presses=2) == "A up next"
    assert night(said, presses=1) == "Verse of A"
    assert night(said) == "Chorus of A"


def test_take_back_reaches_past_the_restart(said: list[str]) -> None:
    night(said, presses=2)
    with memory_of(SHOW, BOOK, StartOptions(), said.append) as memory:
        before = memory.resumed.state.before()
        assert before is not None
        assert place_text(before) == "Intro of A"


def test_fresh_starts_from_the_top_and_keeps_the_old_journal(said: list[str], tmp_path: Path) -> None:
    night(said, presses=2)
    assert night(said, options=StartOptions(fresh=True)) == "A up next"
    assert len(journals_on(shelf_of(SHOW, tmp_path))) == 2


def test_a_night_that_was_ended_starts_from_the_top_unless_resume_is_given(said: list[str]) -> None:
    night(said, presses=2, end=True)
    assert night(said, options=StartOptions(resume=True)) == "Verse of A"
    night(said, presses=1, end=True)
    assert night(said) == "A up next"


def test_a_journal_older_than_twelve_hours_is_ignored_unless_resume_is_given(
    said: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    night(said, presses=2)
    monkeypatch.setattr(memory_room, "wall_time_s", lambda: wall_time_s() + 12 * 3600 + 60)
    assert night(said) == "A up next"
    assert any("twelve hours" in line for line in said)


def test_a_clock_set_back_an_hour_changes_nothing(said: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    night(said, presses=2)
    monkeypatch.setattr(memory_room, "wall_time_s", lambda: wall_time_s() - 3600)
    with memory_of(SHOW, BOOK, StartOptions(), said.append) as memory:
        assert place_text(memory.resumed.state) == "Verse of A"
        assert memory.resumed.at_ms == 2000


def test_the_shows_clock_runs_on_while_the_program_is_down(said: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    night(said, presses=2)
    monkeypatch.setattr(memory_room, "wall_time_s", lambda: wall_time_s() + 7)
    with memory_of(SHOW, BOOK, StartOptions(), said.append) as memory:
        assert 9000 <= memory.resumed.at_ms < 12_000


def test_after_an_edit_the_same_song_and_section_are_found_and_announced(said: list[str]) -> None:
    night(said, presses=2)
    edited = book_of([song("New", "Intro"), song("A", "Intro @organ, Breakdown, Verse @strings")])
    with memory_of(SHOW, edited, StartOptions(), said.append) as memory:
        assert place_text(memory.resumed.state) == "Verse of A"
        assert memory.resumed.message == "the show was edited; continued at A, Verse"
        sound = memory.resumed.state.on[0]
        assert sound is not None
        assert sound.name == "strings"


def test_a_show_saved_without_songs_is_refused_and_the_night_is_kept(said: list[str]) -> None:
    night(said, presses=2)
    with pytest.raises(NoStage, match="no songs now"):
        night(said, book=book_of([]))
    assert night(said) == "Verse of A"
    assert night(said, book=book_of([]), options=StartOptions(fresh=True)) == "end"


def test_an_edited_show_that_is_killed_again_continues_from_the_found_place(said: list[str]) -> None:
    night(said, presses=2)
    edited = book_of([song("New", "Intro"), song("A", "Intro @organ, Verse @strings, Outro, Bow")])
    night(said, presses=1, book=edited)
    assert night(said, book=edited) == "Outro of A"


def test_a_journal_of_garbage_is_left_alone_and_the_show_starts(said: list[str], tmp_path: Path) -> None:
    shelf = shelf_of(SHOW, tmp_path)
    shelf.mkdir(parents=True)
    (shelf / "000000000001.journal").write_bytes(bytes(100))
    assert night(said, presses=1) == "A up next"
    assert (shelf / "000000000001.journal").read_bytes() == bytes(100)
    assert any("skipping a journal, which stays as it is" in line for line in said)
    assert night(said) == "Intro of A"


def test_replay_stops_at_an_event_from_a_later_version(said: list[str]) -> None:
    with memory_of(SHOW, BOOK, StartOptions(), said.append) as memory:
        play(memory, 2)
        memory.write(b'{"event":{"do":"fly","at_ms":5},"mark":{"where":"playing","set":""}}')
    assert night(said) == "Verse of A"


def test_a_second_copy_is_refused(said: list[str]) -> None:
    with (
        memory_of(SHOW, BOOK, StartOptions(), said.append),
        pytest.raises(NoStage, match="played by another copy"),
        memory_of(SHOW, BOOK, StartOptions(), said.append),
    ):
        pass


def test_the_show_continues_if_no_journal_can_be_written(
    said: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "file").write_text("")
    monkeypatch.setattr(memory_room, "data_path", lambda: tmp_path / "file")
    assert night(said, presses=3, end=True) == "A up next"
    assert any("cannot write a journal" in line for line in said)


def test_an_added_song_survives_an_edit_and_another_kill(said: list[str]) -> None:
    with memory_of(SHOW, BOOK, StartOptions(), said.append) as memory:
        state = memory.resumed.state
        for event in (Next(1000), PutIn(2000, song("Wish", "Intro, Solo @lead")), Next(3000), Next(4000)):
            state, _ = step(state, event)
            memory.write(entry_line(Entry(event, landmark(state))))
    edited = book_of([song("New", "Intro"), song("A", "Intro, Verse"), song("B", "Intro, Verse")])
    assert night(said, book=edited) == "Solo of Wish"
    assert night(said, presses=1, book=edited) == "Solo of Wish"
    assert night(said, book=edited) == "B up next", "the order continues where it was"


def test_a_show_read_again_on_stage_continues_in_a_new_journal(said: list[str], tmp_path: Path) -> None:
    edited = book_of([song("B", "Intro, Verse"), song("A", "Intro @organ, Verse @strings, Tag")])
    with memory_of(SHOW, BOOK, StartOptions(), said.append) as memory:
        play(memory, 2)
        state = carried_over(replay(BOOK, [Next(1000), Next(2000)]), edited)
        assert memory.go_on(state, at_ms=2500) == ""
        memory.write(entry_line(Entry(Next(3000), landmark(step(state, Next(3000))[0]))))
    assert night(said, book=edited) == "Tag of A"
    assert len(journals_on(shelf_of(SHOW, tmp_path))) == 2
    with memory_of(SHOW, edited, StartOptions(), said.append) as memory:
        assert memory.resumed.at_ms >= 3000


def test_after_a_kill_before_the_new_journals_header_the_old_journal_is_used(said: list[str], tmp_path: Path) -> None:
    night(said, presses=2)
    newest = journals_on(shelf_of(SHOW, tmp_path))[0]
    newest.with_name(f"{int(newest.stem) + 1:012d}.journal").write_bytes(b"")
    assert night(said, book=book_of([song("New"), song("A", "Intro, Verse")])) == "Verse of A"


def test_a_journal_damaged_in_its_middle_loses_no_press_after_the_restart(said: list[str], tmp_path: Path) -> None:
    night(said, presses=3)
    damaged = journals_on(shelf_of(SHOW, tmp_path))[0]
    damaged.write_bytes(damaged.read_bytes().replace(b'"at_ms":2000', b'"at_ms":2?00'))
    assert night(said, presses=2) == "Intro of A"
    assert night(said) == "Chorus of A"


def test_if_no_new_journal_can_be_started_the_show_is_not_read_again(
    said: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> Journal:
        raise OSError(28, "No space left on device")

    with memory_of(SHOW, BOOK, StartOptions(), said.append) as memory:
        monkeypatch.setattr(Journal, "begun", full)
        assert "No space left" in memory.go_on(memory.resumed.state, 0)
        play(memory, 2)
    monkeypatch.undo()


def test_a_place_stored_by_name_in_an_earlier_version_is_found(said: list[str], tmp_path: Path) -> None:
    mark = landmark(replay(BOOK, [Next(1000), Next(2000)]))
    header = Header(1, str(SHOW), "test", fingerprint(BOOK.show), msgspec.Raw(msgspec.json.encode(mark)))
    shelf = shelf_of(SHOW, tmp_path)
    Journal.begun(shelf / "000000000001.journal", header, said.append).close()
    assert night(said, options=StartOptions(resume=True)) == "Verse of A"


def test_a_night_of_an_earlier_version_keeps_its_order_and_its_take_back(
    said: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(memory_room, "fingerprint", lambda _: "as an earlier version has it")
    with memory_of(SHOW, BOOK, StartOptions(), said.append) as memory:
        called, _ = step(memory.resumed.state, Call(1000, 1))
        memory.write(entry_line(Entry(Call(1000, 1), landmark(called))))
        assert called.order != memory.resumed.state.order
    monkeypatch.setattr(memory_room, "fingerprint", fingerprint)
    with memory_of(SHOW, BOOK, StartOptions(), said.append) as memory:
        assert memory.resumed.state.order == called.order
        assert place_text(memory.resumed.state) == place_text(called)
        assert "edited" not in memory.resumed.message
        assert memory.resumed.state.before() is not None


def test_a_night_can_be_resumed_from_its_first_press_until_it_ends(said: list[str]) -> None:
    night(said)
    assert not should_resume(SHOW, StartOptions()), "nobody has pressed anything yet"
    night(said, presses=1)
    assert should_resume(SHOW, StartOptions())
    assert not should_resume(SHOW, StartOptions(fresh=True))
    night(said, end=True)
    assert not should_resume(SHOW, StartOptions())
    assert should_resume(SHOW, StartOptions(resume=True))


class FullDisk:
    """A disk that takes nothing more once it is full."""

    def __init__(self) -> None:
        self.is_full = False

    def write(self, descriptor: int, line: bytes) -> int:
        if self.is_full:
            raise OSError(errno.ENOSPC, "No space left on device")
        return os.write(descriptor, line)


@pytest.fixture
def disk(monkeypatch: pytest.MonkeyPatch) -> FullDisk:
    """The disk of every journal in a test."""
    full = FullDisk()
    defaults = Journal.__init__.__kwdefaults__
    assert defaults is not None
    monkeypatch.setitem(defaults, "write", full.write)
    return full


def ended_on_a_full_disk(said: list[str], disk: FullDisk) -> None:
    """Play two presses, fill the disk, play one more and end the night."""
    with memory_of(SHOW, BOOK, StartOptions(), said.append) as memory:
        play(memory, 2)
        disk.is_full = True
        play(memory, 1)
        assert memory.is_unsaved
        memory.end()
    disk.is_full = False


def test_a_night_that_was_ended_on_a_full_disk_is_not_resumed(said: list[str], disk: FullDisk) -> None:
    ended_on_a_full_disk(said, disk)
    assert not should_resume(SHOW, StartOptions())
    assert night(said) == "A up next"


def test_a_night_that_was_ended_on_a_full_disk_is_resumed_on_request_and_then_as_any_other(
    said: list[str], disk: FullDisk
) -> None:
    ended_on_a_full_disk(said, disk)
    assert night(said, presses=1, options=StartOptions(resume=True)) == "Verse of A"
    assert night(said) == "Chorus of A"


@pytest.mark.parametrize("resume", [False, True])
def test_a_night_ended_on_a_full_disk_counts_as_ended_even_if_its_journal_never_got_its_first_line(
    said: list[str], disk: FullDisk, *, resume: bool
) -> None:
    with memory_of(SHOW, BOOK, StartOptions(), said.append) as memory:
        play(memory, 2)
        disk.is_full = True
        assert memory.go_on(memory.resumed.state, 0) == ""  # the show is read again: a new journal begins
        memory.end()
    disk.is_full = False
    assert should_resume(SHOW, StartOptions(resume=resume)) is resume, "the journal before it was never ended"
    assert night(said, options=StartOptions(resume=resume)) == ("Verse of A" if resume else "A up next")
    assert any("skipping" in line for line in said) is resume, "where the one before continues, no new one begins"


def test_a_night_that_cannot_even_be_ended_by_name_says_so(
    said: list[str], disk: FullDisk, monkeypatch: pytest.MonkeyPatch
) -> None:
    def read_only(*_: object) -> Path:
        raise OSError(errno.EROFS, "Read-only file system")

    monkeypatch.setattr(Path, "rename", read_only)
    ended_on_a_full_disk(said, disk)
    assert any("the next start resumes this night unless you give --fresh" in line for line in said)


class HangingDisk:
    """A disk that takes nothing while it hangs; the threads that write to it wait."""

    def __init__(self) -> None:
        self.answers = threading.Event()
        self.answers.set()

    def write(self, descriptor: int, line: bytes) -> int:
        self.answers.wait(30)
        return os.write(descriptor, line)


def test_a_disk_that_hangs_holds_up_neither_a_new_journal_nor_the_end(
    said: list[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    disk, begin = HangingDisk(), Journal.begun
    defaults = Journal.__init__.__kwdefaults__
    assert defaults is not None
    monkeypatch.setitem(defaults, "write", disk.write)

    def slow(*args: Any) -> Journal:  # noqa: ANN401 - as begun takes them
        disk.answers.wait(30)
        return begin(*args)

    monkeypatch.setattr(memory_room, "END_S", 0.05)
    with memory_of(SHOW, BOOK, StartOptions(), said.append) as memory:
        play(memory, 2)
        disk.answers.clear()
        monkeypatch.setattr(Journal, "begun", slow)
        assert "does not answer" in memory.go_on(memory.resumed.state, 0)
        memory.end()
        assert any("unless you give --fresh" in line for line in said)
        disk.answers.set()
        while journals(tmp_path) != [True]:  # the late journal goes, and the night is ended after all
            threading.Event().wait(0.001)
    monkeypatch.undo()


def journals(folder: Path) -> list[bool]:
    """Return whether each journal is of an ended night."""
    found = []
    for path in journals_on(shelf_of(SHOW, folder)):
        try:
            found.append(read_journal(path).ended)
        except (NotAJournal, OSError):  # just begun, or just gone
            found.append(False)
    return found


def test_a_sync_that_takes_its_time_at_the_end_is_no_reason_to_warn(
    said: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    synced = threading.Event()
    defaults = Journal.__init__.__kwdefaults__
    assert defaults is not None
    monkeypatch.setitem(defaults, "sync", lambda _: synced.wait(30))
    monkeypatch.setattr(memory_room, "END_S", 0.3)
    with memory_of(SHOW, BOOK, StartOptions(), said.append) as memory:
        play(memory, 1)
        memory.end()
    assert said == []
    synced.set()
