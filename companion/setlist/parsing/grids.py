"""Classify the rows of a grid and hand each to the builder: songs by their columns, headings, breaks, totals."""

import re
from collections.abc import Sequence

import msgspec

from companion.setlist.model import Doubt, LineKind, ListRow
from companion.setlist.notation import Notation
from companion.setlist.parsing import line_kinds
from companion.setlist.parsing.builder import SetListBuilder
from companion.setlist.parsing.cells import is_nothing
from companion.setlist.parsing.column_roles import (
    Column,
    Head,
    agreeing,
    by_content,
    read_heads,
    with_heading_above,
    with_nameless,
)
from companion.setlist.parsing.doubts import (
    doubtful_song,
    heading_or_song,
    note_or_song,
    parted_here,
    played_or_not,
    song_or_not,
)
from companion.setlist.parsing.grid_rows import read_row, title_at
from companion.setlist.parsing.inline_songs import sung_by
from companion.setlist.parsing.key_cells import key_cell
from companion.setlist.parsing.line_forms import facts_in
from companion.setlist.parsing.lines import take_in_lines
from companion.setlist.parsing.list_style import Style
from companion.setlist.parsing.patterns import BARE_NUMBER, NUMBERED, STRUCK
from companion.setlist.parsing.remarks import is_remark
from companion.setlist.parsing.set_headings import SetHeading, heading_of, is_break, read_set, times_in
from companion.setlist.parsing.song_draft import Draft
from companion.setlist.parsing.song_line import read_song
from companion.setlist.parsing.text_lines import lines_of
from companion.setlist.parsing.words_of_events import ends_a_set, is_event, may_be_event, names_event
from companion.setlist.parsing.wrapped_cells import join_wrapped_cells
from companion.setlist.tidy import plain_signs

MAX_TIMES = 2  # cells with times beside a break
MOST_NUMBERED, FEWEST_NUMBERED = 0.7, 3  # share and number of titles that begin with a number
HEAD_LINES = 3  # above the first set
LONE = 0.5  # share of rows with more than one cell; above it, a row with a single cell is probably not a song
MESSAGES = ("message", "text", "nachricht", "body")
_STRUCK_ROW = re.compile(r"^~~[^~]+~~$")  # across its columns
_FRAMED = re.compile(r"^[-–—=*~#]{2,} ?[^-–—=*~#]{1,60}[-–—=*~#]{2,}$")  # -- speeches --
_COLOUR_MEANS = re.compile(r"^([a-z]{3,9})\s*(?:=|:|means\b)\s*(\S.*)$", re.IGNORECASE)
SENDERS = ("from", "sender", "name", "who", "author", "von")


