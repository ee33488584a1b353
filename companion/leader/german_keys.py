"""Whether a reply names keys as in German, where B is most likely Bb: by its keys, or by the words around them."""

import re
from typing import Final

from companion.leader.reply_words import WORD, set_of, words_of

# Names of keys that only German and its neighbours have; and words of German as they are written, with their capitals
# and umlauts, of which one is enough.
_IN_GERMAN: Final = re.compile(
    r"(?<![^\W_])(?:[HF]is|Cis|Dis|Gis|[CDG]es|H|Hm|[A-Ha-h](?:is|es|s)?[ -]?(?:[Mm]oll|[Dd]ur))(?![^\W_])|"
    r"\bin (?:As|Es|Des|Ges|Ces)\b|"
    r"\b(?:wir|Wir|fängt|spielen|anderen|Stück|für|bei|ist|und|nicht|Nummer|Tonart|Lied|Danke|Gr(?:uß|üße))\b"
)
# Small words of the languages that call the note below C "H"; no other language that replies come in has them.
_SMALL_WORDS: Final = (
    "ich wir ihr mir dir euch bis oder aber noch muss mit auf das dem ist sind nicht kein keine beim zum zur und fur "
    "wird wie spielen spielt alles letzte letzten erste ersten zweite zweiten gibt schon dann jetzt heute bitte danke "
    "gruss grusse servus moin sonst auch nur vom ohne nach | "
    "og och ikke inte jeg jag pa det som ogsa ocksa eller hilsen takk tack spiller spelar starter borjar bare bara | "
    "nie jest gramy gram zaczyna zaczynamy sie tylko tez albo dla jak koncu | "
    "neni hrajeme hraje zacina jen take taky nebo konci tady prosim dekuji diky | "
    "nem es jatsszuk kezdi vagy csak vegen koszonom | "
    "ei mutta tai soitetaan alkaa vain myos lopussa kiitos"
)
_NEIGHBOURS: Final = tuple(map(set_of, _SMALL_WORDS.split("|")))
LEAST: Final = 2  # different words


def names_keys_in_german(text: str) -> bool:
    """Return whether B may mean Bb in a reply.

    >>> names_keys_in_german("8 bis 10 alles in C. 11 B."), names_keys_in_german("8 to 10 all in C. 11 B.")
    (True, False)
    """
    if _IN_GERMAN.search(text):
        return True
    said = {word.low for word in words_of(text) if word.kind == WORD}
    return any(len(said & words) >= LEAST for words in _NEIGHBOURS)
