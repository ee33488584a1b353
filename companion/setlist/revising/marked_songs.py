"""Marks that stand in a message for the titles of the show's songs, so that no word of a title is read otherwise."""

import re
from collections.abc import Sequence
from typing import Final

_SONG: Final = "\ue000{}\ue001"  # stands for a title of the show, so that no word of it is read as anything else
ONE: Final = r"\ue000(\d+)\ue001"
ONE_HERE: Final = r"\ue000\d+\ue001"


def with_marks(text: str, titles: Sequence[str]) -> str:
    """Put a mark for each title of the show, the longest titles first."""
    for at in sorted(range(len(titles)), key=lambda at: -len(titles[at])):
        words = re.findall(r"[\w'’]+", titles[at])
        if words:
            pattern = (
                r"[\"“'‘]?(?<![\w\ue000])"
                + r"[^\w\ue000\ue001]{1,3}".join(map(re.escape, words))
                + r"(?![\w\ue001])"
                + (r"[?!.]?" if titles[at].rstrip()[-1:] in "?!." else "")
                + r"[\"”'’]?"
            )
            text = re.sub(pattern, _SONG.format(at), text, flags=re.IGNORECASE)
    return text


def unmarked(text: str, titles: Sequence[str]) -> str:
    """Return a text with the titles in the place of their marks."""
    return re.sub(ONE, lambda found: titles[int(found[1])], text)
