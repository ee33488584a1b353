"""What the whole band does besides playing, a note on the song: "everyone sings", "alle singen mit"."""

from collections.abc import Sequence
from typing import Final

from companion.leader.hour_words import folded_words
from companion.leader.reply_words import SIGN, ReplyWord, low, phrase, set_of
from companion.leader.stated_fact import StatedFact

_ALL: Final = folded_words(
    "everyone everybody all we alle iedereen allemaal tous todos todas tutti allihopa alla allesammen wszyscy všichni"
)
_SING: Final = folded_words(
    "sing sings singing clap claps shout shouts singen singt klatschen zingt zingen klappen chante chantent chantons "
    "frappent cantan cantamos canta cantano cantiamo cantam battono sjunger klappar synger klapper śpiewają zpívají"
)
_ALONG: Final = set_of("along mit mee med too with it together backing choruses chorus refrain refrains")


def all_sing(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read that everybody sings or claps, or joins in, at the end of a clause."""
    if low(words, at) not in _ALL or (at and words[at - 1].low in ("we", "you") and words[at].low == "all"):
        return None
    verb = at + 1 + (low(words, at) == "we" and low(words, at + 1) == "all")
    if low(words, at) == "we" and verb == at + 1:
        return None
    many = phrase(words, verb, "join in", "joins in", "sing backing", "does backing", "do backing")
    if not many and low(words, verb) not in _SING:
        return None
    end = verb + (many or 1)
    while low(words, end) in _ALONG:
        end += 1
    is_end = end >= len(words) or words[end].kind == SIGN or words[end].low in _NEXT
    return StatedFact("notes", " ".join(word.text for word in words[at:end]), end) if is_end else None


_NEXT: Final = set_of("so and but in on at und et y e og och en at till until from")
