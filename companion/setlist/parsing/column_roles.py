"""Decide what each column of a list holds: by its name, else by its contents, which is then reported."""

import enum
import itertools
import re
import statistics
from collections import Counter
from collections.abc import Sequence

import msgspec

from companion.setlist.model import ListRow
from companion.setlist.parsing.cells import is_nothing, length_cell, meter_cell, tempo_cell
from companion.setlist.parsing.clock_columns import are_clocks
from companion.setlist.parsing.column_names import PHRASES
from companion.setlist.parsing.key_cells import key_cell
from companion.setlist.parsing.labels import role_of
from companion.setlist.parsing.patterns import LABEL_WITH_NUMBER
from companion.setlist.parsing.pieces import FASTEST, SLOWEST
from companion.setlist.parsing.remarks import is_remark
from companion.setlist.parsing.set_headings import read_set
from companion.show.titles import folded

MAX_SINGERS = 8


class Column(enum.Enum):
    """The contents of a column. The value is the word in the account."""

    NUMBER = "number"
    SET = "set"
    TITLE = "title"
    ARTIST = "artist"
    KEY = "key"
    RECORD_KEY = "the record's key"
    LENGTH = "length"
    TEMPO = "tempo"
    METER = "meter"
    STARTS = "who starts"
    ENDING = "ending"
    CHART = "chart"
    RECORDING = "recording"
    PLAYED = "whether it is played"
    NOTES = "notes"
    OTHER = "notes under the column's name"


_KNOWN: dict[str, Column] = {}


def _known() -> dict[str, Column]:
    """Return the folded column names; built once, when the first list is read."""
    if not _KNOWN:
        for column, line in PHRASES.items():
            for phrase in line.split("|"):
                _KNOWN.setdefault(folded(phrase.strip()), Column[column])
        _KNOWN["#"] = Column.NUMBER
    return _KNOWN


class Head(msgspec.Struct, frozen=True):
    """A column: its contents and its name."""

    column: Column
    name: str = ""


def read_heads(cells: Sequence[str]) -> tuple[Head | None, ...] | None:
    """Read a row of column names; None if it is not one. An empty cell leaves its column unnamed."""
    heads = [_head(cell) for cell in cells]
    filled = [cell for cell in cells if cell.strip()]
    found = [head for head in heads if head]
    columns = {head.column for head in found}
    if (
        not found
        or len(found) < 0.5 * len(filled)
        or not columns & {Column.TITLE, Column.KEY, Column.LENGTH, Column.ARTIST}
    ):
        return None
    if len(filled) == 1 and columns != {Column.TITLE}:
        return None
    if any(_is_value(cell) for head, cell in zip(heads, cells, strict=True) if head is None):
        return None  # Song | Band | Moth | G: roles of an order of service
    if len(filled) > 1 and len(found) < 2:
        return None
    numbers = sum(head.column is Column.NUMBER for head in found)  # Volgorde | Nummer: the second one holds titles
    if (
        Column.TITLE not in columns
        and numbers < 2
        and not any(
            cell.strip() and (head is None or head.column is Column.OTHER)
            for head, cell in zip(heads, cells, strict=True)
        )
    ):
        return None
    return tuple(
        head or (Head(Column.OTHER, cell.strip()) if cell.strip() else None)
        for head, cell in zip(heads, cells, strict=True)
    )


def _is_value(cell: str) -> bool:
    return bool(cell.strip()) and (key_cell(cell) is not None or length_cell(cell) is not None)


def _head(cell: str) -> Head | None:
    plain = cell.strip()
    if not plain or len(plain) > 30 or _LABELLED.search(plain):
        return None
    if plain == "#":
        return Head(Column.NUMBER, plain)
    known = _known()
    column = known.get(folded(plain)) or known.get(folded(re.sub(r"[(\[].*?[)\]]", "", plain)))
    column = column or (Column.PLAYED if _PLAYED.match(plain) else None)
    return Head(column, plain) if column else _first_of_two(plain, known)


