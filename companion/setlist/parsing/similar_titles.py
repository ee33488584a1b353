"""Ask whether two songs of one list with nearly the same title are one: Gravel Hour, Gravel Hours."""

import re
from collections import Counter

from rapidfuzz import fuzz

from companion.setlist.model import Doubt, DoubtAnswer, LineCorrection, LineKind
from companion.setlist.parsing.builder import SetListBuilder
from companion.setlist.parsing.doubts import YES
from companion.show.titles import folded

ALIKE = 90  # per cent; a letter more or less
MANY, MOST_AGAIN = 3, 0.25  # number and share of the titles
LONG_ENOUGH = 7  # letters; in a shorter title one letter makes another word
_NUMBER = re.compile(r"\d+|\b(?:one|two|three|four|[ivx]{1,4})\b")


def doubt_similar_titles(gathered: SetListBuilder) -> None:
    """Doubt each song whose title is nearly that of a song above; the same title again is a song played twice."""
    _doubt_songs_again(gathered)
    above: list[tuple[str, str]] = []
    for draft in (draft for each in gathered.sets for draft in each.songs):
        title = folded(draft.title)
        same = next((shown for other, shown in above if _are_alike(other, title)), None)
        if same is not None:
            not_played = DoubtAnswer("no", (LineCorrection(LineKind.ASIDE),))
            says = f"nearly the title of a song above, {same}: read as two songs"
            draft.doubts.append(Doubt(says, f"Are {same!r} and {draft.title!r} two songs?", (YES, not_played)))
        above.append((title, draft.title))


def _doubt_songs_again(gathered: SetListBuilder) -> None:
    """Doubt a list in which many songs stand twice: it may be two lists of the same band."""
    titles = [folded(draft.title) for each in gathered.sets for draft in each.songs]
    again = sum(count > 1 for count in Counter(titles).values())
    if again >= max(MANY, MOST_AGAIN * len(set(titles))):
        gathered.doubts.append(Doubt(f"{again} songs are in it twice: if it holds two lists, import one of them alone"))


def _are_alike(one: str, other: str) -> bool:
    if one == other or len(one) < LONG_ENOUGH or not fuzz.ratio(one, other, score_cutoff=ALIKE):
        return False
    return _NUMBER.findall(one) == _NUMBER.findall(other)
