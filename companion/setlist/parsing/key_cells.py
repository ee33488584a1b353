"""Read a key as people write it, in the notation of its list, with what players add to it."""

import functools
import re

import msgspec

from companion.music import Key, NotMusic, read_key
from companion.setlist.notation import Notation
from companion.setlist.parsing.key_spellings import usual_spelling
from companion.setlist.tidy import lowered


class KeyFound(msgspec.Struct, frozen=True):
    """A key as read. ``also``: other text in the cell; ``doubt``: why it is uncertain; ``choices``: which it may be."""

    key: Key | None
    record_key: Key | None = None
    also: str = ""
    doubt: str = ""
    choices: tuple[str, ...] = ()


KEPT = 4096  # texts whose key is remembered: a list asks for the same words many times
_MINOR = ("m", "-", "moll", "minor", "min", "mineur", "minore", "menor", "klein")
AGAIN = (  # before a key that an earlier song has too, or the same song had
    "also|again|still|likewise|auch|wieder|nochmal|ebenfalls|aussi|toujours|también|otra vez|anche|ancora|também|ook|"
    "weer|också|også|igen|też|také|takođe|tudi"
)
SAYS_AGAIN = re.compile(rf"(?:{AGAIN})(?!\w)", re.IGNORECASE)
_MODES = "dur|moll|major|minor|maj|min|majeur|mineur|maggiore|minore|mayor|maior|menor|groot|klein|m|-"
_LABEL = re.compile(
    rf"(?:now|jetzt) (?:in|auf)\s+|(?:{AGAIN}) (?:(?:in|auf|en|em|i) )?(?=[A-H](?:[b#♭♯]|$|m|\s|-|e?s|is)|[a-h]$)|"
    r"(?:both|all) (?:in )?(?=[A-G](?:[b#♭♯]|$|m|\s(?:flat|sharp|m)))|"
    r"(?:(?:in the )?key of|key|tonart|tonality|concert|conc\.?|tonalité|sounding|sounds|in|en|em)\s*[:=]?\s+|"
    r"(?:key|tonart|toneart|toonsoort|tonación|tonalità|tonalidad[e]?|tono|tom|ton|tónina|sävellaji)\s*[:=]\s*",
    re.IGNORECASE,
)
_CONCERT = re.compile(r"\s*\(?\b(?:concert|tonight|sounding|please)\b\)?\s*$", re.IGNORECASE)
_GERMAN = re.compile(rf"([A-Ha-h])(iss?|ess?|ss?|#|b)?(?:\s?[-–]?\s?({_MODES}))?$", re.IGNORECASE)
# Unmistakably German, Dutch or Nordic: Es, Fis, Dur or Moll; with them B is Bb. A lone H or B decides nothing.
GERMAN_ALONE = re.compile(
    r"(?:[BCDFG](?:ess?)|[CDFGAHE]iss?|Ess?|Ass?)(?:m|[\s–-]?(?:dur|moll|majeur|mineur|groot|klein|mol))?$|[A-H][#b]?[\s–-]?(?:dur|moll)$",
    re.IGNORECASE,
)
_PLAIN = str.maketrans("óéá", "oea")  # dó, ré, fá, lá
_SYLLABLES = {"do": "C", "ut": "C", "re": "D", "mi": "E", "fa": "F", "sol": "G", "la": "A", "si": "B"}
_SYLLABLE = re.compile(
    r"(d[oó]|ut|r[eé]|mi|f[aá]|sol|l[aá]|si)(?:\s?(bémol|bemolle|bemol|dièse|diese|diesis|sostenido|sustenido|b|♭|#|♯))?"
    rf"(?:\s?-?\s?({_MODES}))?$",
    re.IGNORECASE,
)
_SHAPE = re.compile(
    r"[A-Ga-g](?:\s?[b#♭♯]|[\s-]?(?:flat|sharp))?"
    r"\s*-?\s*(?:m|M|min\.?|minor|maj\.?|major|moll|dur|mi|ma|-|−|dor(?:ian)?|mixo?(?:lydian)?|"
    r"lyd(?:ian)?|phryg(?:ian)?|"
    r"locrian|aeolian|ionian)?$",
    re.IGNORECASE,
)
_TWO = re.compile(
    r"\s*(?:/|→|->|=>|>|,|;|\bto\b|\bor\b|\boder\b|\bthen\b|\bup to\b|–|—|\s-\s?|(?<=[A-Ga-g#b♭♯m])-(?=[A-G]))\s*"
)
_ORIGINAL = re.compile(
    r"(?:\b(?:orig(?:inal)?|rec(?:ord(?:ing|ed)?)?|album|studio|was|normally|"
    r"usually)\b\.?(?:\s+key)?\s*[:=]?\s*(?:in\s+)?)(.+)$|"
    r"(.+?)\s+(?:orig(?:inal)?|on (?:the )?record(?:ing)?)\.?$",
    re.IGNORECASE,
)
_BRACKET = re.compile(r"^(.*?)\s*[(\[]([^()\[\]]+)[)\]]\s*$")
_IN_CASE = re.compile(  # F#m ... or Em if Jo has a cold: of the two, only the second depends on something
    r"^(\S{1,12}?)\s*(?:\.{2,4}|…|,|-|–)?\s*(\b(?:or|oder|ou|o|eller|of)\s+(?:in\s+)?(\S{1,12})\s+"
    r"(?:if|when|unless|wenn|falls|si|se|hvis|om|als|(depend(?:s|ing)|je nach))\s.*)$",
    re.IGNORECASE,
)
_OR = re.compile(r"\b(?:or|oder|ou|eller)\b|\?", re.IGNORECASE)
_CHANGE = re.compile(
    r"^(\S+(?:\s(?:minor|major|flat|sharp))?)\s*"
    r"(→|->|=>|>>?|\b(?:then )?(?:up|down) to\b|\bto\b|\bthen\b)\s*(\S+)(\s+\S.*)?$"
)
_MARKED = re.compile(r"^(\S.{0,12}?)\s+((?:new|neu)!*|[+−-]\d{1,2})$", re.IGNORECASE)  # C NEW; D -2
_SEVENTH = re.compile(r"^([A-G][b#♭♯]?m?)(?:7|9|13|maj7)$")
_MODE_WORD = re.compile(r"^([A-Ga-g]\S{0,4}?)(?:7|9|13)?\s+(blues|funk|shuffle|pentatonic)$", re.IGNORECASE)


