"""A show that is edited while it is played: never taken by surprise, read again by one key, the same place found."""

import os
import queue
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import msgspec
import pytest
from night.evening import PEDALS, Evening
from stage.scenes import book_of, on, place_text, rig_of, song

from companion.errors import Fault
from companion.night.edited import AT_REST_S, EditedFiles, files_now
from companion.night.happenings import FilesEdited, KeyReceived, OfSongbook, ShowRead, SongbooksRead
from companion.rig import Rig
from companion.show import ReadShow, Show, read_show
from companion.stage import Book, make_book
from companion.view import LineRole, as_line

RIG = msgspec.structs.replace(rig_of("lower"), pedals=PEDALS)
SHOW = """show: Test
songs:
  - {title: A, road_map: "Intro @organ, Verse @lead"}
  - {use: "book.yaml#b"}
"""
BOOK = """b: {title: B, road_map: "Intro"}
c: {title: C, key: Eb, road_map: "Intro 4, Solo 8 @lead"}
broken: {title: D, tempo: fast}
"""


def edited() -> Book:
    return book_of([song("New", "Intro"), song("A", "Intro @pad, Verse @strings, Tag"), song("B", "Intro")], rig=RIG)


def notices(evening: Evening) -> list[str]:
    return [line.text for line in evening.wall.views[-1].lines if line.part is LineRole.NOTICE]


def test_an_edited_show_is_announced_and_changes_nothing_until_the_key_is_pressed() -> None:
    evening = Evening()
    evening.press()
    evening.new()
    evening.night.take(FilesEdited(show=True, rig=False))
    assert notices(evening) == ["show edited: f5 to read it"]
    assert (place_text(evening.night.state), evening.new(), evening.librarian.asked) == ("Intro of A", [], 0)
    evening.key("f5")
    assert evening.librarian.asked == 1
    evening.now_ms += 6100
    evening.night.take(None)
    assert notices(evening) == [], "while one plays it is said for a while"
    evening.key("n")
    assert notices(evening) == ["show edited: f5 to read it"], "and on in between"


def test_an_edited_rig_is_announced_and_counts_from_the_next_start() -> None:
    evening = Evening()
    evening.night.take(FilesEdited(show=False, rig=True))
    assert notices(evening) == ["rig edited: takes effect at the next start"]


def test_the_show_continues_at_the_same_section_with_its_sound_after_reading() -> None:
    evening = Evening()
    evening.press()
    evening.press()
    evening.new()
    evening.night.take(FilesEdited(show=True, rig=False))
    evening.night.take(ShowRead(edited()))
    assert (place_text(evening.night.state), on(evening.night.state)) == ("Verse of A", "strings")
    assert evening.new() == ["c0 02"], "the new sound of this place, once"
    assert notices(evening) == ["edited show read"], "and no longer that it waits to be read"
    assert [state for state, _ in evening.notebook.begun] == [evening.night.state]
    assert any(b"show read again" in note for note in evening.notebook.notes)
    evening.press()
    assert place_text(evening.night.state) == "Tag of A"
    evening.key("backspace")
    evening.key("backspace")
    assert place_text(evening.night.state) == "Verse of A", "take back reaches as far as the reading"


@pytest.mark.parametrize("key", ["f5", "n"])
def test_a_second_quick_press_reads_the_show_although_it_looks_like_a_held_key(key: str) -> None:
    pedal = msgspec.structs.replace(PEDALS[0], port=None, channel=None, control=None, key=key)
    evening = Evening(rig=msgspec.structs.replace(RIG, pedals=(pedal,)))
    evening.night.take(KeyReceived("f5", down=True))
    evening.night.take(KeyReceived("f5", down=False))
    evening.night.take(KeyReceived("f5", down=True, repeats=True))
    assert evening.librarian.asked == {"f5": 0, "n": 2}[key], "a pedal of the rig that is held stays held"


@pytest.mark.parametrize(
    ("fault", "words"),
    [
        (Fault("shows/a.yaml", 0, 0, "there is no such file"), "a.yaml: there is no such file"),
        (Fault("shows/a.yaml", 3, 5, "a song has no key tempoo"), "line 3: a song has no key tempoo"),
        (Fault("a.yaml", 3, 5, "a song has no key tempoo", "tempo"), "line 3: a song has no key tempoo; write: tempo"),
        (
            Fault("a.yaml", 3, 5, "the rig has no sound of that name anywhere", "lead, or add it under lower.sounds"),
            "line 3: the rig has no sound of that name…",
        ),
    ],
)
def test_a_fault_of_the_whole_file_has_no_line(fault: Fault, words: str) -> None:
    evening = Evening()
    evening.night.take(ShowRead(faults=(fault,)))
    assert notices(evening) == [f"{words}; the show continues unchanged"]


