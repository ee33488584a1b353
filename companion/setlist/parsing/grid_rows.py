"""Read a song from one row of a grid: each cell by its column."""

import re
from collections.abc import Callable, Sequence

from companion.setlist.model import Doubt, DoubtAnswer, FieldCorrection, ListRow
from companion.setlist.notation import Notation
from companion.setlist.parsing.cell_lines import APART
from companion.setlist.parsing.cells import clock_cell, is_nothing
from companion.setlist.parsing.column_roles import Column, Head
from companion.setlist.parsing.doubts import song_that_may_be_played
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.leaders import LEADER
from companion.setlist.parsing.list_style import Style
from companion.setlist.parsing.not_played import pointed_out, takes_song_out
from companion.setlist.parsing.patterns import BULLET, NUMBERED, PART_LETTER, WIDE_GAP
from companion.setlist.parsing.peeling import peel
from companion.setlist.parsing.pieces import read_piece
from companion.setlist.parsing.remarks import off_the_end, read_remark
from companion.setlist.parsing.song_draft import Draft
from companion.setlist.parsing.song_line import doubt_key_in_title
from companion.setlist.parsing.stray_keys import take_key_cell, take_key_of_notes

_KEY_NAMED = re.compile(r"\b(?:key|tonart|tonalité|tono|toonsoort)(?:\s?[:=]\s?|\sof\s|\s)(\S{1,6})$", re.IGNORECASE)
_WHY = re.compile(r"\s?[-–—,:;.!(/]")  # NO - dropped; no, too long
_MAYBE = re.compile(
    r"(?:maybe|perhaps|poss(?:ible|ibly)?|vielleicht|evtl|eventuell|peut-être|qui[zs]ás?|tal vez|forse|talvez|"
    r"misschien|kanske|måske|kanskje|może|możliwe|možná|možda|mogoče|ehkä)(?!\w)"
)
MAX_MARKS = 3  # - [x] 4.
NOT_PLAYED = frozenset(
    ("no", "n", "nein", "non", "nee", "nej", "nei", "não", "nie", "ne", "ei", "out", "cut", "dropped", "drop", "skip")
) | {"skipped", "off", "raus", "fuera", "0", "false", "✗", "✘", "❌"}
YES = ("yes", "y", "x", "✓", "✔", "✅", "ja", "j", "oui", "sí", "si", "sim", "have", "ok", "true")
NO = ("no", "n", "nein", "none", "missing", "-", "–", "false", "")


def title_at(heads: Sequence[Head | None]) -> int | None:
    """Return the column of the titles."""
    return next((at for at, head in enumerate(heads) if head and head.column is Column.TITLE), None)


def read_row(row: ListRow, heads: Sequence[Head | None], *, notation: Notation = Notation.LETTERS) -> Draft:
    """Read a row as a song."""
    draft = Draft(row.place, row.text, notation=notation)
    for at in _keys_first(heads, len(row.cells)):
        cell, head = row.cells[at], heads[at] if at < len(heads) else None
        if not cell.strip():
            continue
        if head is None:
            if not draft.take(read_piece(cell, notation)):
                draft.doubts.append(Doubt(f"in no column, kept in the notes: {cell}"))
                draft.note(cell)
        elif head.column is Column.TITLE:
            _take_title(draft, cell)
        elif head.column in (Column.CHART, Column.RECORDING) or not is_nothing(cell) or _is_asked(head, cell):
            _TAKES[head.column](draft, cell, head)
    doubt_key_in_title(draft)
    draft.name_in_doubts()
    return draft


def _is_asked(head: Head, cell: str) -> bool:
    """Return whether the list itself asks if the song is played."""
    return head.column is Column.PLAYED and "?" in cell


def _keys_first(heads: Sequence[Head | None], width: int) -> list[int]:
    """Return the columns, that of the key first: where it is filled, a title that ends in a letter is whole."""
    return sorted(
        range(width), key=lambda at: not (at < len(heads) and (head := heads[at]) and head.column is Column.KEY)
    )


