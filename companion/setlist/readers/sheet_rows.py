"""One sheet's rows as any spreadsheet program stores them: cells with their texts, colours and comments."""

import datetime as dt
from collections.abc import Sequence

import msgspec

from companion.setlist.model import ListPage, ListRow, SourceLine
from companion.setlist.readers.colours import marks_of
from companion.setlist.readers.document_rows import STRUCK
from companion.setlist.readers.limits import LONGEST_CELL
from companion.setlist.tidy import one_line, tidy


class SheetRow(msgspec.Struct):
    """A row that is not empty: its number, its cells from the first column on, and what only a spreadsheet knows."""

    number: int
    cells: tuple[str, ...]
    colours: tuple[str, ...] = ()  # behind each cell, as the file names it
    comments: tuple[str, ...] = ()
    is_hidden: bool = False


def struck(text: str) -> str:
    """Return a crossed-out text as rows carry it: between ``~~``."""
    return f"{STRUCK}{text}{STRUCK}" if text else text


def shown_time(value: dt.time | dt.timedelta) -> str:
    """Return a time as a person sees it: 0:03:40 for a length that the sheet stores as a time of day."""
    if isinstance(value, dt.timedelta):
        seconds = round(value.total_seconds())
        return f"{seconds // 3600}:{seconds // 60 % 60:02}:{seconds % 60:02}"
    return f"{value.hour}:{value.minute:02}:{value.second:02}"


def shown_date(value: dt.date) -> str:
    """Return a date, with the time of day if there is one."""
    if isinstance(value, dt.datetime):
        return value.date().isoformat() if not (value.hour or value.minute) else value.isoformat(" ", "minutes")
    return value.isoformat()


def sheet_page(rows: Sequence[SheetRow], name: str | None, *, is_hidden: bool = False) -> ListPage:
    """Return a sheet's rows for the parser. ``name``: None if the workbook has no other sheet."""
    colours = marks_of([_colour(row) for row in rows])
    made: list[ListRow] = []
    last = 0
    for row, colour in zip(rows, colours, strict=True):
        text = " | ".join(filter(None, row.cells))
        comments = tuple(one_line(tidy(said))[:LONGEST_CELL] for said in row.comments)
        made.append(
            ListRow(
                SourceLine(row.number, sheet=name),
                row.cells,
                text,
                blank_before=row.number > last + 1,
                is_hidden=row.is_hidden,
                comments=tuple(filter(None, comments)),
                marked=colour,
            )
        )
        last = row.number
    return ListPage(tuple(made), is_grid=True, name=name, is_hidden=is_hidden)


def _colour(row: SheetRow) -> str:
    """Return the colour behind the row's title, which is its longest cell; else the first of its cells' colours."""
    filled = [at for at, cell in enumerate(row.cells) if cell]
    if len(filled) == 1:  # a legend may be beside a coloured cell
        return next(filter(None, row.colours), "")
    longest = max(filled, key=lambda at: len(row.cells[at]), default=0)
    at_title = row.colours[longest] if longest < len(row.colours) else ""
    return at_title or next((code for code, cell in zip(row.colours, row.cells, strict=False) if code and cell), "")
