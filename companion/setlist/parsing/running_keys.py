"""Keys inside running text: Moth in G, then Weeds (A minor) and Kite - F#m."""

import re
from collections.abc import Iterator
from typing import Final

import msgspec

from companion.setlist.notation import Notation
from companion.setlist.parsing.key_at_end import BEFORE_A_LETTER
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.running_words import LEAD

_FALL = "flat|sharp|bémol|dièse|bemolle|diesis|bemol|sostenido|sustenido"
_MODE = "minor|major|min|maj|moll|dur|mol|mineur|majeur|menor|mayor|maior|minore|maggiore"
_KEY = (
    r"(?:[A-Ha-h](?:iss?|ess?|s|[b#♭♯])?m?|[Dd]o|[Rr][eé]|[Mm]i|[Ff]a|[Ss]ol|[Ll]a|[Ss]i)"
    rf"(?:[\s-](?i:{_FALL}))?(?:[\s-]?(?i:{_MODE}))?(?![\w#♭♯'’])"
)
_ANCHOR = re.compile(
    r"\s?[(\[](?P<bracket>[^()\[\]]{1,80})[)\]]"
    r"|(?P<said>(?:,?\s(?i:that['’]?s|which is|it['’]?s|is|also|this time))?,?\s(?i:in|en|em|i|auf)\s"
    r"(?i:(?:the )?key of\s)?|"
    r"[\s,]\s?(?i:key(?: of)?):?\s)"
    rf"(?P<after_in>{_KEY})"
    rf"|,?\s(?i:that['’]?s|is|it['’]?s|(?:that|this) one(?:['’]s|\sis)|also)\s(?P<after_is>{_KEY})"
    rf"|(?:\s[-–—:=]\s?|[-–—:=]\s)(?P<after_sign>{_KEY})"
    rf"|,?\s(?P<bare>{_KEY})"
)
_ENDS = re.compile(r"\s*(?:$|[,;.!?/|>)&+•·→\"“„]|[-–—]\s|\()")
_ON = re.compile(r"\s+[^\W\dA-Z_]")  # a small word
_WORD = re.compile(r"(?<!\S)[A-H]\S{1,16}")
_WITH_MODE = re.compile(rf"([A-H](?:is|es|s)?-(?:{_MODE}|dúr))[^\W\d]{{0,4}}[.,;!]?$", re.IGNORECASE)  # D-dúrban
SHORTEST: Final = 4  # letters before a key that words follow
_STILL = re.compile(
    r"^\s(?:now|again|too|like always|as always|as usual|as well|jetzt|diesmal|auch|aussi|maintenant|ahora|adesso)\b",
    re.IGNORECASE,
)
_ALL = re.compile(
    r"(?:all|both|alle|beide|tous|toutes|todas|todos|tutte|tutti|allemaal|alla|allt?)\s(?:in|en|i)\b", re.IGNORECASE
)
_PARTS = re.compile(r"[,;/]|\s[-–—]\s")
_WORDS_AS_KEYS: Final = frozenset(["as", "es", "des", "am", "is", "ad", "a", "do", "re", "la", "si", "mi", "fa", "e"])


class RunningKey(msgspec.Struct, frozen=True):
    """A key in running text, from ``begin`` to ``end``. ``written``: as a line of its own would have it in brackets."""

    begin: int
    end: int
    written: str
    form: str = ""  # how it is announced: in a bracket, by a word, a sign, or not at all
    is_of_all: bool = False  # of all songs before it: Moth, Weeds and Kite (all in C)
    is_weak: bool = False  # a small letter that nothing announces


def keys_in(text: str, notation: Notation) -> Iterator[RunningKey]:
    """Return the keys that end titles, in order."""
    for found in _ANCHOR.finditer(text):
        if inside := found["bracket"]:
            if written := _in_bracket(inside, notation):
                yield RunningKey(found.start(), found.end(), written, "bracket", is_of_all=bool(_ALL.match(inside)))
            continue
        said = found["after_in"] or found["after_is"] or found["after_sign"] or found["bare"]
        written = _written(said, notation, is_said=bool(found["after_in"]))
        if not written:
            continue
        rest = text[found.end() :]
        rest = _STILL.sub("", rest)
        ends = bool(_ENDS.match(rest)) or (rest[:1] == " " and LEAD.match(f"{rest.lstrip()} ") is not None)
        is_plain = said[:1].isupper() or len(said) > 3
        if found["after_in"]:
            ends = ends or (is_plain and bool(_ON.match(rest)))
        is_weak = False
        if found["bare"]:
            is_alone = said[:1].isupper() and text[: found.start()].islower()  # the first capital: moth A big ending
            ends = ends or (is_alone and found.start() >= SHORTEST and _ON.match(rest) is not None)
            if len(said) == 1 and BEFORE_A_LETTER.search(text[: found.start()]):
                continue
            is_weak = said[:1].islower() and (len(said) == 1 or said in _WORDS_AS_KEYS)
        if found["after_is"] and said in _WORDS_AS_KEYS and not _ENDS.match(rest):
            continue
        if ends:
            form = next(name for name in ("after_in", "after_is", "after_sign", "bare") if found[name])
            yield RunningKey(found.start(), found.end(), written, form, is_weak=is_weak)


def first_key_in(text: str, notation: Notation) -> RunningKey | None:
    """Return the first word that can only be a key: D-dúrban, F#m. For words after a title between quotation marks."""
    for found in _WORD.finditer(text):
        if (word := found[0].strip(".,;!")) and (written := _written(word, notation, is_said=False)):
            return RunningKey(found.start(), found.start() + len(word), written)
        if (mode := _WITH_MODE.match(found[0])) and (written := _written(mode[1], notation, is_said=False)):
            return RunningKey(found.start(), found.end(), written)
    return None


def _in_bracket(inside: str, notation: Notation) -> str:
    """Return a bracket's words with the key in front as this list writes it; "" if no key begins them."""
    first = _PARTS.split(inside)[0].strip()
    if written := _written(first, notation, is_said=True):
        return written + inside.strip()[len(first) :]
    word, _, rest = inside.strip().partition(" ")
    if rest[:1].islower() and word[:1].isupper() and (written := _written(word, notation, is_said=True)):
        return f"{written}, {rest}"
    return ""


def _written(said: str, notation: Notation, *, is_said: bool) -> str:
    """Return a key as a line of its own would have it; "" for words that are none."""
    if notation is not Notation.GERMAN and said[:1].islower():
        said = said[:1].upper() + said[1:]
    if plain_key(said, notation=notation):
        return said
    if is_said and notation is Notation.LETTERS and (key := plain_key(said, notation=Notation.SYLLABLES)):
        return str(key)  # en sol, in a list that has no other key so
    return ""