@functools.lru_cache(KEPT)
def plain_key(text: str, *, notation: Notation = Notation.LETTERS) -> Key | None:
    """Read one key and nothing else, in the list's notation."""
    text = _CONCERT.sub("", text.strip().strip("()[]`. "))
    text = usual_spelling(_LABEL.sub("", text, count=1) if _LABEL.match(text) else text)
    if (notation is Notation.GERMAN or GERMAN_ALONE.match(text)) and (found := _german(text, notation)):
        return found
    if found := _syllable(text, notation):
        return found
    if not _SHAPE.match(text):
        return None
    try:
        return read_key(
            re.sub(r"(?<=[A-Ga-g])\s(?=[b#♭♯])", "", text.replace(".", ""))
            .replace("moll", "minor")
            .replace("dur", "major")
        )
    except NotMusic:
        return None


def _german(text: str, notation: Notation) -> Key | None:
    """Read German and Nordic key names: H, B, Es, As, Fis, Fiss, b-moll, fis, c#. A small letter alone is minor."""
    found = _GERMAN.match(text.strip())
    if not found:
        return None
    letter, syllable = found[1], (found[2] or "").lower()
    if syllable in ("s", "ss") and letter.upper() not in ("A", "E"):
        return None
    mode = (found[3] or "").lower()
    is_minor = mode in _MINOR or (not mode and letter.islower())
    flat = not syllable and (notation is Notation.GERMAN or mode in ("dur", "moll"))
    if letter.upper() == "B" and syllable in ("es", "ess"):
        flat, syllable = True, ""  # Bes, as Dutch has it
    name = {"H": "B", "B": "Bb" if flat else "B"}.get(letter.upper(), letter.upper())
    sign = syllable[:2].rstrip("s") if syllable not in ("s", "ss") else "e"
    name += {"i": "#", "is": "#", "e": "b", "es": "b", "#": "#", "b": "b"}.get(sign, "")
    try:
        return read_key(name + ("m" if is_minor else ""))
    except NotMusic:
        return None


def _syllable(text: str, notation: Notation) -> Key | None:
    """Read do, Ré bémol, Sibm, La mineur, Fa#m. In letters only what no word or name can be: Fa#m, La mineur."""
    found = _SYLLABLE.match(text)
    if not found:
        return None
    sign, mode = (found[2] or "").lower(), "" if found[3] == "M" else (found[3] or "").lower()
    unmistakable = len(mode) > 2 or len(sign) > 1 or sign in ("#", "♯", "♭") or text.lower() == "solm"
    if notation is not Notation.SYLLABLES and not unmistakable:
        return None
    name = _SYLLABLES[lowered(found[1]).translate(_PLAIN)]
    name += "b" if sign[:1] in ("b", "♭") and sign else "#" if sign else ""
    try:
        return read_key(name + ("m" if mode in _MINOR else ""))
    except NotMusic:
        return None


