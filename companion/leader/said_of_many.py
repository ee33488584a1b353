"""What a reply says of all songs, of most of them or of the rest, beside what it says otherwise of some."""

import re
from collections.abc import Iterator, Sequence
from typing import Final

from companion.leader.most_meant import NOT_ALL
from companion.leader.reply_items import KeyFact
from companion.leader.reply_pieces import SAYS_ALL
from companion.leader.reply_readings import Claim
from companion.leader.reply_words import ReplyWord, set_of, words_of
from companion.leader.settled_claims import ReplySettling, ValueOf
from companion.leader.songs_meant import SongNames

FEW: Final = 2  # songs that all may be without a question
SAYS_REST: Final = re.compile(
    r"\b(?:rest|others?|else|remain\w{0,4}|left|anderen|autres|demás|resten)\b", re.IGNORECASE
)
# What the message asks of all songs at once: the odd ones, and what most of them do.
ASKED_AT_ONCE: Final = ("starts_with", "ending", "chart")


def as_said_of_many(settling: ReplySettling, claim: Claim, field: str, before: Sequence[ValueOf]) -> Claim:
    """Return a claim about all songs with its doubt, by what the reply says otherwise of some: "all in E. 1 G".

    What was said of most songs is said of the rest once the odd ones are named. ``before``: what the reply had said by
    then; where the message asks for all at once, what follows are the odd ones: "all cold, 1 and 9 fade".
    """
    odd = list(_said_otherwise(settling, claim, field))
    reasons = [why for why in claim.doubt.split("; ") if why]
    if odd or claim.about.songs:
        reasons = [why for why in reasons if why != NOT_ALL]
    are_named_after = field in ASKED_AT_ONCE and not claim.corrects and not any(one in before for one in odd)
    says_all = SAYS_ALL.search(claim.words) and not SAYS_REST.search(claim.words)
    if odd and says_all and not are_named_after:
        _, place, _ = odd[0]
        value = settling.values[odd[0]][-1].value
        reasons.append(f"the reply also says {value} for {settling.song(place or 0).title}")
    return claim._replace(doubt="; ".join(reasons))


def with_many_doubted(claim: Claim, field: str, songs: Sequence[int]) -> Claim:
    """Doubt who starts many songs at once: a click, a count or a player of them all may start none of them alone."""
    if claim.doubt or field != "starts_with" or len(songs) <= FEW or SAYS_REST.search(claim.words):
        return claim
    return claim._replace(doubt=f"said of {len(songs)} songs at once")


def unknown_set(line: str, names: SongNames) -> str:
    """Return the words of a line that may name a set which the show does not have: "the dinner set"; "" if none do.

    What is said of all in the same reply may then be about that set alone.
    """
    words = words_of(line)
    for at, word in enumerate(words):
        if word.low in _OF_SET and not any(
            _reaches(names, words, begins, at) for begins in range(max(0, at - 4), at + 1)
        ):
            return line[words[max(0, at - 1)].start : word.end]
    return ""


def _reaches(names: SongNames, words: Sequence[ReplyWord], begins: int, at: int) -> bool:
    meant = names.set_meant(words, begins)
    return meant is not None and meant.end > at


_OF_SET: Final = set_of("set half block")


def _said_otherwise(settling: ReplySettling, claim: Claim, field: str) -> Iterator[ValueOf]:
    """Yield the values that songs have which the claim does not leave out."""
    value = claim.fact.key if isinstance(claim.fact, KeyFact) else claim.fact.value
    for (set_at, place, said), values in settling.values.items():
        is_within = set_at in (claim.about.sets or (set_at,))
        is_left_out = place in claim.about.songs or (claim.about.songs and values[-1].line == settling.line)
        if said == field and place is not None and is_within and not is_left_out and values[-1].value != value:
            yield set_at, place, said
