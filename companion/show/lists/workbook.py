"""A spreadsheet to rows: its zip and its XML are looked at for bombs and entities before any library reads it."""

import datetime as dt
import io
import re
import zipfile
import zlib
from typing import Any

from companion.show.lists.account import Page, Place, Row
from companion.show.lists.limits import (
    LONGEST_CELL,
    MOST_CELLS,
    MOST_COLUMNS,
    MOST_PARTS,
    MOST_ROWS,
    MOST_SHEETS,
    MOST_UNPACKED_BYTES,
)
from companion.show.lists.refusal import no_list
from companion.show.lists.tidy import tidy

CHUNK = 1 << 16
DECLARATION = re.compile(rb"<!(?:DOCTYPE|ENTITY)", re.IGNORECASE)
XML_16 = (b"\xff\xfe", b"\xfe\xff")  # UTF-16 would hide a declaration from the look; no program writes a workbook so


def pages_of_workbook(raw: bytes, shown: str) -> tuple[Page, ...]:
    """Give the rows of every sheet. Raises FaultyFile where the file is hostile, locked or no workbook."""
    _look_inside(raw, shown)
    import warnings  # noqa: PLC0415

    from openpyxl import load_workbook  # noqa: PLC0415  it takes a tenth of a second, and few lists are workbooks

    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # openpyxl tells of styles and print settings that it leaves out
        try:
            book = load_workbook(io.BytesIO(raw), read_only=True, data_only=True, keep_links=False)
            sheets = [sheet for sheet in book.worksheets if hasattr(sheet, "iter_rows")]
            if len(sheets) > MOST_SHEETS:
                raise no_list(shown, f"{len(sheets)} sheets; at most {MOST_SHEETS} are read")
            pages = [_page(sheet, shown, named=len(sheets) > 1) for sheet in sheets]
        except (
            KeyError,
            ValueError,
            TypeError,
            AttributeError,
            IndexError,
            SyntaxError,
            OSError,
            zipfile.BadZipFile,
        ) as error:
            problem = f"the workbook cannot be read ({type(error).__name__})"
            raise no_list(shown, problem, "the same, saved again as .xlsx or as .csv") from None
    return tuple(page for page in pages if page.rows)


def _look_inside(raw: bytes, shown: str) -> None:
    """Unpack every part once, counting: what a part says of its own size is not believed."""
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as parts:
            members = parts.infolist()
            if len(members) > MOST_PARTS:
                raise no_list(shown, f"{len(members)} files inside; a workbook has a dozen")
            if sum(member.file_size for member in members) > MOST_UNPACKED_BYTES:
                raise _too_much(shown)
            if any(member.flag_bits & 1 for member in members):
                raise no_list(shown, "the file is locked with a password", "a copy without it")
            if "xl/workbook.xml" not in {member.filename for member in members}:
                raise no_list(shown, "this is a zip, but no workbook", "the list as .xlsx, .csv, PDF or text")
            unpacked = 0
            for member in members:
                tail = b""
                with parts.open(member) as part:
                    while piece := part.read(CHUNK):
                        unpacked += len(piece)
                        if unpacked > MOST_UNPACKED_BYTES:
                            raise _too_much(shown)
                        is_xml = member.filename.endswith((".xml", ".rels", ".vml"))
                        if is_xml and (DECLARATION.search(tail + piece) or (not tail and piece.startswith(XML_16))):
                            raise no_list(shown, f"{member.filename} declares XML entities, which no list needs")
                        tail = piece[-16:]
    except (zipfile.BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError, OSError) as error:
        raise no_list(shown, f"the workbook is damaged ({error})", "the same, saved again") from None


def _too_much(shown: str) -> Exception:
    return no_list(shown, f"the workbook unpacks to more than {MOST_UNPACKED_BYTES // 1024 // 1024} MiB")


def _page(sheet: Any, shown: str, *, named: bool) -> Page:  # noqa: ANN401  openpyxl's read-only sheet
    sheet.reset_dimensions()  # what the file says of its own size is not believed
    rows, blank = [], False
    name = tidy(str(sheet.title))[:LONGEST_CELL]
    cells_read = 0
    for number, values in enumerate(sheet.iter_rows(values_only=True), start=1):
        cells_read += len(values)
        cells = tuple(_shown(value) for value in values[:MOST_COLUMNS])
        beyond = any(value not in (None, "") for value in values[MOST_COLUMNS:])
        if beyond or cells_read > MOST_CELLS:
            raise no_list(
                shown,
                f"more than {MOST_COLUMNS} columns in {name}; a set list has ten",
                "the columns of the list alone",
            )
        if not any(cells):
            blank = True
            continue
        if number > MOST_ROWS:
            raise no_list(
                shown, f"more than {MOST_ROWS} rows in {name}; a set list has a hundred", "the rows of the list alone"
            )
        rows.append(Row(Place(number, sheet=name if named else None), cells, " | ".join(filter(None, cells)), blank))
        blank = False
    hidden = (f"the sheet {name} is hidden in the workbook",) if sheet.sheet_state != "visible" else ()
    return Page(tuple(rows), is_grid=True, name=name if named else None, remarks=hidden)


def _shown(value: Any) -> str:  # noqa: ANN401  whatever a cell holds
    """Give a cell as a person sees it: 3:40 for a length that the sheet keeps as twenty to four, 112 for 112.0."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, dt.timedelta):
        seconds = round(value.total_seconds())
        return f"{seconds // 3600}:{seconds // 60 % 60:02}:{seconds % 60:02}"
    if isinstance(value, dt.datetime):
        return value.date().isoformat() if not (value.hour or value.minute) else value.isoformat(" ", "minutes")
    if isinstance(value, dt.date):
        return value.isoformat()
    if isinstance(value, dt.time):
        return f"{value.hour}:{value.minute:02}:{value.second:02}"
    if isinstance(value, float):
        return f"{value:.10g}"
    return tidy(str(value).replace("\n", " / "))[:LONGEST_CELL]
