"""Parts of a song that are left out, not the song: leave out the last verse, the bridge is cut."""

from collections.abc import Sequence
from typing import Final

from companion.leader.reply_words import ReplyWord, low, phrase_of, phrases, set_of


def drops_part(words: Sequence[ReplyWord], at: int, end: int) -> bool:
    """Return whether words that leave something out, from ``at`` to ``end``, say it of a part of a song."""
    return _is_of_part(words, end) or follows_part(words, at) or phrase_of(words, end, _CUT_OFF) > 0


# How a song is cut off at its end: on coupe tous ensemble.
_CUT_OFF: Final = phrases(
    "net | nette | sec | tous ensemble | ensemble | all together | together | alle zusammen | zusammen | "
    "tutti insieme | insieme | netto | secco | todos juntos | juntos | en seco | samen | sammen | tillsammans"
)


def _is_of_part(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a part of a song is named here: leave out the last verse."""
    end = at
    while low(words, end) in _BEFORE_PART and end - at < _MOST_BEFORE:
        end += 1
    return low(words, end) in _PARTS


def follows_part(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a part of a song stands right before a word: the bridge is cut."""
    while at > 0 and low(words, at - 1) in _IS:
        at -= 1
    return at > 0 and low(words, at - 1) in _PARTS


_IS: Final = set_of(
    "is are was gets s be now will ist wird est sont es esta e viene is wordt ar er bliver blir la le lo"
)
_MOST_BEFORE: Final = 4  # words
_BEFORE_PART: Final = set_of(
    "the that this your my our a last first second third middle final whole den die das le la el il de det andra "
    "letzte erste zweite dritte dernier dernière ultimo ultima"
)
_PARTS: Final = set_of(
    "verse verses chorus choruses solo solos bridge intro outro coda tag refrain middle8 repeat repeats strophe "
    "strophen couplet couplets estrofa estribillo strofa ritornello refrein coupletten vers verset refrang omkvad"
)
