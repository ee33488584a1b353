"""The place of the show in a line that tells where it is, not when, always in doubt: Wir spielen im Gasthof Krone."""

import re
from collections.abc import Callable, Sequence
from typing import Final

from companion.leader.probable_places import BEFORE_DATE, CUTS, LEAST, MAX_TEXT, rated_place, without_times
from companion.leader.reply_words import words_of

# What tells where: the label of the place, the name of the event, or "we play", in the languages of leaders.
_TELLS: Final = re.compile(
    r"^(?:(?:and|also|so|but|und|et|y|e|en|og|och|a|ps|nb|oh|btw)\s)?"
    r"(?:(?:(?:the|our|der|die|das|den|la|le|el|il|lo|o|os|het|de|unser|unsere|notre|nuestro|nostro)\s)?"
    r"(?:venue|place|location|hall|room|gig|show|party|wedding|concert|dance|event|do|ball|night|"
    r"ort|spielort|veranstaltungsort|konzert|auftritt|fest|feier|hochzeit|ball|veranstaltung|"
    r"lieu|bal|fête|soirée|mariage|concert|spectacle|lugar|sitio|concierto|baile|boda|fiesta|actuación|bolo|"
    r"luogo|posto|concerto|ballo|festa|matrimonio|serata|local|casamento|baile|"
    r"locatie|plek|zaal|feest|optreden|bruiloft|bal|plats|platsen|spelning|spelningen|bröllopet|festen|"
    r"sted|stedet|spillested|spillestedet|jobben|bryllupet|koncerten|konserten|"
    r"miejsce|impreza|koncert|wesele|místo|ples|zábava|svatba|helyszín|paikka|mjesto|lloc|festa|ball)"
    r"(?:['’]s|\s(?:is|will be|ist|est|es|è|é|är|er|jest|je|on|sera|será|sarà|wird|findet|zijn|finner|äger))?|"
    r"it['’]?s|it is|that['’]?s|we['’]?re|we are|we play|we will be|we['’]?ll be|playing|"
    r"es ist|wir sind|wir spielen|c['’]est|ce sera|on est|on joue|on sera|nous jouons|nous sommes|es|estamos|tocamos|"
    r"actuamos|è|siamo|suoniamo|si suona|estamos|tocamos|é|het is|we zijn|we spelen|det er|det är|vi er|vi är|"
    r"vi spiller|vi spelar|gramy|to jest|hrajeme|je to|játszunk|soitamme|sviramo|svirat ćemo|igramo|som|toquem)"
    r"(?:\s(?:now|actually|back|again|jetzt|nun|wieder|maintenant|ahora|adesso|ora|agora|nu|teraz|teď|held|still))?\s",
    re.IGNORECASE,
)
_ENDS: Final = re.compile(
    r"\s(?:because|since|now|btw|instead|as usual|weil|statt|parce|porque|perché|want|för|"
    r"not|nicht|pas|non|niet|inte|ikke|this time|diesmal|cette fois|esta vez|stavolta|deze keer)\b"
)
# Another place that it is not, before the one that it is: it's not the Legion any more it's the Pump Room.
_DENIED: Final = re.compile(r"\b(?:not|no longer|never|any ?more|instead)\b", re.IGNORECASE)
_IS_AFTER_ALL: Final = re.compile(r"\s(?=(?:it['’]?s|we['’]?re)\s)", re.IGNORECASE)

# Behind the place: the boat is moored at Quai Brasseur, that's the venue.
_THAT_IS_IT: Final = re.compile(
    r"\b(?:that['’]?s|that is|das ist|c['’]est|eso es|questo è|dat is|det er|det är)\s"
    r"(?:the|der|die|le|la|el|il|de)\s(?:(?:new|neue|neuer|nouveau|nuevo|nuovo|nieuwe|nye|nya)\s)?(?:venue|place|location|ort|spielort|lieu|lugar|sitio|luogo|plek|locatie)",
    re.IGNORECASE,
)
_AT: Final = re.compile(r"\s(?=(?:at|in|on|im|am|bei|beim|à|au|chez|en|al|nel|presso|op|bij|på|ved|vid)\s)")

_THE: Final = re.compile(r"^(?:the|der|die|das|den|het|de|le|la|el|il)\s")
_COMMAS: Final = re.compile(r" {0,20},,+ ?")  # where a time was
_ANY: Final = re.compile(
    r"(?:a|an|ein|eine|une|un|una|ett|een|en(?!\s(?:el|la|los|las|un|una)\b))\s", re.IGNORECASE
)  # a big room with a bar


def told_place(text: str, is_other: Callable[[str], bool], skip: Sequence[tuple[int, int]] = ()) -> str:
    """Return the place that a clause of a line tells, or "".

    ``is_other``: whether words name a song or a set. ``skip``: the letters of the date, from and to.
    """
    if len(text) > MAX_TEXT:
        return ""
    for start, end in skip:
        before = BEFORE_DATE.sub(" ", text[:start].rstrip())
        text = f"{before.ljust(start)}{',' * (end - start)}{text[end:]}"
    for part in CUTS.split(_COMMAS.sub(" ", without_times(text))):
        said = part.strip()
        if (denied := _DENIED.search(said)) and (after_all := _IS_AFTER_ALL.search(said, denied.end())):
            said = said[after_all.end() :]
        if (tells := (_AT.search(said) if _THAT_IS_IT.search(text) else None) or _TELLS.match(said)) is None:
            continue
        rest = said[tells.end() :]
        rest = rest[: ends.start()] if (ends := _ENDS.search(rest)) else rest
        rate, name = (0, "") if _ANY.match(rest) else rated_place(rest, is_other)
        if rate > LEAST and len(words_of(name)) > 1:
            return _THE.sub("", name)
    return ""
