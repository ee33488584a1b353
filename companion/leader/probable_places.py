"""The place of the show in a line with its date or times, where the line has more words: always in doubt.

"Friday 22nd January, Amberley lounge, blacks, no tie": of the parts between signs, the one with a word for a place, or
with a name after "at".
"""

import re
from collections.abc import Callable, Sequence
from typing import Final

from companion.leader.clock_grammar import TimedText, clock_at
from companion.leader.event_words import FROM_SAID
from companion.leader.reply_words import NUMBER, phrase_of, set_of, words_of
from companion.show.titles import folded

MAX_TEXT: Final = 400  # letters of a line; a longer one is prose
MAX_WORDS: Final = 9  # of a place
LEAST: Final = 1  # how probably a name with "The" is a place
MIN_NAME: Final = 3  # letters of a name: not "in G"
# What places are called, folded, in the languages of leaders, as a word of its own or the end of one.
_NOUNS: Final = set_of(
    "hall house hotel bar pub church chapel cathedral abbey ballroom barn marquee theatre theater club school college "
    "room rooms lounge pavilion mill inn arms tavern castle gardens casino arena stadium tent bandstand institute "
    "legion depot brewery cellar cellars library museum hangar warehouse clubhouse restaurant cafe farm boat pier quay "
    "wharf terrace rooftop town-hall courtyard lodge manor priory studio vaults bothy union "
    "zentrum centrum centre center centro "
    "haus halle saal kirche schloss zelt festzelt wirt wirtshaus gasthaus gasthof stadl scheune biergarten rathaus "
    "keller platz dorfplatz marktplatz turnhalle heim stube buhne schule alm "
    "salle eglise chapelle chateau mairie brasserie guinguette kiosque gymnase foyer auberge ferme domaine chapiteau "
    "zaal feestzaal dorpshuis kerk kroeg schuur hoeve loods parochiezaal plein kasteel herberg "
    "plaza salon iglesia pabellon finca teatro ermita recinto carpa sala bodega ayuntamiento "
    "placa envelat casal ateneu esglesia pavello castell masia "
    "piazza salone circolo agriturismo chiesa oratorio castello trattoria osteria cascina "
    "largo praca salao igreja adro quinta coreto clube pavilhao casa "
    "sal huset hus kro kroen forsamlingshus gard garden gaard lade laden loge logen lokal lokale bygdegard kirke "
    "kirken kyrka kyrkan brygga brygge bryggan torg torget park parken folkets samfunnshus grendehus skole skola slott "
    "slot "
    "dum dome sale hospoda hospode klub klube kostel namesti restaurace sokolovna kulturak zamek hostinec "
    "dom remiza remizie swietlica swietlicy rynek karczma gospoda palac dworek dwor stodola kosciol "
    "dvorana dvorani terasa terasi trg konoba crkva gostilna cerkev hotela "
    "haz hazban terem templom vendeglo etterem kocsma kert udvar "
    "lava talo talolla sali kirkko seurantalo ravintola tanssilava kartano tupa "
    "neuadd clwb capel tafarn ysgol festri eglwys"
)
_LONG_NOUNS: Final = tuple(one for one in _NOUNS if len(one) >= 4)
_ENDINGS: Final = ("s", "en", "et", "n", "ban", "ben", "in", "u", "a", "lla")
_AT: Final = re.compile(
    r"^(?:(?:we(?:['’]?re| are)?|it(?:['’]?s| is)|gig|show|party|back|up|down|upstairs|downstairs|still|again|playing|"
    r"play|is|hrajeme|gramy|vi spiller|vi spelar|wir spielen|we spelen|on joue|tocamos|suoniamo|ist|est|er|är)\s)"
    r"{0,4}"
    r"(?P<at>(?:à l|a l|all|nell|dell|dall)['’]|"
    r"(?:at|in|on|@|im|in der|in dem|auf dem|auf der|uf em|uf de|beim|bei|am|zum|à la|à|au|aux|chez|dans|sur|en el|"
    r"en la|en|nel|nella|allo|alla|al|presso|da|no|na|nos|nas|em|in het|in de|in den|op het|op de|op|te|bij|v|ve|u|w|"
    r"we|på|i|vid|ved|hos|z|a la|als|yn|yn y|yng|a)\s)"
    r"(?P<the>(?:the|de|het|den|der|die|das|la|le|el|il)\s)?",
    re.IGNORECASE,
)
_LABELLED: Final = re.compile(
    r"\b(?:venue|place|location|position|spielort|ort|lieu|lugar|luogo|local|spillested|sted|spelplats|plats|plek|locatie|"
    r"místo|miejsce|miesto|helyszín|paikka|mjesto|kraj|lloc)\s?[:=]\s?(?P<place>[^,;.!?()\n]{3,60})",
    re.IGNORECASE,
)
_LATER: Final = re.compile(r"(?:tb[acd]|not|no|same|unchanged|usual|as|see|ask|on|in|at)\b", re.IGNORECASE)
_IT_IS: Final = re.compile(
    r"^(?:(?:it|that|gig|show|party|place|venue|position|location|where|ort|lieu|lugar|luogo|local|sted|plats|plek|místo|"
    r"miejsce|helyszín|paikka|mjesto|kraj|lloc)(?:['’]?s| is|:)?\s)+(?:the\s)?",
    re.IGNORECASE,
)
# Who writes for a house: on behalf of the Mill Hotel.
_BEHALF: Final = re.compile(
    r"^.{0,40}?\b(?:on behalf of|in the name of|im namen|im auftrag|de la part|au nom|en nombre|de parte|per conto|"
    r"a nome|em nome|namens|på vegne af|på vegne av|på uppdrag av|w imieniu|jménem)\s(?:(?:the|von|vom|der|des|du|de|"
    r"del|della|di|do|da|la|le|el|il|het)\s){0,2}",
    re.IGNORECASE,
)
CUTS: Final = re.compile(r"[,;!?()\[\]\n]|[.:](?=\s|$)|\s[-–—]\s")
# What follows the name of a place in the same part: at the Duck on the 12th, from 8.
_ENDS: Final = re.compile(
    r"\s(?:on|from|for|by|till|until|this|next|at|with|but|and then|then|so|because|from|ab|um|von|de|à|dalle|od|fra)\s"
    r"(?:the\s|about\s)?(?=\d|half|noon|midnight|mon|tue|wed|thu|fri|sat|sun|new year|christmas|boxing|"
    r"easter|halloween|silvester|we\b|it\b|you\b)",
    re.IGNORECASE,
)
_SMALL: Final = set_of(
    "the a of in on at and by under near with le la les des du de der die das zum zur am im st i pa vid til del della "
    "dei di da do el los las van het bij op w na big small main great old new top upstairs downstairs ground first "
    "second function dels dos d l z v u uf em ved hos y e et und og och en"
)
BEFORE_DATE: Final = re.compile(r"(?: (?:on|the|am|den|le|el|il|op|dne|w|v|la|de|em|den|på|i|from|for|at))+$")
_NEVER: Final = set_of(
    "not no never same usual there here doors soundcheck load curfew dress parking next this year starts start ends "
    "end key keys play plays playing bring set sets song songs band piano everyone thanks cheers love regards sorry "
    "ask who what when where why please black blacks tie coat "
    "lg vg mfg hg mvh kh hilsen halsningar gruss grusse groet groetjes saludos abrazo bises bisous saluti abracos"
)


