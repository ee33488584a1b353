"""Turn rows into a set list: what each line is, and which song it belongs to. No I/O; every guess is reported."""

import itertools
import re
from collections.abc import Collection, Sequence

import msgspec

from companion.errors import FaultyFile
from companion.music import Pitch
from companion.setlist.model import (
    Doubt,
    DoubtAnswer,
    FieldCorrection,
    ListPage,
    ListRow,
    ReadAgain,
    SetList,
    SourceLine,
)
from companion.setlist.notation import Notation
from companion.setlist.parsing.am_at_end import take_am_for_key
from companion.setlist.parsing.bare_times import with_times_of_day
from companion.setlist.parsing.blank_lines import single_spaced
from companion.setlist.parsing.builder import SetListBuilder
from companion.setlist.parsing.cell_lines import as_lines, with_lines_of_cells
from companion.setlist.parsing.column_roles import Column, Head, read_heads, with_heading_above
from companion.setlist.parsing.gig_column import by_gig
from companion.setlist.parsing.grids import take_in_grid
from companion.setlist.parsing.hardly_supported import ask_once, doubt_common_parts, doubt_titles
from companion.setlist.parsing.key_at_end import voted_notation
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.keys_in_notes import take_keys_of_notes
from companion.setlist.parsing.leaders import without_leaders
from companion.setlist.parsing.letter_form import is_talk_beside_table
from companion.setlist.parsing.lines import take_in_lines
from companion.setlist.parsing.list_head import without_head, without_names
from companion.setlist.parsing.list_talk import FEW, LOOKS_LIKE_CHANGES, looks_like_changes
from companion.setlist.parsing.lists_in_file import choose, doubt_which, lists_in, names_of, sizes_of
from companion.setlist.parsing.page_columns import in_columns, numbered_columns
from companion.setlist.parsing.reading_order import in_reading_order, page_edges
from companion.setlist.parsing.rows_of_songs import pieces_in
from companion.setlist.parsing.set_headings import read_set
from companion.setlist.parsing.sheets import pages_to_read
from companion.setlist.parsing.similar_titles import doubt_similar_titles
from companion.setlist.parsing.small_letters import doubt_small_letters, settle_small_letters
from companion.setlist.parsing.songs_in_a_row import one_song_a_row
from companion.setlist.parsing.table_in_lines import with_cells_in_rows
from companion.setlist.parsing.text_lines import TextLine, lines_of
from companion.setlist.readers.limits import MAX_SONGS
from companion.setlist.readers.refusal import no_list
from companion.show.titles import folded

MAX_REMARKS = 4  # on what repeats on the pages
HEAD_ROWS = 3  # one of them holds the headings of sets side by side
FEWEST_KEYED, MOST_BLOCKS = 3, 0.5  # number and share of the rows with a key in each block
_PARTS_OF_EDGE = re.compile(r"\s+[-–—|•·]\s+|\s{2,}")
B_FLAT = Pitch("B", -1)
_NUMBERED = re.compile(r"^\W{0,3}\d{1,6}(?:[.):]?\s|[.):]$|$)")  # 1017. Moth; in a table, 1017 alone
BES = re.compile(r"(?<![\w#])[Bb]es(?:m|[\s-]?(?:moll|mineur|klein|dur|groot))?(?![\w#♭♯'’-])")  # Dutch: B flat
H = re.compile(r"(?<![\w#])H(?:m|[\s-]?(?:moll|dur))?(?![\w#♭♯'’-])")
LONE_B = re.compile(r"(?<![\w#])[Bb](?:m|min)?(?![\w#♭♯'’-])")
CHANGES = "the whole list, or bring the changes into the show that they are about (at the command line: --into SHOW)"
SAME_AS_BEFORE = "the earlier list first, with --into that show; then change what is different by hand"


