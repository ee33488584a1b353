"""Classify the rows of a grid and hand each to the builder: songs by their columns, headings, breaks, totals."""

import itertools
import re
from collections.abc import Collection, Mapping, Sequence

import msgspec

from companion.setlist.model import Doubt, LineKind, ListRow
from companion.setlist.notation import Notation
from companion.setlist.parsing import line_kinds
from companion.setlist.parsing.builder import SetListBuilder
from companion.setlist.parsing.cells import any_date_in
from companion.setlist.parsing.clock_columns import without_seconds
from companion.setlist.parsing.column_roles import (
    Column,
    Head,
    agreeing,
    by_content,
    read_heads,
    with_heading_above,
    with_nameless,
)
from companion.setlist.parsing.counted_headings import counted_rows, is_counted
from companion.setlist.parsing.doubts import heading_or_song, note_or_song, song_or_not
from companion.setlist.parsing.gig_lines import gig_line
from companion.setlist.parsing.grid_heads import take_day
from companion.setlist.parsing.grid_rows import title_at
from companion.setlist.parsing.grid_sections import (
    are_alike,
    columns_tell,
    headings_with_times,
    is_aside,
    is_beside_table,
    long_pauses,
    names_of_tables,
    sections_of,
    with_sets,
)
from companion.setlist.parsing.hardly_supported import doubt_songs_without_key
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.lines import take_in_lines
from companion.setlist.parsing.names_of_columns import with_names_above
from companion.setlist.parsing.ordered_rows import in_named_order
from companion.setlist.parsing.patterns import BARE_NUMBER, KEY_IN_FRONT, NUMBERED, STRUCK
from companion.setlist.parsing.remarks import is_remark
from companion.setlist.parsing.set_headings import clock_in_front, heading_at, read_heading, read_set
from companion.setlist.parsing.taking_rows import Around, heading_in, is_no_song, lone_cell, take_no_song, take_row
from companion.setlist.parsing.text_lines import lines_of
from companion.setlist.parsing.timed_rows import with_times_in_front
from companion.setlist.parsing.words_of_events import is_event, may_be_event
from companion.setlist.parsing.wrapped_cells import join_wrapped_cells
from companion.setlist.tidy import plain_signs

MAX_NUMBERED, FEWEST_NUMBERED = 0.7, 3  # share and number of titles that begin with a number
HEAD_LINES = 3  # above the first set
FEWEST_OWN = 3  # songs under names of columns, which tell what unnamed columns hold
FEWEST_KEYED = 4  # songs with a key, beside which one without stands out
FEWEST_EVENTS = 2  # rows that tell that the list is an evening's course
MIN_KEY = 2  # letters of a key in front of a title; A alone is a word of it
LONE = 0.5  # share of rows with more than one cell; above it, a row with a single cell is probably not a song
MIN_NAMED = 0.8  # share of the rows with several cells, below one cell that names the list
MIN_FULL = 0.6  # share of the rows with several cells; the others are headings, and tell nothing of a column
TICKS = ("y", "yes", "x", "✓", "✔", "ja", "j", "oui", "si", "1", "ok", "●", "•")
JOINED = Doubt("titles that run over several lines were joined by guess: compare them with the page")
MESSAGES = ("message", "text", "nachricht", "body")
_STRUCK_ROW = re.compile(r"^(?:\d{1,3}[.)]?\s*)?~~[^~]+~~$")  # across its columns
_ASKS = re.compile(r"\?\s*$|^\W*(?:mon|tues?|wed(?:nes)?|thur?s?|fri|sat(?:ur)?|sun)(?:day)?\b", re.IGNORECASE)  # Sat?
SENDERS = ("from", "sender", "name", "who", "author", "von")


def take_in_grid(rows: Sequence[ListRow], gathered: SetListBuilder, notation: Notation) -> None:
    """Read a grid in order. Rows that are hidden or struck out are set aside."""
    if messages := _messages(rows):
        take_in_lines(lines_of(messages), gathered, notation)
        return
    parted = [
        msgspec.structs.replace(row, cells=cells)
        for row in in_named_order(without_seconds(_played(rows, gathered)), gathered)
        for cells in (with_heading_above(row.cells) if row.cells else [row.cells])
    ]
    _read(parted, gathered, notation)


