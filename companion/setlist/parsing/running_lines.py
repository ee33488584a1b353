"""Take the lines apart that hold several songs among other words: each part becomes a line of its own."""

import re
from collections.abc import Iterator, Sequence

import msgspec

from companion.setlist.notation import Notation
from companion.setlist.parsing.inline_songs import in_slashes
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.line_kinds import is_legend
from companion.setlist.parsing.list_talk import says_same_as_before
from companion.setlist.parsing.patterns import TAIL
from companion.setlist.parsing.running_text import PartKind, TextPart, running_parts
from companion.setlist.parsing.running_titles import MAX_LINES, bare_numbered, bare_titles, numbered_parts
from companion.setlist.parsing.running_words import LEAD
from companion.setlist.parsing.talk_changes import TalkKind, changes_said
from companion.setlist.parsing.text_lines import TextLine
from companion.show.titles import folded

LONGEST_SONG = 10  # words of a line with one song and a comma
SMALL_WORD = 3  # letters of a word that is small in titles
MANY_MORE = 2  # times as many titles between commas as before keys
_IN_COLUMNS = re.compile(
    r"^\S+(?: \S+)* {2,}[A-H](?:[b#♭♯]|is|es|s)?m?$"
)  # one title and its key, apart: JOE B. LATE   A
PAIR = 2  # songs
FEWEST_LINES, MOST = 3, 0.6  # number and share of the lines that tell whether titles have capitals


def without_running_text(lines: Sequence[TextLine], notation: Notation) -> Sequence[TextLine]:
    """Return the lines with those taken apart that hold several songs among other words."""
    filled = [line for line in lines if line.text and not line.message.is_envelope]
    rises = len(filled) >= FEWEST_LINES and sum(line.text[:1].isupper() for line in filled) >= MOST * len(filled)
    if _have_slashes(filled, notation):
        return lines  # Moth / D / drone on the low D, no chords: each line is one song
    lines = [one for line in lines for one in _numbered(line, notation)]
    bare = [_bare(line) if len(filled) <= MAX_LINES else () for line in lines]
    found = _without_orders(lines, [_parts(line, notation, rises=rises) for line in lines], bare, notation)
    found = _without_notes(filled, lines, found, notation)
    if not any(found) or (any(bare) and _songs(bare) >= MANY_MORE * _songs(found)):
        found = bare  # few of the titles are said to have a key
    if not any(found):
        return lines
    found = [parts or _parts(line, notation, rises=rises, fewest=1) for line, parts in zip(lines, found, strict=True)]
    found = _without_repeats(lines, _without_orders(lines, found, bare, notation), notation)
    return [
        one
        for line, parts in zip(lines, found, strict=True)
        for one in (list(_apart(line, parts)) if parts else [line])
    ]


def _without_notes(
    filled: Sequence[TextLine], lines: Sequence[TextLine], found: list[tuple[TextPart, ...]], notation: Notation
) -> list[tuple[TextPart, ...]]:
    """Return the parts, a second song in small letters behind a note being one more note where lines are one song each.

    Moth Gm ends in feedback, hold the low G: the second key is of the note.
    """
    plain = sum(_is_one_song(line.text, notation) for line in filled)
    if plain < max(FEWEST_LINES, MOST * (len(filled) - sum(map(bool, found)))):
        return found
    return [_as_one_song(line.text, parts) for line, parts in zip(lines, found, strict=True)]


def _is_one_song(text: str, notation: Notation) -> bool:
    """Return whether a line is a title and its key, whatever its bracket says."""
    bracket = TAIL.match(text)
    return key_at_end(bracket[1] if bracket else text, notation) is not None or _title(text, notation) != ""


def _as_one_song(text: str, parts: tuple[TextPart, ...]) -> tuple[TextPart, ...]:
    first, second = parts if len(parts) == PAIR else (None, None)
    if first is None or second is None or not first.kind is second.kind is PartKind.SONG:
        return parts
    title, _, key = first.text.rpartition(" (")
    before, written, behind = text[len(title) :].partition(key.rstrip(")"))
    note = behind.strip()
    leads_on = not text.startswith(title) or not written or before.strip(" (-–—:,") or behind.strip() == behind
    if leads_on or not note[:1].islower() or note.startswith(second.text.rpartition(" (")[0]) or LEAD.match(note):
        return parts
    return (msgspec.structs.replace(first, note=note),) if second.text[0].islower() else parts


def _have_slashes(filled: Sequence[TextLine], notation: Notation) -> bool:
    """Return whether most lines are a title without a key, a slash and its key."""
    rows = [line.text.split(" / ") for line in filled]
    keyed = sum(
        len(row) > 1
        and plain_key(row[1].strip(" ?"), notation=notation) is not None
        and key_at_end(row[0], notation) is None
        for row in rows
    )
    return keyed >= max(FEWEST_LINES, MOST * len(filled))


