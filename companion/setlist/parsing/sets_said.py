"""Sets that talk parts a list into: first 4, then a break, then the rest; break after Moth; two sets of five."""

import re
from collections.abc import Sequence
from typing import Final

from companion.setlist.model import LineKind
from companion.setlist.parsing.builder import SetListBuilder
from companion.setlist.parsing.hardly_supported import as_a_whole
from companion.setlist.parsing.line_forms import Classified
from companion.setlist.parsing.set_draft import SetDraft
from companion.setlist.parsing.set_headings import BREAK_WORDS
from companion.setlist.parsing.song_draft import Draft
from companion.setlist.parsing.talk_words import AFTER
from companion.setlist.parsing.titles_named import MARK, songs_named
from companion.setlist.tidy import cut, lowered

LONGEST: Final = 300  # characters of a line
SHOWN: Final = 80  # of them in a question
_WORDS: Final = (  # numbers in the languages of set lists (dictionaries of each language; no single source)
    "",
    "one",
    "two zwei deux dos due dois duas twee två to kaksi dwa dvě",
    "three drei trois tres tre três drie tre kolme trzy tři",
    "four vier quatre cuatro quattro quatro vier fyra fire neljä cztery čtyři",
    "five fünf cinq cinco cinque cinco vijf fem viisi pięć pět",
    "six sechs six seis sei seis zes sex seks kuusi sześć šest",
    "seven sieben sept siete sette sete zeven sju syv seitsemän siedem sedm",
    "eight acht huit ocho otto oito acht åtta otte åtte kahdeksan osiem osm",
    "nine neun neuf nueve nove negen nio ni yhdeksän dziewięć devět",
    "ten zehn dix diez dieci dez tien tio ti kymmenen dziesięć deset",
)
_NUMBERS: Final = {word: number for number, words in enumerate(_WORDS) for word in words.split()}
NUMBER_SAID: Final = rf"(\d{{1,2}}|{'|'.join(sorted(_NUMBERS, key=len, reverse=True))})"
BREAK: Final = rf"(?:{BREAK_WORDS}|przerw[ęy])"
_A_BREAK: Final = re.compile(
    rf"(?<!\w)(?<!no )(?<!ohne )(?<!sans )(?<!sin )(?<!senza )(?<!geen )(?<!ingen )(?<!without )(?<!drum )(?<!piano )"
    rf"(?<!guitar )(?<!sax ){BREAK}(?!\w)(?! a leg)",
    re.IGNORECASE,
)
_SETS: Final = re.compile(
    rf"(?<!\w){NUMBER_SAID}\s(?:(?:short|long|kurze|\d\d min)\s)?(?:sets|halves|sett|setit|settiä|sæt|blöcke|teile|"
    r"parties|partes|parti|delen|blokken|pases)(?!\w)|"
    r"(?<!\w)(?:second|2nd|zweite[rnsm]?|deuxième|segund[oa]|second[oa]|tweede|andra|andet|andre)\s"
    r"(?:set|half|teil|hälfte|partie|parte|pase|deel|helft|delen|sett|sæt)(?!\w)",
    re.IGNORECASE,
)
_REST: Final = re.compile(
    r"(?<!\w)(?:rest|remaining|others|übrigen|restlichen|reste|autres|resto|altri|altre|resten|loput|reszta|zbytek)(?!\w)",
    re.IGNORECASE,
)
_FIRST_ONES: Final = re.compile(
    r"(?<!\w)(?:first|ersten|premiers|premières|primeros|primeras|primi|prime|primeiros|primeiras|eerste|första|første|"
    rf"pierwsze|prvních|prvih|prvi)\s{NUMBER_SAID}(?![\w:])|"
    rf"(?<!\w){NUMBER_SAID}\s(?:first|premiers|premières|primeros|primeras|primi|prime|ensimmäistä|första|første)(?!\w)",
    re.IGNORECASE,
)
_EACH: Final = re.compile(
    rf"(?<!\w){NUMBER_SAID}\s(?:sets|halves|sett|settiä|sæt|blöcke|teile|pases)\s"
    rf"(?:of|à|x|zu|mit|with|de|da|van|met|med|av|af)\s(?:je\s)?{NUMBER_SAID}(?!\s?(?:min|x|['′’]|\d|hours?|stunden|uur))(?!\w)",
    re.IGNORECASE,
)
_GAP: Final = r"[^\n.!?\ue000-\ue002]{0,30}"
_UNITS: Final = r"(?!\s?(?:[:.]\d|pm\b|am\b|uhr\b|h\b|min|hours?\b|o['’]?clock|bars?\b|takt|\d|\w*songs?\s+\w+\s+bars))"
_NTH: Final = rf"(?:no\.?\s?|nr\.?\s?|#|number\s|song\s|lied\s|tune\s)?{NUMBER_SAID}(?!\w){_UNITS}"
_AFTER_NUMBER: Final = re.compile(
    rf"(?<!\w){BREAK}{_GAP}\s(?:right |straight )?{AFTER}\s(?:the\s)?{_NTH}|"
    rf"(?<!\w){AFTER}\s{_NTH}{_GAP}(?<!\w){BREAK}(?!\w)",
    re.IGNORECASE,
)
_AFTER_SONG: Final = re.compile(
    rf"(?<!\w){BREAK}{_GAP}\s{AFTER}\s(?:the\s)?({MARK})|(?<!\w){AFTER}\s(?:the\s)?({MARK}){_GAP}(?<!\w){BREAK}(?!\w)",
    re.IGNORECASE,
)
_DIGITS: Final = re.compile(r"\d+")