def take_in(
    pages: Sequence[ListPage],
    default_title: str = "New show",
    *,
    notation: Notation | None = None,
    chosen: str | None = None,
    path: str = "",
) -> SetList:
    """Read rows as a set list. Raises FaultyFile if it holds no song, or more than a show may have.

    ``notation``: None to let the list's own keys decide. ``chosen``: the name of the page or list to read where there
    are several; None for the default.
    """
    _refuse_too_many(pages, path)
    pages = [
        one_song_a_row(with_cells_in_rows(with_times_of_day(each)))
        for page in (single_spaced(as_lines(page)) for page in pages)
        for each in by_gig(page)
    ]
    pages = [in_columns(in_reading_order(without_leaders(without_edges(with_lines_of_cells(page))))) for page in pages]
    read_as = notation or voted_notation(
        piece for page in pages for row in page.rows for cell in row.cells for piece in pieces_in(cell)
    )
    gathered = SetListBuilder()
    for page in pages_to_read(pages, gathered, chosen):
        gathered.doubts.extend(map(Doubt, page.remarks))
        before = len(gathered.sets)
        if is_talk_beside_table(page, pages):
            for row in page.rows:
                gathered.left(row)
            continue
        if page.name:
            gathered.begin_sheet()
        for block in side_by_side(page):
            if block.is_grid:
                take_in_grid(without_names(without_head(block.rows, gathered), gathered), gathered, read_as)
            else:
                _take_in_text(lines_of(block.rows), gathered, read_as, chosen)
        _name_by_sheet(page, gathered, before)
    take_keys_of_notes([draft for each in gathered.sets for draft in each.songs])
    if read_as is Notation.GERMAN:
        settle_small_letters([draft for each in gathered.sets for draft in each.songs])
    if read_as is Notation.LETTERS:
        doubt_small_letters([draft for each in gathered.sets for draft in each.songs])
        take_am_for_key([draft for each in gathered.sets for draft in each.songs])
    if read_as is Notation.GERMAN and notation is None:
        _doubt_bare_b(gathered)
    found = sum(len(each.songs) for each in gathered.sets)
    if gathered.is_same_as_before and found < FEW:
        if not found:
            raise no_list(path, "it refers to an earlier list, which is not in it", SAME_AS_BEFORE)
        gathered.doubts.append(Doubt("it refers to an earlier list, which is not in it: only the songs named here"))
    elif looks_like_changes((row.text for page in pages for row in page.rows), found):
        if not found:
            raise no_list(path, "it looks like changes to a list, not like a list", CHANGES)
        gathered.doubts.append(Doubt(LOOKS_LIKE_CHANGES))
    if not found:
        raise no_songs(path)
    if found > MAX_SONGS:
        raise no_list(path, f"{found} songs; a show has at most {MAX_SONGS}", "the list of one night")
    doubt_titles(gathered)
    doubt_similar_titles(gathered)
    doubt_common_parts(gathered)
    ask_once(gathered)
    return msgspec.structs.replace(gathered.finish(default_title), notation=read_as)


def _refuse_too_many(pages: Sequence[ListPage], path: str) -> None:
    """Raise FaultyFile for more numbered lines than a show may have songs, before anything else looks at them."""
    numbered = sum(bool(row.cells and _NUMBERED.match(row.cells[0])) for page in pages for row in page.rows)
    if numbered > MAX_SONGS:
        raise no_list(path, f"{numbered} songs; a show has at most {MAX_SONGS}", "the list of one night")


def without_edges(page: ListPage) -> ListPage:
    """Return the page without the header and footer that each of its pages repeats; they are reported as a remark."""
    edges = page_edges(page.rows)
    if not edges:
        return page
    texts = dict.fromkeys(page.rows[at].text for at in sorted(edges))
    remarks = tuple(f"on every page, not part of the list: {text}" for text in texts)
    heads = _set_heads(page.rows, edges)
    rows = tuple(heads.get(at, row) for at, row in enumerate(page.rows) if at not in edges or at in heads)
    return msgspec.structs.replace(page, rows=rows, remarks=(*page.remarks, *remarks[:MAX_REMARKS]))


def _set_heads(rows: Sequence[ListRow], edges: Collection[int]) -> dict[int, ListRow]:
    """Return the rows of a header that name sets, the name alone, if it changes from page to page: Tin – SET 2."""
    named = [(at, part) for at in sorted(edges) for part in _PARTS_OF_EDGE.split(rows[at].text) if read_set(part)]
    changes = [two for one, two in itertools.pairwise([(-1, ""), *named]) if one[1] != two[1]]
    if len(changes) < 2:
        return {}
    return {at: ListRow(rows[at].place, (said,), said, blank_before=True) for at, said in changes}


def _take_in_text(lines: Sequence[TextLine], gathered: SetListBuilder, notation: Notation, chosen: str | None) -> None:
    """Take in lines; if they hold several lists, the one chosen or the newest, the others set aside."""
    found = lists_in(lines)
    if len(found) > 1:
        at, names = choose(found, chosen), names_of(found)
        gathered.choices, gathered.chosen = tuple(names), names[at]
        gathered.doubts.append(doubt_which(names, at, sizes_of(found)))
        for index, one in enumerate(found):
            for line in one.lines if index != at else ():
                gathered.aside(line.row, line.text, f"of another list: {names[index]}")
        lines = found[at].lines
    take_in_lines(lines, gathered, notation)


def _doubt_bare_b(gathered: SetListBuilder) -> None:
    """Doubt B read as Bb in a list that names its keys in German, as far as one can see; with Bes, B is B."""
    drafts = [draft for each in gathered.sets for draft in each.songs]
    writes_bes = any(BES.search(draft.text) for draft in drafts) and not any(H.search(draft.text) for draft in drafts)
    for draft in drafts:
        if draft.key and draft.key.tonic == B_FLAT and LONE_B.search(draft.text):
            natural = msgspec.structs.replace(draft.key, tonic=Pitch("B"))
            if writes_bes:
                draft.key = natural
                continue
            draft.doubts.append(
                Doubt(
                    f"B read as {draft.key}: the list names its keys in German",
                    f"Is {draft.title!r} in {draft.key}?",
                    (
                        DoubtAnswer("yes"),
                        DoubtAnswer("no", (FieldCorrection("key", str(natural)),)),
                        DoubtAnswer("letters", (ReadAgain(notation=Notation.LETTERS),)),
                    ),
                    asks_for="key",
                )
            )


