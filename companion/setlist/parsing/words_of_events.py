"""Parts of an evening or a service at which the band plays nothing: Speeches, Cake cut, Reading - Ann, Buffet + DJ."""

import re

from companion.setlist.parsing.event_vocabulary import BESIDE, MAY_BE, PAUSES, SURE
from companion.setlist.parsing.set_headings import bare, clock_in_front

_PHRASES = re.compile(
    r"^(?:(?:band |everyone )?(?:off|on|leave|clear) stage|(?:band )?(?:load|get)[- ]?(?:in|out)|sound ?check|"
    r"line ?check|(?:band |we )?(?:pack|strike|break)[- ]?(?:down|up|the stage)|set[- ]?up|"
    r"(?:house )?lights? (?:up|down|out)|altar call|(?:one |a )?minute'?s? silence|group photos?|grand draw|"
    r"(?:short |long )?(?:chat|story|gap|tuning|costume change)|"
    r"(?:wedding |birthday )?cake[- ]?cut(?:ting)?|(?:cutting|cut) (?:of )?the cake|"
    r"ouverture des portes|feu d'artifice|pièce montée|fuochi d'artificio|fuegos artificiales)\b",
    re.IGNORECASE,
)
_NO_BAND = re.compile(
    r"[(\[][^()\[\]]{0,20}\b(?:no band|without (?:the )?band|ohne band|sans (?:le )?groupe|playlist|dj|from (?:phone|"
    r"laptop|track)|recorded|zonder band|uden band|utan band|senza band|sin banda|no music|keine musik|"
    r"sans musique|senza musica|sin música|geen muziek|ingen musik)\b[^()\[\]]{0,20}[)\]]",
    re.IGNORECASE,
)
_NO_MUSIC = re.compile(  # Comic - no music
    r"\s[-–—]\s(?:(?:no|without|keine|ohne|sans|pas de|niente|senza|sin|sem|geen|zonder|ingen|uden|utan|uten|ei) "
    r"(?:live )?(?:music|band|musik|musique|groupe|musica|música|muziek|musikk|musiikkia)|"
    r"playlist|dj|recorded|from cd)$",
    re.IGNORECASE,
)
_SPOKEN = re.compile(
    r"^(?:(?:the |a )?(?:first|second|third|fourth|fifth|1st|2nd|3rd|4th|bible|old testament|gospel|opening|closing|"
    r"final|bidding) )?"
    r"(?:readings?|lessons?|sermon|homily|speech|speeches|toasts?|talk|address|notices|announcements|prayers?|"
    r"gospel|lesung|predigt|rede|reden|lecture|discours|lettura|lectura|leitura|lezing|læsning|läsning|czytanie)(?:\s\d{1,2})?\s?:\s",
    re.IGNORECASE,
)
_PART_OF_SERVICE = re.compile(  # common practice, no source
    r"^(?:the )?(?:(?:opening |closing |final )?prayers?|intercessions|(?:first |second )?readings?|sermon|talk|"
    r"address|homily|(?:final )?blessing|notices|announcements|welcome|benediction|creed|collection|"
    r"message(?=\W*(?:\d|$))|children'?s? (?:talk|spot)|coffee|tea)"
    r"\b(?!.*:)",
    re.IGNORECASE,
)
_BRACKET = re.compile(r"\s*[(\[][^()\[\]]*[)\]]?$")
_WHO = re.compile(
    r"\s+(?:[-–—]\s+\S+(?:\s\S+){0,3}|(?:by|with|door|von|vom|mit|par|avec|da|di|por|con|av|af|med)\s+\S+(?:\s[A-Z]\w+){0,2})$"
)
_WORDS = re.compile(r"[^\W\d_](?:['’]?[^\W_])*|\d(?:st|nd|rd|th)")
_TIME = re.compile(
    r"[\s,(–—-]+(?:at |ca\.? |um |à |alle |a las |kl\.? |klo )?"
    r"\d{1,2}(?:[:.h]\d\d)?\s?(?:am|pm|uhr|h|min(?:ute)?s?)?\)?$"
)
LONGEST = 80
MAX_WORDS = 4
MAX_IN_PART = 3  # words of one event among several
_PARTS = re.compile(r"\s*[/+&,;|]\s*|\s+(?:and|then|und|et|y)\s+")


def _plain(text: str) -> str:
    words = bare(clock_in_front(bare(text))[1])
    words = _BRACKET.sub("", words)
    return _WHO.sub("", _TIME.sub("", words)).strip()


def _share(text: str, words: frozenset[str]) -> tuple[int, int]:
    """Return how many of the words are among these, and how many are neither these nor words beside them."""
    found = [word.casefold().replace("’", "'") for word in _WORDS.findall(text)]
    named = sum(word in words for word in found)
    return named, sum(word not in words and word not in BESIDE for word in found)


def is_event(text: str) -> bool:
    """Return whether the line can only be an event without the band.

    >>> [is_event(text) for text in ("Cake cut & speeches", "Speeches for Nobody", "Coffee", "Reading: Luke 3 - Tom")]
    [True, False, False, True]
    """
    if len(text) > LONGEST:
        return False
    if _NO_BAND.search(text) or _NO_MUSIC.search(text) or _SPOKEN.match(clock_in_front(bare(text))[1]):
        return True
    plain = _plain(text)
    if (found := _PHRASES.match(plain)) and not _share(plain[found.end() :], SURE | MAY_BE)[1]:
        return True
    parts = _PARTS.split(plain)
    if len(parts) > 1 and all(len(part.split()) <= MAX_IN_PART and _share(part, SURE)[0] for part in parts):
        return True  # Buffet / raffle / chairman's speech
    sure, others = _share(plain, SURE)[0], _share(plain, SURE | MAY_BE)
    return not others[1] and (sure > 0 or others[0] > 1)


def ends_a_set(text: str) -> bool:
    """Return whether the band stops for the event: a meal, a draw, speeches."""
    return _share(_plain(text), PAUSES)[0] > 0


def names_meal(text: str) -> bool:
    """Return whether a meal or a draw is among a few words: Ploughman's supper."""
    plain = _plain(text)
    return len(plain.split()) <= MAX_WORDS and ends_a_set(text)


def names_event(text: str) -> bool:
    """Return whether a word for an event is among a few others: Begrüßung Bürgermeister, Sorteio do cabaz."""
    plain = _plain(text)
    return len(plain.split()) <= MAX_WORDS and _share(plain, SURE)[0] > 0


def may_be_event(text: str) -> bool:
    """Return whether the line names an event, in words that may also be a song's title: Coffee, Blessing, Prayers."""
    if len(text) > LONGEST:
        return False
    named, other = _share(_plain(text), SURE | MAY_BE)
    return named > 0 and not other


def is_spoken_part(text: str) -> bool:
    """Return whether the line names a part of a service without music: Prayers, Reading - Isaiah 40."""
    return bool(_PART_OF_SERVICE.match(bare(text)))