def _played(rows: Sequence[ListRow], gathered: SetListBuilder) -> list[ListRow]:
    """Return the rows that are played, without what is struck out in them; set the others aside."""
    kept = []
    for row in rows:
        if row.is_hidden:
            gathered.aside(row, row.text.replace("~~", ""), "hidden in the sheet")
            continue
        if _STRUCK_ROW.match(row.text):
            gathered.aside(row, row.text.replace("~~", ""), "struck out")
            continue
        cells = tuple(plain_signs(cell) for cell in row.cells)
        if not any("~" in cell for cell in cells):
            kept.append(msgspec.structs.replace(row, cells=cells))
            continue
        left = tuple(STRUCK.sub("", cell).strip() for cell in cells)
        first = next((at for at, cell in enumerate(cells) if any(letter.isalpha() for letter in cell)), 0)
        if not any(letter.isalpha() for letter in left[first]):
            gathered.aside(row, row.text.replace("~~", ""), "struck out")
            continue
        for struck in (found[1] or found[2] for cell in cells for found in STRUCK.finditer(cell)):
            gathered.keep_aside(row, struck, "struck out")
        kept.append(msgspec.structs.replace(row, cells=left))
    return kept


def _messages(rows: Sequence[ListRow]) -> list[ListRow]:
    """Return the messages of a chat that was saved as a table; nothing if it is none."""
    heads = [cell.strip().lower() for cell in rows[0].cells] if rows else []
    at = next((at for at, head in enumerate(heads) if head in MESSAGES), None)
    who = next((at for at, head in enumerate(heads) if head in SENDERS), None)
    if at is None or who is None:
        return []
    made = []
    for row in rows[1:]:
        said = row.cells[at] if at < len(row.cells) else ""
        sender = row.cells[who] if who < len(row.cells) else ""
        made.append(msgspec.structs.replace(row, cells=(f"<{sender}> {said}" if sender else said,)))
    return made


def _read(rows: Sequence[ListRow], gathered: SetListBuilder, notation: Notation) -> None:
    named = {at: found for at, row in enumerate(rows) if (found := read_heads(row.cells))}
    songs = [row for at, row in enumerate(rows) if at not in named and not is_no_song(row)]
    heads: tuple[Head | None, ...] | None = next(iter(named.values()), None)
    begun = heads is None
    if heads is None:
        full = [row for row in columns_tell(songs) if sum(map(bool, row.cells)) > 1]
        heads = by_content(full if len(full) >= max(FEWEST_OWN, MIN_FULL * len(songs)) else songs)
        said = ", ".join(f"{at}: {head.column.value}" for at, head in enumerate(heads, start=1) if head)
        if len([head for head in heads if head]) > 1 and not _are_lines(heads):
            gathered.doubts.append(Doubt(f"no column names: columns recognized by their contents ({said})"))
    if begun:
        rows, heads = with_names_above(rows, heads, gathered)
    if begun and (_are_lines(heads) or _is_one_column(rows)):
        take_in_lines(lines_of([_as_line(row) for row in rows]), gathered, notation)
        return
    several = sum(sum(map(bool, row.cells)) > 1 for row in songs) >= LONE * max(len(songs), 1)
    columns = heads if begun else agreeing(with_nameless(heads, songs), songs)
    rows, timed = with_times_in_front(rows, columns)
    sections = sections_of(rows, columns, named) | headings_with_times(rows, named, timed) if several else frozenset()
    sections |= counted_rows([lone_cell(row) if sum(map(bool, row.cells)) == 1 else "" for row in rows])
    sections = frozenset(sections) | names_of_tables(rows) | {at for at, row in enumerate(rows) if row.heads_set}
    sections = sections - {at for at, row in enumerate(rows) if _begins_with_key(row, heads, notation)}
    if begun and several and not (sections and min(sections) == 0):
        first = _take_head(rows, gathered, sections) or take_day(rows, heads, gathered)
        rows, sections = rows[first:], frozenset(at - first for at in sections)
        timed = frozenset(at - first for at in timed)
    before = sum(len(one.songs) for one in gathered.sets)
    headings = {at: rows[at] for at in sections}
    for part in _parts_of(rows, heads, named, songs):
        _read_part(part, headings, timed, gathered, notation=notation, several=several, begun=begun)
        begun = True
    doubt_songs_without_key([draft for one in gathered.sets for draft in one.songs][before:])


