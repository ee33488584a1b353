"""Find the keys between which a line of talk asks, and the answer: is Moth in C or Bb these days. Bb."""

import itertools
import re
from collections.abc import Sequence
from typing import Final

from companion.music import Key
from companion.setlist.model import LineKind
from companion.setlist.notation import Notation
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.line_forms import Classified

_KEY: Final = r"[A-H](?:[b#♭♯]|is|es|\s(?:flat|sharp))?(?:m|\sminor|\smajor)?"
_CHOICE: Final = re.compile(
    rf"(?<!\w)({_KEY})\s(?:or|oder|ou|of|eller|nebo|czy|tai)\s(?:in\s|en\s)?({_KEY})(?![\w#♭♯])"
)


def keys_asked(text: str, notation: Notation) -> tuple[Key, ...]:
    """Return the two keys that a line leaves open; nothing where it names no choice.

    >>> [len(keys_asked(text, Notation.LETTERS)) for text in ("is Moth in C or Bb now", "Moth is in C", "A or nothing")]
    [2, 0, 0]
    """
    found = _CHOICE.search(text)
    keys = [plain_key(found[at], notation=notation) for at in (1, 2)] if found else []
    return tuple(key for key in keys if key) if all(keys) else ()


def leave_answers(found: Sequence[Classified], notation: Notation) -> None:
    """Take a message that is one of the keys asked for in another's message above for talk, not for a note."""
    for above, one in itertools.pairwise(found):
        sender = one.line.message.sender
        if not sender or sender == above.line.message.sender or one.took not in (None, LineKind.NOTE):
            continue
        key = plain_key(one.line.text.strip(" .!"), notation=notation)
        if key and key in keys_asked(above.line.text, notation):
            one.took, one.draft, one.doubts = LineKind.LEFT, None, ()
