"""The account of an imported list: every line, what it was taken for, and what is in doubt."""

import enum

import msgspec

from companion.setlist.notation import Notation
from companion.show import Show


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


class TextSpan(msgspec.Struct, frozen=True):
    """A piece of a line, from ``begin`` to ``end`` in points or characters, a wide gap on each side of it.

    ``is_typed``: only spaces that were typed part it from the piece before, so it may be the same column.
    """

    begin: float
    end: float
    text: str
    is_typed: bool = False


class ListRow(msgspec.Struct, frozen=True):
    """One line, not yet interpreted, with all that its reader knows of it. Interpreting is the parser's work.

    Struck-out text is between ``~~`` in ``cells``, whatever the file format: ``~~Old Song~~``, ``~~Bb~~ C``. The
    parser sets a line aside whose title is struck out; a key or a note that is struck out counts as deleted.
    """

    place: SourceLine
    cells: tuple[str, ...]
    text: str  # the line as a person sees it, for the account
    blank_before: bool = False  # an empty line separates it from the one above
    is_large: bool = False  # printed in larger letters than the others
    is_small: bool = False  # printed in smaller letters than the others
    is_hidden: bool = False  # a filtered or hidden row: not played, kept aside
    indent: float = 0.0  # how far the line begins to the right of the leftmost line, in widths of a letter
    quoted: int = 0  # how many times a mail quotes the line: 1 for "> Set 1"
    comments: tuple[str, ...] = ()  # notes that a spreadsheet or document attaches to this row, in the cells' order
    spans: tuple[TextSpan, ...] = ()  # where its pieces stand, in a text or on a page: columns are found from them
    in_row_above: bool = False  # in one row of a drawn table with the line above: its cells go on
    heads_set: bool = False  # it heads one of several sets that stand side by side
    marked: str = ""  # the colour behind the title, by its plain name; "" for none


class ListPage(msgspec.Struct, frozen=True):
    """Rows that belong together. ``is_grid``: cells are aligned in columns, empty ones included."""

    rows: tuple[ListRow, ...]
    is_grid: bool = False
    name: str | None = None  # the sheet's name, if a workbook has several
    is_hidden: bool = False  # a hidden sheet: never the list by default
    remarks: tuple[str, ...] = ()  # assumptions made before the first line was read


class LineKind(enum.Enum):
    """The kind that a line was taken for."""

    SONG = "song"
    SET = "set"
    BREAK = "break"
    ABOUT = "about the show"
    NOTE = "note on the song above"
    CHANGE = "change to the list"
    MARK = "meaning of a mark"
    COLUMNS = "column names"
    TOTAL = "sum"
    RULE = "decoration"
    ASIDE = "set aside"
    LEFT = "not understood"


class FieldCorrection(msgspec.Struct, frozen=True, tag="field"):
    """Set a field of the doubt's song; a ``value`` of None empties it, others are written as in a show file ("Bb")."""

    field: str  # title, key, record_key, length (in seconds), tempo, meter, artist or notes
    value: str | None = None


class LineCorrection(msgspec.Struct, frozen=True, tag="line"):
    """Take the doubt's line for something else: a song for a note, a line that was not understood for a song ..."""

    took: LineKind
    title: str = ""  # of the song that it becomes
    key: str | None = None
    notes: str | None = None


class Beside(enum.Enum):
    """Where a song goes, by another song."""

    BEFORE = "before"
    AFTER = "after"
    EXCHANGE = "change places"


class PlaceCorrection(msgspec.Struct, frozen=True, tag="place"):
    """Put the doubt's song beside another one, whose number counts as ``Doubt.song`` does; or exchange the two."""

    side: Beside
    song: int
    set_name: str | None = None  # it is the only song of a set with this name, beside the other song's set


class SetStart(msgspec.Struct, frozen=True):
    """A song with which a set begins, counted as ``Doubt.song`` is, and the set's name, if it is said."""

    song: int
    name: str = ""


