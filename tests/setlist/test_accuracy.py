"""Fifty set lists in as many shapes, written by others, are read back: every field of every song."""

from collections.abc import Callable
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


@pytest.mark.parametrize("name", ALL)
def test_every_field_is_read_as_written(name: str) -> None:
    shape = ALL[name]()
    found = read(shape, notation=Notation.GERMAN if name == "german" else Notation.LETTERS)
    _, total, wrong = score(found, shape)
    assert total["title"]
    assert wrong == []
    assert all(line.doubts for line in found.lines if line.took is LineKind.NOTE and "no title" in line.says)