def take_in_grid(rows: Sequence[ListRow], gathered: SetListBuilder, notation: Notation) -> None:
    """Read a grid in order. Rows that are hidden or struck out are set aside."""
    if messages := _messages(rows):
        take_in_lines(lines_of(messages), gathered, notation)
        return
    parted = [
        msgspec.structs.replace(row, cells=cells)
        for row in _played(rows, gathered)
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
    named = [read_heads(row.cells) for row in rows]
    songs = [row for row, heads in zip(rows, named, strict=True) if not heads and not _is_no_song(row)]
    heads: tuple[Head | None, ...] | None = next((found for found in named if found), None)
    begun = heads is None
    if heads is None:
        heads = by_content(songs)
        said = ", ".join(f"{at}: {head.column.value}" for at, head in enumerate(heads, start=1) if head)
        if len([head for head in heads if head]) > 1 and not _are_lines(heads):
            gathered.doubts.append(Doubt(f"no column names: columns recognized by their contents ({said})"))
    if begun and rows and _names_columns(rows[0], heads):
        gathered.tell(rows[0], LineKind.COLUMNS, "names of columns, by what stands below them")
        rows = rows[1:]
    if begun and _are_lines(heads):
        take_in_lines(lines_of([_as_line(row) for row in rows]), gathered, notation)
        return
    rows = _with_points(rows, heads)
    several = sum(sum(map(bool, row.cells)) > 1 for row in songs) >= LONE * max(len(songs), 1)
    numbered = any(head and head.column is Column.NUMBER for head in heads)
    ended = False
    rows = rows[_take_head(rows, gathered) :] if begun and several else rows
    for row, more in join_wrapped_cells(rows, heads):
        found = read_heads(row.cells)
        lone = sum(map(bool, row.cells)) == 1
        ended = lone and (ended or bool(gathered.last and _is_signature(_lone(row), gathered)))
        if ended and not read_set(_lone(row)):
            gathered.left(row)
        elif found:
            heads, begun = agreeing(with_nameless(found, songs), songs), True
            gathered.tell(row, LineKind.COLUMNS, ", ".join(head.column.value for head in found if head))
        elif not _take_no_song(row, heads, gathered, notation):
            _take_row(row, heads, gathered, notation=notation, several=several, begun=begun, numbered=numbered)
        for below in more:
            gathered.tell(below, LineKind.NOTE, "continues the title above", note_or_song(_lone(below)))


def _is_signature(text: str, gathered: SetListBuilder) -> bool:
    return line_kinds.is_farewell(text) or gathered.is_sender(text)


def _take_head(rows: Sequence[ListRow], gathered: SetListBuilder) -> int:
    """Take the rows of one cell above the first heading for the head of the list; return how many they are."""
    first = next((at for at, row in enumerate(rows) if read_set(_lone(row)) or sum(map(bool, row.cells)) > 1), 0)
    if gathered.has_lines or not 0 < first <= HEAD_LINES or not read_set(_lone(rows[first])):
        return 0
    for row in rows[:first]:
        if line_kinds.is_chat(_lone(row)):
            gathered.left(row)
        else:
            gathered.title_of_list(row)
    return first


def _names_columns(first: ListRow, heads: Sequence[Head | None]) -> bool:
    """Return whether a first row has words in the columns that hold only values below: Who | What | Which key."""
    cells = [(cell, head.column) for cell, head in zip(first.cells, heads, strict=False) if head and cell]
    typed = [cell for cell, column in cells if column in (Column.KEY, Column.TEMPO, Column.LENGTH)]
    return bool(typed) and len(cells) > 1 and not any(_is_value(cell) for cell in typed)


def _is_value(cell: str) -> bool:
    return any(sign.isdigit() for sign in cell) or key_cell(cell) is not None or is_nothing(cell)


def _are_lines(heads: Sequence[Head | None]) -> bool:
    """Return whether the columns are only numbers and the rest of a line: 245 | Moth (Em) - open solos."""
    columns = [head.column for head in heads if head]
    return sorted(columns, key=str) == [Column.NUMBER, Column.TITLE]


def _as_line(row: ListRow) -> ListRow:
    return msgspec.structs.replace(row, cells=("  ".join(cell for cell in row.cells if cell),))


def _with_points(rows: Sequence[ListRow], heads: Sequence[Head | None]) -> list[ListRow]:
    """Put a point behind numbers before titles, where most titles have one: 01 Moth becomes 01. Moth."""
    at = title_at(heads)
    titles = [row.cells[at] for row in rows if at is not None and at < len(row.cells) and len(row.cells) > 1]
    numbered = sum(bool(BARE_NUMBER.match(title)) for title in titles)
    if at is None or numbered < MOST_NUMBERED * len(titles) or numbered < FEWEST_NUMBERED:
        return list(rows)
    made = []
    for row in rows:
        cells = list(row.cells)
        if at < len(cells) and (found := BARE_NUMBER.match(cells[at])):
            cells[at] = f"{found[1]}. {cells[at][found.end() :]}"
        made.append(msgspec.structs.replace(row, cells=tuple(cells)))
    return made


def _lone(row: ListRow) -> str:
    return " ".join(cell for cell in row.cells if cell)


def _is_no_song(row: ListRow) -> bool:
    lone = sum(map(bool, row.cells)) == 1
    text = _lone(row)
    return lone and bool(read_set(text) or is_break(text) or line_kinds.is_rule(text) or line_kinds.is_chat(text))


def _take_no_song(row: ListRow, heads: Sequence[Head | None], gathered: SetListBuilder, notation: Notation) -> bool:
    """Take a row that is a heading, a break, a total ...; return False if it may be a song."""
    text, filled = _lone(row), [cell for cell in row.cells if cell]
    if not filled:  # nothing in it is seen: a soft hyphen
        gathered.tell(row, LineKind.RULE)
        return True
    first = filled[0]
    has_set_column = any(head and head.column is Column.SET for head in heads)
    if row.marked and len(filled) == 1 and not gathered.last:
        gathered.colours[row.marked] = text.lstrip("=:- ")
        gathered.tell(row, LineKind.MARK, f"{row.marked} is {text}")
    elif len(filled) == 1 and (means := _COLOUR_MEANS.match(text)) and means[1].lower() in gathered.colours_seen:
        gathered.colours[means[1].lower()] = means[2]
        gathered.tell(row, LineKind.MARK, f"{means[1].lower()} is {means[2]}")
    elif singers := sung_by(text):
        gathered.singers.update(singers)
        gathered.tell(row, LineKind.MARK, ", ".join(f"{mark} is {name}" for mark, name in singers.items()))
    elif gathered.last and (facts := facts_in(text, notation)):
        gathered.note(row, facts)
    elif len(filled) == 1 and _FRAMED.match(text) and not read_set(text) and not is_break(text):
        is_pause = ends_a_set(text) and not any(each.name for each in gathered.sets)
        if is_pause:
            gathered.pause(row, parted_here())
        else:
            gathered.left(row, song_or_not(text))
    elif all(line_kinds.is_rule(cell) for cell in filled) or line_kinds.is_rule(text):
        gathered.tell(row, LineKind.RULE)
    elif (heading := read_set(text)) and read_set(first) and (len(filled) == 1 or not has_set_column):
        gathered.heading(row, heading)
    elif (is_break(first) or is_break(text) or _is_break_beside_times(filled)) and len(filled) <= MAX_TIMES + 1:
        gathered.pause(row)
    elif line_kinds.is_total(first) or line_kinds.is_total(text) or line_kinds.is_total(f"{first} 0"):
        gathered.tell(row, LineKind.TOTAL, text)
    elif mark := line_kinds.mark_meaning(text):
        gathered.marks[mark[0]] = mark[1]
        gathered.tell(row, LineKind.MARK, f"{mark[0]} is {mark[1]}")
    elif len(filled) <= 2 and (said := line_kinds.about(text if ":" in text else ": ".join(filled))):
        gathered.about(row, *said)
    else:
        return False
    return True


def _take_row(
    row: ListRow,
    heads: Sequence[Head | None],
    gathered: SetListBuilder,
    *,
    notation: Notation,
    several: bool,
    begun: bool,
    numbered: bool,
) -> None:
    at = title_at(heads)
    title = row.cells[at] if at is not None and at < len(row.cells) else ""
    lone = sum(map(bool, row.cells)) == 1
    if not title:
        _take_without_title(row, heads, gathered, notation=notation, begun=begun)
    elif (
        not begun
        or (lone and several and (line_kinds.is_chat(title) or line_kinds.is_sentence(title)))
        or (lone and several and not gathered.last and (line_kinds.is_title_of_list(title) or not row.cells[0]))
    ):
        _take_about(row, gathered)
    elif lone and several and gathered.last and _is_remark(title):
        gathered.note(row, title)
    elif lone and several and (heading := _heading(row, title)):
        gathered.heading(row, heading, heading_or_song(heading.name))
    else:
        draft = read_row(row, heads, notation=notation)
        if not draft.has_key and any(head and head.column is Column.KEY for head in heads):
            if is_event(title) and ends_a_set(title) and not any(each.name for each in gathered.sets):
                gathered.pause(row, parted_here())
                return
            if is_event(title) or may_be_event(title) or names_event(title):
                gathered.left(row, *(() if is_event(title) else (song_or_not(title),)))
                return
        if numbered and not draft.is_out and _is_in_no_set(row, heads):
            why = "no set and no number, unlike the others"
            key = str(draft.key) if draft.key else None
            gathered.aside(row, row.text, why, played_or_not(why, draft.title, key))
            return
        if draft.is_out:
            gathered.aside(row, row.text, f"not played, {draft.is_out}")
            return
        if not draft.title:
            gathered.left(row)
            return
        if lone and several and numbered and not NUMBERED.match(title):
            draft.doubts.append(doubtful_song("no number and only a title", draft.title))
        elif lone and several:
            draft.doubts.append(doubtful_song("only a title", draft.title))
        gathered.colours_seen.add(row.marked)
        for words in (*row.comments, f"marked {row.marked}" if row.marked else ""):
            draft.note(words)
        gathered.song(row, draft)


def _heading(row: ListRow, text: str) -> SetHeading | None:
    """Read a lone cell below an empty row as a set's heading, if it names times or ends in a colon."""
    if not row.blank_before or not (text.endswith(":") or times_in(text)):
        return None
    heading = heading_of(text)
    return heading if any(letter.isalpha() for letter in heading.name) else None


def _is_break_beside_times(filled: Sequence[str]) -> bool:
    """Return whether one cell says that there is a break and all others hold times: 21:05 | BREAK | 0:15."""
    said = [cell for cell in filled if not re.fullmatch(r"[\d:.,h′' ]+(?:am|pm|min|uhr)?", cell, re.IGNORECASE)]
    return len(said) == 1 and is_break(said[0])


def _is_in_no_set(row: ListRow, heads: Sequence[Head | None]) -> bool:
    """Return whether the columns of set and number are there, and empty in this row."""
    filled = {head.column: bool(cell) for head, cell in zip(heads, row.cells, strict=False) if head}
    return filled.get(Column.SET) is False and filled.get(Column.NUMBER) is False


def _is_remark(text: str) -> bool:
    """Return whether a lone cell in the column of titles is a remark, in small letters."""
    small = not any(word[0].isupper() for word in text.split()[1:])
    return text[:1].islower() or (small and is_remark(text))


def _take_without_title(
    row: ListRow, heads: Sequence[Head | None], gathered: SetListBuilder, *, notation: Notation, begun: bool
) -> None:
    """Take a row without a title: a note that continues on a second row, or a line about the show."""
    columns = [heads[at] if at < len(heads) else None for at, cell in enumerate(row.cells) if cell]
    of_notes = all(head is None or head.column in (Column.NOTES, Column.OTHER, Column.ARTIST) for head in columns)
    only_number = all(head is not None and head.column is Column.NUMBER for head in columns)
    if not begun:
        _take_about(row, gathered)
    elif len(columns) == 1 and (draft := _run_together(row, notation)):
        gathered.song(row, draft)
    elif only_number and row.cells and _lone(row).rstrip(".)").isdecimal():
        gathered.tell(row, LineKind.RULE, "a number without a song")
    elif of_notes and gathered.last and not line_kinds.is_chat(_lone(row)):
        gathered.note(row, _lone(row), Doubt("no title in this row: read as a note on the song above"))
    else:
        _take_about(row, gathered)


def _run_together(row: ListRow, notation: Notation) -> Draft | None:
    """Read a song whose columns only one space parts, in doubt: F#m - Moth, where others have a wide gap."""
    line = lines_of([msgspec.structs.replace(row, cells=(_lone(row),))])[0]
    draft = read_song(line, Style(notation, key_in_front=True))
    if not draft.key or not draft.title or draft.title == line.text:
        return None
    draft.doubts.append(doubtful_song("its columns run together", draft.title))
    return draft


def _take_about(row: ListRow, gathered: SetListBuilder) -> None:
    if (line_kinds.is_title_of_list(_lone(row)) or row.text.startswith("#")) and not gathered.last:
        gathered.title_of_list(row)
    else:
        gathered.left(row)
