"""Comments on a workbook's cells (ECMA-376 part 1, 18.7), by row."""

import posixpath
import re
from collections.abc import Mapping
from typing import Final

from companion.setlist.readers.limits import LONGEST_CELL
from companion.setlist.readers.workbook_shared import Workbook, WorkbookSheet

AT: Final = re.compile(r"([A-Za-z]{1,3})([0-9]{1,7})$")
SAID_BY: Final = re.compile(r"^[^\n:]{1,60}:\n")  # many programs begin a comment with its author's name
THREADED: Final = re.compile(r"^\[Threaded comment\].*?\nComment:\s*", re.DOTALL)  # what newer programs put in front
MAX_COMMENTS: Final = 2_000


def comments_of(book: Workbook, sheet: WorkbookSheet) -> dict[int, list[str]]:
    """Return the texts of a sheet's comments by row, in the cells' order."""
    found: list[tuple[int, str, str]] = []
    for part in _parts_of(book, sheet):
        found += _comments(book, part)
    by_row: dict[int, list[str]] = {}
    for row, _column, said in sorted(found, key=lambda one: (one[0], len(one[1]), one[1])):
        by_row.setdefault(row, []).append(said)
    return by_row


def _parts_of(book: Workbook, sheet: WorkbookSheet) -> list[str]:
    """Return the parts with a sheet's comments, by its relationships."""
    folder, name = posixpath.split(sheet.part)
    rels = f"{folder}/_rels/{name}.rels"
    found: list[str] = []

    def opens(element: str, attributes: Mapping[str, str]) -> None:
        if element == "Relationship" and attributes.get("Type", "").endswith("/comments"):
            target = attributes.get("Target", "")
            path = target[1:] if target.startswith("/") else posixpath.normpath(posixpath.join(folder, target))
            if path in book.parts.names and path not in found:
                found.append(path)

    if rels in book.parts.names:
        book.parts.read(rels, opens)
    return found[:1]


def _comments(book: Workbook, part: str) -> list[tuple[int, str, str]]:
    found: list[tuple[int, str, str]] = []
    at, is_text, pieces = "", False, list[str]()

    def opens(element: str, attributes: Mapping[str, str]) -> None:
        nonlocal at, is_text
        is_text = element == "t"
        if element == "comment":
            at = attributes.get("ref", "")
            pieces.clear()

    def closes(element: str) -> None:
        nonlocal is_text
        is_text = False
        where = AT.match(at)
        if element == "comment" and where and len(found) < MAX_COMMENTS:
            said = THREADED.sub("", SAID_BY.sub("", "".join(pieces)[: LONGEST_CELL * 4]))
            if said.strip():
                found.append((int(where[2]), where[1].upper(), said.strip().replace("\n", " / ")))

    def says(text: str) -> None:
        if is_text:
            pieces.append(text)

    book.parts.read(part, opens, closes, says)
    return found
