"""Export the records: CSV for a spreadsheet, else JSON."""

import csv
import io
import os
from pathlib import Path
from typing import Final

import msgspec

from companion.files.outputs import write_output
from companion.practice_log.logged import exported
from companion.shown import harmless_cell

COLUMNS: Final = ("at", "did", "title", "minutes", "share", "question", "grade", "to")


def export_records(show_path: str | os.PathLike[str], path: Path) -> int:
    """Write all records of a show to a file and return their number: ``.csv`` is CSV, anything else JSON."""
    records = exported(show_path)
    if path.suffix.lower() == ".csv":
        out = io.StringIO(newline="")
        table = csv.DictWriter(out, COLUMNS, lineterminator="\n", extrasaction="ignore")
        table.writeheader()
        table.writerows({name: _cell(value) for name, value in one.items()} for one in records)
        write_output(path, out.getvalue())
    else:
        write_output(path, msgspec.json.format(msgspec.json.encode(records)).decode() + "\n")
    return len(records)


def _cell(value: object) -> object:
    return harmless_cell(value) if isinstance(value, str) else value
