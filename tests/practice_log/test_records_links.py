"""Files beside the show are never written through a link that a stranger put there."""

import datetime as dt
import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from companion.cli import main
from companion.errors import CompanionError
from companion.planning.known_offers import offers_of_known
from companion.practice_log.records import LogKind, PracticeRecord, add_records, read_records, records_path
from companion.show import read_show

pytestmark = [
    pytest.mark.skipif(os.name == "nt", reason="links and permissions are others there"),
    pytest.mark.usefixtures("reads_here"),
]
EVENING = dt.datetime(2027, 6, 5, 19, tzinfo=dt.UTC)
SHOW = "show: gig\nsongs:\n  - title: rm -rf # x\n    known: 1\n  - Moth\n"


@pytest.fixture
def show(tmp_path: Path) -> Path:
    (tmp_path / "gig.yaml").write_text(SHOW)
    (tmp_path / "start-file").write_text("# the player's own\n")
    return tmp_path / "gig.yaml"


def test_records_are_not_written_through_a_link(show: Path) -> None:
    records_path(show).symlink_to(show.with_name("start-file"))
    with pytest.raises(CompanionError, match=r"practice\.jsonl cannot be written: it is a link"):
        add_records(show, [PracticeRecord(EVENING, LogKind.PRACTISED, "Moth", minutes=5)])
    assert show.with_name("start-file").read_text() == "# the player's own\n"


@pytest.mark.parametrize(
    ("link", "words"),
    [
        ("gig-setlist.pdf", ("print", "gig.yaml")),
        ("gig.m3u8", ("playlist", "gig.yaml")),
        ("gig.dropped.yaml", ("import", "list.txt", "--into", "gig.yaml", "--yes")),
    ],
)
def test_the_target_of_a_link_is_never_changed(
    show: Path, monkeypatch: pytest.MonkeyPatch, link: str, words: tuple[str, ...]
) -> None:
    monkeypatch.chdir(show.parent)
    Path("list.txt").write_text("Set 1\n1. Moth\n")
    Path(link).symlink_to("start-file")
    main(list(words))
    assert Path("start-file").read_text() == "# the player's own\n"


def test_records_beside_a_private_show_are_private(show: Path) -> None:
    show.chmod(0o600)
    add_records(show, [PracticeRecord(EVENING, LogKind.PRACTISED, "Moth", minutes=5)])
    assert stat.S_IMODE(records_path(show).stat().st_mode) == 0o600


KILLED = """
import os, signal, sys
from pathlib import Path
import datetime as dt
from companion.edits import saving
from companion.planning.known_offers import take_known
from companion.practice_log.logged import show_and_progress
write = saving.write_whole
def killed(path, *more, **named):
    write(path, *more, **named)
    if Path(path).name == "gig.yaml":
        os.kill(os.getpid(), signal.SIGKILL)
saving.write_whole = killed
show = Path(sys.argv[1])
moth = show_and_progress(show)[0].sets[0].songs[1]
take_known(show, [(moth, 2)], dt.datetime(2027, 6, 5, 19, tzinfo=dt.UTC))
"""


def test_known_is_not_raised_again_if_the_last_run_was_killed_between_its_two_files(show: Path) -> None:
    add_records(
        show,
        [PracticeRecord(EVENING - dt.timedelta(days=day), LogKind.PRACTISED, "Moth", minutes=20) for day in range(5)],
    )
    subprocess.run((sys.executable, "-c", KILLED, str(show)), check=False)
    assert read_show(show).show.sets[0].songs[1].known == 2
    assert LogKind.KNOWN not in {record.did for record in read_records(show).kept}
    assert not [song.title for song, _, _ in offers_of_known(show) if song.title == "Moth"]
    assert [record.did for record in read_records(show).kept].count(LogKind.KNOWN) == 1
