"""Keys in brackets, with words in the bracket or behind it: Moth (back in G); Moth (Em) NEW."""

import re
from typing import Final

from companion.music import Key
from companion.setlist.model import Doubt, DoubtAnswer, FieldCorrection
from companion.setlist.notation import Notation
from companion.setlist.parsing.doubts import NO, doubtful_key
from companion.setlist.parsing.key_at_end import key_at_end
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.remarks import is_remark
from companion.setlist.parsing.song_draft import METER_OF_PART, Draft

MOST_WORDS: Final = 6  # before the key
_SAID: Final = re.compile(  # we do it in F tonight; the words before the key are small
    r"^([A-Z]?(?:[a-z'’à-ÿ]+\s){1,7}?)(?:in|to|en|em|auf|nach|i|til|till|till|på|naar|a)\s([A-H]\S{0,5}(?:\s(?:flat|sharp|minor|major|moll|dur))?)"
    r"(?:\s(?:now|tonight|again|today|please|this time|heute|jetzt|bitte))?[.!]*$"
)
_NOT_ITS_OWN: Final = re.compile(  # the key of a part, of another time, or on a condition
    r"\b(?:not|never|was|were|used|normally|usually|originally|record(?:ing)?|album|if|when|unless|or|maybe|perhaps|"
    r"goes|going|ends?|ending|starts?|begins?|nicht|war|früher|sonst|wenn|oder|pas|était|no|era|si|o|ou|eller|ikke|"
    r"inte|if|then|dann|last|end|capo|guitars?|horns?|sax|riff|key)\b",
    re.IGNORECASE,
)
_MOVES: Final = re.compile(  # how a key of tonight is announced
    r"^(?:(?:we|it|it['’]s|we['’]re|i|she|he|they|wir|es|on)\s)?(?:(?:all|right|is|are|['’]?s|just|ist|ganz)\s)?"
    r"(?:back|down|up|now|tonight|still|again|moved|moving|lowered|raised|dropped|do(?:ing)? (?:it|this)|"
    r"play(?:ing|ed)? (?:it|this)|sing(?:s|ing)? (?:it|this)|zurück|wieder|runter|rauf|hoch|tiefer|höher|heute|jetzt|"
    r"spielen|machen|de retour|remonté|descendu|ce soir|otra vez|bajada|subida|esta noche|stasera|giù|su|hoje|terug|"
    r"omlaag|omhoog|tillbaka|ner|upp|ikväll|tilbage|ned|op|opp|tilbake|i kveld|i aften)\b",
    re.IGNORECASE,
)


def key_said(words: str, notation: Notation) -> Key | None:
    """Return the key that small words announce for the whole song: back in G; None for solo in G, not in G.

    >>> str(key_said("down to F", Notation.LETTERS)), key_said("not in F", Notation.LETTERS)
    ('F', None)
    """
    found = _SAID.match(words.strip())
    if not found or len(found[1].split()) > MOST_WORDS or _NOT_ITS_OWN.search(words) or METER_OF_PART.search(words):
        return None
    return plain_key(found[2], notation=notation)


def take_key_said(draft: Draft, words: str, title: str) -> bool:
    """Take the key that small words in a bracket announce, in doubt where the words are no usual ones; else False."""
    key = key_said(words, draft.notation)
    if key is None:
        return False
    draft.key = key
    draft.note(words)
    if not _MOVES.match(words.strip()):
        draft.doubts.append(doubtful_key(f"({words.strip()}): {key} read as the key", title, str(key)))
    return True


def take_behind_bracket(draft: Draft, title: str, dashed: str | None, words: str | None) -> None:
    """Take what stands behind a key in brackets, ``dashed`` behind a dash; in doubt: Moth (Em) Parade."""
    if dashed and key_at_end(dashed, draft.notation):
        draft.note(dashed)  # Moth (C) - Trio in F
        return
    draft.take_each(dashed or words or "")
    if not words or not words[:1].isupper() or is_remark(words) or (words.isupper() and not title.isupper()):
        return
    yes = DoubtAnswer("yes", (FieldCorrection("title", f"{title} {words}"),))
    draft.doubts.append(
        Doubt(f"{words}: read as a note", f"Does {words!r} belong to the title?", (NO, yes), asks_for="title")
    )
