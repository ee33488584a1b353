"""The journal survives whatever happens to its file, and never holds up or ends the show."""

import contextlib
import errno
import os
import threading
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from companion.ports import Header, Journal, NotAJournal, is_stale, journals_on, new_name, read_journal, shelf_of
from companion.ports.journal_lines import JOURNAL_VERSION, JournalLineKind, line_of
from companion.ports.journal_shelf import as_on_disk


def fail_unless_late(trouble: str) -> None:
    """Fail a test whose journal is in trouble; on a busy machine a write may only be late, and says so."""
    if "does not answer" not in trouble:
        pytest.fail(trouble)


HEADER = Header(JOURNAL_VERSION, "shows/a.yaml", "A", "1-2")
RECORDS = [b'{"n":%d}' % number for number in range(12)]


def written(path: Path, records: list[bytes] = RECORDS, *, end: bool = False) -> bytes:
    """Write a journal and return its bytes."""
    journal = Journal.begun(path, HEADER, fail_unless_late)
    for record in records:
        journal.write(record)
    if end:
        journal.end()
    else:
        journal.close()
    return path.read_bytes()


def test_written_records_are_read_back(tmp_path: Path) -> None:
    written(tmp_path / "a")
    told = read_journal(tmp_path / "a")
    assert (told.header, told.events, told.ended, told.lost) == (HEADER, tuple(RECORDS), False, "")


def test_a_night_that_ended_cleanly_says_so(tmp_path: Path) -> None:
    written(tmp_path / "a", end=True)
    assert read_journal(tmp_path / "a").ended


def test_each_record_reaches_the_system_before_write_returns(tmp_path: Path) -> None:
    journal = Journal.begun(tmp_path / "a", HEADER, fail_unless_late)
    for number, record in enumerate(RECORDS, 1):
        journal.write(record)
        assert read_journal(tmp_path / "a").events == tuple(RECORDS[:number])
    journal.close()


@given(cut=st.integers(min_value=0), garbage=st.binary(max_size=600) | st.just(bytes(4096)))
def test_a_journal_cut_anywhere_and_followed_by_garbage_yields_a_prefix(
    tmp_path_factory: pytest.TempPathFactory, cut: int, garbage: bytes
) -> None:
    path = tmp_path_factory.mktemp("cut") / "a"
    whole = written(path)
    path.write_bytes(whole[: cut % (len(whole) + 1)] + garbage)
    try:
        told = read_journal(path)
    except NotAJournal:
        assert cut % (len(whole) + 1) <= whole.index(b"\n")
        return
    assert told.events == tuple(RECORDS[: len(told.events)])


def test_lost_records_are_reported(tmp_path: Path) -> None:
    whole = written(tmp_path / "a")
    (tmp_path / "a").write_bytes(whole[:-5])
    told = read_journal(tmp_path / "a")
    assert told.lost == "the end of the journal is damaged; the first 11 steps were kept"


def test_a_torn_journal_continues_and_loses_only_the_torn_part(tmp_path: Path) -> None:
    whole = written(tmp_path / "a")
    (tmp_path / "a").write_bytes(whole[:-5])
    journal = Journal.continued(tmp_path / "a", read_journal(tmp_path / "a"), fail_unless_late)
    journal.write(b'{"new":1}')
    journal.close()
    told = read_journal(tmp_path / "a")
    assert (told.events, told.lost) == ((*RECORDS[:11], b'{"new":1}'), "")


@pytest.mark.parametrize(
    "content", [b"", b"\n", b"show: A\n", bytes(512), b"deadbeef 0 h 1.0 {}\n", bytes(range(255, 0, -1))], ids=repr
)
def test_another_kind_of_file_is_not_a_journal(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "a").write_bytes(content)
    with pytest.raises(NotAJournal, match="not a readable journal"):
        read_journal(tmp_path / "a")


def test_a_journal_of_a_later_version_is_left_alone(tmp_path: Path) -> None:
    later = b'{"version":2,"show":"s","title":"A","fingerprint":"f"}'
    (tmp_path / "a").write_bytes(line_of(0, JournalLineKind.HEADER, 1.0, later))
    with pytest.raises(NotAJournal, match="newer version"):
        read_journal(tmp_path / "a")


def test_reading_stops_at_a_line_out_of_sequence(tmp_path: Path) -> None:
    written(tmp_path / "a", RECORDS[:2])
    with (tmp_path / "a").open("ab") as file:
        file.write(line_of(7, JournalLineKind.EVENT, 1.0, b"{}"))
    told = read_journal(tmp_path / "a")
    assert (told.events, bool(told.lost)) == (tuple(RECORDS[:2]), True)


class Disk:
    """A disk that takes so many bytes, then is full; it can be given room again."""

    def __init__(self, room: int) -> None:
        self.room = room

    def write(self, descriptor: int, content: bytes) -> int:
        if not self.room:
            raise OSError(errno.ENOSPC, "No space left on device")
        taken = content[: self.room]
        self.room -= len(taken)
        return os.write(descriptor, taken)


