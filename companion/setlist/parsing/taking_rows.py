"""Take the rows of a grid one by one: songs by their columns, headings, breaks, totals, notes."""

import re
from collections.abc import Sequence

import msgspec

from companion.setlist.model import Doubt, LineKind, ListRow
from companion.setlist.notation import Notation
from companion.setlist.parsing import line_kinds
from companion.setlist.parsing.breaks_between import names_break
from companion.setlist.parsing.builder import SetListBuilder
from companion.setlist.parsing.cells import clock_cell, length_cell
from companion.setlist.parsing.column_roles import (
    Column,
    Head,
)
from companion.setlist.parsing.doubts import (
    break_or_not,
    doubtful_song,
    heading_or_song,
    parted_here,
    played_or_not,
    song_or_not,
)
from companion.setlist.parsing.gig_names import gig_in_headline
from companion.setlist.parsing.grid_rows import read_row, title_at
from companion.setlist.parsing.inline_songs import sung_by
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.line_forms import facts_in
from companion.setlist.parsing.list_style import Style
from companion.setlist.parsing.patterns import NUMBERED
from companion.setlist.parsing.remarks import is_remark
from companion.setlist.parsing.set_headings import (
    SetHeading,
    clock_in_front,
    heading_of,
    is_break,
    read_heading,
    read_set,
    times_in,
)
from companion.setlist.parsing.song_draft import Draft
from companion.setlist.parsing.song_line import read_song
from companion.setlist.parsing.text_lines import lines_of
from companion.setlist.parsing.words_of_events import ends_a_set, is_event, may_be_event, names_event

FEWEST_ABOVE = 3  # songs above a word in capitals
MAX_TIMES = 2  # cells with times beside a break
_FRAMED = re.compile(r"^[-–—=*~#]{2,} ?[^-–—=*~#]{1,60}[-–—=*~#]{2,}$")  # -- speeches --
_SUM = re.compile(r"^\D{0,20}\d[\d:.,]*\s?(?:songs?|min\w*|h|hrs?|titel|titres|temas|brani)?\.?$", re.IGNORECASE)
_COLOUR_MEANS = re.compile(r"^([a-z]{3,9})\s*(?:=|:|means\b)\s*(\S.*)$", re.IGNORECASE)


class Around(msgspec.Struct, frozen=True):
    """What the rows around one have in common.

    ``several``: they have several cells; ``begun``: the songs have; ``numbered``, ``is_keyed``: the songs are;
    ``is_course``: others name events of an evening; ``pauses``: the texts of rows that the songs wait long for.
    """

    several: bool = False
    begun: bool = False
    numbered: bool = False
    is_keyed: bool = False
    is_course: bool = False
    pauses: frozenset[str] = frozenset()


def take_no_song(row: ListRow, heads: Sequence[Head | None], gathered: SetListBuilder, notation: Notation) -> bool:
    """Take a row that is a heading, a break, a total ...; return False if it may be a song."""
    text, filled = lone_cell(row), [cell for cell in row.cells if cell]
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
    elif heading := _heading_of(filled, text, has_set_column=has_set_column):
        take_heading(row, heading, gathered, notation)
    elif (is_break(first) or is_break(text) or _is_break_beside_times(filled)) and len(filled) <= MAX_TIMES + 1:
        gathered.pause(row)
    elif line_kinds.is_total(text) or line_kinds.is_total(f"{first} 0") or _is_total_behind_time(filled):
        gathered.tell(row, LineKind.TOTAL, text)
    elif mark := line_kinds.mark_meaning(text):
        gathered.marks[mark[0]] = mark[1]
        gathered.tell(row, LineKind.MARK, f"{mark[0]} is {mark[1]}")
    elif len(filled) <= 2 and (said := line_kinds.about(text if ":" in text else ": ".join(filled))):
        gathered.about(row, *said)
    else:
        return False
    return True


BESIDE_TIME = 2  # cells: a time and a heading