class SetsCorrection(msgspec.Struct, frozen=True, tag="sets"):
    """Part the songs into sets anew: the first set, and one more from each of these songs on."""

    starts: tuple[SetStart, ...]


class ReadAgain(msgspec.Struct, frozen=True, tag="read"):
    """Read the whole file again, otherwise: in another notation, or another of the lists in the file."""

    notation: Notation | None = None
    chosen: str | None = None  # a name from ``SetList.choices``


Correction = FieldCorrection | LineCorrection | PlaceCorrection | SetsCorrection | ReadAgain


class DoubtAnswer(msgspec.Struct, frozen=True):
    """One answer to a doubt: the word that the player says, and what it corrects. Nothing if it was read so."""

    word: str
    corrections: tuple[Correction, ...] = ()


class Doubt(msgspec.Struct, frozen=True):
    """Something uncertain: what was assumed, and a question that yes, no or a word answers.

    ``companion.setlist.correcting`` turns what the player says into corrections and applies them.
    """

    says: str  # for the account: ends in C, which may be its key: left in the title
    question: str = ""  # Is Salt Parade in C? Empty if nothing can be asked
    answers: tuple[DoubtAnswer, ...] = ()  # the first is the one assumed
    asks_for: str = ""  # the song's field that any other word sets, such as "key"; "" where only ``answers`` count
    song: int | None = None  # the song's number in the show as read, counted from 1 through all sets
    quotes: str = ""  # the line elsewhere that says so, with its place: line 40: drop Moth

    def __str__(self) -> str:
        """Return what the account shows."""
        return self.says


class ListLine(msgspec.Struct, frozen=True):
    """One line of the list: its text, what it was taken for, what was understood, and what is in doubt."""

    place: SourceLine
    text: str
    took: LineKind
    says: str = ""
    doubts: tuple[Doubt, ...] = ()
    song: int | None = None  # the number of the song that it became, counted from 1 through all sets
    left_words: str = ""  # what was not understood of a line that changes the list; kept in the show's notes


class SaidLine(msgspec.Struct, frozen=True):
    """A line of a message that may say what changes in an earlier list, without its envelope."""

    place: SourceLine
    text: str
    is_numbered: bool = False
    is_heading: bool = False  # of a set: the message may hold a list of its own


class AsideLine(msgspec.Struct, frozen=True):
    """A line that is not played, and why: crossed out, hidden, of an older list."""

    place: SourceLine
    text: str
    reason: str


class SaidTimes(msgspec.Struct, frozen=True):
    """What a sentence says of so many sets: two sets of 45 minutes from 8.30, 20 minutes between them."""

    sets: int
    minutes: int
    starts_min: int | None = None  # of the first
    pause_min: int | None = None


class SetList(msgspec.Struct, frozen=True):
    """A list as understood. Lines not understood are in ``lines`` and in the show's notes: none is lost."""

    show: Show
    lines: tuple[ListLine, ...]
    doubts: tuple[Doubt, ...] = ()  # about the whole list
    set_aside: tuple[AsideLine, ...] = ()
    choices: tuple[str, ...] = ()  # the lists in the file where it has several; the first is the one read by default
    chosen: str | None = None  # the one that was read
    notation: Notation = Notation.LETTERS
    said_times: SaidTimes | None = None  # for more sets than were found: an answer may part them

    @property
    def titles(self) -> list[str]:
        """The songs' titles, through all sets."""
        return [song.title for one in self.show.sets for song in one.songs]

    @property
    def left(self) -> tuple[ListLine, ...]:
        """Return the lines not understood, in whole or in part."""
        return tuple(line for line in self.lines if line.took is LineKind.LEFT or line.left_words)

    @property
    def in_doubt(self) -> tuple[ListLine, ...]:
        """Return the lines understood with some doubt."""
        return tuple(line for line in self.lines if line.doubts)
