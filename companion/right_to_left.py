"""Letters that run from right to left, in the order in which a line draws them, on paper and on stage."""

import re
from functools import lru_cache
from typing import Final
from unicodedata import bidirectional

RUNS_LEFT: Final = ("R", "AL")  # Unicode Standard Annex #9, table 4: Hebrew and the like, Arabic and the like
STAYS_WITH: Final = (
    "\u034f"  # has no width, and stays with the sign before it (same, W1): so it tells how that sign runs
)


@lru_cache(1024)  # a window stays up all night
def as_drawn(text: str) -> str:
    """Give a line's letters from left to right as they stand, by Unicode Standard Annex #9.

    Most lines are drawn as they are written. Arabic letters are not joined.
    """
    if text.isascii() or not any(bidirectional(sign) in RUNS_LEFT for sign in text):
        return text
    from bidi import get_display  # noqa: PLC0415 - few titles need it
    from bidi.mirror import MIRRORED  # noqa: PLC0415

    bracket = f"[{re.escape(''.join(MIRRORED))}]"
    told = re.sub(bracket, lambda one: one[0] + STAYS_WITH, text.replace(STAYS_WITH, ""))
    drawn = str(get_display(told))
    # The library leaves it to us to mirror the brackets that run left (same, L4): those have their mark before them.
    return re.sub(
        f"{STAYS_WITH}({bracket})|({bracket}){STAYS_WITH}", lambda one: MIRRORED[one[1]] if one[1] else one[2], drawn
    )