def test_a_notice_with_half_a_letter_in_a_files_name_reaches_the_screen() -> None:
    """A name that is not UTF-8: Python reads each such byte as half a letter, which no JSON holds (RFC 8259, 8.1)."""
    evening = Evening()
    evening.night.take(ShowRead(faults=(Fault("f\udce4hre.yaml", 0, 0, "there is no such file"),)))
    assert b"hre.yaml: there is no such file" in as_line(evening.wall.views[-1])


def test_with_faults_the_old_show_continues_and_the_first_fault_is_shown() -> None:
    evening = Evening()
    evening.press()
    faults = (Fault("shows/a.yaml", 3, 5, "a song has no key tempoo", "tempo"), Fault("shows/a.yaml", 9, 1, "no", "so"))
    evening.night.take(ShowRead(faults=faults))
    assert notices(evening) == [
        "2 faults, line 3: a song has no key tempoo; write: tempo; the show continues unchanged"
    ]
    assert all(str(fault) in evening.said for fault in faults)
    assert (place_text(evening.night.state), evening.notebook.begun) == ("Intro of A", [])


def test_if_no_new_journal_can_be_written_the_old_show_continues() -> None:
    evening = Evening()
    evening.notebook.refuses = "cannot write the journal (No space left on device)"
    evening.night.take(ShowRead(edited()))
    assert place_text(evening.night.state) == "A up next"
    assert "No space left" in notices(evening)[0]
    assert evening.notebook.notes == []


class Desk:
    """Files in a folder, and what is reported about them."""

    def __init__(self, folder: Path) -> None:
        self.show, self.rig, self.songbook = (folder / name for name in ("show.yaml", "rig.yaml", "book.yaml"))
        self.show.write_text(SHOW)
        self.songbook.write_text(BOOK)
        self.rig.write_text("rig: Test\n")
        self.told: queue.SimpleQueue[FilesEdited | ShowRead | SongbooksRead] = queue.SimpleQueue()
        self.over = threading.Event()
        self.files = EditedFiles(files_now(self.show, self.rig, [self.songbook]), self.told.put, self.over)

    def write(self, path: Path, text: str) -> None:
        """Write as an editor does: another file, put in its place."""
        new = path.with_suffix(".new")
        new.write_text(text)
        os.utime(new, (time.time() + 5, time.time() + 5))
        new.replace(path)

    def looked(self, times: int = 2) -> list[FilesEdited | ShowRead | SongbooksRead]:
        for _ in range(times):
            self.files.look()
        return [self.told.get() for _ in range(self.told.qsize())]

    def read(self) -> ShowRead:
        self.files.read_again(RIG)
        while not isinstance(read := self.told.get(timeout=10), ShowRead):
            pass  # songs of a songbook, from an earlier reading
        return read


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    one = Desk(tmp_path)
    yield one
    one.over.set()


def test_an_edited_file_is_announced_once_after_it_stops_changing(desk: Desk) -> None:
    assert desk.looked() == []
    desk.write(desk.show, SHOW + "  - C\n")
    assert desk.looked(1) == [], "it may be being written"
    assert desk.looked(3) == [FilesEdited(show=True, rig=False)]
    desk.write(desk.rig, "rig: Other\n")
    assert desk.looked() == [FilesEdited(show=True, rig=True)]


def test_an_edited_songbook_is_announced_like_the_show_and_a_missing_file_is_not(desk: Desk) -> None:
    desk.show.unlink()
    assert desk.looked(3) == []
    desk.write(desk.songbook, BOOK.replace("Eb", "E"))
    assert desk.looked() == [FilesEdited(show=True, rig=False)]


def test_a_show_that_was_read_again_is_no_longer_announced(desk: Desk) -> None:
    desk.write(desk.show, SHOW + "  - C\n")
    desk.looked()
    read = desk.read()
    assert read.book is not None
    assert [one.song.title for one in read.book.songs] == ["A", "B", "C"]
    assert FilesEdited(show=False, rig=False) in desk.looked()
    desk.write(desk.rig, "rig: Other\n")
    assert desk.read().book is not None
    assert FilesEdited(show=False, rig=True) in desk.looked(), "the rig was not read again"


def test_a_faulty_show_is_announced_again_once_it_is_edited_again(desk: Desk) -> None:
    desk.write(desk.show, SHOW.replace("title", "titel"))
    assert desk.looked() == [FilesEdited(show=True, rig=False)]
    assert desk.read().faults
    assert desk.looked(3) == [], "the player knows"
    desk.write(desk.show, SHOW.replace("title: A", "title: A, tempo: 100"))
    assert desk.looked(3)[-1] == FilesEdited(show=True, rig=False), "there is something new to read"
    assert desk.read().book is not None


