"""Keys that head a group of songs: In G: and the songs below it, which have no keys of their own."""

import re
from collections.abc import Sequence

from companion.music import Key
from companion.setlist.model import LineKind
from companion.setlist.notation import Notation
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.line_forms import Classified

_SAID = re.compile(
    r"^(?:(?:songs |all |these |tunes )?in(?: the key of)?|key(?: of)?|tonart)\b[\s:]+(\S.{0,18}?)\s*:?$", re.IGNORECASE
)
_COLON = re.compile(r"^([A-Ha-h]\S{0,3}(?:[ -](?:major|minor|flat|sharp|dur|moll)){0,2})\s*:$")
_BRACKETED = re.compile(r"[(\[][A-H](?:[b#♭♯]|is|es)?m?[)\]]$")
MAX_KEYED = 0.3  # share of the songs in the groups that may have a key of their own
FEWEST = 2  # songs to a key, on average; a key below each title is its own


def group_keys(found: Sequence[Classified], notation: Notation) -> dict[int, Key]:
    """Return the key of each line that is below the heading of a key, and account for these headings."""
    heads = {at: key for at, one in enumerate(found) if (key := _heads_group(one, notation))}
    first = next((at for at, one in enumerate(found) if one.took is None), len(found))
    if heads and min(heads) > first:  # a bare key below a title is its own
        heads = {at: key for at, key in heads.items() if found[at].took is not LineKind.NOTE}
    if not heads:
        return {}
    given: dict[int, Key] = {}
    key = None
    for at, one in enumerate(found):
        if at in heads:
            key = heads[at]
        elif one.took in (LineKind.SET, LineKind.BREAK):
            key = None
        elif one.took is None and key:
            given[at] = key
    keyed = sum(_is_keyed(found[at].line.text, notation) for at in given)
    if len(given) < FEWEST * len(heads) or keyed > MAX_KEYED * len(given):
        return {}
    for at in heads:
        found[at].took = LineKind.MARK
    return given


def _heads_group(one: Classified, notation: Notation) -> Key | None:
    """Return the key that a line names and nothing else."""
    text = one.line.text
    if one.took not in (None, LineKind.NOTE) or one.line.is_marked:
        return None
    found = _SAID.match(text) or _COLON.match(text)
    written = found[1] if found else text if one.took is LineKind.NOTE else ""
    return plain_key(written, notation=notation) if written else None


def _is_keyed(text: str, notation: Notation) -> bool:
    end = key_at_end(text, notation)
    return _BRACKETED.search(text) is not None or (end is not None and (end.is_strong or end.before[-1:] in "-–—:,|/"))
