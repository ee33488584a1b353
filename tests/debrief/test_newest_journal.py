"""Which journal the debrief reads: the newest night's."""

from pathlib import Path

import pytest

from companion.debrief import night_report
from companion.ports import JOURNAL_VERSION, Header, Journal, shelf_of

SHOW = Path("shows/a.yaml")


@pytest.fixture
def shelf(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder of the show's journals, with one night."""
    monkeypatch.setattr(night_report, "data_path", lambda: tmp_path)
    folder = shelf_of(SHOW, tmp_path)
    night(folder / "000000000001.journal")
    return folder


def night(path: Path, version: int = JOURNAL_VERSION) -> None:
    Journal.begun(path, Header(version, str(SHOW), "A", "1-2"), lambda _: None).close()


@pytest.mark.parametrize("left", [b"", b"a1b2c3d4 0 h 17"])
def test_a_journal_that_never_got_its_first_line_hides_no_night(shelf: Path, left: bytes) -> None:
    """The disk was full, or the program was killed, while the journal began; the night before it was continued."""
    (shelf / "000000000002.ended").write_bytes(left)
    assert night_report.newest_journal(SHOW) == shelf / "000000000001.journal"


def test_a_night_of_a_newer_version_is_the_newest_all_the_same(shelf: Path) -> None:
    newer = shelf / "000000000002.journal"
    night(newer, JOURNAL_VERSION + 1)
    assert night_report.newest_journal(SHOW) == newer


def test_if_no_journal_can_be_read_the_newest_is_named(shelf: Path) -> None:
    (shelf / "000000000001.journal").write_bytes(b"")
    assert night_report.newest_journal(SHOW) == shelf / "000000000001.journal"
