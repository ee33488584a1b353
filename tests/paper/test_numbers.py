"""A song has one number: in the message to the leader, on the set list and on the crib sheet, whatever is printed."""

import re
from pathlib import Path

import pytest
from paper.readers_back import pages_of

from companion.leader.questions import ask
from companion.paper import PrintJob, Sheet, print_show
from companion.show import read_show

SETS = {"First": 19, "Second": 18, "Late": 17}


@pytest.fixture
def show_file(tmp_path: Path) -> Path:
    """Write a show of 54 songs without a key, so that the message to the leader names each of them."""
    lines, number = ["show: Pier", "sets:"], 0
    for name, many in SETS.items():
        lines += [f"  - set: {name}", "    songs:"]
        for _ in range(many):
            number += 1
            lines.append(f"      - {title(number)}")
    path = tmp_path / "show.yaml"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return path


def title(number: int) -> str:
    """Return a title without a digit."""
    return f"Barge {chr(ord('A') + number // 26)}{chr(ord('a') + number % 26)}"


def numbers_on(path: Path, job: PrintJob) -> dict[str, int]:
    out = path.with_suffix(".pdf")
    print_show(path, job, out)
    text = "\n".join(page.text for page in pages_of.__wrapped__(out))
    return {found[2]: int(found[1]) for found in re.finditer(r"(\d+)[\s_]+(Barge \w\w)", text)}


@pytest.mark.parametrize("sheet", [Sheet.SET_LIST, Sheet.CRIB_SHEET])
def test_the_paper_numbers_a_song_as_the_message_to_the_leader_does(show_file: Path, sheet: Sheet) -> None:
    text = str(ask(read_show(show_file).show, file_stem="show", answered_in_s=900))
    in_message = {found[2]: int(found[1]) for found in re.finditer(r"(\d+) (Barge \w\w)", text)}
    assert in_message
    on_paper = numbers_on(show_file, PrintJob((sheet,)))
    assert on_paper == {title(number): number for number in range(1, sum(SETS.values()) + 1)}
    assert in_message.items() <= on_paper.items()


@pytest.mark.parametrize("sheet", [Sheet.SET_LIST, Sheet.CRIB_SHEET])
@pytest.mark.parametrize(
    ("job", "songs"),
    [(PrintJob(set_name="Second"), range(20, 38)), (PrintJob(songs=(title(40),)), range(40, 41))],
)
def test_a_part_of_the_show_keeps_its_numbers(show_file: Path, sheet: Sheet, job: PrintJob, songs: range) -> None:
    part = PrintJob((sheet,), set_name=job.set_name, songs=job.songs)
    assert numbers_on(show_file, part) == {title(number): number for number in songs}


def test_the_show_of_these_tests_has_as_many_songs_as_it_says(show_file: Path) -> None:
    assert [len(one.songs) for one in read_show(show_file).show.sets] == list(SETS.values())
