"""Find the keys that talk says for songs: Moth in D now, not G."""

import re
from collections.abc import Sequence
from typing import Final

from companion.music import Key
from companion.setlist.notation import Notation
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.talk_words import KEY_AHEAD, NOT_ANY_MORE

TRIM: Final = " \t,;:.!?–—-\"'“”„«»()"
_AHEAD_WORDS: Final = frozenset(
    ("in", "en", "em", "is", "i", "In", "En", "key", "Key", "of", "the", "now", "jetzt", "to", "auf")
)
_KEY_WORDS: Final = re.compile(r"[^\s()\[\],;:=→>]+")
_MOST_WORDS: Final = 3  # of a key: B flat minor
_BEHIND_ANY: Final = re.compile(r"\s*$|\s*[,.;:!?)(–—]|\s[-–]|\s[^\W\d_A-Z]")  # the end, a sign or a small word
_BEHIND_KEY: Final = re.compile(  # what stands behind a key, but not behind the same letters as a word: in a big way
    r"\s*$|\s*[,.;:!?)(–—]|\s(?:[-–]|(?:for|in|on|if|and|but|so|too|not|then|now|please|pls|instead|because|cos|since|this|"
    r"last|tonight|today|anyway|actually|though|really|i|we|you|he|she|it|they|my|für|und|aber|weil|bitte|jetzt|dann|"
    r"heute|eigentlich|ist|spielen|machen|nehmen|singen|pour|et|mais|finalement|en|para|por|y|pero|mejor|per|e|ma|og|"
    r"och|tack|tak)(?!\w))",
    re.IGNORECASE,
)


def keys_said(
    text: str, notation: Notation, *, alone: bool = False, is_made: bool = False
) -> list[tuple[int, int, Key]]:
    """Return the keys that are said, with where they begin and end; not those that a song no longer has.

    ``alone``: a key that the whole text begins or ends with counts too; ``is_made``: one right at the front does.
    """
    made: list[tuple[int, int, Key]] = []
    words = list(_KEY_WORDS.finditer(text))
    at = 0
    while at < len(words):
        found = _key_from(text, words, at, notation)
        if found is None:
            at += 1
            continue
        count, key = found
        begin, end = words[at].start(), words[at + count - 1].end()
        ahead, behind = text[:begin], text[end:]
        written = text[begin:end]
        is_bracketed = ahead.endswith("(") and behind.startswith(")")
        is_said = bool(KEY_AHEAD.search(ahead)) or is_bracketed
        is_lone = len(ahead.split()) + len(behind.split()) <= 1 if alone else (is_made and not ahead.strip())
        may_be_word = written == "A" or written[:1].islower()
        is_end = is_bracketed or bool((_BEHIND_KEY if may_be_word else _BEHIND_ANY).match(behind))
        is_small = len(written) == 1 and written.islower()
        is_last = not behind.strip(TRIM)
        may_be = (is_said and (not is_small or is_last or behind[:1] != " ")) or (not is_small and (is_lone or is_last))
        if may_be and is_end and ahead and not NOT_ANY_MORE.search(ahead):
            made.append((_begin_of(ahead), end, key))
        elif may_be and is_end and alone and not ahead:
            made.append((0, end, key))
        at += count
    return made


def _begin_of(ahead: str) -> int:
    """Return where the words that announce a key begin."""
    found = re.search(r"(?:,?\s?(?:in|en|em|auf|i|key of|in the key of)\s|\s?\()$", ahead, re.IGNORECASE)
    return found.start() if found else len(ahead)


def _key_from(text: str, words: Sequence[re.Match[str]], at: int, notation: Notation) -> tuple[int, Key] | None:
    if words[at][0] in _AHEAD_WORDS:
        return None
    for count in range(min(_MOST_WORDS, len(words) - at), 0, -1):
        written = text[words[at].start() : words[at + count - 1].end()].rstrip(".!?")
        if any(sign in written for sign in ",;:()"):
            continue
        if written and (key := plain_key(written, notation=notation)):
            return count, key
    return None
