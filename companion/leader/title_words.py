"""The words of a title in the forms in which a reply may name it: the umbrella one, valsen."""

import re
from collections.abc import Sequence
from typing import Final

from companion.leader.reply_words import COUNTED
from companion.show.titles import folded

MIN_WORD: Final = 4  # letters of a word that has other forms
DEFINITE: Final = ("en", "et", "n", "na", "arna", "erna", "ene")  # valsen, of vals, in Swedish, Danish and Norwegian


def also_inflected(words: Sequence[str]) -> frozenset[str]:
    """Return a title's words, also without a last s: "the umbrella one" may mean Nine Wet Umbrellas."""
    numbers = (str(COUNTED[word]) for word in words if word in COUNTED)  # Candle 9
    singular = (word[:-1] for word in words if len(word) > MIN_WORD and word.endswith("s"))
    definite = (word + end for word in words if len(word) >= MIN_WORD for end in DEFINITE)
    return frozenset([*words, *numbers, *singular, *definite])


def elided(title: str) -> list[str]:
    """Return the words behind an article or a preposition without its vowel: Anatole, of Les genoux d'Anatole."""
    return [folded(word) for word in _ELIDED.findall(title)]


_ELIDED: Final = re.compile(r"\b(?:[dljmnstc]|qu|un|all|dall|dell|nell|sull)['’]([^\W\d_]{3,40})", re.IGNORECASE)
