"""Keys that the player shall forget: "back in E, forget the Eb nonsense", "G now, ignore the F"."""

from collections.abc import Sequence
from typing import Final

from companion.leader.hour_words import folded_phrases, folded_words
from companion.leader.key_turns import KeyIn
from companion.leader.reply_words import ReplyWord, low, phrase_of

_FORGET: Final = folded_phrases(
    "forget | forget about | forget all about | ignore | disregard | scrap | never mind | scratch | bin | "
    "vergiss | vergesst | vergiss bitte | ignorier | ignoriere | oublie | oubliez | oublie donc | ignore donc | "
    "olvida | olvídate de | olvidate de | olvidad | ignora | dimentica | scorda | scordati | lascia perdere | "
    "esquece | esqueça | ignore o | vergeet | negeer | glöm | ignorera | glem | ignorer | zapomnij o | zapomeň na"
)
_BEFORE: Final = folded_words("the that this your my our old das die den dem le la el il lo o a het de det den to ten")
_BEHIND: Final = folded_words(
    "nonsense thing business idea version stuff bit key rubbish quatsch unsinn sache idee bêtise histoire tontería "
    "cosa sciocchezza storia bobagem gedoe onzin dumheter tull pjat tøv"
)


def forgotten_key(words: Sequence[ReplyWord], at: int, key_in: KeyIn) -> int:
    """Return where words end that tell the player to forget a key; 0 if none are here."""
    many = phrase_of(words, at, _FORGET)
    begins = at + many
    if not many or begins >= len(words):
        return 0
    begins += low(words, begins) in _BEFORE and begins + 1 < len(words) and key_in(words, begins + 1) is not None
    key = key_in(words, begins)
    return key[1] + (low(words, key[1]) in _BEHIND) if key is not None else 0
