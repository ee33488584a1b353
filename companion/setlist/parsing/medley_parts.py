"""Medleys: a line that only says so, and its songs below, each with its key or all in the one that it names."""

import re
from collections.abc import Sequence
from typing import Final

from companion.setlist.model import LineKind
from companion.setlist.notation import Notation
from companion.setlist.parsing.doubts import doubtful_song
from companion.setlist.parsing.key_layout import key_places
from companion.setlist.parsing.line_forms import Classified

FEWEST = 2  # songs of a medley
_SAYS_SO: Final = re.compile(
    r"(?<!\w)(?:medley|mash-?up|pot-?pourri|popurr[ií]|pout-?pourri|straight through|no gaps)(?!\w)", re.IGNORECASE
)


def take_medleys(found: Sequence[Classified], notation: Notation) -> None:
    """Take the lettered or deeper lines with keys below ``4. Medley:`` for songs, and that line for a note on each.

    Where the line says medley, they need no key; they have the one that it names, in doubt.
    """
    for at, one in enumerate(found):
        draft = one.draft
        if one.took is not None or draft is None or not one.line.text.rstrip().endswith(":"):
            continue
        says_so = _SAYS_SO.search(one.line.text) is not None
        if draft.has_key and not says_so:
            continue
        parts = _parts_below(found, at, keyed=not says_so)
        if len(parts) < FEWEST:
            continue
        named = {str(place.key): place.key for place in key_places(one.line.text, notation)}
        key = draft.key or (next(iter(named.values())) if len(named) == 1 else None)
        one.took, one.draft = LineKind.LEFT, None
        for part in parts:
            part.took = LineKind.SONG
            if part.draft is None:
                continue
            part.draft.note(draft.title.rstrip(": "))
            if not part.draft.has_key:
                part.draft.key = key
                part.draft.doubts.append(doubtful_song("stands below a line that says medley", part.draft.title))


def _parts_below(found: Sequence[Classified], at: int, *, keyed: bool) -> list[Classified]:
    parts = []
    for one in found[at + 1 :]:
        line, above = one.line, found[at].line
        is_part = line.is_lettered or (line.row.indent > above.row.indent and (line.is_marked or above.is_marked))
        if one.took is not None or one.draft is None or not is_part or (keyed and not one.draft.has_key):
            break
        parts.append(one)
    return parts
