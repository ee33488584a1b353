"""Right-to-left text put into drawing order, for paper and stage."""

import re
from functools import lru_cache
from typing import Final
from unicodedata import bidirectional

RUNS_LEFT: Final = ("R", "AL")  # Unicode Standard Annex #9, table 4: Hebrew and the like, Arabic and the like
STAYS_WITH: Final = (
    "\u034f"  # has no width and takes the direction of the character before it (same, W1), so it marks that direction
)


@lru_cache(1024)  # a window stays up all night
def as_drawn(text: str) -> str:
    """Return a line's characters in drawing order, left to right (Unicode Standard Annex #9).

    A line without right-to-left letters is returned unchanged. Arabic letters are not joined.
    """
    if text.isascii() or not any(bidirectional(sign) in RUNS_LEFT for sign in text):
        return text
    from bidi import get_display
    from bidi.mirror import MIRRORED

    bracket = f"[{re.escape(''.join(MIRRORED))}]"
    marked = re.sub(bracket, lambda one: one[0] + STAYS_WITH, text.replace(STAYS_WITH, ""))
    drawn = str(get_display(marked))
    # The library does not mirror right-to-left brackets (same, L4). Those now have their mark before them.
    return re.sub(
        f"{STAYS_WITH}({bracket})|({bracket}){STAYS_WITH}", lambda one: MIRRORED[one[1]] if one[1] else one[2], drawn
    )