@pytest.mark.parametrize("room", range(0, 200, 7))
def test_a_full_disk_is_reported_once_and_the_rest_is_written_when_there_is_room(tmp_path: Path, room: int) -> None:
    written(tmp_path / "a", [])
    disk, troubles = Disk(room), list[str]()
    journal = Journal(tmp_path / "a", 1, troubles.append, write=disk.write)
    for record in RECORDS[:6]:
        journal.write(record)
    assert len(troubles) == 1
    assert "the show continues" in troubles[0]
    disk.room = 100_000
    for record in RECORDS[6:]:
        journal.write(record)
    journal.close()
    assert read_journal(tmp_path / "a").events == tuple(RECORDS)


def test_presses_during_a_full_disk_do_not_make_the_program_try_without_rest(tmp_path: Path) -> None:
    """Each press tries once, the thread that syncs once more and then each second; a busy loop tries thousands."""
    full, tried, second = Disk(0), list[bytes](), threading.Event()

    def write(descriptor: int, content: bytes) -> int:
        tried.append(content)
        return full.write(descriptor, content)

    journal = Journal(tmp_path / "a", 1, lambda _: None, write=write, sync=lambda _: second.set())
    journal.write(RECORDS[0])
    assert second.wait(10)
    for record in RECORDS[1:4]:
        journal.write(record)
    threading.Event().wait(0.1)
    assert len(tried) < 20
    full.room = 100_000
    journal.write(RECORDS[4])
    journal.close()
    assert (tmp_path / "a").read_bytes().count(b"\n") == 5


@pytest.mark.parametrize("room", [1, 40, 100])
def test_a_header_torn_by_a_full_disk_and_written_again_begins_the_journal(tmp_path: Path, room: int) -> None:
    disk = Disk(room)
    journal = Journal(tmp_path / "a", 1, lambda _: None, write=disk.write)
    header = line_of(0, JournalLineKind.HEADER, 1.0, b'{"version":1,"show":"s","title":"A","fingerprint":"f"}')
    journal._waiting.append(header)  # noqa: SLF001 - as begun writes it
    journal.write(RECORDS[0])
    disk.room = 100_000
    journal.write(RECORDS[1])
    journal.close()
    told = read_journal(tmp_path / "a")
    assert (told.header.title, told.events, told.lost) == ("A", tuple(RECORDS[:2]), "")


def test_a_slow_sync_does_not_delay_a_write(tmp_path: Path) -> None:
    """The write returns while the disk is still busy: a lock that both wait for would hang here."""
    busy, released = threading.Event(), threading.Event()

    def slow(_: int) -> None:
        busy.set()
        released.wait(5)

    journal = Journal(tmp_path / "a", 0, fail_unless_late, sync=slow)
    journal.write(RECORDS[0])
    assert busy.wait(5)
    journal.write(RECORDS[1])
    assert not released.is_set()
    assert (tmp_path / "a").read_bytes().count(b"\n") == 2
    released.set()
    journal.close()


def test_a_press_does_not_wait_for_a_disk_that_hangs(tmp_path: Path) -> None:
    """A full pipe that nobody reads is a disk that hangs: the system keeps the writing thread until there is room."""
    reader, disk = os.pipe()
    os.set_blocking(disk, False)
    with contextlib.suppress(BlockingIOError):
        while os.write(disk, bytes(65536)):
            pass
    os.set_blocking(disk, True)
    troubles, told = list[str](), threading.Event()

    def trouble(words: str) -> None:
        troubles.append(words)
        told.set()

    journal = Journal(tmp_path / "a", 1, trouble, write=lambda _, line: os.write(disk, line), sync=lambda _: None)

    def presses() -> None:
        for record in RECORDS:
            journal.write(record)

    foot = threading.Thread(target=presses, daemon=True)
    foot.start()
    foot.join(10)
    assert not foot.is_alive(), "the foot waits for the disk"
    assert told.wait(10)
    assert journal.is_unsaved
    assert "the disk does not answer" in troubles[0]
    os.set_blocking(reader, False)
    read = b""
    while read.count(b"\n") < len(RECORDS):  # the disk answers again
        with contextlib.suppress(BlockingIOError):
            read = (read + os.read(reader, 65536)).lstrip(b"\0")
    assert [line.split(b" ", 4)[4] for line in read.splitlines()] == RECORDS, "all presses, in their order"
    journal.write(b'{"again":1}')
    journal.close()
    assert not journal.is_unsaved
    assert os.read(reader, 65536).endswith(b'{"again":1}\n')
    assert len(troubles) == 1
    os.close(reader)
    os.close(disk)


