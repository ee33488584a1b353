"""Words of an answer with one typing error, exept, gutiar, orignal, and a title's words cut short: Glitter inv."""

import re
from collections.abc import Sequence
from collections.abc import Set as AbstractSet
from functools import lru_cache
from itertools import pairwise
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


def unabbreviated(words: list[ReplyWord], titles: Sequence[str], known: AbstractSet[str]) -> list[ReplyWord]:
    """Return words with those of titles that are cut short written out: "Glitter inv. G", "mistl. in C".

    The beginning of the word that follows in a title is enough; at a line's start that of any, before a dot and a key.
    """
    kept: list[ReplyWord] = []
    names = words_of_titles(titles)
    pairs = {pair for title in titles for pair in pairwise(title.split())}
    ends_cut = -1  # the place of the dot of a word that is written out
    for at, word in enumerate(words):
        if at == ends_cut:
            continue
        is_short = word.kind == WORD and len(word.low) >= LEAST_CUT and word.low not in names and word.low not in known
        whole = _written_out(word.low, kept[-1].low if kept else "", pairs) if is_short else ""
        has_dot = is_short and _has_dot(words, at)
        if has_dot and not whole and all(one.kind != WORD for one in kept):
            begun = [one for one in names if one.startswith(word.low)]
            whole = begun[0] if len(begun) == 1 else ""
        ends_cut = at + 1 if whole and has_dot else ends_cut
        kept.append(word._replace(low=whole) if whole else word)
    return kept


def _written_out(said: str, before: str, pairs: AbstractSet[tuple[str, str]]) -> str:
    """Return the one word that begins so and stands in a title behind the word before; "" if there is none."""
    found = {two for one, two in pairs if one == before and len(one) >= LEAST_CUT and two.startswith(said)}
    return found.pop() if len(found) == 1 else ""


def _has_dot(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a dot stands right behind a word, and what is said of a song right behind the dot."""
    dot, follows = (words[one] if one < len(words) else None for one in (at + 1, at + 2))
    is_dot = dot is not None and dot.text == "." and dot.start == words[at].end
    return is_dot and follows is not None and (_KEY.match(follows.text) is not None or follows.low in _SAID_OF)


_KEY: Final = re.compile(r"[A-H][b#♭♯]?m?$")
_SAID_OF: Final = set_of("in is : = - en i")
LEAST_CUT: Final = 3  # letters


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
