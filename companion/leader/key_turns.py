"""Another key later in a song, a note on it: "C, last time up to D", "in sol, l'ultima volta sale in la"."""

from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import Final

from companion.leader.hour_words import folded_words
from companion.leader.key_words import LETTER, SOLFEGE
from companion.leader.reply_words import SIGN, ReplyWord, low, set_of
from companion.leader.stated_fact import StatedFact

KeyIn = Callable[[Sequence[ReplyWord], int], tuple[str, int] | None]
MAX_WORDS: Final = 10  # before the key, and behind it
# Parts of a song.
_PARTS: Final = folded_words(
    "end ending time times chorus choruses verse head bridge solo coda outro tag refrain round ende schluss "
    "strophe mal schlussrefrain couplet fois pont vez estribillo estrofa volta ritornello strofa eind einde refrein "
    "keer slutet refrängen versen gången slutningen omkvæd omkvædet vers gang slutten refrenget refren refrenie "
    "refrén refrénu konci końcu"
)
# Words before them, which alone may mean another song: and the last in G.
_WHICH: Final = folded_words(
    "last final second third middle letzten letzte letztes letzter dernier dernière dernières fin último última "
    "últimos últimas ultima ultimo lultima lultimo finale fine laatste sista sidste siste ostatni ostatnim poslední"
)
_RISES: Final = folded_words(
    "up down modulate modulates modulating jump jumps lift lifts rise rises shift shifts move moves hoch rauf runter "
    "steigt moduliert monte "
    "montons module sube subimos sube modula modulamos sale saliamo alziamo sobe subimos omhoog upp op höjs stiger "
    "moduleert nach naar"
)
_SMALL: Final = folded_words(
    "the a an we it in at on for of this that then and goes go going is with key change beim bei im am an zum der die "
    "das dem den gehts gehen geht wir es le la les du de des au à on ça il lo l un una el al en del se va vamos nell "
    "nella alla dalla na no ao op het we gaan gaat naar i på den det från ved til till går vi w na se v"
)
_TO: Final = folded_words("to in into nach auf in en au à a sur naar till til op i do na v")
_BEFORE: Final = folded_words(
    "and but then und aber dann et mais puis y pero luego e ma poi en maar dan och men og sen"
)


def key_change(words: Sequence[ReplyWord], at: int, key_in: KeyIn) -> StatedFact | None:
    """Read where a song goes to another key than the one right before; ``key_in`` reads a key and its end."""
    joins = at > 0 and words[at].low in _BEFORE and words[at - 1].kind != SIGN
    at += joins  # en do y al final sube a re
    if not (at < len(words) and _follows_key(words, at) and words[at].low in _PARTS | _WHICH | _RISES | _SMALL):
        return None
    end, said = at, set[str]()
    key: tuple[str, int] | None = None
    while key is None and end < min(len(words), at + MAX_WORDS):
        word = words[end].low
        is_told = bool((said | {word}) & (_PARTS | _RISES))
        after = end + (word in _TO)
        may_be_key = after > end or (_is_capital(words, end) and bool(said & _PARTS))
        key = key_in(words, after) if is_told and may_be_key else None
        if key is None and word not in _PARTS | _WHICH | _RISES | _SMALL:
            return None
        said |= {word}
        end += 1
    if key is None:
        return None
    end = last = key[1]
    while end < min(len(words), key[1] + MAX_WORDS) and words[end].low in _PARTS | _WHICH | _SMALL | _RISES:
        end += 1
        last = end if words[end - 1].low in _PARTS | _AT_LAST else last
    return StatedFact("notes", _typed(words[at:last]), last)


def tells_change(word: ReplyWord) -> bool:
    """Return whether a word says that the key changes: a part of a song, or rising."""
    return word.low in _PARTS | _RISES - _TO


_AT_LAST: Final = set_of("last final fin finale fine hoch rauf runter omhoog upp op up higher")


def _typed(words: Sequence[ReplyWord]) -> str:
    """Return words with a space where one stood."""
    gaps = [""] + [" " if before.end < word.start else "" for before, word in pairwise(words)]
    return "".join(gap + word.text for gap, word in zip(gaps, words, strict=True))


def _follows_key(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a part of a line begins here, right behind a key: C-Dur, ...; in sol, ..."""
    sign = at - 1 - (low(words, at - 1) in _BEFORE)
    if at < 1 or sign < 0 or words[at].kind == SIGN or (words[sign].kind != SIGN and sign == at - 1):
        return False
    before = [one for one in words[max(sign - 4, 0) : sign + 1] if one.kind != SIGN]
    return any(one.low in SOLFEGE or (one.text[:1].isupper() and LETTER.match(one.text)) for one in before)


def _is_capital(words: Sequence[ReplyWord], at: int) -> bool:
    return words[at].text[:1].isupper() and LETTER.match(words[at].text) is not None