def _first_of_two(cell: str, known: dict[str, Column]) -> Head | None:
    """Read two names in one cell, which a PDF has where the second column is empty: KEY ORIG KEY."""
    words = folded(cell).split()
    for at in range(1, len(words)):
        first, second = " ".join(words[:at]), " ".join(words[at:])
        if first in known and second in known:
            return Head(known[first], first)
    return None


def agreeing(heads: tuple[Head | None, ...], rows: Sequence[ListRow]) -> tuple[Head | None, ...]:
    """Return the heads; a second column of keys whose cells hold hardly a key is one of notes: Keys, of the sounds."""
    made = _titled_by_content(
        _numbers_apart(_keyed_by_content(_named_for_keys(_without_clocks(heads, rows), rows), rows), rows), rows
    )
    titles = [at for at, head in enumerate(made) if head and head.column is Column.TITLE]
    for at in titles[1:]:
        made[at] = msgspec.structs.replace(made[at] or Head(Column.OTHER), column=Column.OTHER)
    keyed = [at for at, head in enumerate(made) if head and head.column is Column.KEY]
    keyed.sort(key=lambda at: bool((head := made[at]) and _TRANSPOSED.search(head.name)))
    for at in keyed[1:]:
        if (head := made[at]) and _TRANSPOSED.search(head.name):
            made[at] = Head(Column.OTHER, head.name)  # Key (alto), beside Key (concert)
    for at in keyed[1:]:
        cells = [row.cells[at] for row in rows if at < len(row.cells) and not is_nothing(row.cells[at])]
        head = heads[at]
        if head and cells and _share(cells, key_cell) < FEW_KEYS:
            made[at] = Head(Column.OTHER, head.name)
    return tuple(made)


def _without_clocks(heads: Sequence[Head | None], rows: Sequence[ListRow]) -> list[Head | None]:
    """Return the heads; a column of times that rise through the evening holds no lengths: 20:15, 20:19, 20:26."""
    made = list(heads)
    for at, head in enumerate(heads):
        if head and head.column is Column.LENGTH:
            cells = [row.cells[at] for row in rows if at < len(row.cells) and row.cells[at].strip()]
            if len(cells) > 2 and are_clocks(cells):
                made[at] = Head(Column.OTHER, AT)
    return made


def _named_for_keys(heads: list[Head | None], rows: Sequence[ListRow]) -> list[Head | None]:
    """Return the heads; a column named for the record's keys that holds hardly any is of words: Was, in German."""
    for at, head in enumerate(heads):
        cells = [row.cells[at] for row in rows if at < len(row.cells) and not is_nothing(row.cells[at])]
        if head and head.column is Column.RECORD_KEY and cells and _share(cells, key_cell) < FEW_KEYS:
            heads[at] = Head(Column.OTHER, head.name)
    return heads


def _keyed_by_content(heads: list[Head | None], rows: Sequence[ListRow]) -> list[Head | None]:
    """Return the heads; where none is of keys, the column that holds hardly anything else is: In, of a key."""
    if any(head and head.column is Column.KEY for head in heads):
        return heads
    for at, head in enumerate(heads):
        cells = [row.cells[at] for row in rows if at < len(row.cells) and not is_nothing(row.cells[at])]
        doubtful = head and head.column in (Column.PLAYED, Column.NOTES, Column.OTHER)
        if head and doubtful and len(cells) > 1 and _share(cells, key_cell) >= MAX_KEYS:
            heads[at] = Head(Column.KEY, head.name)
            break
    return heads