def key_cell(text: str, *, notation: Notation = Notation.LETTERS) -> KeyFound | None:
    """Read a key's cell with what players add: a second key, the record's key in brackets, a question mark.

    Two keys joined by "or", or H in a list of letters, give no key: the player must ask.
    """
    text = text.strip()
    if key := plain_key(text, notation=notation):
        return KeyFound(key)
    if found := _BRACKET.match(text):
        outer, inner = plain_key(found[1], notation=notation), found[2]
        if outer:
            return _with_bracket(outer, inner, notation)
    if found := _ORIGINAL.match(text):
        record = plain_key(found[1] or found[2], notation=notation)
        return KeyFound(None, record) if record else None
    if text.rstrip(")").endswith("?") and (key := plain_key(text.rstrip("()? "), notation=notation)):
        return KeyFound(key, also=text, doubt=f"the list itself has a question mark: {text}")
    if (found := _MARKED.match(text)) and (key := plain_key(found[1], notation=notation)):
        return KeyFound(key, also=found[2])
    return (
        _changing(text, notation)
        or _in_case(text, notation)
        or _several(text, notation)
        or _unsure(text)
        or _written_otherwise(text)
    )


def _with_bracket(outer: Key, inner: str, notation: Notation) -> KeyFound | None:
    original = _ORIGINAL.match(inner)
    record = plain_key(original[1] or original[2], notation=notation) if original else None
    if record:
        return KeyFound(outer, record)
    if inner.strip(" ?") == "":
        return KeyFound(outer, also=f"{outer}?", doubt=f"the list itself has a question mark: {outer}?")
    if plain_key(inner, notation=notation):
        return KeyFound(
            outer, also=f"key: {outer} ({inner})", doubt=f"two keys: used {outer}, kept {inner} in the notes"
        )
    return KeyFound(outer, also=inner)


def _changing(text: str, notation: Notation) -> KeyFound | None:
    """Read a key and a key change with its place: Bb → C last chorus. Certain, unlike two keys alone."""
    if found := _MODE_WORD.match(text):
        key = plain_key(found[1], notation=notation)
        return KeyFound(key, also=found[2]) if key else None
    found = _CHANGE.match(text)
    if not found or not found[4] or _OR.search(text):
        return None
    first, second = plain_key(found[1], notation=notation), plain_key(found[3], notation=notation)
    return KeyFound(first, also=f"{found[2]} {found[3]}{found[4]}") if first and second else None


def _in_case(text: str, notation: Notation) -> KeyFound | None:
    """Read a key and another for a case that may not come: G or F if Jo has a cold. The first is used, in doubt.

    Which of two it is may depend on something that the player must ask: G or F, depending on who sings.
    """
    found = _IN_CASE.match(text)
    first, second = (plain_key(found[at], notation=notation) for at in (1, 3)) if found else (None, None)
    if not found or not first or not second:
        return None
    if found[4]:
        return _left_open(text, first, second)
    return KeyFound(first, also=found[2], doubt=f"used {first}; the list says {found[2]!r} too")


def _several(text: str, notation: Notation) -> KeyFound | None:
    parts = [part for part in _TWO.split(text) if part]
    keys = [plain_key(part.rstrip("? "), notation=notation) for part in parts]
    if len(parts) < 2 or None in keys:
        return None
    if _OR.search(text):
        return _left_open(text, *keys)
    return KeyFound(keys[0], also=f"key: {text}", doubt=f"two keys: used {keys[0]}, kept {text} in the notes")


def _left_open(text: str, *keys: Key | None) -> KeyFound:
    choices = tuple(str(key) for key in dict.fromkeys(keys) if key is not None)
    return KeyFound(None, also=f"key: {text}", doubt=f"{text}: left open; ask the leader", choices=choices)


# Minor keys with more than seven flats have no signature: they are written with sharps.
_OTHERWISE = {"Dbm": "C#m", "Gbm": "F#m", "Cbm": "Bm", "Fbm": "Em"}


def _written_otherwise(text: str) -> KeyFound | None:
    name = _OTHERWISE.get(re.sub(r"\s?(?:minor|min)$", "m", text.replace("♭", "b")))
    return KeyFound(read_key(name), also=f"key: {text}", doubt=f"{text} is written {name}: used that") if name else None


def _unsure(text: str) -> KeyFound | None:
    if found := _SEVENTH.match(text):
        return KeyFound(read_key(usual_spelling(found[1])), also=text, doubt=f"{text} read as the key {found[1]}")
    if re.match(r"[Hh](?:m|[- ]?(?:moll|dur|minor|major))?$", text):
        return KeyFound(None, also=f"key: {text}", doubt=f"{text} means B in a German list (--german); left open")
    if re.match(r"[A-G][b#♭♯]?M$", text):
        return KeyFound(None, also=f"key: {text}", doubt=f"M after {text[:-1]} may mean major or minor; left open")
    return None
