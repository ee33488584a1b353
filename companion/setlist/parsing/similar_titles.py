"""Ask whether two songs of one list with nearly the same title are one: Gravel Hour, Gravel Hours."""

import re

from rapidfuzz import fuzz

from companion.setlist.model import Doubt, DoubtAnswer, LineCorrection, LineKind
from companion.setlist.parsing.builder import SetListBuilder
from companion.setlist.parsing.doubts import YES
from companion.show.titles import folded

ALIKE = 90  # per cent; a letter more or less
LONG_ENOUGH = 7  # letters; in a shorter title one letter makes another word
_NUMBER = re.compile(r"\d+|\b(?:one|two|three|four|[ivx]{1,4})\b")


def doubt_similar_titles(gathered: SetListBuilder) -> None:
    """Doubt each song whose title is nearly that of a song above; the same title again is a song played twice."""
    above: list[tuple[str, str]] = []
    for draft in (draft for each in gathered.sets for draft in each.songs):
        title = folded(draft.title)
        same = next((shown for other, shown in above if _are_alike(other, title)), None)
        if same is not None:
            not_played = DoubtAnswer("no", (LineCorrection(LineKind.ASIDE),))
            says = f"nearly the title of a song above, {same}: read as two songs"
            draft.doubts.append(Doubt(says, f"Are {same!r} and {draft.title!r} two songs?", (YES, not_played)))
        above.append((title, draft.title))


def _are_alike(one: str, other: str) -> bool:
    if one == other or len(one) < LONG_ENOUGH or not fuzz.ratio(one, other, score_cutoff=ALIKE):
        return False
    return _NUMBER.findall(one) == _NUMBER.findall(other)
