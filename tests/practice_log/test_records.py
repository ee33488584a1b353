"""Records are append-only, survive a kill and two writers at once, and follow a song's new title."""

import datetime as dt
import subprocess
import sys
import time
from pathlib import Path

import pytest
from planning.shows import show, song

from companion.errors import CompanionError
from companion.practice_log.records import LogKind, PracticeRecord, add_records, read_records, records_path
from companion.practice_log.song_progress import known_written, named_songs, progress_of

EVENING = dt.datetime(2027, 6, 5, 23, 30, tzinfo=dt.timezone(dt.timedelta(hours=2)))


def test_records_are_read_back_in_the_order_added(tmp_path: Path) -> None:
    path = tmp_path / "pier.yaml"
    assert read_records(path).kept == ()
    first, second = (
        PracticeRecord(EVENING, LogKind.HEARD, "Café – 🎹", share=0.9),
        PracticeRecord(EVENING, LogKind.ASKED, "Moth", question="key", grade=3),
    )
    add_records(path, [first])
    add_records(path, [second])
    assert read_records(path).kept == (first, second)
    assert records_path(path) == tmp_path / "pier.practice.jsonl"


def test_a_day_is_local_and_not_utc() -> None:
    assert PracticeRecord(EVENING, LogKind.HEARD, "Moth").day == dt.date(2027, 6, 5)


@pytest.mark.parametrize("cut", [1, 5, 20])
def test_a_cut_off_line_is_skipped_and_the_next_is_complete(tmp_path: Path, cut: int) -> None:
    path = tmp_path / "pier.yaml"
    add_records(
        path,
        [
            PracticeRecord(EVENING, LogKind.HEARD, "Moth", share=1),
            PracticeRecord(EVENING, LogKind.HEARD, "Weeds", share=1),
        ],
    )
    file = records_path(path)
    file.write_bytes(file.read_bytes()[:-cut])
    add_records(path, [PracticeRecord(EVENING, LogKind.HEARD, "Tidal", share=1)])
    read = read_records(path)
    assert [one.title for one in read.kept if one.title != "Weeds"] == ["Moth", "Tidal"]
    assert read.unreadable == (0 if cut == 1 else 1)


@pytest.mark.parametrize(
    "line",
    [b"rubbish", b"\xff\xfe", b'{"at":"2027-06-05T10:00:00","did":"heard","title":"x"}', b'{"did":"sang"}', b"[]"],
)
def test_an_unreadable_line_is_counted_and_skipped(tmp_path: Path, line: bytes) -> None:
    path = tmp_path / "pier.yaml"
    records_path(path).write_bytes(line + b"\n")
    add_records(path, [PracticeRecord(EVENING, LogKind.HEARD, "Moth", share=1)])
    read = read_records(path)
    assert (len(read.kept), read.unreadable) == (1, 1)


WRITER = """
import datetime as dt, sys
from companion.practice_log.records import LogKind, PracticeRecord, add_records
for at in range(int(sys.argv[3])):
    record = PracticeRecord(dt.datetime.now(dt.UTC), LogKind.HEARD, f"{sys.argv[2]} {at}" + "x" * 500, share=1)
    add_records(sys.argv[1], [record] * 2)
"""


def test_two_processes_writing_at_once_lose_nothing(tmp_path: Path) -> None:
    path = tmp_path / "pier.yaml"
    writers = [subprocess.Popen((sys.executable, "-c", WRITER, str(path), name, "60")) for name in ("a", "b")]
    assert [writer.wait() for writer in writers] == [0, 0]
    read = read_records(path)
    assert (len(read.kept), read.unreadable) == (240, 0)


def test_a_killed_process_leaves_a_file_that_can_be_read_and_added_to(tmp_path: Path) -> None:
    path = tmp_path / "pier.yaml"
    writer = subprocess.Popen((sys.executable, "-c", WRITER, str(path), "a", "100000"))
    deadline = time.monotonic() + 20
    while (
        not (records_path(path).exists() and records_path(path).stat().st_size > 20_000) and time.monotonic() < deadline
    ):
        time.sleep(0.01)
    writer.kill()
    writer.wait()
    before = read_records(path)
    add_records(path, [PracticeRecord(EVENING, LogKind.HEARD, "Moth", share=1)])
    after = read_records(path)
    assert len(before.kept) >= 20
    assert after.kept[:-1] == before.kept
    assert after.unreadable <= 1


def test_an_unwritable_folder_is_reported(tmp_path: Path) -> None:
    with pytest.raises(CompanionError, match="cannot be written"):
        add_records(tmp_path / "nowhere" / "pier.yaml", [PracticeRecord(EVENING, LogKind.HEARD, "Moth")])


def test_progress_is_counted_by_day_and_only_whole_hearings_count() -> None:
    done = progress_of(
        [
            PracticeRecord(EVENING, LogKind.HEARD, "Moth", share=0.79),
            PracticeRecord(EVENING, LogKind.HEARD, "Moth", share=0.8),
            PracticeRecord(EVENING, LogKind.PRACTISED, "moth", minutes=3),
            PracticeRecord(EVENING + dt.timedelta(days=1), LogKind.PRACTISED, "Moth", minutes=12),
            PracticeRecord(EVENING, LogKind.RAN, "Moth"),
            PracticeRecord(EVENING, LogKind.ASKED, "Moth", question="key", grade=1),
        ]
    )["moth"]
    assert done.heard == (dt.date(2027, 6, 5),)
    assert done.practised == (dt.date(2027, 6, 6),)
    assert (done.minutes, len(done.ran), done.quiz_answers[0].grade) == (15, 1, 1)


def test_progress_under_an_old_title_counts_for_the_new_one() -> None:
    records = [
        PracticeRecord(EVENING, LogKind.HEARD, "Moths", share=1),
        PracticeRecord(EVENING, LogKind.RENAMED, "Moths", to="Moth"),
        PracticeRecord(EVENING, LogKind.HEARD, "Moth", share=1),
        PracticeRecord(EVENING, LogKind.RENAMED, "Moth", to="The Moth"),
    ]
    assert len(progress_of(records)["moth"].heard) == 2
    assert (
        len(progress_of([*records, PracticeRecord(EVENING, LogKind.RENAMED, "Moth", to="Big Moth")])["big moth"].heard)
        == 2
    )


def test_known_written_under_an_old_title_counts_for_the_new_one() -> None:
    later = EVENING + dt.timedelta(days=1)
    records = [
        PracticeRecord(later, LogKind.KNOWN, "Moths"),
        PracticeRecord(EVENING, LogKind.KNOWN, "Moths"),
        PracticeRecord(EVENING, LogKind.RENAMED, "Moths", to="Moth"),
        PracticeRecord(EVENING, LogKind.HEARD, "Weeds", share=1),
    ]
    assert known_written(records) == {"moth": later}


@pytest.mark.parametrize(
    ("words", "titles"),
    [
        ("set 1", ["Gasworks Corner"]),
        ("second", ["Moth"]),
        ("gaswork", ["Gasworks Corner"]),
        ("Moth", ["Moth"]),
        ("zebra crossing", []),
    ],
)
def test_songs_are_named_by_title_or_set(words: str, titles: list[str]) -> None:
    named = named_songs(show(song("Gasworks Corner"), song("Moth"), sets=2), words)
    assert [one.title for one in named] == titles