def no_songs(path: str) -> FaultyFile:
    """Make the error for a list without a song."""
    return no_list(
        path, "no song was found in it", "a line for each song; a row of names such as Title, Key, Length helps"
    )


def _name_by_sheet(page: ListPage, gathered: SetListBuilder, before: int) -> None:
    new = gathered.sets[before:]
    if page.name and len(new) == 1 and not new[0].name:
        heading = read_set(page.name)
        new[0].name = heading.name if heading else page.name


def side_by_side(page: ListPage) -> list[ListPage]:
    """Split a grid with lists side by side: the same column names twice, or two set headings in a row."""
    if not page.is_grid:
        return [page]
    for at, row in enumerate(page.rows):
        heads = read_heads(row.cells)
        titles = [(column, folded(head.name)) for column, head in enumerate(heads or ()) if head and _is_title(head)]
        starts = [column for column, name in titles if name == titles[0][1]]
        numbers = [column for column, head in enumerate(heads or ()) if head and head.column is Column.NUMBER]
        if len(starts) > 1 and len(numbers) == len(starts):
            starts = [min(pair) for pair in zip(starts, numbers, strict=True)]
        sets = [column for column, cell in enumerate(row.cells) if (found := read_set(cell)) and found.name]
        others = [cell for cell in row.cells if cell and not read_set(cell)]
        if len(starts) < 2 and at < HEAD_ROWS and (headed := _heads_of_blocks(row, page.rows[at + 1 :])):
            marked = msgspec.structs.replace(row, heads_set=True)
            page = msgspec.structs.replace(page, rows=(*page.rows[:at], marked, *page.rows[at + 1 :]))
            starts = headed
        if len(starts) < 2 and len(sets) >= 2 and all(read_heads(("Title", cell)) for cell in others):
            starts = sets
        if len(starts) < 2:
            starts = numbered_columns([other.cells for other in page.rows[at:]]) if at < HEAD_ROWS else []
        if len(starts) > 1:
            above = [
                other for other in page.rows[:at] if sum(map(bool, other.cells)) < 2 or not _has_sets(other, starts)
            ]
            head = tuple(
                msgspec.structs.replace(other, cells=(" ".join(filter(None, other.cells)),)) for other in above
            )
            return [ListPage(head, is_grid=True)] * bool(above) + _blocks(page, starts, above)
    return [page]


def _heads_of_blocks(row: ListRow, below: Sequence[ListRow]) -> list[int]:
    """Return where blocks begin, whose headings in any words stand in this row: titles below them, keys beside those.

    Nothing stands above the keys.
    """
    starts = [at for at, cell in enumerate(row.cells) if cell]
    if len(starts) < 2 or any(after - before < 2 for before, after in itertools.pairwise(starts)):
        return []
    if any(plain_key(row.cells[at]) or any(map(str.isdigit, row.cells[at])) for at in starts):
        return []
    for start in starts:
        keyed = sum(len(one.cells) > start + 1 and plain_key(one.cells[start + 1]) is not None for one in below)
        if keyed < max(FEWEST_KEYED, MOST_BLOCKS * len(below)):
            return []
    return starts


def _is_title(head: Head) -> bool:
    return head.column is Column.TITLE


def _has_sets(row: ListRow, starts: list[int]) -> bool:
    return len(starts) > 1 and sum(bool(read_set(cell)) for cell in row.cells) > 1


def _blocks(page: ListPage, starts: list[int], above: list[ListRow]) -> list[ListPage]:
    blocks = []
    bounds = [0, *starts[1:], max(len(row.cells) for row in page.rows)]
    for index, (first, last) in enumerate(itertools.pairwise(bounds)):
        rows = []
        for row in page.rows:
            cells = row.cells[first:last]
            if any(cells) and row not in above:
                side = "" if len(starts) > 2 else ("left", "right")[index]
                place = SourceLine(row.place.line, row.place.page, row.place.sheet)
                blank = row.blank_before and not side
                rows += [
                    ListRow(place, part, " | ".join(filter(None, part)), blank, heads_set=row.heads_set)
                    for part in with_heading_above(cells)
                ]
        blocks.append(ListPage(tuple(rows), is_grid=any(sum(map(bool, row.cells)) > 1 for row in rows)))
        if not blocks[-1].is_grid:
            lone = tuple(
                ListRow(row.place, (" ".join(filter(None, row.cells)),), row.text, row.blank_before) for row in rows
            )
            blocks[-1] = ListPage(lone)
    return blocks
