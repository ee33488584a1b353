"""The key that a letter, a sign and a mode make, as a reply has them."""

from companion.music import Key
from companion.setlist import Notation
from companion.setlist.parsing.key_cells import plain_key


def key_made(letter: str, sign: str, mode: str, *, notation: Notation) -> tuple[Key | None, str]:
    """Return the key, and the doubt about it."""
    is_german = notation is Notation.GERMAN or mode in ("moll", "dur") or sign in ("is", "es", "s") or letter in "Hh"
    minor_mode = "m" if mode in ("m", "min", "mi", "moll") else "" if mode in ("dur", "maj") else mode
    doubt = ""
    if is_german:
        moll = " moll" if minor_mode == "m" else " dur" if mode in ("dur", "maj") else ""
        if letter in "Hh" and notation is not Notation.GERMAN and not mode.startswith(("moll", "dur")):
            doubt = "H is B in German"
        shown = letter if notation is Notation.GERMAN or not letter.islower() else letter.upper()
        return plain_key(f"{shown}{sign}{moll}", notation=Notation.GERMAN), doubt
    return plain_key(f"{letter.upper()}{sign.replace('♯', '#').replace('♭', 'b')}{minor_mode}"), doubt