def test_faults_and_missing_sounds_are_shown_with_their_lines(desk: Desk) -> None:
    desk.write(desk.show, SHOW.replace("title", "titel"))
    read = desk.read()
    assert (read.book, [fault.line for fault in read.faults][:1]) == (None, [3])
    desk.write(desk.show, SHOW.replace("@organ", "@nose_flute"))
    assert "nose_flute" in str(desk.read().faults[0])


def test_a_separate_process_reads_the_songbook(desk: Desk) -> None:
    assert isinstance(desk.read(), ShowRead)
    came = desk.told.get(timeout=20)
    assert isinstance(came, SongbooksRead)
    assert [one.title for one in came.songs] == ["B", "C"], "a song with a fault is left out"


def test_a_show_that_lost_its_songbook_offers_none_of_its_songs(desk: Desk) -> None:
    desk.write(desk.show, "show: Test\nsongs: [A]\n")
    before = threading.active_count()
    assert desk.read().book is not None
    assert desk.told.get(timeout=10) == SongbooksRead(())
    assert threading.active_count() <= before + 1, "no process is waited for"


def test_songs_from_an_outdated_reading_are_not_offered(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    on_their_way: queue.SimpleQueue[Callable[[SongbooksRead], None]] = queue.SimpleQueue()

    def fetching(*words: Any, **_: Any) -> object:  # noqa: ANN401 - as it is called
        on_their_way.put(words[2])
        return words[1] or None

    monkeypatch.setattr("companion.night.edited.fetch_songs", fetching)
    desk.read()
    older = on_their_way.get(timeout=10)
    desk.read()
    newer = on_their_way.get(timeout=10)
    older(SongbooksRead((OfSongbook("Old", msgspec.Raw(b"{}")),)))
    newer(SongbooksRead(()))
    assert desk.told.get(timeout=5) == SongbooksRead(())
    assert desk.told.empty()


def test_a_rig_without_the_shows_sounds_does_not_crash_the_night(desk: Desk) -> None:
    desk.files.read_again(Rig("None"))
    read = desk.told.get(timeout=10)
    assert isinstance(read, ShowRead)
    assert read.faults


class Slow:
    """A reader of shows that waits for leave, and counts."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.begun: queue.SimpleQueue[Path] = queue.SimpleQueue()
        self.may_go_on = threading.Semaphore(0)
        self._read = read_show
        monkeypatch.setattr("companion.show.read_show", self)

    def __call__(self, path: Path) -> ReadShow:
        read = self._read(path)
        self.begun.put(path)
        assert self.may_go_on.acquire(timeout=20)
        return read


def titles(desk: Desk) -> list[str]:
    read = desk.told.get(timeout=20)
    assert isinstance(read, ShowRead)
    assert read.book is not None
    return [one.song.title for one in read.book.songs]


def test_a_request_during_a_reading_causes_one_more_reading(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    slow = Slow(monkeypatch)
    desk.write(desk.show, "show: Test\nsongs: [A]\n")
    desk.files.read_again(RIG)
    slow.begun.get(timeout=20)
    desk.write(desk.show, "show: Test\nsongs: [B]\n")
    for _ in range(30):  # a key that is held, or fingers that grow impatient
        desk.files.read_again(RIG)
    slow.may_go_on.release()
    assert titles(desk) == ["A"]
    assert desk.told.get(timeout=20) == SongbooksRead(())
    slow.begun.get(timeout=20)
    slow.may_go_on.release()
    assert titles(desk) == ["B"]
    assert desk.told.get(timeout=20) == SongbooksRead(())
    with pytest.raises(queue.Empty):  # the thirty were one wish
        slow.begun.get(timeout=4 * AT_REST_S)


def test_an_error_in_the_reader_is_shown_and_the_next_request_works(
    desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as broken:
        broken.setattr("companion.show.read_show", lambda _: 1 // 0)
        (fault,) = desk.read().faults
    assert fault.problem.startswith("an internal error while reading (ZeroDivisionError")
    assert desk.read().book is not None


def test_a_slow_reading_is_announced_and_completes(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("companion.night.edited.LONG_S", 0)
    slow = Slow(monkeypatch)
    read = desk.read()
    assert (read.book, [fault.problem for fault in read.faults]) == (None, ["it is still being read"])
    slow.may_go_on.release()
    assert titles(desk) == ["A", "B"]


def test_a_half_saved_show_removes_no_song() -> None:
    evening = Evening()
    evening.press()
    empty = make_book(Show("Test"), RIG)[0]
    evening.night.take(ShowRead(empty))
    assert place_text(evening.night.state) == "Intro of A"
    assert notices(evening) == ["no songs in the file; the show continues unchanged"]
    assert not evening.notebook.begun
