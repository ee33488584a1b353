"""Words between two keys: D then E, A not G, G or A, not G but A."""

from typing import Final

THEN: Final = (
    ("then",),
    ("to",),
    ("->",),
    ("=>",),
    ("→",),
    ("up", "to"),
    ("and", "then"),
    ("then", "to"),
    ("then", "up", "to"),
    ("then", "down", "to"),
    ("going", "to"),
    ("going", "up", "to"),
    ("goes", "to"),
    ("goes", "up", "to"),
    ("moving", "to"),
    ("changing", "to"),
    ("changes", "to"),
    ("and", "up", "to"),
    ("and", "goes", "up", "to"),
    ("and", "then", "up", "to"),
    (",", "then"),
    ("into",),
    (">",),
    ("/",),
)
INSTEAD: Final = (
    ("now", "not"),
    ("than",),
    ("than", "in"),
    ("rather", "than", "in"),
    ("not", "in"),
    ("instead", "of", "in"),
    ("now", ",", "not"),
    ("these", "days", "not"),
    ("not",),
    (",", "not"),
    ("instead", "of"),
    ("rather", "than"),
    ("and", "not"),
    ("nicht",),
    *((*comma, word) for word in ("ne", "nie", "nem", "ikke", "inte", "niet", "pas") for comma in ((), (",",))),
    *(("et", "pas"), ("en", "niet"), ("e", "non"), ("y", "no"), ("och", "inte"), ("og", "ikke"), ("a", "ne")),
)
OR: Final = (("or",), ("oder",), ("ou",))
BUT: Final = (("but",), (",", "but"), (",",), ("-",), ("its",), (",", "its"), ("sondern",))
