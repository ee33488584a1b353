"""The key that sounds with a capo: capo 2, shape G (so sounds in A); capo 3 playing C shapes."""

import re

from companion.music import Key
from companion.setlist.model import Doubt
from companion.setlist.notation import Notation
from companion.setlist.parsing.doubts import doubtful_key
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.patterns import NOTE, TAIL
from companion.setlist.parsing.song_draft import Draft

_SOUNDS = re.compile(
    rf"\b(?:sounds?|sounding|comes out|ends up|concert(?: pitch)?|real key|actually)\s+"
    rf"(?:in|as|is|key)?\s*[:=]?\s*({NOTE})(?!\w)"
    rf"|=\s*({NOTE})(?!\w)"
)
_WORD = r"(?:capo|kapo|kapodaster|capodastre|capotasto|cejilla|cejuela|capodastro)"
HAS_CAPO = re.compile(rf"\b{_WORD}\s?\d", re.IGNORECASE)
_CAPO = re.compile(rf"\b{_WORD}\s*(?:on |at |fret |en |im |i )*(\d{{1,2}})(?!\d)", re.IGNORECASE)
_SYLLABLE = r"(?:Do|Ré|Re|Mi|Fa|Sol|La|Si)(?:\s?m)?"
_SHAPE = re.compile(
    rf"\b(?i:shapes?|griffe?|formes?|posiciones|posizioni|grepp|greb|grepen)\s*(?:of|in|en|de|di|av|von|:)?\s*({NOTE}|{_SYLLABLE})(?!\w)|(?<!\w)({NOTE})\s*-?shapes?\b"
)
MAX_FRET = 11


def take_sounding_key(draft: Draft) -> None:
    """Take the key that a line with a capo says it sounds in, in doubt if the line names another key too.

    Where it does not say so, work the key out from fret and shape, in doubt. A bracket with a capo is no title's.
    """
    if (bracket := TAIL.match(draft.title)) and _CAPO.search(bracket[2]):
        draft.title = bracket[1]
        draft.note(bracket[2])
    fret = _CAPO.search(draft.text)
    if not fret or int(fret[1]) > MAX_FRET:
        return
    if (said := _SOUNDS.search(draft.text)) and (key := _key(said[1] or said[2])):
        if draft.key and draft.key != key:
            says = f"{draft.key} with {fret[0]} sounds in {key}: used {key}"
            draft.doubts.append(doubtful_key(says, draft.title, str(key)))
        draft.key = key
    elif (shape := _SHAPE.search(draft.text)) and (key := _key(shape[1] or shape[2])):
        is_shape_taken = draft.key == key and not _holds(draft.text.replace(shape[0], ""), str(key))
        if not draft.has_key or is_shape_taken:
            draft.key = key.transposed(int(fret[1]))
            draft.doubts.append(_worked_out(draft, fret[0], str(key)))


def _holds(text: str, key: str) -> bool:
    return bool(re.search(rf"(?<!\w){re.escape(key)}(?![\w#♭♯'’])", text))


def _worked_out(draft: Draft, capo: str, shape: str) -> Doubt:
    return doubtful_key(f"{capo} with the shape of {shape}: sounds in {draft.key}", draft.title, str(draft.key))


def _key(written: str | None) -> Key | None:
    if not written:
        return None
    return plain_key(written, notation=Notation.LETTERS) or plain_key(written, notation=Notation.SYLLABLES)
