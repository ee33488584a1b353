"""Medleys: a line that only says so, and its songs below, each with its key."""

from collections.abc import Sequence

from companion.setlist.model import LineKind
from companion.setlist.parsing.line_forms import Classified

FEWEST = 2  # songs of a medley


def take_medleys(found: Sequence[Classified]) -> None:
    """Take the lettered or deeper lines with keys below ``4. Medley:`` for songs, and that line for a note on each."""
    for at, one in enumerate(found):
        draft = one.draft
        if one.took is not None or draft is None or draft.has_key or not one.line.text.rstrip().endswith(":"):
            continue
        parts = _parts_below(found, at)
        if len(parts) < FEWEST:
            continue
        one.took, one.draft = LineKind.LEFT, None
        for part in parts:
            part.took = LineKind.SONG
            if part.draft:
                part.draft.note(draft.title.rstrip(": "))


def _parts_below(found: Sequence[Classified], at: int) -> list[Classified]:
    parts = []
    for one in found[at + 1 :]:
        line, above = one.line, found[at].line
        is_part = line.is_lettered or (line.row.indent > above.row.indent and (line.is_marked or above.is_marked))
        if one.took is not None or one.draft is None or not is_part or not one.draft.has_key:
            break
        parts.append(one)
    return parts