def _take_title(draft: Draft, cell: str) -> None:
    for _ in range(MAX_MARKS):
        if found := BULLET.match(cell):
            cell = cell[found.end() :]
        elif (found := NUMBERED.match(cell)) and (BULLET.match(cell[found.end() :]) or not _is_key(draft, cell, found)):
            cell, draft.number = cell[found.end() :], int(found[1])
        elif draft.number is not None and (found := PART_LETTER.match(cell)):
            cell = cell[found.end() :]  # 3 | a) Moth
            draft.note(found[0].strip())
    if pointed := pointed_out(cell):
        cell, draft.says_out = pointed
    cell, stars, arrow = off_the_end(cell)
    draft.stars += stars
    draft.segue = draft.segue or arrow
    asks = cell[-2:] if draft.has_key and cell.endswith(" ?") else ""  # the title's own: the key is known
    cell = cell.removesuffix(asks)
    before = draft.key, draft.length_s, draft.tempo_bpm
    cell, *led = LEADER.split(cell)  # what dots lead to, where no column does
    for words in led:
        if words and not _take_fact(draft, words):
            draft.note(words)
    above, _, below = cell.partition(APART)
    if below[:1].islower() and above[:1].isupper() and APART not in below:
        cell = f"{above}  {below}"  # two lines in the cell: Moth / sleigh bells patch
    name, *behind = WIDE_GAP.split(cell)
    while behind and (_take_fact(draft, behind[-1]) or _take_small(draft, name, behind[-1])):
        behind.pop()
    draft.title = peel(draft, " ".join((name, *behind)), Style(draft.notation)).strip() + asks
    end = None if draft.has_key else key_at_end(draft.title, draft.notation)
    if end and end.before.isupper() and not end.written.isupper() and draft.take_key(end.written):
        draft.title = end.before  # MOTH IN THE HALL Am
    if (draft.key, draft.length_s, draft.tempo_bpm) != before and "(" not in cell:
        now = draft.key, draft.length_s, draft.tempo_bpm
        whole = FieldCorrection("title", " ".join(cell.split()))
        names = zip(("key", "length", "tempo"), now, before, strict=True)
        emptied = (FieldCorrection(name) for name, taken, earlier in names if taken != earlier)
        draft.doubts.append(
            Doubt(
                f"taken out of the title: {cell[len(draft.title) :].strip(' -–,')}",
                f"Is the title {draft.title!r}?",
                (DoubtAnswer("yes"), DoubtAnswer("no", (whole, *emptied))),
                asks_for="title",
            )
        )


def _is_key(draft: Draft, cell: str, found: re.Match[str]) -> bool:
    """Return whether only a key follows a number, which is the title then: 63 - G."""
    return plain_key(cell[found.end() :], notation=draft.notation) is not None


def _take_small(draft: Draft, title: str, words: str) -> bool:
    """Take words after a wide gap as a note, where they begin with a small letter and the title does not."""
    return title[:1].isupper() and words[:1].islower() and draft.note(words)


def _number(draft: Draft, cell: str, head: Head) -> None:  # noqa: ARG001  one signature for all columns
    digits = re.match(r"#?(\d{1,4})", cell.strip())
    if digits:
        draft.number = int(digits[1])
    else:
        draft.note(cell)


def _artist(draft: Draft, cell: str, head: Head) -> None:
    if not head.name and _take_fact(draft, cell):
        return  # an unnamed column, taken for artists by its contents
    if not head.name and takes_song_out(cell.strip()):
        draft.says_out = cell
        return
    draft.artist = cell if draft.artist is None else f"{draft.artist}, {cell}"


def _set(draft: Draft, cell: str, head: Head) -> None:  # noqa: ARG001  one signature for all columns
    draft.set_name = cell


def _starts(draft: Draft, cell: str, head: Head) -> None:
    if (at_min := clock_cell(re.sub(r":00$", "", cell) if cell.count(":") == 2 else cell)) is not None:
        draft.note(f"at {at_min // 60}:{at_min % 60:02}")
    elif len(cell.split()) > 4:
        draft.note(f"{head.name}: {cell}")
    else:
        draft.starts_with = read_remark(cell).starts_with or read_remark(f"{cell} starts").starts_with or cell
        if draft.starts_with != cell:
            draft.note(f"{head.name}: {cell}")  # as the leader wrote it


def _ending(draft: Draft, cell: str, head: Head) -> None:
    draft.ending = read_remark(cell).ending
    if draft.ending is None or draft.ending.value != cell.lower():
        draft.note(f"{head.name or 'ending'}: {cell}")


def _played(draft: Draft, cell: str, head: Head) -> None:
    said = cell.strip().lower()
    if said in NOT_PLAYED:
        draft.is_out = f"{head.name}: {cell}"
    elif _WHY.split(said)[0] in NOT_PLAYED or takes_song_out(cell.strip()):
        draft.says_out = f"{head.name}: {cell}"
    elif said not in YES and not is_nothing(said.rstrip("?")):
        draft.note(f"{head.name}: {cell}")
    if said.endswith("?") or _MAYBE.match(said):
        draft.doubts.append(song_that_may_be_played(f"{head.name}: {cell}", draft.title or draft.text))


