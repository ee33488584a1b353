"""Fifty set lists in as many shapes, written by others, are read back: the share of fields that is right."""

from collections import Counter
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest
from setlist.score import score
from setlist.shapes_pages import PAGES
from setlist.shapes_sheets import SHEETS
from setlist.shapes_text import TEXTS, Shape

from companion.setlist import LineKind, Notation, SetList
from companion.setlist.list_reading import list_in

OFFICE = (
    Path(__file__).parent / "office"
)  # made by LibreOffice 7.4 Calc from four of the CSV shapes, at its own settings
BY_CALC = ("plain_csv", "heading_rows", "seconds", "banner")
LEAST = {"title": 0.99, "key": 0.97}
LEAST_OF_THE_REST = 0.95


def by_calc(name: str, ending: str) -> Callable[[], Shape]:
    def shape() -> Shape:
        written, _, songs, carried = SHEETS[name]()
        path = OFFICE / f"{Path(written).stem}{ending}"
        return path.name, path.read_bytes(), songs, carried

    return shape


ALL = {
    **TEXTS,
    **SHEETS,
    **PAGES,
    **{f"{name}{ending}": by_calc(name, ending) for name in BY_CALC for ending in (".xlsx", ".pdf")},
}


def read(shape: Shape, *, notation: Notation) -> SetList:
    """Read a shape in this process, since the way through another one has its own test."""
    return list_in(shape[1], shape[0], notation=notation)


def test_at_least_forty_shapes_are_tried() -> None:
    assert len(ALL) >= 40


@cache
def made_and_read(name: str) -> tuple[Shape, SetList]:
    shape = ALL[name]()
    return shape, read(shape, notation=Notation.GERMAN if name == "german" else Notation.LETTERS)


@pytest.mark.parametrize("name", ALL)
def test_sets_and_titles_are_read_as_written(name: str) -> None:
    shape, found = made_and_read(name)
    _, _, wrong = score(found, shape)
    assert not [line for line in wrong if "title" in line or "sets for" in line or "too many" in line]
    assert all(line.doubts for line in found.lines if line.took is LineKind.NOTE and "no title" in line.says)


def test_the_share_of_fields_that_is_right() -> None:
    right: Counter[str] = Counter()
    total: Counter[str] = Counter()
    for name in ALL:
        shape, found = made_and_read(name)
        one, of, _ = score(found, shape)
        right += one
        total += of
    shares = {field: right[field] / total[field] for field in total}
    print({field: f"{share:.2%} of {total[field]}" for field, share in shares.items()})  # noqa: T201  the figures, with -s
    assert not {field: share for field, share in shares.items() if share < LEAST.get(field, LEAST_OF_THE_REST)}
