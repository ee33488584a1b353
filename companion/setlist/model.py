"""The account of an imported list: every line, what it was taken for, and what is in doubt."""

import enum

import msgspec

from companion.show.model import Show


class SourceLine(msgspec.Struct, frozen=True):
    """A line's position: ``line`` counts from 1 in its sheet or page, or in the whole text."""

    line: int
    page: int | None = None
    sheet: str | None = None

    def __str__(self) -> str:
        """Return the position as a person looks for it: page 2 line 14."""
        if self.sheet is not None:
            return f"{self.sheet} row {self.line}"
        return f"page {self.page} line {self.line}" if self.page else f"line {self.line}"


class ListRow(msgspec.Struct, frozen=True):
    """One line, not yet interpreted. ``blank_before``: an empty line separates it from the one above.

    ``is_large``: it is printed in larger letters than the others.
    """

    place: SourceLine
    cells: tuple[str, ...]
    text: str
    blank_before: bool = False
    is_large: bool = False


class ListPage(msgspec.Struct, frozen=True):
    """Rows that belong together. ``is_grid``: cells are aligned in columns, empty ones included."""

    rows: tuple[ListRow, ...]
    is_grid: bool = False
    name: str | None = None  # the sheet's name, where a workbook has several
    remarks: tuple[str, ...] = ()  # assumptions made before the first line was read


class LineKind(enum.Enum):
    """The kind that a line was taken for."""

    SONG = "song"
    SET = "set"
    BREAK = "break"
    ABOUT = "about the show"
    NOTE = "note on the song above"
    MARK = "meaning of a mark"
    COLUMNS = "column names"
    TOTAL = "sum"
    RULE = "decoration"
    LEFT = "not understood"


class ListLine(msgspec.Struct, frozen=True):
    """One line of the list: its text, what it was taken for, what was understood, and what is in doubt."""

    place: SourceLine
    text: str
    took: LineKind
    says: str = ""
    doubts: tuple[str, ...] = ()


class SetList(msgspec.Struct, frozen=True):
    """A list as understood. Lines not understood are in ``lines`` and in the show's notes: none is lost."""

    show: Show
    lines: tuple[ListLine, ...]
    doubts: tuple[str, ...] = ()  # about the whole list

    @property
    def left(self) -> tuple[ListLine, ...]:
        """Return the lines not understood."""
        return tuple(line for line in self.lines if line.took is LineKind.LEFT)

    @property
    def in_doubt(self) -> tuple[ListLine, ...]:
        """Return the lines understood with some doubt."""
        return tuple(line for line in self.lines if line.doubts)