def _begins_with_key(row: ListRow, heads: Sequence[Head | None], notation: Notation) -> bool:
    """Return whether a row has only one space between key and title: C#m Moth, below F    Weeds; it heads no set."""
    key = next((at for at, head in enumerate(heads) if head and head.column is Column.KEY), None)
    title, found = title_at(heads), KEY_IN_FRONT.match(lone_cell(row))
    if key is None or title is None or key > title or sum(map(bool, row.cells)) != 1 or not found:
        return False
    return len(found[1]) >= MIN_KEY and found[1][0].isupper() and plain_key(found[1], notation=notation) is not None


class _Part(msgspec.Struct, frozen=True):
    """Rows under the same names of columns. ``first``: the number of the first row; ``has_names``: it names them."""

    rows: Sequence[ListRow]
    first: int
    heads: tuple[Head | None, ...]
    has_names: bool


def _parts_of(
    rows: Sequence[ListRow],
    heads: tuple[Head | None, ...],
    named: Mapping[int, tuple[Head | None, ...]],
    songs: Sequence[ListRow],
) -> list[_Part]:
    """Divide the rows where columns are named again."""
    bounds = sorted({0, *named, len(rows)})
    parts = []
    for first, last in itertools.pairwise(bounds):
        own = [row for row in rows[first + 1 : last] if not is_no_song(row)]
        enough = own if len(named) > 1 and len(own) >= FEWEST_OWN else songs
        if first in named:
            heads = agreeing(with_nameless(named[first], enough), enough)
        parts.append(_Part(rows[first:last], first, heads, first in named))
    return parts


def _read_part(
    part: _Part,
    sections: Mapping[int, ListRow],
    timed: Collection[int],
    gathered: SetListBuilder,
    *,
    notation: Notation,
    several: bool,
    begun: bool,
) -> None:
    rows, heads = part.rows, part.heads
    if part.has_names:
        said = (head.column.value for head in read_heads(rows[0].cells) or () if head)
        gathered.tell(rows[0], LineKind.COLUMNS, ", ".join(said))
        rows, begun = rows[1:], True
    offset = part.first + part.has_names
    apart = frozenset(at - offset for at in sections)
    heads = with_sets(rows, _asked(rows, heads))
    rows = _with_ticks(_with_points(rows, heads), heads, gathered)
    numbered = any(head and head.column is Column.NUMBER for head in heads)
    has_artists = _are_artists(rows)
    around = _around(rows, heads)
    ended, at = False, 0
    for row, more in join_wrapped_cells(rows, heads, apart):
        lone = sum(map(bool, row.cells)) == 1
        ended = lone and (ended or bool(gathered.last and _is_signature(lone_cell(row), gathered)))
        if at in apart:
            text = lone_cell(row)
            heading = read_heading(text) or heading_at(text)
            is_sure = heading.is_word or clock_in_front(text)[0] is not None or is_counted(text)
            gathered.heading(row, heading, *(() if is_sure else (heading_or_song(heading.name),)))
        elif ended and not read_set(lone_cell(row)):
            gathered.left(row)
        elif take_no_song(row, heads, gathered, notation):
            pass
        elif at + offset in timed:
            words = clock_in_front(lone_cell(row))[1]
            gathered.left(row, *(() if is_event(words) else (song_or_not(words),)))
        elif row.is_small and lone and begun and gathered.last and not all(one.is_small for one in rows):
            _take_small(row, gathered, is_artist=has_artists)
        elif begun and lone and several and gathered.last and _looks_like_heading(row, sections, notation):
            gathered.left(row, *(() if is_event(lone_cell(row)) else (song_or_not(lone_cell(row)),)))
        elif begun and lone and several and not heading_in(row, lone_cell(row)) and is_beside_table(row, rows):
            gathered.left(row, song_or_not(lone_cell(row)))
        elif begun and several and around.is_keyed and gathered.last and is_aside(row, rows, notation):
            gathered.left(row, *(() if is_event(lone_cell(row)) else (song_or_not(lone_cell(row)),)))
        else:
            beside = msgspec.structs.replace(around, begun=begun, several=several, numbered=numbered)
            take_row(row, heads, gathered, notation=notation, around=beside)
        for below in more:
            doubts = () if below.in_row_above else (note_or_song(lone_cell(below)),)
            gathered.doubts += [] if below.in_row_above or JOINED in gathered.doubts else [JOINED]
            gathered.tell(below, LineKind.NOTE, "continues the title above", *doubts)
        at += 1 + len(more)