def _heading_of(filled: Sequence[str], text: str, *, has_set_column: bool) -> SetHeading | None:
    """Return the heading that a row is: Set 2 | 21:30, or after its time, 21:30 | Dance set."""
    first = filled[0]
    if len(filled) > 1 and clock_cell(first) is not None:
        heading = read_set(f"{filled[1]} {first}")
        is_alone = not any(map(plain_key, filled[2:])) and (heading is None or not heading.also)
        return heading if is_alone or len(filled) == BESIDE_TIME else None  # 19:10 | Set A | band
    heading = read_set(first)
    if heading is None or (len(filled) > 1 and has_set_column):
        return None
    return read_set(text) or (heading if all(map(_is_sum, filled[1:])) else None)


def _is_total_behind_time(filled: Sequence[str]) -> bool:
    """Return whether a row holds a length and then a word that says what it is: 30:21 | total."""
    return len(filled) == 2 and length_cell(filled[0]) is not None and line_kinds.is_total(f"{filled[1]} 0")


def _is_sum(cell: str) -> bool:
    """Return whether a cell beside a heading sums its songs up: Set total 38:10, 12 songs, 45 min."""
    return line_kinds.is_total(cell) or bool(_SUM.match(cell))


def take_heading(
    row: ListRow, heading: SetHeading, gathered: SetListBuilder, notation: Notation, *doubts: Doubt
) -> None:
    """Take the heading of a set, and the song that stands behind it with its key: Encore: Moth (Eb)."""
    lone = heading.also if sum(map(bool, row.cells)) == 1 else ""
    lone += ")" * (lone.count("(") - lone.count(")"))  # a heading is read without the bracket at its end
    song = read_song(lines_of([msgspec.structs.replace(row, cells=(lone,))])[0], Style(notation)) if lone else None
    if song is None or not song.key or not song.title:
        gathered.heading(row, heading, *doubts)
        return
    gathered.heading(row, msgspec.structs.replace(heading, also=""), *doubts)
    gathered.song(row, song)


def take_row(
    row: ListRow,
    heads: Sequence[Head | None],
    gathered: SetListBuilder,
    *,
    notation: Notation,
    around: Around,
) -> None:
    """Take a row for a song, a note, a line about the show ..., once take_no_song has not taken it."""
    several, begun, numbered = around.several, around.begun, around.numbered
    at = title_at(heads)
    title = row.cells[at] if at is not None and at < len(row.cells) else ""
    lone = sum(map(bool, row.cells)) == 1
    if not title:
        _take_without_title(row, heads, gathered, notation=notation, begun=begun)
    elif (
        not begun
        or (lone and several and line_kinds.is_chat(title))
        or (lone and several and line_kinds.is_sentence(title) and not _is_right_below(row, title, gathered))
        or (lone and several and not gathered.last and (line_kinds.is_title_of_list(title) or not row.cells[0]))
    ):
        _take_about(row, gathered)
    elif lone and several and not gathered.sets and _has_keys(heads) and title[:1] not in "0123456789":
        gathered.left(row, song_or_not(title))
    elif lone and several and gathered.last and _is_remark(title) and not names_break(title):
        gathered.note(row, title)
    elif (lone and several and (heading := heading_in(row, title))) or (
        lone and (heading := _word_in_capitals(title, gathered))
    ):
        gathered.heading(row, heading, heading_or_song(heading.name))
    else:
        draft = read_row(row, heads, notation=notation)
        if not draft.has_key:
            draft = (lone and several and _with_key_behind(row, notation)) or draft
            _take_key_beside(draft, row, heads)
        if not draft.has_key and _has_keys(heads) and _take_event(row, title, draft, gathered, around):
            return
        if numbered and not draft.is_out and _is_in_no_set(row, heads):
            why = "no set and no number, unlike the others"
            key = str(draft.key) if draft.key else None
            gathered.aside(row, row.text, why, played_or_not(why, draft.title, key))
            return
        if draft.is_out:
            gathered.aside(row, row.text, f"not played, {draft.is_out}")
            return
        if draft.says_out and draft.title:
            key = str(draft.key) if draft.key else None
            gathered.aside(
                row, row.text, f"not played, {draft.says_out}", played_or_not(draft.says_out, draft.title, key)
            )
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


