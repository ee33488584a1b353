"""Read a list in lines of text, as pasted from a message: songs, headings, greetings and notes."""

from collections.abc import Sequence

import msgspec

from companion.setlist.model import Doubt, LineKind, ListRow
from companion.setlist.notation import Notation
from companion.setlist.parsing import line_kinds
from companion.setlist.parsing.builder import SetListBuilder
from companion.setlist.parsing.cells import key_cell
from companion.setlist.parsing.doubts import doubtful_song
from companion.setlist.parsing.list_head import could_name_list
from companion.setlist.parsing.list_style import Style, is_marked, learn
from companion.setlist.parsing.patterns import BULLET, INLINE, NUMBERED, SONGS_APART
from companion.setlist.parsing.remarks import is_remark
from companion.setlist.parsing.song_line import read_song

SHORT = 6  # words; a longer line without number or bullet is more likely a note than a title


def take_in_lines(rows: Sequence[ListRow], gathered: SetListBuilder, *, notation: Notation) -> None:
    """Read lines in order."""
    kinds = [_kind(row) for row in rows]
    maybe = [row for row, kind in zip(rows, kinds, strict=True) if kind is None]
    style = learn(maybe, notation=notation)
    if style.has_artist:
        order = "artist, then title" if style.artist_first else "title, then artist"
        gathered.doubts.append(Doubt(f"most lines have two names: read as {order}"))
    songs = _songs(rows, kinds, style, notation=notation)
    keyed = _are_keyed([row for row, is_song in zip(rows, songs, strict=True) if is_song], style, notation=notation)
    ended = False
    for row, kind, is_song in zip(rows, kinds, songs, strict=True):
        if kind is LineKind.SET and (listed := _inline(row)):
            _take_inline(row, listed, gathered, notation=notation)
        elif kind is not None:
            _take(row, kind, gathered)
            ended = False
        elif is_song and not (ended and not style.is_shaped):
            _take_song(row, style, gathered, keyed=keyed, notation=notation)
        else:
            ended = ended or line_kinds.is_farewell(row.cells[0])
            _take_other(row, gathered)


def _kind(row: ListRow) -> LineKind | None:
    """Return what a line certainly is; None where it may be a song."""
    text = row.cells[0]
    if line_kinds.is_rule(text):
        return LineKind.RULE
    if line_kinds.mark_meaning(text):
        return LineKind.MARK
    if line_kinds.read_set(text) or _inline(row):
        return LineKind.SET
    if line_kinds.is_break(text) or line_kinds.is_break(NUMBERED.sub("", text)):
        return LineKind.BREAK
    if line_kinds.is_total(text):
        return LineKind.TOTAL
    if line_kinds.about(text) and not NUMBERED.match(text):
        return LineKind.ABOUT
    return None


def _inline(row: ListRow) -> tuple[line_kinds.SetHeading, list[str]] | None:
    """Read a heading with its songs on the same line: Encore: Jam Jar (C), Fog Signal (D)."""
    found = INLINE.match(row.cells[0])
    heading = line_kinds.read_set(found[1]) if found else None
    songs = [piece for piece in SONGS_APART.split(found[2]) if piece.strip()] if found else []
    return (heading, songs) if heading and len(songs) > 1 else None


def _take_inline(
    row: ListRow, listed: tuple[line_kinds.SetHeading, list[str]], gathered: SetListBuilder, *, notation: Notation
) -> None:
    heading, songs = listed
    gathered.heading(row, heading)
    rows = [ListRow(row.place, (piece.strip(),), piece.strip()) for piece in songs]
    style = learn(rows, notation=notation)
    for one in rows:
        _take_song(one, msgspec.structs.replace(style, has_artist=False), gathered, keyed=False, notation=notation)


def _take(row: ListRow, kind: LineKind, gathered: SetListBuilder) -> None:
    text = row.cells[0]
    if kind is LineKind.SET and (heading := line_kinds.read_set(text)):
        gathered.heading(row, heading)
    elif kind is LineKind.BREAK:
        gathered.pause(row)
    elif kind is LineKind.MARK and (mark := line_kinds.mark_meaning(text)):
        gathered.marks[mark[0]] = mark[1]
        gathered.tell(row, kind, f"{mark[0]} is {mark[1]}")
    elif kind is LineKind.ABOUT and (said := line_kinds.about(text)):
        gathered.about(row, *said)
    else:
        gathered.tell(row, kind, text if kind is LineKind.TOTAL else "")