def _looks_like_heading(row: ListRow, sections: Mapping[int, ListRow], notation: Notation) -> bool:
    """Return whether a row of one cell looks like the headings of the sets, and holds no key."""
    return key_at_end(lone_cell(row), notation) is None and any(are_alike(row, head) for head in sections.values())


def _around(rows: Sequence[ListRow], heads: Sequence[Head | None]) -> Around:
    """Return what the rows have in common: whether their songs have keys, and whether others name events."""
    at = title_at(heads)
    key = next((one for one, head in enumerate(heads) if head and head.column is Column.KEY), None)
    if at is None or key is None:
        return Around()
    titled = [row for row in rows if at < len(row.cells) and row.cells[at] and not is_no_song(row)]
    keyed = [row for row in titled if key < len(row.cells) and row.cells[key]]
    others = [row.cells[at] for row in titled if row not in keyed]
    events = [text for text in others if is_event(text)]
    may_be = sum(map(may_be_event, others))
    is_keyed = len(keyed) >= max(FEWEST_KEYED, MIN_NAMED * (len(titled) - max(len(events), may_be)))
    is_course = len(events) >= FEWEST_EVENTS and len(keyed) >= FEWEST_KEYED
    return Around(is_keyed=is_keyed, is_course=is_course, pauses=long_pauses(rows, key))


def _asked(rows: Sequence[ListRow], heads: tuple[Head | None, ...]) -> tuple[Head | None, ...]:
    """Return the columns; one that asks or names a day, and holds only marks (Sat?), says what is played."""
    made = list(heads)
    for at, head in enumerate(heads):
        if head and head.column is Column.OTHER and _ASKS.search(head.name):
            said = {row.cells[at].strip().lower() for row in rows if at < len(row.cells)} - {""}
            made[at] = msgspec.structs.replace(head, column=Column.PLAYED) if said and said <= set(TICKS) else head
    return tuple(made)


def _with_ticks(rows: Sequence[ListRow], heads: Sequence[Head | None], gathered: SetListBuilder) -> Sequence[ListRow]:
    """Return the rows; in a column with a mark for each song that is played, those without one say no."""
    at = next((at for at, head in enumerate(heads) if head and head.column is Column.PLAYED), None)
    title = title_at(heads)
    if at is None or title is None:
        return rows
    songs = [row for row in rows if sum(map(bool, row.cells)) > 1 and row.cells[title : title + 1] not in ((), ("",))]
    said = [(row.cells[at] if at < len(row.cells) else "").strip().lower() for row in songs]
    if not 1 < sum(map(bool, said)) < len(said) or not all(mark in TICKS for mark in said if mark):
        return rows
    name = (head.name if (head := heads[at]) else "") or "played"
    gathered.doubts.append(Doubt(f"{said.count('')} songs have no mark in the column {name!r}: not played"))
    unmarked = {id(row) for row, mark in zip(songs, said, strict=True) if not mark}
    return [_with_cell(row, at, "no") if id(row) in unmarked else row for row in rows]


def _with_cell(row: ListRow, at: int, text: str) -> ListRow:
    cells = [*row.cells, *[""] * (at + 1 - len(row.cells))]
    cells[at] = text
    return msgspec.structs.replace(row, cells=tuple(cells))


def _are_artists(rows: Sequence[ListRow]) -> bool:
    """Return whether the small lines below the titles are artists: most songs have one, with a capital letter."""
    small = [lone_cell(row) for row in rows if row.is_small and sum(map(bool, row.cells)) == 1]
    songs = sum(sum(map(bool, row.cells)) > 1 for row in rows)
    named = all(text[:1].isupper() and not is_remark(text) for text in small)
    return named and len(small) >= MAX_NUMBERED * songs > 1


def _take_small(row: ListRow, gathered: SetListBuilder, *, is_artist: bool) -> None:
    """Take a small line below a title for its artist, or for a note on it."""
    text = lone_cell(row)
    if not is_artist or gathered.last is None or gathered.last.artist is not None:
        gathered.note(row, text)
        return
    gathered.last.artist = text
    gathered.tell(row, LineKind.NOTE, f"by {text}", Doubt("read as the artist of the song above"))