def _numbers_apart(heads: list[Head | None], rows: Sequence[ListRow]) -> list[Head | None]:
    """Return the heads; a column of titles that only counts, beside an unnamed one of words, is of numbers."""
    title = next((at for at, head in enumerate(heads) if head and head.column is Column.TITLE), None)
    cells = [row.cells[title] for row in rows if title is not None and title < len(row.cells) and row.cells[title]]
    counts = sum(cell.strip(" #.)").isdecimal() for cell in cells)
    if (
        title is None
        or counts < MAX_NUMBERS * len(cells)
        or any(head is not None for head in heads[title + 1 : title + 2])
    ):
        return heads
    words = [row.cells[title + 1] for row in rows if title + 1 < len(row.cells)]
    if sum(any(map(str.isalpha, cell)) for cell in words) < MAX_NUMBERS * len(cells):
        return heads
    return [*heads[:title], Head(Column.NUMBER), Head(Column.TITLE), *heads[title + 2 :]]


def _titled_by_content(heads: list[Head | None], rows: Sequence[ListRow]) -> list[Head | None]:
    """Return the heads; where none is of titles, the column of words that reads most like them: Setlist, Our stuff."""
    if not rows or any(head and head.column is Column.TITLE for head in heads):
        return heads
    columns = [[row.cells[at] if at < len(row.cells) else "" for row in rows] for at in range(len(heads))]
    worded = [
        at
        for at, head in enumerate(heads)
        if (
            head is None
            or head.column is Column.OTHER
            or _names_songs(head, columns[at])
            or (head.column is Column.NUMBER and _are_words(columns[at]))
        )
        and any(cell.strip() for cell in columns[at])
        and not (head and head.name == AT)
        and not are_clocks([cell for cell in columns[at] if cell.strip()])
    ]
    numbers = [at for at in worded if (head := heads[at]) and head.column is Column.NUMBER]
    if worded:
        heads[numbers[0] if numbers else _title(worded, columns)] = Head(Column.TITLE)
    return heads


def _names_songs(head: Head, cells: Sequence[str]) -> bool:
    """Return whether a column named for sets has other words in nearly every row: Item, of an evening's course."""
    filled = [folded(cell) for cell in cells if cell.strip()]
    return head.column is Column.SET and len(set(filled)) >= MAX_ROWS_ALIKE * len(filled) and len(filled) > MAX_SETS


def _are_words(cells: Sequence[str]) -> bool:
    """Return whether hardly a cell begins with a digit: the names of numbers, not what counts them."""
    filled = [cell.strip() for cell in cells if cell.strip()]
    return sum(cell[0].isalpha() and len(cell) > 2 for cell in filled) >= 0.8 * max(len(filled), 1)


def with_heading_above(cells: tuple[str, ...]) -> list[tuple[str, ...]]:
    """Part a row that heads a set and names its other columns: Set 1 | Key."""
    names = ("Title", *cells[1:])
    is_both = bool(read_set(cells[0])) and any(cells[1:]) and read_heads(names) is not None
    return [cells[:1], names] if is_both else [cells]


_TRANSPOSED = re.compile(  # the key that a player reads whose instrument sounds another
    r"\b(?:alto|tenor|bari(?:tone)?|sax(?:es)?|trumpets?|tpts?|clarinets?|horns?|transposed|written|"
    r"in (?:Eb|Bb|F)|Eb|Bb|capo|shapes?|guitar|gtr)\b",
    re.IGNORECASE,
)
_LABELLED = re.compile(r"\w:\s*\S")  # key: ?, a value with its name in front
_PLAYED = re.compile(r"^play(?:ing|ed)?\b.{1,20}$", re.IGNORECASE)  # Play Sat?
_LETTERS_OF_CODE = re.compile(r"^[A-Z]{1,2}(?=\d)")  # Q1, M12
MAX_KEYS = 0.8  # share of the cells
MIN_LABELLED = 0.6  # share of the cells
MAX_SETS = 6
MAX_ROWS_ALIKE = 0.8  # share of different words in a column; parts of an evening return
MAX_ROLES = 0.6  # share of the cells
NUMBERS_OF_A_SERVICE = ("song", "hymn", "carol", "anthem", "psalm", "children", "prelude", "lied", "chant", "canto")
AT = "at"  # the name of a column with times of day
FEWEST_PADS, SHORTEST_S = 4, 100  # numbers of charts; no song of a set is shorter
FEW_KEYS = 0.3  # share of the cells
MAX_NUMBERS = 0.8  # share of the cells
NO_NUMBERS = ("x", "-", "–", "*", "•", "+")  # in front of a row that is not counted
SURE = (Column.NUMBER, Column.KEY, Column.LENGTH, Column.METER, Column.TEMPO, Column.SET)