def _chart(draft: Draft, cell: str, head: Head) -> None:
    said = cell.strip().lower()
    if said in YES or said in NO:
        draft.chart = said in YES
    elif re.search(r"\.(?:pdf|png|jpe?g|txt|docx?|musicxml)$", said):
        draft.chart = cell.strip()
    elif not is_nothing(cell):
        draft.note(f"{head.name or 'chart'}: {cell}")


def _recording(draft: Draft, cell: str, head: Head) -> None:
    if is_nothing(cell) or cell.strip().lower() in NO:
        return
    if draft.recording is None and ("/" in cell or re.search(r"\.\w{2,4}$", cell)):
        draft.recording = cell.strip()
    else:
        draft.note(f"{head.name or 'recording'}: {cell}")


def _named(take: Callable[[Draft, str], bool]) -> Callable[[Draft, str, Head], None]:
    """Take a cell by its column; else by its own form; else keep it in the notes and report it."""

    def put(draft: Draft, cell: str, head: Head) -> None:
        if not take(draft, cell):
            draft.doubts.append(Doubt(f"{head.column.value} not recognized, kept in the notes: {cell}"))
            draft.note(f"{head.name or head.column.value}: {cell}")

    return put


def _notes(draft: Draft, cell: str, head: Head) -> None:
    said = column_name(head)
    if said.startswith(("solo", "feature")) and cell.lower() not in ("yes", "y", "x", "no"):
        draft.note(cell if "solo" in cell.lower() or not said.startswith("solo") else f"{cell} solo")
    elif said.startswith("intro") and "intro" not in cell.lower():
        draft.note(f"{cell} intro")
    elif said.startswith(("solo", "feature")):
        draft.note(f"{head.name}: {cell}")
    elif cell.strip("*†★ ") == "":
        draft.stars += cell.strip()
    elif takes_song_out(cell.strip()):
        draft.says_out = cell
    elif not take_key_of_notes(draft, cell):
        if not draft.has_key and (named := _KEY_NAMED.search(cell)):
            draft.key = plain_key(named[1], notation=draft.notation)
        draft.note(cell)


def _take_fact(draft: Draft, cell: str) -> bool:
    piece = read_piece(cell, draft.notation)
    return piece.is_fact and draft.take(piece)


def column_name(head: Head) -> str:
    """Return the column's name in lower case."""
    return head.name.lower().strip()


def _other(draft: Draft, cell: str, head: Head) -> None:
    if column_name(head) == "segue":
        draft.segue = draft.segue or cell.lower() not in NO
        return
    if column_name(head) in ("segue", "feel", "style", "tempo feel") and draft.take_meter(cell):
        return
    draft.note(f"{head.name}: {cell}" if head.name else cell)


def _time(draft: Draft, cell: str) -> bool:
    return draft.take_length(cell, named=True) or draft.take_meter(cell)


def _key(draft: Draft, cell: str, head: Head) -> None:
    other = plain_key(cell, notation=draft.notation) if draft.key and head.name else None
    if other is None or other == draft.key:
        _named(take_key_cell)(draft, cell, head)
        return
    draft.note(f"{head.name}: {cell}")  # each singer's own
    answer = DoubtAnswer(str(other), (FieldCorrection("key", str(other)),))
    says = f"a second key, {head.name}: {cell}: used {draft.key}"
    question = f"Is {draft.title or draft.text!r} in {draft.key}?"
    draft.doubts.append(Doubt(says, question, (DoubtAnswer("yes"), answer), asks_for="key"))


_TAKES: dict[Column, Callable[[Draft, str, Head], None]] = {
    Column.NUMBER: _number,
    Column.SET: _set,
    Column.ARTIST: _artist,
    Column.KEY: _key,
    Column.RECORD_KEY: _named(Draft.take_record_key),
    Column.LENGTH: _named(_time),
    Column.TEMPO: _named(lambda draft, cell: draft.take_tempo(cell, named=True)),
    Column.METER: _named(Draft.take_meter),
    Column.STARTS: _starts,
    Column.ENDING: _ending,
    Column.CHART: _chart,
    Column.RECORDING: _recording,
    Column.PLAYED: _played,
    Column.NOTES: _notes,
    Column.OTHER: _other,
}
