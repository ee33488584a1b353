"""Words of an answer with one typing error: exept, gutiar, orignal."""

from collections.abc import Sequence
from collections.abc import Set as AbstractSet
from functools import lru_cache
from typing import Final

from rapidfuzz.distance import OSA

from companion.leader.reply_words import WORD, ReplyWord, set_of

LEAST: Final = 5  # letters; a shorter word with one error is too many others
MEANT: Final = set_of(
    "except everything everyone original originals recording record recorded version drums drummer guitar piano "
    "keyboard starts start starting ending endings fades chart charts major minor sharp dropped instead sorry "
    "actually please thanks others second first third number usual straight acoustic probably definitely tempo "
    "organ chorus bridge cheers cancelled skipped without changed should"
)
# English words that are one letter away from one of these.
NOT_MEANT: Final = set_of(
    "other "
    "miner miners manor manors minors mayor majors shape share shark sharps smart stark stars stare starter state "
    "faces faced fader fares fated chant chants charm charms carts chats chars mothers bothers brothers bother "
    "mother accept expect excerpt excepts fist fists thirst birds ordinal organs organic tempos temps records "
    "recorder pianos pleased pleases lease sending bending lending mending tending vending pending ended worry "
    "lorry sorty stork dreams drams drugs jumbled numbers lumber slumber guitars drummers drum numb staring "
    "storing starving starring sterling string change charged changes hanged shoulder hould would could shipped "
    "slipped chopped stopped dropper flipped tripped seconds thirds bridges fridge brides usually casual "
    "stating stats ridge bridged reword reworded probable faded skipper thank thinks tanks hanks shanks "
    "bride cheer chess choruses courses versions aversion mayors"
)


def respelled(words: list[ReplyWord], names: AbstractSet[str], known: AbstractSet[str]) -> list[ReplyWord]:
    """Return words compared as the word that they are one typing error away from.

    ``names``: words of titles and sets, which stay. ``known``: words that are read as they are.
    """
    return [
        word._replace(low=_meant(word.low))
        if word.kind == WORD and len(word.low) >= LEAST and word.low not in names and word.low not in known
        else word
        for word in words
    ]


@lru_cache(maxsize=4096)
def _meant(low: str) -> str:
    """Return the one word that has this typing error, or else the word itself."""
    if low in MEANT or low in NOT_MEANT or low.removesuffix("s") in MEANT or not low.isalpha():
        return low
    alike = [one for one in MEANT if abs(len(one) - len(low)) < 2 and OSA.distance(one, low, score_cutoff=1) == 1]
    return alike[0] if len(alike) == 1 else low


def words_of_titles(titles: Sequence[str]) -> frozenset[str]:
    """Return the words of titles, folded."""
    return frozenset(word for title in titles for word in title.split())
