"""Find a key at the end of a line of words, in any notation, and vote which notation a list has."""

import re
from collections.abc import Iterable

import msgspec

from companion.music import Key
from companion.setlist.notation import Notation
from companion.setlist.parsing.key_cells import GERMAN_ALONE, SAYS_AGAIN, plain_key
from companion.setlist.parsing.key_spellings import usual_spelling

MAX_WORDS = 5  # in the key of G, Si bémol mineur
LONGEST_KEY = 30
_SAID = re.compile(r"^(?:in|en|em|ton|tom|tono|key|tonart|concert|sounding)\b", re.IGNORECASE)
_NOW = re.compile(r"(?:now|jetzt)\b", re.IGNORECASE)
_STRONG = re.compile(
    r"^[A-G](?:[b#♭♯]|\s?-?(?:flat|sharp))|^[B-H]m$|^[A-G]-$|^[A-G]\s?(?:minor|major|min|maj|dur|moll|dorian)$|"
    r"^[A-H](?:iss?|es)m?$|^(?:Es|As)m?$"
)
_TAIL = re.compile(
    r"([^\s()\[\]`.,;:|=/–—]+(?:\s(?:bémol|bemol|bemolle|dièse|diesis|sostenido|sustenido|mineur|majeur|minor|major|menor|mayor|"
    r"klein|groot|maior|minore|maggiore|moll|dur|flat|sharp)){0,2})[)\]`?*\s]*$"
)
_GERMAN_ONLY = re.compile(
    r"^(?:[Hh]m?|(?:[CDFGcdfg](?:iss?|es|ess)|[AHah]iss?|[Ee]ss?|[Aa]ss?)m?|.*-?(?:Moll|Dur|moll|dur|-MOLL|-DUR))$"
)
_ENGLISH_ONLY = re.compile(r"^[A-G][b♭#♯]m?$|^[A-G](?:b|#)?m$")
_SYLLABLE_ONLY = re.compile(
    r"^(?:d[oó]|r[eé]|mi|f[aá]|sol|l[aá]|si)(?:b|#|♭|♯|\s?(?:bémol|dièse|bemolle|diesis|sostenido))?(?:m|\s?(?:mineur|minore|menor|majeur|"
    r"maggiore|mayor))?$",
    re.IGNORECASE,
)
_POINTED_SYLLABLE = re.compile(  # Moth, en sol.
    r"(?<=[\s,])((?:do|r[eé]|mi|fa|sol|la|si)(?:\s(?:mineur|majeur|minore|maggiore|menor|mayor|maior))?)\.$",
    re.IGNORECASE,
)
_SYLLABLE_APART = re.compile(r"\b(d[oó]|r[eé]|mi|f[aá]|sol|l[aá]|si)\s(?=[mb#♭♯](?!\w))", re.IGNORECASE)  # La m, Si b
BEFORE_A_LETTER = re.compile(  # a letter follows in titles: Plan B, Vitamin C
    r"(?<!\w)(?:plan|vitamin|side|part|type|class|grade|level|act|section|platform|gate|flat|exit|model|room|bus|bee|hall|stage|deck|block|"
    r"the|big|major|minor|studio|channel)$",
    re.IGNORECASE,
)
FEW_BESIDE, MIN_BESIDE = 3, 0.3  # different syllables, and their share beside letters
LONGEST_PARTED = 200  # characters
_PARTED = re.compile(r"\s+[-–—|•·]+\s+|\s*[,;|()\[\]\t]\s*|\s{2,}")
_TONE = re.compile(r"^[^\W\d_]{2,12}\s?[:=]\s*")  # Tonart: H
_TELLS = re.compile(r"^(?:Hm?|(?:[CDFGA]is|[CDG]es|Es|As)m?|[A-G][b♭]m?|[A-H][\s-]?(?:Dur|Moll|dur|moll))$")
FEW = 4  # keys in syllables are enough, more than there are letters