def with_nameless(heads: tuple[Head | None, ...], rows: Sequence[ListRow]) -> tuple[Head | None, ...]:
    """Return the heads, adding those of unnamed columns whose contents leave no doubt."""
    found = by_content(rows)
    taken = {head.column for head in heads if head}
    return tuple(
        head or (read if read and read.column in SURE and read.column not in taken else None)
        for head, read in itertools.zip_longest(heads, found)
    )


def by_content(rows: Sequence[ListRow]) -> tuple[Head | None, ...]:
    """Work out the columns from their contents, if there is no row of names."""
    width = max((len(row.cells) for row in rows), default=0)
    columns = [[row.cells[at] if at < len(row.cells) else "" for row in rows] for at in range(width)]
    heads: list[Head | None] = [
        _by_cells([cell for cell in cells if not is_nothing(cell)], len(rows)) for cells in columns
    ]
    _only_one_tempo(heads, columns)
    worded = [at for at, head in enumerate(heads) if head is None and any(cell.strip() for cell in columns[at])]
    if worded:
        title = _title(worded, columns)
        heads[title] = Head(Column.TITLE)
        for at in worded:
            if at != title and at < title and statistics.mean(map(_is_role, filter(None, columns[at]))) >= MAX_ROLES:
                heads[at] = Head(Column.OTHER)  # Opening hymn, Offertory, in front of the titles
            elif at != title:
                heads[at] = Head(
                    _words(columns[at], len(rows), taken=any(head and head.column is Column.ARTIST for head in heads))
                )
    return tuple(heads)


def _share(cells: Sequence[str], says: object) -> float:
    assert callable(says)  # noqa: S101  a reader of cells
    return sum(says(cell) is not None for cell in cells) / len(cells)


def _by_cells(cells: Sequence[str], total: int) -> Head | None:
    if not cells:
        return None
    plain = [_LETTERS_OF_CODE.sub("", cell.lstrip("#")).rstrip(".)") for cell in cells]
    numbers = [int(cell) for cell in plain if cell.isdecimal() and len(cell) <= 4]
    if len(numbers) == len(cells):
        return Head(_of_numbers(numbers, total))
    counted = [cell for cell in cells if cell.lower() not in NO_NUMBERS]
    if numbers and len(numbers) >= MAX_NUMBERS * len(counted) and _of_numbers(numbers, total) is Column.NUMBER:
        return Head(Column.NUMBER)  # headings of sets are in this column too
    if len(cells) > 2 and are_clocks(cells):
        return Head(Column.OTHER, AT)
    if _share(cells, meter_cell) >= 0.7:
        return Head(Column.METER)
    if _share(cells, tempo_cell) >= 0.7:
        return Head(Column.TEMPO)
    if _share(cells, length_cell) >= 0.7:
        return Head(Column.LENGTH)
    if _share(cells, key_cell) >= 0.7:
        return Head(Column.KEY)
    if _share(cells, lambda cell: tempo_cell(cell, named=True)) >= 0.8:
        return Head(Column.TEMPO)
    if all(cell.lower() in ("yes", "no", "y", "n", "x", "✓", "ja", "nein") for cell in cells):
        return Head(Column.OTHER, "column")
    if _share(cells, read_set) == 1.0:
        return Head(Column.SET)
    return None