def _songs(
    rows: Sequence[ListRow], kinds: Sequence[LineKind | None], style: Style, *, notation: Notation
) -> list[bool]:
    """Return for each line whether it is a song: by number or bullet where songs have them, else by position.

    A line without the number is a song too where it has a key, or, between songs, a length: notes have neither.
    """
    maybe = [kind is None and not line_kinds.is_chat(row.cells[0]) for row, kind in zip(rows, kinds, strict=True)]
    if style.bulleted_notes:
        maybe = [may and not BULLET.match(row.cells[0]) for row, may in zip(rows, maybe, strict=True)]
    if style.is_shaped:
        marked = [may and is_marked(row.cells[0], style) for row, may in zip(rows, maybe, strict=True)]
        first = next((at for at, found in enumerate(marked) if found), 0)
        last = max((at for at, found in enumerate(marked) if found), default=0)
        return [
            found
            or (
                may
                and at > first
                and not _is_remark(row)
                and (
                    (at < last and not row.blank_before and not _is_note(row) and _between(marked, kinds, at))
                    or _says_song(row, style, also_length=at < last, notation=notation)
                )
            )
            for at, (row, may, found) in enumerate(zip(rows, maybe, marked, strict=True))
        ]
    alone = _stands_alone(rows, kinds)
    return [may and not stands for may, stands in zip(maybe, alone, strict=True)]


def _says_song(row: ListRow, style: Style, *, also_length: bool, notation: Notation) -> bool:
    draft = read_song(row, style, notation=notation)
    return bool(draft.title and (draft.key or (also_length and draft.length_s)))


def _between(marked: Sequence[bool], kinds: Sequence[LineKind | None], at: int) -> bool:
    """Return whether a line without a number or bullet is directly between songs or under a heading."""
    return (marked[at - 1] or kinds[at - 1] is LineKind.SET) and (
        at + 1 < len(marked) and (marked[at + 1] or kinds[at + 1] is not None)
    )


def _is_note(row: ListRow) -> bool:
    return _is_remark(row) or len(row.cells[0].split()) > SHORT


def _is_remark(row: ListRow) -> bool:
    text = row.cells[0]
    return text[:1] in "(-–>[" or text[:1].islower() or is_remark(text)


def _stands_alone(rows: Sequence[ListRow], kinds: Sequence[LineKind | None]) -> list[bool]:
    """Return for each line whether it names the list: before the songs and separated from them."""
    alone = [False] * len(rows)
    parts = sum(row.blank_before for row in rows)
    if parts >= len(rows) * 0.6:  # double spacing throughout: blank lines mean nothing
        return alone
    if len(rows) > 2 and kinds[0] is None:
        below = rows[1].blank_before or kinds[1] is LineKind.SET or (kinds[1] is LineKind.ABOUT)
        alone[0] = below or line_kinds.is_title_of_list(rows[0].cells[0])
    for at in range(1, min(4, len(rows) - 1)):
        if kinds[at] is None and all(alone[before] or kinds[before] is not None for before in range(at)):
            last_of_head = rows[at + 1].blank_before or kinds[at + 1] is LineKind.SET
            under_head = LineKind.SET not in kinds[:at]
            alone[at] = under_head and (
                line_kinds.is_title_of_list(rows[at].cells[0]) or (last_of_head and alone[at - 1])
            )
    return alone


def _are_keyed(rows: Sequence[ListRow], style: Style, *, notation: Notation) -> bool:
    keyed = sum(read_song(row, style, notation=notation).key is not None for row in rows)
    return keyed >= 0.6 * len(rows) > 2


def _take_song(row: ListRow, style: Style, gathered: SetListBuilder, *, keyed: bool, notation: Notation) -> None:
    """Take a song, in doubt where it is written unlike the others."""
    draft = read_song(row, style, notation=notation)
    if not draft.title:
        gathered.left(row)
        return
    if style.is_shaped and not is_marked(row.cells[0], style):
        draft.doubts.append(doubtful_song("no number or bullet, unlike the others", draft.title))
    elif (
        keyed and not style.is_shaped and row.blank_before and draft.key is None and not draft.doubts and gathered.last
    ):
        draft.doubts.append(doubtful_song("separate from the others and without a key", draft.title))
    gathered.song(row, draft)


def _take_other(row: ListRow, gathered: SetListBuilder) -> None:
    text = row.cells[0]
    names_list = line_kinds.is_title_of_list(text) or row.text.startswith("#")
    names_list = names_list or (not gathered.has_lines and could_name_list(text))
    if not gathered.last and names_list and not line_kinds.is_chat(text):
        gathered.title_of_list(row)
    elif (
        gathered.last
        and not row.blank_before
        and not line_kinds.is_chat(text)
        and (_is_note(row) or BULLET.match(text) or key_cell(text))
    ):
        gathered.note(row, _without_brackets(BULLET.sub("", text)))
    else:
        gathered.left(row)


def _without_brackets(text: str) -> str:
    """Remove brackets around a whole note."""
    text = text.strip()
    return text[1:-1].strip() if text[:1] == "(" and text.find(")") == len(text) - 1 else text