def _take_event(row: ListRow, title: str, draft: Draft, gathered: SetListBuilder, around: Around) -> bool:
    """Take a row without a key, where songs have one, for a break or an event; return False if it may be a song."""
    lone = sum(map(bool, row.cells)) == 1
    if _FRAMED.match(title):
        gathered.left(row, song_or_not(title.strip(" -–—=*~#")))
        return True
    stands_out = row.is_large or row.blank_before or title.isupper() or clock_in_front(title)[0] is not None
    if (is_event(title) or (stands_out and lone)) and _is_pause(title, gathered):
        gathered.pause(row, parted_here())
        return True
    is_stop = row.text in around.pauses or (names_event(title) and ends_a_set(title))
    if around.is_keyed and is_stop and not any(each.name for each in gathered.sets):
        gathered.pause(row, break_or_not(title))
        return True
    may_be = may_be_event(title) or names_event(title)
    before = gathered.last.number if gathered.last else None
    if may_be and not (is_event(title) or around.is_keyed) and before and draft.number == before + 1:
        draft.doubts.append(doubtful_song("its words may name a part of the evening", draft.title))
        return False  # it counts among songs, and others have no key either
    if is_event(title) or may_be:
        gathered.left(row, *(() if is_event(title) else (song_or_not(title),)))
        return True
    if around.is_keyed and not draft.has_fact and names_break(title):
        gathered.pause(row, break_or_not(title))
        return True
    is_unnumbered = around.is_keyed and lone and around.numbered and not NUMBERED.match(title)
    if is_unnumbered or (around.is_course and not draft.has_fact):
        gathered.left(row, song_or_not(title))
        return True
    return False


def _has_keys(heads: Sequence[Head | None]) -> bool:
    return any(head and head.column is Column.KEY for head in heads)


def heading_in(row: ListRow, text: str) -> SetHeading | None:
    """Read a lone cell below an empty row as a set's heading, if it names times or ends in a colon."""
    if not row.blank_before or not (text.endswith(":") or times_in(text)):
        return None
    heading = heading_of(text)
    return heading if any(letter.isalpha() for letter in heading.name) else None


def _word_in_capitals(text: str, gathered: SetListBuilder) -> SetHeading | None:
    """Read a word that may head a set, in capitals as no title above it is: SPARES."""
    titles = [song.title for each in gathered.sets for song in each.songs]
    if len(titles) < FEWEST_ABOVE or not text.isupper() or any(map(str.isupper, titles)):
        return None
    found = read_heading(text)
    return found if found and found.is_word and not found.also else None


def _is_break_beside_times(filled: Sequence[str]) -> bool:
    """Return whether one cell says that there is a break and all others hold times: 21:05 | BREAK | 0:15."""
    said = [cell for cell in filled if not re.fullmatch(r"[\d:.,h′' ]+(?:am|pm|min|uhr)?", cell, re.IGNORECASE)]
    return len(said) == 1 and is_break(said[0])


def _is_in_no_set(row: ListRow, heads: Sequence[Head | None]) -> bool:
    """Return whether the columns of set and number are there, and empty in this row."""
    filled = {head.column: bool(cell) for head, cell in zip(heads, row.cells, strict=False) if head}
    return filled.get(Column.SET) is False and filled.get(Column.NUMBER) is False


def _is_right_below(row: ListRow, text: str, gathered: SetListBuilder) -> bool:
    """Return whether a remark stands below a song without an empty row: organ swells, nothing else until the drums."""
    return gathered.last is not None and not row.blank_before and _is_remark(text)


def _is_remark(text: str) -> bool:
    """Return whether a lone cell in the column of titles is a remark, in small letters."""
    if text[:1] == "(" and text[-1:] == ")":
        text = text[1:-1]
    small = not any(word[0].isupper() for word in text.split()[1:])
    return text[:1].islower() or (small and is_remark(text))


