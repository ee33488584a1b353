"""Keys in speech: after "in", or right after the song, up to the doubt or the "as always" that follows."""

from collections.abc import Iterator, Sequence
from typing import Final, NamedTuple

from companion.leader.drop_words import DROPPERS
from companion.leader.hour_words import folded_phrases, folded_words
from companion.leader.key_joins import AFTER_KEY
from companion.leader.key_words import MAJOR, MINOR, SOLFEGE, key_at
from companion.leader.phrase_lists import AS_SHOWN, FILLED, HEDGES, LAST_TIME
from companion.leader.reply_words import ReplyWord, low, phrase_of, set_of
from companion.setlist import Notation

KEYED_IN: Final = folded_words("in en em i w v ve u dans")
# Words that may stand right before a key, the first of them also before other things.
BEFORE_KEYS: Final = KEYED_IN | folded_words("is being ist est es è é är er jest je an on dat c'est cest are")
_NO_LONGER: Final = folded_phrases(
    "never | niemals | jamais | nunca | mai | nooit | aldrig | "
    "no longer | not | nicht mehr | nicht | non più | non | ya no | plus | pas | já não | não | niet meer | niet | "
    "inte längre | inte | ikke længere | ikke lenger | ikke | już nie | nie | uż ne | už ne | no | instead of | "
    "statt | anstatt | au lieu de | en vez de | invece di | invece che | was | used to be | steht bei dir | "
    "bei dir | chez toi | tienes | in your list | on your list"
)
# Words that say that a key is another than before.
NOW: Final = folded_words(
    "now jetzt inzwischen mittlerweile neuerdings maintenant désormais dorénavant ahora actualmente adesso "
    "ora agora nu "
    "numera nå tegenwoordig voortaan teraz nyní teď teraz nyt sada zdaj ara moved changed"
)
# Words that say that a key was one before.
FORMERLY: Final = folded_words(
    "antes vorher früher bisher avant prima förut tidigare før tidligere voorheen eerst eerder vroeger dříve předtím "
    "wcześniej dawniej before formerly previously originally once"
)
_SMALL_KEYS: Final = set_of("a b c d e f g h do re mi fa sol la si as es des ges bes fis cis gis ess ass")
_AFTER: Final = AFTER_KEY | DROPPERS  # number two is g skip number four
_REACH: Final = 5  # words between "not" and the key that it denies


class SaidKey(NamedTuple):
    """A key in the show file's spelling, the place of its first word, where its words end; whether it is denied."""

    key: str
    at: int
    end: int
    is_denied: bool
    is_after_in: bool


def said_keys(words: Sequence[ReplyWord], begin: int, end: int, notation: Notation) -> Iterator[SaidKey]:
    """Yield the keys among some words of a clause, whose first word follows the name of a song."""
    at = begin
    while at < end:
        is_in = (low(words, at - 1) in BEFORE_KEYS and not _is_i_do(words, at)) or at == begin
        found = (
            key_at(words[:end], at, _AFTER, notation=notation, after_song=True, after_in=_is_key_only(words, at))
            if is_in
            else None
        )
        if found is None or found.key is None:
            at += 1
            continue
        denied = any(phrase_of(words, one, _NO_LONGER) for one in range(max(begin, at - _REACH), at))
        last = found.end
        while last < end and (many := _tail(words, last)):
            last += many
        yield SaidKey(str(found.key), at, last, denied, low(words, at - 1) in KEYED_IN)
        at = last


def _is_key_only(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a word can only be a key: after "in", or before "minor"; but not in a hurry."""
    if low(words, at + 1) in MINOR | MAJOR:
        return True
    is_article = words[at].low == "a" and low(words, at - 1) == "in" and not _tail(words, at + 1)
    if _is_i_do(words, at):
        return False
    return low(words, at - 1) in KEYED_IN and words[at].low in _SMALL_KEYS and not is_article


def is_small_key(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a small word is a key: in la, en do, i g."""
    return low(words, at - 1) in KEYED_IN and words[at].low in _SMALL_KEYS and not _is_i_do(words, at)


def _is_i_do(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether "do" follows the English "I": the languages that say "i" for "in" name keys by letters."""
    return low(words, at - 1) == "i" and words[at].low in SOLFEGE


def _tail(words: Sequence[ReplyWord], at: int) -> int:
    return max(phrase_of(words, at, one) for one in (HEDGES, AS_SHOWN, LAST_TIME, FILLED))
