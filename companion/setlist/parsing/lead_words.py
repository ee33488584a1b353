"""Small words around a title in a sentence: second set starts with Moth, that's in A."""

import re
from typing import Final

from companion.setlist.parsing.talk_words import PLACE

# Words that say what comes when, and words that stand beside them (dictionaries of each language; no single source).
_TELLING: Final = (
    "then next now first firstly finally lastly afterwards opener closer opening closing start starts starting open "
    "opens begin begins beginning end ends ending finish finishes finishing close closes kick kicks followed "
    "dann danach zuerst zuletzt schluss los beginnen beginnt starten startet fangen fängt eröffnen enden endet "
    "aufhören opener rausschmeißer puis ensuite enfin commence commençons finit termine ouvre ouvrons attaque "
    "luego después empezamos empieza abrimos terminamos cerramos acabamos poi iniziamo inizia apriamo apre finiamo "
    "chiudiamo infine depois começamos começa abrimos terminamos fechamos daarna beginnen begint openen eindigen "
    "sluiten dan sen sedan börjar öppnar slutar avslutar så derefter starter åbner åpner begynner slutter avslutter "
    "hinterher anschließend gleich laatste eerste letztes einstieg auftakt abschluss ausklang aufwärmen reinkommen "
    "pause break interval pauze paus pausa přestávkou przerwą "
    "sitten aloitetaan lopetetaan potem zaczynamy kończymy pak začínáme končíme onda počinjemo završavamo"
)
_BESIDE: Final = (
    "and we i we'll we're i'll it it's its is are be that that's thats the with w w/ wiv on by off up into straight in "
    "goes go going comes do doing play playing we'd our set half second third last one two song tune number "
    "vor vorm before avant antes voor före før przed před det "
    "und wir ist mit als es geht an am zum im der die das erste zweite dritte "
    "erstes zweites drittes set teil hälfte ende anfang weiter kommt spielen machen "
    "et on nous avec par c'est le la premier deuxième second seconde y con el primero segunda e con il primo secondo "
    "com o primeiro segundo en we met het eerste tweede och vi med första andra og første anden andre ja se i s z"
)
_ENCORE: Final = ("encore", "encores", "zugabe", "rappel", "bis", "toegift", "extranummer", "ekstranummer")
_NOUNS: Final = (
    "Set",
    "Teil",
    "Hälfte",
    "Schluss",
    "Ende",
    "Anfang",
    "Pause",
    "Einstieg",
    "Auftakt",
    "Abschluss",
    "Ausklang",
    "Aufwärmen",
    "Reinkommen",
)
TELLING: Final = frozenset((*_TELLING.split(), *_ENCORE))
_LEADS: Final = TELLING | frozenset(_BESIDE.split())
_SAYS_AT_END: Final = re.compile(  # Moth, that's in A; Moth, das ist in C
    r"\s*(?:[,;:(–—-]\s*|\s)(?:and )?(?:that['’]?s|it['’]?s|its|which is|das ist|ist|c['’]est|es en|es|è|är|er)$"
)
_SAYS_IN: Final = re.compile(r"[\s,]+(?:and )?(?:that['’]?s|it['’]?s|its|which is|das ist|c['’]est)$")  # moth its in A
MOST: Final = 6  # words


def count_of_leads(words: list[str]) -> int:
    """Return how many words in front lead to the title that begins with the next one; 0 if a title may begin so.

    >>> count_of_leads("and we finish on Moth Parade".split()), count_of_leads("on Moth Parade".split())
    (4, 0)
    """
    plain = [word.strip(",:").replace("’", "'") for word in words[: MOST + 1]]
    plain[1:] = [word.lower() if word in _NOUNS else word for word in plain[1:]]
    count = next((at for at, word in enumerate(plain) if word not in _LEADS), 0)
    return count if count <= MOST and TELLING & set(plain[:count]) else 0


def without_says(title: str, *, is_said: bool = False) -> str:
    """Return a title without the small words that lead on to its key: Moth Parade, that's in A.

    A title in small letters loses them only where the key ``is_said`` with a word: moth parade its in A.
    """
    rises = title[:1].isupper()
    found = _SAYS_AT_END.search(title) if rises else _SAYS_IN.search(title) if is_said else None
    return title[: found.start()] if found and title[: found.start()].strip() else title


def set_led_to(words: str) -> str:
    """Return the set that such words begin: set 2 for second set starts with; "" if they begin none."""
    found = PLACE.search(words)
    if found and (found["two"] or found["three"]):
        return "set 2" if found["two"] else "set 3"
    return "encore" if words.split(maxsplit=1)[0] in _ENCORE else ""