def _take_without_title(
    row: ListRow, heads: Sequence[Head | None], gathered: SetListBuilder, *, notation: Notation, begun: bool
) -> None:
    """Take a row without a title: a note that continues on a second row, or a line about the show."""
    columns = [heads[at] if at < len(heads) else None for at, cell in enumerate(row.cells) if cell]
    of_notes = all(head is None or head.column in (Column.NOTES, Column.OTHER, Column.ARTIST) for head in columns)
    at_title = title_at(heads) or 0
    is_part = any(  # Reading | Arthur, where others say Song | Band | Moth
        cell and at < at_title and (head is None or head.column is Column.OTHER)
        for at, (cell, head) in enumerate(zip(row.cells, heads, strict=False))
    )
    only_number = all(head is not None and head.column is Column.NUMBER for head in columns)
    if not begun:
        _take_about(row, gathered)
    elif len(columns) == 1 and (draft := _run_together(row, notation)):
        gathered.song(row, draft)
    elif only_number and row.cells and lone_cell(row).rstrip(".)").isdecimal():
        gathered.tell(row, LineKind.RULE, "a number without a song")
    elif of_notes and not is_part and gathered.last and not line_kinds.is_chat(lone_cell(row)):
        gathered.note(row, lone_cell(row), Doubt("no title in this row: read as a note on the song above"))
    elif len(columns) == 1 and gathered.last and _is_pause(lone_cell(row), gathered):
        gathered.pause(row, parted_here())
    else:
        _take_about(row, gathered)


def _is_pause(text: str, gathered: SetListBuilder) -> bool:
    """Return whether the band stops for what the words name, and no heading has named a set."""
    is_one = is_event(text) or may_be_event(text)
    return is_one and ends_a_set(text) and not any(each.name for each in gathered.sets)


def _run_together(row: ListRow, notation: Notation) -> Draft | None:
    """Read a song whose columns only one space parts, in doubt: F#m - Moth, where others have a wide gap."""
    line = lines_of([msgspec.structs.replace(row, cells=(lone_cell(row),))])[0]
    draft = read_song(line, Style(notation, key_in_front=True))
    if not draft.key or not draft.title or draft.title == line.text:
        return None
    draft.doubts.append(doubtful_song("its columns run together", draft.title))
    return draft


def _take_key_beside(draft: Draft, row: ListRow, heads: Sequence[Head | None]) -> None:
    """Take the key out of the column beside its own, into which a long title pushed it."""
    key = next((at for at, head in enumerate(heads) if head and head.column is Column.KEY), None)
    if key is None or key + 1 >= min(len(row.cells), len(heads)) or row.cells[key].strip():
        return
    head, cell = heads[key + 1], row.cells[key + 1].strip()
    if head and head.column in (Column.NOTES, Column.OTHER) and plain_key(cell, notation=draft.notation):
        draft.take_key(cell)
        draft.notes = [note for note in draft.notes if note != cell]


def _with_key_behind(row: ListRow, notation: Notation) -> Draft | None:
    """Read a song whose key only one space parts from its title, in doubt: MOTH ON A WIRE Eb."""
    end = key_at_end(lone_cell(row), notation)
    if end is None or not end.is_strong:
        return None
    line = lines_of([msgspec.structs.replace(row, cells=(lone_cell(row),))])[0]
    draft = read_song(line, Style(notation, key_at_end=True))
    draft.doubts.append(doubtful_song("its columns run together", draft.title))
    return draft if draft.has_key and draft.title else None


def _take_about(row: ListRow, gathered: SetListBuilder) -> None:
    text = lone_cell(row)
    gig = gig_in_headline(text)
    names_list = line_kinds.is_title_of_list(text) or row.text.startswith("#") or (gig and gig.title)
    if names_list and not gathered.last:
        gathered.title_of_list(row)
    else:
        gathered.left(row)


def lone_cell(row: ListRow) -> str:
    """Return the text of a row with one filled cell; of others, their cells in a line."""
    return " ".join(cell for cell in row.cells if cell)


def is_no_song(row: ListRow) -> bool:
    """Return whether a row has one cell, which is a heading, a break, decoration or talk."""
    lone = sum(map(bool, row.cells)) == 1
    text = lone_cell(row)
    return lone and bool(read_set(text) or is_break(text) or line_kinds.is_rule(text) or line_kinds.is_chat(text))
