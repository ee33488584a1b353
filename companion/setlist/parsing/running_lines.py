"""Take the lines apart that hold several songs among other words: each part becomes a line of its own."""

from collections.abc import Iterator, Sequence

import msgspec

from companion.setlist.notation import Notation
from companion.setlist.parsing.running_text import TextPart, running_parts
from companion.setlist.parsing.text_lines import TextLine

FEWEST_LINES, MOST = 3, 0.6  # number and share of the lines that tell whether titles have capitals


def without_running_text(lines: Sequence[TextLine], notation: Notation) -> Sequence[TextLine]:
    """Return the lines with those taken apart that hold several songs among other words."""
    filled = [line for line in lines if line.text and not line.message.is_envelope]
    rises = len(filled) >= FEWEST_LINES and sum(line.text[:1].isupper() for line in filled) >= MOST * len(filled)
    found = [_parts(line, notation, rises=rises) for line in lines]
    if not any(found):
        return lines
    found = [parts or _parts(line, notation, rises=rises, fewest=1) for line, parts in zip(lines, found, strict=True)]
    made: list[TextLine] = []
    for line, parts in zip(lines, found, strict=True):
        made += list(_apart(line, parts)) if parts else [line]
    return made


def _parts(line: TextLine, notation: Notation, *, rises: bool, fewest: int = 2) -> tuple[TextPart, ...]:
    if line.message.is_envelope or line.is_marked or line.is_struck or not line.text:
        return ()
    return running_parts(line.text, notation, fewest=fewest, rises=rises)


def _apart(line: TextLine, parts: Sequence[TextPart]) -> Iterator[TextLine]:
    for at, part in enumerate(parts):
        said = f"{part.text} {part.note}".strip()
        row = msgspec.structs.replace(
            line.row, cells=(said,), text=said, blank_before=line.row.blank_before and not at, spans=()
        )
        yield msgspec.structs.replace(line, row=row, text=part.text, whole=part.text, part=part)