def _is_signature(text: str, gathered: SetListBuilder) -> bool:
    return line_kinds.is_farewell(text) or gathered.is_sender(text)


def _take_head(rows: Sequence[ListRow], gathered: SetListBuilder, sections: Collection[int]) -> int:
    """Take the rows of one cell above the first heading for the head of the list; return how many they are."""
    rows = [*(_joined_by_signs(row) for row in rows[:HEAD_LINES]), *rows[HEAD_LINES:]]
    heads = (at in sections or bool(read_set(lone_cell(row))) for at, row in enumerate(rows))
    first = next((at for at, is_head in enumerate(heads) if is_head or sum(map(bool, rows[at].cells)) > 1), 0)
    if gathered.has_lines or not 0 < first <= HEAD_LINES:
        return 0
    full = sum(sum(map(bool, row.cells)) > 1 for row in rows[first:])
    is_parted = first == 1 and rows[1].blank_before and full == len(rows) - 1 >= FEWEST_NUMBERED
    if not is_parted and first not in sections and not read_set(lone_cell(rows[first])):
        return _take_names(rows, first, gathered) if full >= MIN_NAMED * (len(rows) - first) else 0
    for row in rows[:first]:
        if line_kinds.is_chat(lone_cell(row)):
            gathered.left(row)
        else:
            gathered.title_of_list(row)
    return first


def _joined_by_signs(row: ListRow) -> ListRow:
    """Return a row whose cells only signs part as one cell: THE KINGS | // | The Railway | // | 9pm."""
    is_joined = any(cell.strip() in ("//", "/", "|", "·", "•", "-", "–", "--") for cell in row.cells) or any(
        cell.startswith(("// ", "· ", "• ")) for cell in row.cells
    )
    return msgspec.structs.replace(row, cells=(lone_cell(row),)) if is_joined else row


def _take_names(rows: Sequence[ListRow], first: int, gathered: SetListBuilder) -> int:
    """Take the first rows of one cell, where nearly all others have more, for the list's name; ask about other words.

    Return how many rows were taken.
    """
    texts = [lone_cell(row) for row in rows[:first]]
    if len(rows) - first < FEWEST_NUMBERED or any(map(NUMBERED.match, texts)):
        return 0
    for row, text in zip(rows, texts, strict=False):
        if line_kinds.is_title_of_list(text) or any_date_in(text) or gig_line(text, None):
            gathered.title_of_list(row)
        else:
            gathered.left(row, *(() if line_kinds.is_chat(text) else (song_or_not(text),)))
    return first


def _are_lines(heads: Sequence[Head | None]) -> bool:
    """Return whether the columns are only numbers and the rest of a line: 245 | Moth (Em) - open solos."""
    columns = [head.column for head in heads if head]
    return sorted(columns, key=str) == [Column.NUMBER, Column.TITLE]


def _is_one_column(rows: Sequence[ListRow]) -> bool:
    """Return whether a sheet holds one line of text in each row."""
    return len(rows) >= FEWEST_OWN and all(sum(map(bool, row.cells)) <= 1 for row in rows)


def _as_line(row: ListRow) -> ListRow:
    return msgspec.structs.replace(row, cells=("  ".join(cell for cell in row.cells if cell),))


def _with_points(rows: Sequence[ListRow], heads: Sequence[Head | None]) -> list[ListRow]:
    """Put a point after numbers before titles, where most titles have one: 01 Moth becomes 01. Moth."""
    at = title_at(heads)
    full = [row for row in rows if sum(map(bool, row.cells)) > 1]  # a heading stands alone
    titles = [row.cells[at] for row in full if at is not None and at < len(row.cells)]
    numbered = sum(bool(BARE_NUMBER.match(title)) for title in titles)
    if at is None or numbered < MAX_NUMBERED * len(titles) or numbered < FEWEST_NUMBERED:
        return list(rows)
    made = []
    for row in rows:
        cells = list(row.cells)
        if at < len(cells) and (found := BARE_NUMBER.match(cells[at])):
            cells[at] = f"{found[1]}. {cells[at][found.end() :]}"
        made.append(msgspec.structs.replace(row, cells=tuple(cells)))
    return made