def _of_numbers(numbers: list[int], total: int) -> Column:
    steps = sum(after in (before + 1, 1) for before, after in zip([0, *numbers], numbers, strict=False))
    if steps >= 0.8 * len(numbers) and len(numbers) >= 0.5 * total:
        return Column.NUMBER
    if _are_sets(numbers):
        return Column.SET
    middle = sorted(numbers)[len(numbers) // 2]
    if len(set(numbers)) == len(numbers) > FEWEST_PADS and (min(numbers) < SLOWEST or _are_pads(numbers)):
        return Column.NUMBER  # of the charts in a pad, in no order
    if min(numbers) >= 1900 and max(numbers) <= 2100:
        return Column.OTHER
    if max(numbers) > 220 or middle > 185:
        return Column.LENGTH
    return Column.TEMPO if middle >= 50 else Column.OTHER


def _are_sets(numbers: Sequence[int]) -> bool:
    """Return whether the numbers are those of sets: 1, 1, 1, 2, 2, 2, each of them more than once."""
    counts = Counter(numbers)
    in_order = list(numbers) == sorted(numbers) and list(counts) == list(range(1, len(counts) + 1))
    return in_order and 1 < len(counts) <= MAX_SETS and min(counts.values()) > 1


def _are_pads(numbers: list[int]) -> bool:
    """Return whether the numbers are those of charts: too far apart for tempos, and too low for lengths in seconds."""
    return max(numbers) > FASTEST and min(numbers) < SHORTEST_S


def _only_one_tempo(heads: list[Head | None], columns: Sequence[Sequence[str]]) -> None:
    """Where two columns of plain numbers could be tempos, take the one with larger numbers as lengths in seconds."""
    tempos = [at for at, head in enumerate(heads) if head and head.column is Column.TEMPO]
    has_length = any(head and head.column is Column.LENGTH for head in heads)
    if len(tempos) == 2 and not has_length:
        larger = max(tempos, key=lambda at: sum(int(cell) for cell in columns[at] if cell.isdecimal()))
        heads[larger] = Head(Column.LENGTH)


def _title(worded: Sequence[int], columns: Sequence[Sequence[str]]) -> int:
    """Find the titles: the first column where nearly every row has text and hardly any text repeats."""

    def worth(at: int) -> tuple[float, int]:
        cells = [cell for cell in columns[at] if cell.strip()]
        filled, different = len(cells) / max(len(columns[at]), 1), len(set(map(folded, cells))) / max(len(cells), 1)
        remarks = sum(is_remark(cell) for cell in cells) / max(len(cells), 1)
        labels = sum(bool(LABEL_WITH_NUMBER.match(cell)) for cell in cells) / max(len(cells), 1)
        roles = sum(map(_is_role, cells)) / max(len(cells), 1)
        return (round(filled * 2 + different * 2 - remarks - 3 * labels - 3 * roles, 1), -at)

    return max(worded, key=worth)


def _is_role(cell: str) -> bool:
    """Return whether a cell holds a song's place in an evening or a service: First dance, Offertory, Song."""
    text = cell.strip()
    return bool(text) and (role_of(f"{text}: x") is not None or folded(text) in NUMBERS_OF_A_SERVICE)


def _words(cells: Sequence[str], total: int, *, taken: bool) -> Column:
    filled = [cell for cell in cells if cell.strip()]
    remarks = sum(is_remark(cell) for cell in filled)
    few = len(set(filled)) <= min(MAX_SINGERS, len(filled) / 2)
    if few and sum(len(cell.split()) == 1 for cell in filled) >= 0.8 * len(filled):
        return Column.NOTES  # first names, again and again: who sings
    if sum(bool(_LABELLED.search(cell)) for cell in filled) >= MIN_LABELLED * len(filled):
        return Column.NOTES  # keys: organ
    if taken or remarks >= 0.25 * len(filled) or len(filled) < 0.5 * total:
        return Column.NOTES
    return Column.ARTIST