def probable_place(text: str, skip: Sequence[tuple[int, int]], is_other: Callable[[str], bool]) -> str:
    """Return the part of a line that is probably the place, or "".

    ``skip``: the letters of the date, from and to. ``is_other``: whether words name a song or a set.
    """
    if len(text) > MAX_TEXT:
        return ""
    for start, end in skip:
        text = f"{text[:start]}{',' * (end - start)}{text[end:]}"
    if (named := _LABELLED.search(text)) and (place := named["place"].strip()) and not _LATER.match(place):
        return place
    rated = [rated_place(part.strip(), is_other, with_day=bool(skip)) for part in CUTS.split(without_times(text))]
    best = max(range(len(rated)), key=lambda at: rated[at][0])
    names = [name for rate, name in rated[max(best - 1, 0) : best] if rate == LEAST]
    return ", ".join([*names, rated[best][1]])  # The Anchor, Wharf Street


def rated_place(part: str, is_other: Callable[[str], bool], *, with_day: bool = False) -> tuple[int, str]:
    """Return how probably words are the place, and its name: 3 with a word for one, 2 a name after "at", 0 not.

    ``with_day``: the line has a date, beside which a name and no more may be the place.
    """
    said = _IT_IS.sub("", _BEHALF.sub("", part))
    placed = _AT.match(said)
    name = said[placed.end() :] if placed else said
    ends = _ENDS.search(name)
    name = (name[: ends.start()] if ends else name).strip(" .'’\"–—-")
    name = BEFORE_DATE.sub("", name)
    words = words_of(name)
    lows = [word.low for word in words]
    if not 0 < len(words) <= MAX_WORDS or _NEVER & {*lows} or len(name) < MIN_NAME:
        return 0, ""
    if any(word.kind == NUMBER and len(word.text) > 3 for word in words):
        return 0, ""
    capitals = [word for word in words if word.text[:1].isupper() and len(word.text) >= MIN_NAME]
    has_noun = any(_is_noun(folded(word.text)) for word in words if word.text.isalpha())
    lower = [one.low for one in words if one.text[:1].islower() and one.low not in _SMALL | _NOUNS]
    if len(lower) > 1:
        return 0, ""
    is_name = has_noun and (bool(capitals) or placed is not None)
    is_titled = words[0].low == "the" and len(capitals) > 1 and not lower
    is_only_name = with_day and len(capitals) == len(words) > 1 and part == name
    rate = LEAST if is_titled or is_only_name else 0
    rate = 2 if placed and capitals and _begins_name(words[0].text) else rate
    rate = 3 if is_name and (placed or len(words) > 1) else rate
    return (rate, name) if rate and not is_other(name) else (0, "")


def _is_noun(said: str) -> bool:
    """Return whether a word names a kind of place, or ends as one, with its ending: Dorfplatz, seurantalolla."""
    forms = [said, *(said.removesuffix(one) for one in _ENDINGS)]
    return any(one in _NOUNS or one.endswith(_LONG_NOUNS) for one in forms)


def _begins_name(word: str) -> bool:
    return word[:1].isupper() or word.casefold() in ("the", "de", "la", "le", "el", "st")


def without_times(text: str) -> str:
    """Return a text with its times of day as commas."""
    words = words_of(text)
    line = TimedText(words)
    for at in reversed(range(len(words))):
        begins = at + phrase_of(words, at, FROM_SAID)
        time = (
            clock_at(line, begins, is_asked=begins > at and words[begins].kind == NUMBER)
            if begins < len(words)
            else None
        )
        if time is not None:
            start, end = words[at].start, words[time.end - 1].end
            text = f"{text[:start]}{',' * (end - start)}{text[end:]}"
    return text
