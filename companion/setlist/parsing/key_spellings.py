"""Spell the keys of other languages as the rest of the parser knows them: Hmi, fisz-moll, C-dúr, a mol, D-duuri."""

import functools
import re
from typing import Final

KEPT: Final = 4096  # texts whose spelling is remembered
_NOTE: Final = r"(?:[A-Ha-h](?:#|b|♭|♯|iss?|ess?|isz|esz|ss?|sz)?|do|ut|r[eé]|mi|fa|sol|la|si)"
# Hungarian, Finnish and Estonian, Turkish, Welsh; with the Hungarian ending for "in" (dictionaries; no single source).
_MAJOR: Final = re.compile(
    rf"(?<!\w)({_NOTE})([\s-]?)(?:dúr(?:ban)?|duuri|duur|majör|fwyaf)(?=[)\].]*$)", re.IGNORECASE
)
_MINOR: Final = re.compile(rf"(?<!\w)({_NOTE})([\s-]?)(?:moll(?:ban|i)|mol|minör|leiaf)(?=[)\].]*$)", re.IGNORECASE)
# Dutch, French, Italian, Portuguese and Spanish words behind letters: d klein is D minor, B groot is B major.
_SAID_MAJOR: Final = re.compile(
    r"(?<!\w)([A-Ga-g][b#♭♯]?)\s(?:groot|grote terts|majeur|maggiore|mayor|maior)(?=[)\].]*$)"
)
_SAID_MINOR: Final = re.compile(r"(?<!\w)([A-Ga-g][b#♭♯]?)\s(?:klein|kleine terts|mineur|minore|menor)(?=[)\].]*$)")
_SZ: Final = re.compile(r"(?<!\w)([CDFGAHcdfgah]i|[DGHCdghc]e|[EAea])sz(?=(?:m|[\s-]?(?:moll|dur))?[)\].]*$)")
_MI: Final = re.compile(r"(?<!\w)([A-H](?:#|b|♭|♯|is|es|s)?)\s?mi(?=[)\].]*$)")  # Czech: Ami, Fis mi
_APART: Final = re.compile(r"(?<!\w)([A-H](?:is|es|s))\sm(?=[)\].]*$)")  # Fis m


@functools.lru_cache(KEPT)
def usual_spelling(text: str) -> str:
    """Return the text with the key at its end in German spelling; a text that ends otherwise stays."""
    text = _MAJOR.sub(r"\1\2dur", text)
    text = _MINOR.sub(r"\1\2moll", text)
    text = _SAID_MINOR.sub(r"\1 minor", _SAID_MAJOR.sub(r"\1 major", text))
    text = _SZ.sub(r"\1s", text)
    return _APART.sub(r"\1m", _MI.sub(r"\1m", text))
