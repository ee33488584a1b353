"""Files made to cost time or memory are refused by counting, and whatever is not counted meets the child's limits."""

from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest
from setlist.attacks import ENTITIES, PDFS, TEXTS, WORKBOOKS, workbook

from companion import child
from companion.errors import FaultyFile
from companion.setlist import read_list
from companion.setlist.list_reading import list_in

COUNTED = {
    "rows": "more than 300,000 cells",
    "a gap": "more than 10000 rows in List",
    "sheets": "more than 20 sheets",
    "deep": "nested deeper than 32 levels",
    "attributes": "one value of more than 262,144 bytes",
    "many parts": "60007 files inside",
}


def _named(name: str, make: Callable[[], bytes]) -> tuple[str, bytes]:
    return name, make()


ALL: dict[str, Callable[[], tuple[str, bytes]]] = {
    **{f"workbook, {name}": partial(_named, "a.xlsx", make) for name, make in WORKBOOKS.items()},
    **{f"PDF, {name}": partial(_named, "a.pdf", make) for name, make in PDFS.items()},
    **{f"text, {name}": make for name, make in TEXTS.items()},
}


def refusal(name: str, raw: bytes) -> str:
    with pytest.raises(FaultyFile) as refused:
        list_in(raw, name)
    return str(refused.value)


@pytest.mark.parametrize("name", COUNTED)
def test_a_workbook_is_counted_while_it_is_read(name: str) -> None:
    assert COUNTED[name] in refusal("a.xlsx", WORKBOOKS[name]())


def test_a_row_far_below_costs_nothing_where_it_is_empty() -> None:
    (row,) = list_in(WORKBOOKS["a gap of no cells"](), "a.xlsx").lines
    assert row.text == "Moth"


@pytest.mark.parametrize("name", ENTITIES)
def test_entities_are_refused_in_whatever_they_are_written(name: str) -> None:
    said = refusal("a.xlsx", workbook(sheet=ENTITIES[name]))
    assert "declares XML entities" in said or "cannot be read" in said or "damaged" in said
    assert "declares" in said or name in ("another encoding", "UTF-7", "lower case")  # which no parser here knows


@pytest.mark.parametrize("bytes_cut", range(1, 50))
def test_a_workbook_that_lost_its_end_is_told(bytes_cut: int) -> None:
    assert "damaged" in refusal("a.xlsx", workbook()[:-bytes_cut])


@pytest.mark.parametrize(
    ("name", "line"), [("one line", "1,200,000"), ("one line of columns", "256 KiB"), ("one cell", "256 KiB")]
)
def test_a_line_without_end_is_no_list(name: str, line: str) -> None:
    path, raw = TEXTS[name]()
    assert line in refusal(path, raw) or "256 KiB" in refusal(path, raw)


def test_a_line_of_a_list_has_a_bound_before_any_pattern_looks_at_it() -> None:
    assert "line 2 has 20,001 characters" in refusal("a.txt", b"Moth\n" + b"x" * 20_001)


@pytest.mark.parametrize("name", ["zero-width spaces", "zero-width table"])
def test_a_row_of_nothing_that_can_be_seen_is_an_empty_row(name: str) -> None:
    path, raw = TEXTS[name]()
    (one,) = list_in(raw, path).show.sets
    assert [song.title for song in one.songs] == ["Moth"]


def test_a_bomb_in_a_pdf_ends_its_reader_and_nothing_else(tmp_path: Path) -> None:
    (tmp_path / "a.pdf").write_bytes(PDFS["recursive forms"]())
    with pytest.raises(FaultyFile, match="too much memory"):
        read_list(tmp_path / "a.pdf")


@pytest.mark.long
@pytest.mark.parametrize("name", ALL)
def test_each_attack_is_refused_or_read_within_the_child_s_limits(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(child, "MAX_S", 90.0)  # by the clock, where others share the machine
    file, raw = ALL[name]()
    (tmp_path / file).write_bytes(raw)
    try:
        read_list(tmp_path / file)
    except FaultyFile as refused:
        too_long = "seconds to read" in str(refused)
        assert not too_long or name == "PDF, many pages of letters"
