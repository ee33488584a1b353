"""One fact as the words of a reply state it."""

from typing import Final, NamedTuple

MOVED_BY: Final = "moved by"  # the field of a key that is said by how many semitones it moves
KEY_OF: Final = "key of"  # the field of a key that is said by another song's: "31 same as 29"


class StatedFact(NamedTuple):
    """One fact and where its words end. ``firm``: its words mean nothing else.

    ``field`` is a key of the show file, or "clock", "minutes" (a length or a set's time), "capo", "shapes", "into" (the
    song that follows: its place in the show, or -1 for the next one), "version", "dropped", KEY_OF (the other song's
    place in the show), or MOVED_BY (semitones).
    """

    field: str
    value: str | bool | int
    end: int
    firm: bool = True
    doubt: str = ""
    is_lone: bool = False  # a word such as "you", which states a fact only where little else is said