def take_sets_said(found: Sequence[Classified], gathered: SetListBuilder, first: int) -> None:
    """Part the only set where a line of talk says how, in doubt; doubt it where one only speaks of a break or sets.

    ``first``: the account's lines of other texts.
    """
    filled = [one for one in gathered.sets if one.songs]
    if len(filled) != 1 or any(one.took is LineKind.BREAK for one in found):
        return
    only, lines = filled[0], {id(one.line.row): one.line for one in found}
    for row, took, draft in gathered.told_after(first):
        line = lines.get(id(row))
        if draft is not None or line is None or took not in (LineKind.LEFT, LineKind.CHANGE, LineKind.ABOUT):
            continue
        text = line.text[:LONGEST]
        if bounds := _bounds(text, only.songs):
            _part(gathered, only, bounds)
            gathered.doubts.append(as_a_whole(gathered, f"parted into sets, as a line says: {cut(text, SHOWN)}"))
            gathered.retell(row, "parts the songs into sets")
            return
        if _A_BREAK.search(text) or _SETS.search(text):
            gathered.doubts.append(as_a_whole(gathered, f"a line speaks of a break or of sets: {cut(text, SHOWN)}"))
            return


def _part(gathered: SetListBuilder, only: SetDraft, bounds: Sequence[int]) -> None:
    songs, at = only.songs, gathered.sets.index(only)
    parts = [songs[begin:end] for begin, end in zip((0, *bounds), (*bounds, len(songs)), strict=True)]
    only.songs = parts[0]
    for number, part in enumerate(parts[1:], start=1):
        made = SetDraft("")
        made.songs = part
        gathered.sets.insert(at + number, made)


def _bounds(text: str, songs: Sequence[Draft]) -> tuple[int, ...]:
    """Return how many songs stand before each new set; empty where the line does not say it."""
    if (found := _EACH.search(text)) and (sets := number_of(found[1])) * (each := number_of(found[2])) == len(songs):
        return tuple(each * number for number in range(1, sets))
    if not (_A_BREAK.search(text) or _SETS.search(text)):
        return ()
    of_first = _FIRST_ONES.search(text) if _REST.search(text) or _A_BREAK.search(text) else None
    bound = 0
    if found := of_first or _AFTER_NUMBER.search(text):
        bound = number_of(found[1] or found[2])
    elif found := _AFTER_SONG.search(songs_named(text, [draft.title for draft in songs]).text):
        bound = int(_DIGITS.findall(found[1] or found[2])[0]) + 1
    return (bound,) if 0 < bound < len(songs) else ()


def number_of(said: str) -> int:
    """Return the number that ``NUMBER_SAID`` found."""
    return int(said) if said.isdecimal() else _NUMBERS[lowered(said)]
