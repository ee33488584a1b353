"""Lines of a dictated list, which count the songs in words: Number two Moth, A. Six we do Weeds, key of D, no drums."""

import itertools
import re
from collections.abc import Sequence
from typing import Final

import msgspec

from companion.setlist.notation import Notation
from companion.setlist.parsing.key_cells import plain_key
from companion.setlist.parsing.patterns import AND, VOICE
from companion.setlist.parsing.text_lines import TextLine
from companion.setlist.tidy import lowered

FEWEST: Final = 3  # lines that count on
MIN_COUNTED: Final = 0.5  # share of the lines
MIN_STEPS: Final = 0.8  # share of the numbers that follow the one before
# Dictionaries of each language; no single source.
_NUMBERS: Final = (
    "one eins un uno een ett um en",
    "two zwei deux dos due twee to två dois",
    "three drei trois tres tre drie três",
    "four vier quatre cuatro quattro fire fyra quatro",
    "five fünf cinq cinco cinque vijf fem",
    "six sechs seis sei zes seks sex",
    "seven sieben sept siete sette zeven syv sju sete",
    "eight acht huit ocho otto otte åtta oito åtte",
    "nine neun neuf nueve nove negen ni nio",
    "ten zehn dix diez dieci tien ti tio dez",
    "eleven elf onze once undici elleve elva",
    "twelve zwölf douze doce dodici twaalf tolv doze",
    "thirteen dreizehn treize trece tredici dertien tretten tretton treze",
    "fourteen vierzehn quatorze catorce quattordici veertien fjorten fjorton",
    "fifteen fünfzehn quinze quince quindici vijftien femten femton",
    "sixteen sechzehn seize dieciséis sedici zestien seksten sexton",
)
_ORDINALS: Final = (
    "first erste erster erstes erstens premier première primero primera primo prima eerste første första primeiro",
    "second zweite zweiter zweites deuxième segundo segunda secondo seconda tweede anden andra",
    "third dritte dritter drittes troisième tercero tercera terzo terza derde tredje terceiro terceira",
    "fourth vierte vierter viertes quatrième cuarta cuarto quarto quarta vierde fjerde fjärde",
    "fifth fünfte fünfter fünftes cinquième quinto quinta vijfde femte",
    "sixth sechste sechster sechstes sixième sexto sexta sesto sesta zesde sjette sjätte",
    "seventh siebte siebter siebtes septième séptimo séptima settimo settima zevende syvende sjunde",
    "eighth achte achter achtes huitième octavo octava ottavo ottava achtste ottende åttonde",
)
_VALUES: Final = {
    word: value for each in (_NUMBERS, _ORDINALS) for value, words in enumerate(each, start=1) for word in words.split()
}
_ORDINAL: Final = "|".join(sorted(" ".join(_ORDINALS).split(), key=len, reverse=True))
_NEXT: Final = (
    r"next|last|final|(?:nächst|letzt)e[rsn]?|als nächstes|prochaine?|derni(?:er|ère)|próxim[oa]|últim[oa]|prossim[oa]|"
    r"ultim[oa]|volgende|laatste|næste|neste|siste|sidste|nästa|sista"
)
_IS: Final = (
    r"(?:\s?['’]s|\s(?:is|comes|ist|kommt|est|c['’]est|es|è|komt|er|är|é|wird|we(?:['’]ll)?\s(?:do|play|have|start\swith)|"
    r"(?:spielen|machen|haben)\swir|wir\s(?:spielen|machen|haben)|on\s(?:fait|joue)|spiller\svi|spelar\svi|"
    r"doen\swe|spelen\swe|tocamos|facciamo|suoniamo))"
)
_COUNTED: Final = re.compile(
    rf"^(?:(?:so|then|ok|okay|right|well|now|also|dann|alors|donc|bon|entonces|allora|puis|ensuite|luego|poi|dan|så|depois|{AND})[,\s]+){{0,3}}"
    r"(?:the\s|der\s|die\s|das\s|le\s|la\s|el\s|il\s|de\s|o\s|a\s|den\s)?(?:"
    r"(?:song|tune|number|nummer|numéro|número|numero|lied|stück)\s(?P<named>[^\W\d_]{2,12}|\d{1,2})(?:[,:.]|\s?[-–—])?"
    rf"(?:{_IS})?|"
    rf"(?:(?P<ordinal>{_ORDINAL})|(?P<next>{_NEXT}))(?:\s(?:one|song|up|tune|number|lied|stück|nummer|chanson|morceau|tema|"
    rf"brano|låt|sang|música))?(?:[,:]|{_IS},?)|"
    rf"(?P<word>[^\W\d_]{{2,12}})(?:[,:]|{_IS},?)"
    r")\s+(?=\S)",
    re.IGNORECASE,
)
_ENDS: Final = re.compile(rf"[.;:!]\s+|,\s+(?=(?:{AND}|then)\s)", re.IGNORECASE)  # of sentences
SHORTEST, LONGEST = 80, 4000  # letters of a paragraph
_SAYS_KEY: Final = re.compile(  # that's in; key of; das ist in
    r"^(?:(?:and\s)?(?:that['’]?s|that\sis|it['’]?s|this\sis|which\sis|we\s(?:do|play)\s(?:it|that)|das\sist|das\sgeht|"
    r"ist|c['’]est|dat\sis|es|è|det\ser|det\sär|é)\s)?(?:(?:in|auf|en|em|i)\s)?(?:(?:the\s)?key\sof\s)?",
    re.IGNORECASE,
)
_AGAIN: Final = re.compile(
    r"\s(?:again|too|also|as\swell|please|wieder|auch|aussi|anche|ook|igen|också|også)$", re.IGNORECASE
)


