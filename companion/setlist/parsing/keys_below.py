"""Keys that stand on a line of their own below their titles: with words behind one, the words are a note."""

import itertools
from collections.abc import Sequence
from typing import Final

from companion.setlist.model import LineKind
from companion.setlist.notation import Notation
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.patterns import COMMA
from companion.setlist.parsing.pieces import key_in_front

SIGNS: Final = " -–—:;"  # between a key and words
FEWEST: Final = 3  # titles with nothing but a key below


def take_keys_below(found: Sequence[Classified], notation: Notation) -> None:
    """Take a line for the key and a note on the title above, where other titles have a key below: Em, wait for me."""
    pairs = list(itertools.pairwise(found))
    lone = [above for above, one in pairs if one.took is LineKind.NOTE and _is_key(one, notation)]
    alone = sum(_is_title(above, notation) for above in lone)
    if alone < FEWEST:
        return
    for above, one in pairs:
        if one.took is None and not one.line.is_marked and not one.line.row.blank_before and _is_title(above, notation):
            first, *more = COMMA.split(one.line.text)
            parted = key_in_front(one.line.text, notation)
            if more and plain_key(first, notation=notation):
                parted = first, ", ".join(more)
            if parted:
                one.took, one.facts = LineKind.NOTE, f"{parted[0]}, {parted[1].lstrip(SIGNS)}"


def _is_key(one: Classified, notation: Notation) -> bool:
    return plain_key(one.line.text, notation=notation) is not None


def _is_title(one: Classified, notation: Notation) -> bool:
    return one.took is None and not _is_key(one, notation) and key_at_end(one.line.text, notation) is None
