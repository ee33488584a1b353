"""Files of records, one line of JSON each: what is unreadable is counted, and size has a limit."""

from pathlib import Path

import msgspec
import pytest

from companion.errors import CompanionError
from companion.files.record_lines import read_record_lines


class Gig(msgspec.Struct):
    """A record of this test."""

    venue: str


@pytest.mark.parametrize(
    ("text", "venues", "unreadable"),
    [
        ('{"venue":"Mill"}\n\n{"venue":"Pier"}\n', ["Mill", "Pier"], 0),
        ('{"venue":"Mill"}\n{"ven', ["Mill"], 1),  # a process was killed while writing
        ('{"venue":7}\nno JSON\n' + "[" * 100_000 + '\n{"venue":"Pier"}', ["Pier"], 3),
        ("", [], 0),
    ],
)
def test_readable_lines_are_returned_in_order_and_the_others_counted(
    tmp_path: Path, text: str, venues: list[str], unreadable: int
) -> None:
    path = tmp_path / "gigs.jsonl"
    path.write_text(text)
    records, count = read_record_lines(path, Gig, 2**20)
    assert ([record.venue for record in records], count) == (venues, unreadable)


def test_a_missing_file_has_no_records(tmp_path: Path) -> None:
    assert read_record_lines(tmp_path / "gigs.jsonl", Gig, 2**20) == ([], 0)


def test_a_file_that_is_too_large_is_refused_with_what_to_do(tmp_path: Path) -> None:
    path = tmp_path / "gigs.jsonl"
    path.write_bytes(b" " * (2**20 + 1))
    with pytest.raises(CompanionError, match=r"gigs.jsonl is larger than 1 MiB: move its older lines"):
        read_record_lines(path, Gig, 2**20)


def test_a_folder_in_its_place_is_reported(tmp_path: Path) -> None:
    with pytest.raises(CompanionError, match="cannot be read"):
        read_record_lines(tmp_path, Gig, 2**20)