def without_counting(lines: Sequence[TextLine], notation: Notation) -> Sequence[TextLine]:
    """Return the lines with numbers for the words that count them, and their keys in brackets behind the titles."""
    lines = [part for line in lines for part in _sentences(line)]
    found = [None if line.is_marked or line.message.is_envelope else _COUNTED.match(line.text) for line in lines]
    numbers = _numbers(found)
    counted = [at for at, number in enumerate(numbers) if number]
    filled = sum(bool(line.text) and not line.message.is_envelope for line in lines)
    said = [numbers[at] for at in counted]
    named = sum(bool(one and not one["next"]) for one, number in zip(found, numbers, strict=True) if number)
    if named < FEWEST or len(counted) < MIN_COUNTED * filled or all(VOICE.match(lines[at].text) for at in counted):
        return lines
    if sum(after in (before + 1, 1) for before, after in itertools.pairwise((0, *said))) < MIN_STEPS * len(said):
        return lines
    made = list(lines)
    for at in counted:
        text = _with_key_behind(lines[at].text[(one.end() if (one := found[at]) else 0) :], notation)
        made[at] = msgspec.structs.replace(lines[at], text=text, whole=text, number=numbers[at])
    return made


def _sentences(line: TextLine) -> list[TextLine]:
    """Part a paragraph in front of each sentence that counts on; return any other line whole."""
    starts = [one.end() for one in _ENDS.finditer(line.text) if _COUNTED.match(line.text[one.end() :])]
    counted = [one for at in starts if (one := _COUNTED.match(line.text[at:]))]
    if not SHORTEST <= len(line.text) <= LONGEST or sum(map(bool, _numbers(counted))) < FEWEST:
        return [line]
    bounds = [0, *starts, len(line.text)]
    texts = [line.text[first:last].strip(" ,") for first, last in itertools.pairwise(bounds)]
    rows = [msgspec.structs.replace(line.row, cells=(text,), text=text) for text in texts if text]
    return [msgspec.structs.replace(line, row=row, text=row.text, whole=row.text) for row in rows]


def _numbers(found: Sequence[re.Match[str] | None]) -> list[int]:
    """Return the number that each line says, 0 for none; next and last are one more than before."""
    numbers, last = [], 0
    for one in found:
        said = lowered(one["named"] or one["ordinal"] or one["word"] or "") if one else ""
        number = int(said) if said.isdecimal() else _VALUES.get(said, 0)
        if one and one["next"] and last:
            number = last + 1
        last = number or last
        numbers.append(number)
    return numbers


def _with_key_behind(text: str, notation: Notation) -> str:
    """Return a title with its key in brackets, where the key is a piece of its own: Moth, that's in D, slow."""
    title, *others = (piece.strip() for piece in text.rstrip(" .!").split(","))
    keyed = [_key_in(piece, notation) for piece in others]
    at = next((at for at, key in enumerate(keyed) if key), None)
    if at is None:
        return ", ".join((title, *others))
    return ", ".join((f"{', '.join((title, *others[:at]))} ({keyed[at]})", *others[at + 1 :]))


def _key_in(piece: str, notation: Notation) -> str:
    key = _AGAIN.sub("", _SAYS_KEY.sub("", piece)).strip()
    return key if plain_key(key, notation=notation) else ""