class KeyAtEnd(msgspec.Struct, frozen=True):
    """A key at a line's end: the words before it, the key as written, whether a word such as "in" announces it."""

    before: str
    written: str
    key: Key
    is_said: bool = False

    @property
    def is_strong(self) -> bool:
        """Return whether no title ends so: Bb, F#m, E flat, Dm; a lone letter and Am do."""
        return bool(_STRONG.match(usual_spelling(self.written)))

    @property
    def may_be_title(self) -> bool:
        """Return whether a letter alone may end the title, by the word before it: Plan B."""
        return len(self.written) == 1 and bool(BEFORE_A_LETTER.search(self.before))


def key_at_end(text: str, notation: Notation) -> KeyAtEnd | None:
    """Return the longest key that ends the text, with at least a word before it."""
    words = text.split(" ")
    if not words[-1].strip("-–—"):
        return None
    for count in range(min(MAX_WORDS, len(words) - 1), 0, -1):
        written = " ".join(words[-count:]).strip().rstrip(" ([")  # a bracket may open there, and a page end
        if not written or len(written) > LONGEST_KEY:
            continue
        key = plain_key(written, notation=notation)
        if key is None or written[-1] in ")].":
            continue
        before = " ".join(words[:-count]).rstrip()
        if (_NOW.match(written) or SAYS_AGAIN.match(written)) and before[-1:] not in "-–—:,;(":
            continue  # Here and Now in G; Still in D
        if not before:
            return None
        is_said = bool(_SAID.match(written)) and len(written.split()) > 1
        if is_said:
            written = _without_said(written, key, notation)
        return KeyAtEnd(before, written, key, is_said)
    return None


def _without_said(written: str, key: Key, notation: Notation) -> str:
    """Return the key alone: F sharp for "in F sharp"."""
    words = written.split()
    return next(
        (
            " ".join(words[at:])
            for at in range(len(words) - 1, 0, -1)
            if plain_key(" ".join(words[at:]), notation=notation) == key
        ),
        written,
    )


def voted_notation(texts: Iterable[str]) -> Notation:
    """Return the notation of a list by what stands at the ends of its lines or in its cells."""
    closed = (_SYLLABLE_APART.sub(r"\1", usual_spelling(_POINTED_SYLLABLE.sub(r"\1", text.strip()))) for text in texts)
    parts = (part for text in closed for part in (text, *_keys_inside(text)))
    tails = [found[1] for part in parts if (found := _TAIL.search(part))]
    german = sum(bool(_GERMAN_ONLY.match(tail)) for tail in tails)
    english = sum(bool(_ENGLISH_ONLY.match(tail)) for tail in tails)
    syllables = [tail for tail in tails if _SYLLABLE_ONLY.match(tail)]
    others = sum(bool(GERMAN_ALONE.match(tail) or re.match(r"^[A-H](?:b|#|♭|♯)?m?$", tail)) for tail in tails)
    if len(set(syllables)) > 1 and len(syllables) > others and len(syllables) >= min(FEW, 0.25 * len(tails)):
        return Notation.SYLLABLES
    if len({tail.casefold() for tail in syllables}) >= FEW_BESIDE and len(syllables) >= MIN_BESIDE * others:
        return Notation.SYLLABLES  # letters are read in it too: sol beside Bb, of two leaders
    return Notation.GERMAN if german and german >= _flats(tails, english) else Notation.LETTERS


def _keys_inside(text: str) -> list[str]:
    """Return the keys that signs part from what follows, where they tell the notation: Moth - Hm - slow."""
    parts = [part.strip() for part in _PARTED.split(text)[:-1]] if len(text) <= LONGEST_PARTED else []
    return [part for part in (usual_spelling(_TONE.sub("", part)) for part in parts) if _TELLS.match(part)]


def _flats(tails: list[str], english: int) -> int:
    """Count what no German list has: flats with a b. Sharps and a small m stand in Nordic and mixed lists too."""
    return min(english, sum(bool(re.match(r"^[A-G][b♭]m?$", tail)) for tail in tails))
