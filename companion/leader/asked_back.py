"""Questions that the leader asks back: "Do you need A4 or A3 charts?" They state nothing, and the player sees them."""

import re
from typing import Final

_ASKS_BACK: Final = re.compile(
    r"(?:^|(?<=[.!?;] ))(?:oh |and |ps:? |also,? )?"
    r"(?:(?:do|did|will|are|can|could|would|have) you (?:still |also |please |be able to )?"
    r"(?:need|have|got|want|bring|bringing|print|take|taking|send|lend|mind|drive|driving|come|coming|eat|stay|know|own|"
    r"fancy|pick|give|text|call|ring|ask|tell)\b|(?:is|are) there (?:any |a |somewhere )|"
    r"(?:hast du|haben sie|kannst du|können sie|as-tu|avez-vous|peux-tu|hai|puoi|tienes|puedes|heb je|kun je|har du|"
    r"kan du|masz|możesz|tens|podes)\b)[^?.!]{1,160}\?+",
    re.IGNORECASE,
)
_STATES: Final = re.compile(r"\b\d{1,2}\s?(?:is |in |=|: ?)?[A-G][b#♭♯]?m?\b(?! ?\d)")


def without_questions(text: str) -> tuple[str, tuple[str, ...]]:
    """Split off the questions that a line asks back; one that may state a key stays: "Can you do 3 in G?".

    >>> without_questions("Do you need A4 or A3 charts? 2 in D")
    ('2 in D', ('Do you need A4 or A3 charts?',))
    """
    asked = [found for found in _ASKS_BACK.finditer(text) if not _STATES.search(found[0])]
    rest = text
    for found in reversed(asked):
        rest = f"{rest[: found.start()]} {rest[found.end() :]}"
    return " ".join(rest.split()) if asked else text, tuple(found[0] for found in asked)
