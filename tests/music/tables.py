"""Published tables beside the tests: one csv file each, its source in the first line."""

import csv
from pathlib import Path

FOLDER = Path(__file__).parent / "data"


def table(name: str) -> list[dict[str, str]]:
    """Return the rows of a table, each by its column names."""
    lines = (FOLDER / f"{name}.csv").read_text(encoding="utf-8").splitlines()
    assert lines[0].startswith("# ")
    return list(csv.DictReader(lines[1:]))


def cells(name: str, first: str) -> list[tuple[str, str, str]]:
    """Return (row, column, value) of every cell right of the first column."""
    return [(row[first], column, row[column]) for row in table(name) for column in row if column != first]
