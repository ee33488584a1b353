"""Clauses that only say that a song is as on its record: même tonalité que sur l'enregistrement, the record stands."""

from collections.abc import Sequence
from typing import Final

from companion.leader.hour_words import folded_words
from companion.leader.phrase_lists import RECORDS
from companion.leader.reply_words import SIGN, WORD, ReplyWord, low, phrase_of

# Words that say "as", "the same", "key" and "on the" beside a record, and words that only stress it.
_SAID: Final = folded_words(
    "as like how what whatever is its it's it per same exactly just identical key keys the on in of from off to with "
    "thing go goes going stick stay stays stands stand holds remains rules keep keeps follow follows please pls no "
    "exceptions exception n and all too also again "
    "wie wia in auf von der die das dem den da am im genau gleich gleiche gleichen selbe selben dieselbe tonart auch "
    "comme même meme chose tonalité ton que sur le la l du de dans pareil idem aussi "
    "la el lo en del como misma mismo tonalidad tono que igual también "
    "come stessa stesso cosa tonalità sul nel dal di il uguale anche "
    "mesma mesmo tom tonalidade no na do da também "
    "zoals net als op de het zelfde dezelfde hetzelfde toonsoort van ook "
    "som på den samma samme tonart toneart i på som också også "
    "jak jako na w tak samo stejně tonacja tónina"
)
_MORE_RECORDS: Final = folded_words("recording record originalaufnahme platt plattn")


def record_clause(words: Sequence[ReplyWord], at: int) -> int:
    """Return where a clause ends that only says that a song is as on the record; ``at`` if it says anything else.

    A "no" is taken only in "no exceptions", and behind other words, where it is Portuguese: igual no disco.
    """
    end, names_record = at, False
    if low(words, at) == "all":
        return at  # all as on the record: it says of which songs
    while end < len(words) and not _ends(words, end):
        low_word = words[end].low
        if many := phrase_of(words, end, RECORDS):
            names_record, end = True, end + many
        elif low_word in _MORE_RECORDS:
            names_record, end = True, end + 1
        elif low_word in ("'", "’") or (low_word in _SAID and not _is_no(words, at, end)):
            end += 1
        else:
            return at
    return end if names_record else at


def _is_no(words: Sequence[ReplyWord], begin: int, at: int) -> bool:
    is_at_begin = at == begin or low(words, at + 1) in ("record", "recording", "key", "the", "same")
    return words[at].low == "no" and is_at_begin and low(words, at + 1) not in ("exceptions", "exception")


def _ends(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a clause ends: at a sign that stands between no two letters, or at a number."""
    return (words[at].kind == SIGN and words[at].low not in ("'", "’")) or words[at].kind not in (WORD, SIGN)
