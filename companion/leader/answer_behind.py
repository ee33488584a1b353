"""Whether an answer stands right behind a name that is too short to be sure of: "bus – E", "snö d", "lose the Loo"."""

import re
from collections.abc import Sequence
from typing import Final

from companion.leader.drop_words import DROPPERS, dropped
from companion.leader.reply_words import SIGN, ReplyWord, low, set_of

CAPITAL: Final = re.compile(r"[A-G][b#♭♯]?m?$")
_LETTER: Final = re.compile(r"[A-Ha-h](?:is|es|s)?$")
_MODES: Final = set_of(
    "moll dur minor major flat sharp mol menor mayor mineur majeur minore maggiore maior bemol bemolle"
)
_SYLLABLES: Final = set_of("do re mi fa sol la si")
_LONE_KEY: Final = re.compile(r"(?:[a-h](?:is|es|iss|ess|[b#♭♯])?|do|re|mi|fa|sol|la|si)(?:b|#|m|bm|#m|moll|dur)?$")


def has_answer(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a colon or a capital letter that may be a key stands next."""
    if low(words, at) in ("-", "–", "—") and (_is_capital(words, at + 1) or _is_lone_key(words, at + 1)):
        return True
    skipped = at + (low(words, at) in ("is", "in", "en", "i", "est", "ist", "e", "es"))
    skipped += skipped > at and low(words, skipped) in ("in", "en", "i")
    if skipped == at and not _is_capital(words, at) and (after := _after_now(words, at)):
        return _is_capital(words, after) or _is_spelled_key(words, after) or _is_lone_key(words, after)
    if at >= len(words):
        return False
    is_key = any(_is_capital(words, one) or _is_spelled_key(words, one) for one in (at, skipped))
    return words[at].low in (":", "=") or is_key or any(_is_lone_key(words, one) for one in (at, skipped))


def _after_now(words: Sequence[ReplyWord], at: int) -> int:
    """Return where a key may stand after "ya no en", "now in", "jetzt nicht mehr in"; 0 if nothing of that is here."""
    end = at
    while end - at < MAX_NOW and low(words, end) in _NOW:
        end += 1
    return end if end > at and low(words, end - 1) in _KEYED else 0


MAX_NOW: Final = 5  # words
_NOW: Final = set_of(
    "ya no now not ahora jetzt nicht mehr adesso ora non piu nu niet meer maintenant plus pas agora nao ja inte langre "
    "ikke va van goes geht gaat gar anymore longer in en em i est is es ist ar er still noch ancora encore"
)
_KEYED: Final = set_of("in en em i")


def begins_answer(words: Sequence[ReplyWord], at: int, end: int) -> bool:
    """Return whether a clause begins with some words, and a sign and what may be a key follow: "Door, G"."""
    begins = at == 0 or words[at - 1].text in _CLAUSE_ENDS
    key = end + 1
    is_key = _is_capital(words, key) or _is_spelled_key(words, key) or _is_lone_key(words, key)
    return begins and low(words, end) in _BEFORE_KEYS and is_key


_CLAUSE_ENDS: Final = set_of(". ; ! ? - – — • *")
_BEFORE_KEYS: Final = set_of(", - – — -> => → ( / … ...")


def is_of_verb(words: Sequence[ReplyWord], at: int, end: int) -> bool:
    """Return whether words are all that a verb of leaving out or a segue has: lose the Loo, straight into bus."""
    verb = at - 1 - (low(words, at - 1) in ("the", "that"))
    is_led_to = low(words, verb) in DROPPERS or low(words, verb) in _INTO
    is_whole = end >= len(words) or words[end].kind == SIGN or words[end].low in _ANDS
    return _is_left_out(words, at, end) or (is_led_to and is_whole)


def _is_left_out(words: Sequence[ReplyWord], at: int, end: int) -> bool:
    """Return whether words begin a clause and a verb of leaving out is the rest of it: ballonnen slaan we over."""
    begins = at - (low(words, at - 1) in _ARTICLES)
    gone = dropped(words, end) if end < len(words) else None
    is_rest = gone is not None and gone.firm and (gone.end >= len(words) or words[gone.end].kind == SIGN)
    return is_rest and (begins <= 0 or words[begins - 1].kind == SIGN or words[begins - 1].low in _ANDS)


_ARTICLES: Final = set_of("the der die das den le la les el los las il lo i gli o os as de het")
_INTO: Final = set_of("into attacca")
_ANDS: Final = set_of("and please then tonight")


def _is_lone_key(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a small letter or a syllable that may be a key ends the clause: snö d, frigo sib."""
    ends = at + 1 >= len(words) or words[at + 1].kind == SIGN
    return at < len(words) and ends and _LONE_KEY.match(words[at].low) is not None


def _is_spelled_key(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether a key stands here with its mode or sign as a word: d-Moll, e minor, B flat."""
    follows = at + 1 + (low(words, at + 1) == "-")
    is_key = at < len(words) and (_LETTER.match(words[at].text) is not None or words[at].low in _SYLLABLES)
    return is_key and low(words, follows) in _MODES


def _is_capital(words: Sequence[ReplyWord], at: int) -> bool:
    return at < len(words) and CAPITAL.match(words[at].text) is not None