def _without_orders(
    lines: Sequence[TextLine],
    found: Sequence[tuple[TextPart, ...]],
    bare: Sequence[tuple[TextPart, ...]],
    notation: Notation,
) -> list[tuple[TextPart, ...]]:
    """Return the parts of the lines, none of a line that changes songs above it. ``bare``: rows of titles alone."""
    above: list[str] = []
    made = []
    for line, parts, row in zip(lines, found, bare, strict=True):
        is_order = bool(parts) and any(
            one.kind is not TalkKind.NOTE and one.is_whole for one in changes_said(line.text, above, notation)
        )
        made.append(() if is_order else parts)
        if not is_order:
            new = list(_apart(line, parts)) if parts else [line]
            above += [title for one in new if (title := _title(one.text, notation))]
            above += [part.text for part in row if part.kind is PartKind.SONG]
    return made


def _without_repeats(
    lines: Sequence[TextLine], found: Sequence[tuple[TextPart, ...]], notation: Notation
) -> list[tuple[TextPart, ...]]:
    """Return the parts of the lines, none of talk that only names songs which the list has with numbers."""
    listed = {folded(_title(line.text, notation) or line.text) for line in lines if line.is_marked}
    made = []
    for parts in found:
        titles = {folded(_title(part.text, notation) or part.text) for part in parts if part.kind is PartKind.SONG}
        made.append(() if titles and titles <= listed else parts)
    return made


def _songs(found: Sequence[Sequence[TextPart]]) -> int:
    return sum(part.kind is PartKind.SONG for parts in found for part in parts)


def _title(text: str, notation: Notation) -> str:
    """Return what may be a title in front of a key; "" for a line without one."""
    bare = text.strip()
    if "," in bare and len(bare.split()) > LONGEST_SONG:
        return ""
    if (bracket := TAIL.match(bare)) and plain_key(bracket[2], notation=notation):
        return bracket[1].strip(" -–—:,")
    end = key_at_end(bare, notation)
    return end.before.strip(" -–—:,") if end else ""


def _parts(line: TextLine, notation: Notation, *, rises: bool, fewest: int = 2) -> tuple[TextPart, ...]:
    if line.message.is_envelope or line.is_marked or line.is_struck or not line.text:
        return ()
    if (
        _IN_COLUMNS.match(line.text)
        or is_legend(line.text)
        or in_slashes(line.text, notation)
        or (fewest == 1 and _is_plain_song(line.text, notation))
    ):
        return ()
    return running_parts(line.text, notation, fewest=fewest, rises=rises)


def _is_plain_song(text: str, notation: Notation) -> bool:
    """Return whether a line is one title in capitals and its key, not words that lead to one: First Light E (slow)."""
    bracket = TAIL.match(text)
    end = key_at_end(bracket[1] if bracket else text, notation)
    if end is None or end.is_said or not text[0].isupper():
        return False
    words = end.before.strip(" -–—").split()
    return len(words) > 1 and all(word[0].isupper() or len(word) <= SMALL_WORD for word in words if word.isalpha())


def _numbered(line: TextLine, notation: Notation) -> list[TextLine]:
    """Return a line for each song of a line that numbers several."""
    if line.message.is_envelope or line.is_struck or line.is_bulleted or line.is_lettered:
        return [line]
    before, songs = numbered_parts(line.text, line.number)
    if not songs and line.number is None:
        before, songs = bare_numbered(line.text, notation)
    if not songs:
        return [line]
    said = [(None, before)] if before else []
    return [
        msgspec.structs.replace(
            line,
            row=msgspec.structs.replace(
                line.row, cells=(text,), text=text, blank_before=line.row.blank_before and not at, spans=()
            ),
            text=text,
            whole=text,
            number=number or None,
        )
        for at, (number, text) in enumerate([*said, *songs])
    ]


def _bare(line: TextLine) -> tuple[TextPart, ...]:
    if line.message.is_envelope or line.is_marked or line.is_struck or says_same_as_before(line.text):
        return ()
    return bare_titles(line.text)


def _apart(line: TextLine, parts: Sequence[TextPart]) -> Iterator[TextLine]:
    for at, part in enumerate(parts):
        said = f"{part.text} {part.note}".strip()
        row = msgspec.structs.replace(
            line.row, cells=(said,), text=said, blank_before=line.row.blank_before and not at, spans=()
        )
        yield msgspec.structs.replace(line, row=row, text=part.text, whole=part.text, part=part)