def test_after_a_disk_that_hung_each_press_waits_for_its_line_again(tmp_path: Path) -> None:
    hangs = threading.Event()

    def write(descriptor: int, line: bytes) -> int:
        while hangs.is_set():
            threading.Event().wait(0.001)
        return os.write(descriptor, line)

    journal = Journal(tmp_path / "a", 1, lambda _: None, write=write)
    hangs.set()
    journal.write(RECORDS[0])
    hangs.clear()
    while (tmp_path / "a").read_bytes().count(b"\n") < 1:
        threading.Event().wait(0.001)
    threading.Event().wait(0.05)
    for number, record in enumerate(RECORDS[1:], 2):
        journal.write(record)
        assert (tmp_path / "a").read_bytes().count(b"\n") == number
    journal.close()


def test_a_night_ended_on_a_full_disk_is_ended_by_its_name(tmp_path: Path) -> None:
    path = tmp_path / "000000000001.journal"
    written(path, RECORDS[:2])
    journal = Journal(path, 3, lambda _: None, write=Disk(0).write)
    journal.write(RECORDS[2])
    journal.end()
    (ended,) = journals_on(tmp_path)
    assert (read_journal(ended).ended, read_journal(ended).events) == (True, tuple(RECORDS[:2]))
    assert not path.exists()


def test_a_failed_sync_is_reported_and_the_show_continues(tmp_path: Path) -> None:
    troubles: list[str] = []

    def broken(_: int) -> None:
        raise OSError(errno.EIO, "Input/output error")

    journal = Journal(tmp_path / "a", 0, troubles.append, sync=broken)
    journal.write(RECORDS[0])
    journal.close()
    assert any("Input/output error" in trouble for trouble in troubles)


def test_after_twelve_hours_it_is_another_night_even_if_the_clock_was_set_back() -> None:
    assert not is_stale(0, 12 * 3600)
    assert is_stale(0, 12 * 3600 + 1)
    assert not is_stale(3600, 0)


def test_each_show_has_its_own_folder_and_each_night_its_own_journal(tmp_path: Path) -> None:
    shelf = shelf_of(tmp_path / "a b.yaml", tmp_path)
    assert shelf != shelf_of(tmp_path / "other" / "a b.yaml", tmp_path)
    first = new_name(shelf)
    written(first)
    second = new_name(shelf)
    written(second)
    assert journals_on(shelf) == (second, first)


def test_a_clock_set_back_between_nights_does_not_hide_the_later_one(tmp_path: Path) -> None:
    shelf = shelf_of(tmp_path / "a.yaml", tmp_path)
    future = shelf / "999999999999.journal"
    written(future)
    assert new_name(shelf) == shelf / "1000000000000.journal"
    written(new_name(shelf))
    assert journals_on(shelf)[0] == shelf / "1000000000000.journal"


def test_notes_between_events_do_not_count_as_events(tmp_path: Path) -> None:
    journal = Journal.begun(tmp_path / "a", HEADER, fail_unless_late)
    journal.write(RECORDS[0])
    journal.note(b'{"port":"gone"}')
    journal.write(RECORDS[1])
    journal.close()
    told = read_journal(tmp_path / "a")
    assert (told.events, told.notes, told.next_number, told.lost) == (tuple(RECORDS[:2]), (b'{"port":"gone"}',), 4, "")


def test_a_disk_that_cannot_sync_is_reported_once(tmp_path: Path) -> None:
    told: list[str] = []
    synced = threading.Semaphore(0)

    def cannot(_: int) -> None:
        synced.release()
        raise OSError(errno.EIO, "Input/output error")

    journal = Journal(tmp_path / "a", 0, told.append, sync=cannot)
    for record in RECORDS[:2]:
        journal.write(record)
        assert synced.acquire(timeout=10)
    journal.close()
    assert told == [
        "the disk does not save the journal (Input/output error): the show continues, but a power cut loses this place"
    ]


def test_on_macos_all_spellings_of_a_path_share_one_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    on_disk = str(tmp_path / "Fähre.yaml")

    def getpath(_: int, command: int, room: bytes) -> bytes:
        assert command == 50  # F_GETPATH, sys/fcntl.h (from memory)
        return os.fsencode(on_disk).ljust(len(room), b"\0")

    monkeypatch.setattr("fcntl.fcntl", getpath)
    for spelt in ("fähre.yaml", "FÄHRE.yaml", "Fa\u0308hre.yaml"):
        with contextlib.suppress(UnicodeEncodeError):  # a locale from before UTF-8 has no accent of its own
            (tmp_path / spelt).touch()  # the disk here has them all apart
            assert as_on_disk(str(tmp_path / spelt), "darwin") == on_disk
    assert as_on_disk(str(tmp_path / "not there"), "darwin") == str(tmp_path / "not there")
    assert as_on_disk(str(tmp_path / "FÄHRE.yaml"), "linux") == str(tmp_path / "FÄHRE.yaml")
