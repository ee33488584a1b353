"""The place of the show, as a reply names it."""

import re
from collections.abc import Sequence
from typing import Final

from companion.leader.day_words import DAYS_OF_WEEK, NAMED_DAYS
from companion.leader.reply_dates import ANY_DAY, MONTH_NAMES, day_in
from companion.leader.reply_readings import NOWHERE, ReplyReading, Unread, VenueClaim
from companion.show.titles import folded

TAKEN: Final = "taken for the place"

_SMALL: Final = (
    "the|a|of|in|on|at|and|by|under|near|with|le|la|les|des|du|de|der|die|das|zum|zur|am|im|st|no|"
    "i|på|pa|vid|til|del|della|dei|di|da|do|el|los|las|van|het|bij|op|w|na|big|small|main|great|old|new|top|upstairs|"
    "downstairs|ground|first|second|east|west|north|south|clubhouse|function"
)
# What places are called, in the languages of Europe, alone or as the end of a word: Kårhuset, Bürgersaal.
_NOUN: Final = (
    "hall|house|haus|hus|huset|gården|gård|villa|hotel|hôtel|pub|church|chapel|kirche|kirke|kyrka|kyrkan|chiesa|église|"
    "eglise|iglesia|kościół|ballroom|barn|marquee|theatre|theater|teatro|théâtre|club|klub|klubb|klubben|school|schule|"
    "skola|skolan|école|scuola|escuela|szkoła|room|rooms|field|fields|lounge|deck|pavilion|pavillon|saal|salle|sala|"
    "salen|mill|inn|arms|bar|park|parken|castle|schloss|slott|château|castello|court|garden|gardens|centre|center|"
    "zentrum|casino|arena|zelt|tent|stage|bühne|scene|floor|wing|square|platz|place|plaza|piazza|kro|café|cafe|"
    "brygga|bryggan|brygge|marktplatz|plads|torg|torget|plein|loods|schuur|scheune|szopa|stodoła|dwór|dworek|zamek|sal|"
    "restaurant|ristorante|farm|hof|terrace|boat|pier|quay|museum|library|barracks|hangar|brewery|cellar|keller|dom|rynek"
)
_WORD: Final = re.compile(rf"(?:[A-ZÀ-Þ][\w'’.&-]*|\d{{1,5}}(?:st|nd|rd|th|[a-z])?|{_SMALL}|{_NOUN}|&|-)")
_NAMES_PLACE: Final = re.compile(rf"(?:\b|(?<=[a-zà-ÿ]{{3}}))(?:{_NOUN})\b", re.IGNORECASE)
_CAPITAL: Final = re.compile(r"[A-ZÀ-Þ]")


def is_place(words: str) -> bool:
    """Return whether words are a name and no more: capitals, house numbers, and small words between.

    >>> [is_place(one) for one in ("the Corn Hall, Market Street", "not Corn Hall", "Corn Hall if they let us")]
    [True, False, False]
    """
    named = [word for word in re.split(r"[ ,;()]+", words.rstrip(".!")) if word]
    is_name = _CAPITAL.search(words) is not None and all(_WORD.fullmatch(word) for word in named)
    return is_name and _NO_PLACE.search(words) is None


# Negations, times and what a night has beside its sets: "Not this Sunday", "Get-in 2pm".
_NO_PLACE: Final = re.compile(
    r"^(?:lg|vg|mfg|mvh)\b|"
    r"\b(?:not|no|never|same|usual|unchanged|there|here|get-?in|load-?in|doors|sound ?check|call|curfew|dress|"
    r"parking|rehears\w{1,4}|next|this)\b|"
    r"\d\s?(?:am|pm)\b|\d:\d\d|\b(?:19|20)\d\d\b",
    re.IGNORECASE,
)


def is_put_off(words: str) -> bool:
    """Return whether an answer says that the place is not known yet."""
    return _NOT_YET.match(words) is not None


def place_claim(words: str) -> VenueClaim:
    """Return words as the place of the show, in doubt if they are more than a name."""
    return VenueClaim(words, "" if is_place(words) else TAKEN)


def as_place(reading: ReplyReading, text: str) -> ReplyReading:
    """Take capitalised words of a line, in the sentence of its date, for the place: Sat 5 Dec, Corn Store in Hexley."""
    if isinstance(reading, Unread) and reading.about is NOWHERE and _PLACE_NAME.match(reading.words):
        day, at = day_in(text, ANY_DAY), text.find(reading.words)
        between = text[at : day.start] if day and 0 <= at < day.start else text[day.end : at] if day else ""
        if re.search(r"[^\W\d]{3}[.!?]\s", between):
            return reading
        is_none = not is_place(reading.words) or day_in(reading.words, ANY_DAY)
        return reading if is_none else VenueClaim(reading.words, TAKEN)
    return reading


def is_place_by_noun(words: str) -> bool:
    """Return whether words are a name and no more, with a word for a place, or with its town after a comma.

    >>> [is_place_by_noun(one) for one in ("Kårhuset, big hall", "Old Canal Road", "on the school field")]
    [True, False, True]
    """
    named = _PLACED.sub("", words.strip(" .!"))
    is_lower = named != words.strip(" .!") and all(_WORD.fullmatch(one) for one in named.split())
    return _NAMES_PLACE.search(named) is not None and _NO_PLACE.search(named) is None and (is_lower or is_place(named))


def first_place(words: str) -> str:
    """Return the name before the first comma if it has a word for a place and its comment has no number; else "".

    >>> first_place("Mill House Hotel, come in by the back"), first_place("Moth in G, drums start")
    ('Mill House Hotel', '')
    """
    name, comma, comment = words.partition(",")
    is_name = len(name.split()) > 1 and is_place(name) and _NAMES_PLACE.search(name) is not None
    return name.strip() if comma and is_name and not any(one.isdigit() for one in comment) else ""


_FIRST_SENTENCE: Final = re.compile(r"(?P<place>[^.!]{3,60}[^\W\d]{4})[.!]\s+(?=\S)")
_PREPOSITION: Final = re.compile(
    r"^(?:à l|all|nell)['’]|^(?:in|im|in der|in dem|in den|auf dem|auf der|beim|bei der|au|aux|à la|chez|dans la|"
    r"dans le|en el|en la|en|al|nel|nella|alla|allo|presso il|presso la|presso|na|no|em|in het|in de|op het|op de|"
    r"bij de|bij|vid|på|ved|hos|w|v|ve|at the|at)\s(?=\S)"
)
# What makes a place one for rain or another condition only: se piove, nella palestra.
_IN_CASE: Final = re.compile(
    r"\b(?:if|unless|wet|rain|rains|otherwise|wenn|falls|sonst|regen|regnet|cas|pluie|pleut|sinon|llueve|lluvia|piove|"
    r"pioggia|chove|chuva|regent|regn|regnar|regner|hvis|jeśli|deszcz|deszczu|když|pokud|pršet|deště)\b",
    re.IGNORECASE,
)
_CLAUSE: Final = re.compile(r"[.;!?]\s")


def without_preposition(name: str) -> str:
    """Return the name of a place without "at the" before it.

    >>> [without_preposition(one) for one in ("en el Teatro Lima", "im Krug", "Corn Hall")]
    ['Teatro Lima', 'Krug', 'Corn Hall']
    """
    return _PREPOSITION.sub("", name)


def _is_in_case(before: str) -> bool:
    """Return whether the clause that goes on here tells a condition."""
    return _IN_CASE.search(_CLAUSE.split(before)[-1]) is not None


_PLACED: Final = re.compile(r"^(?:on|at|in) the (?=[a-z])")
_IT_IS: Final = re.compile(
    r"^(?:it['’]?s|it is|we['’]?re|we are|c['’]est|es ist|es el|det er|è il|"
    r"(?:the |our )?(?:gig|show|date|day|gala|party|wedding|concert|service|event|do|night|festival)(?: is|['’]s))\s"
    r"(?:on\s|at\s|le\s|am\s)?(?:the\s)?",
    re.IGNORECASE,
)


_WEEKDAY_BEFORE: Final = re.compile(
    rf"\b(?:{'|'.join(name for names in DAYS_OF_WEEK for name in names.split())})\.?,?\s{{0,2}}$", re.IGNORECASE
)


def place_beside(text: str, start: int, end: int) -> str:
    """Return all words beside a date if they are the name of a place: "12 December, The Duck & Drake, Mill Lane"."""
    rest = f"{_IT_IS.sub('', _WEEKDAY_BEFORE.sub('', text[:start]))} {text[end:]}".strip(" ,.;:–—-!()")
    is_named = len(rest.split()) > 1 and is_place(rest)
    rest = _PREPOSITION.sub("", rest)
    return _PLACED.sub("", rest) if is_named or is_place_by_noun(rest) else ""


_TOWN: Final = r"(?:, [A-Z][\w'’-]{2,20}(?: [A-Z][\w'’-]{1,20}){0,2}(?=[.!]?$))?"
_PLACE_AT: Final = re.compile(rf"\b(?P<at>at|in(?= the )) (?:the )?(?P<place>[A-Z][^,.;:!?]{{1,60}}{_TOWN})")
# What follows the name of a place: at the Duck on the 12th, from 8, on Boxing Day, btw not the hotel, and we start.
_ENDS_PLACE: Final = re.compile(
    r"\s(?:on|from|at|for|by|till|until|this|next)\s(?:the\s)?"
    rf"(?=\d|(?:mon|tue|wed|thu|fri|sat|sun|half|noon|midnight)|(?:{'|'.join(NAMED_DAYS)})\b|(?:{MONTH_NAMES})\s\d)|"
    r"\s(?:tonight|tomorrow|btw|by the way|not|now|but|because|instead|as (?:usual|always|before|ever))(?!\w)|"
    r"\sand\s(?=(?:we|it|i|you|there|they|then)\b)",
    re.IGNORECASE,
)
_NO_NAME: Final = "TB[ACD]|Same|Usual|As|Not|No|Ask|Later|Still|Unchanged|See|To"
# What a reply writes before the name of the place and a colon, in the languages of leaders.
PLACE_LABELS: Final = (
    "ort spielort veranstaltungsort wo lieu endroit où lugar sitio dónde donde local onde luogo posto dove locatie "
    "plaats waar plats var sted hvor spillested spillestedet miejsce gdzie místo kde"
)
_PLACE_IS: Final = re.compile(
    r"(?:^|(?<=[^\W\d][.!;] ))(?i:(?:the |our )?(?:venue|place|location|hall|club|room)(?:['’]s| is| will be|:)|"
    rf"(?:{PLACE_LABELS.replace(' ', '|')})\s?:)\s"
    rf"(?:at )?(?P<place>(?:(?:the|a) )?(?!(?:{_NO_NAME})\b)[A-Z](?:(?! as )[^,.;:!?]){{1,60}}(?:{_TOWN}|(?= as )))"
)
_SMALL_END: Final = re.compile(r"(?: (?:of|the|in|on|and|&|de|di|del))+$")
_PLACE_SAME: Final = re.compile(
    r"\b(?:venue|place|location)(?:['’]s| is)? (?:unchanged|the same|same|as before|still|stays)[ :,(–-]{1,3}"
    r"(?P<place>(?:the )?[A-ZÀ-Þ][^().;!?]{2,60})\)?",
    re.IGNORECASE,
)
_MOVED_TO: Final = re.compile(
    r"\b(?i:the venue|venue|place|gig|show|party|we|it)"
    r"(?:['’](?:s|re|ve)| has| have| is| are| was)?(?: now)?(?: been)? (?:moved|moves|moving|changed|switched) to "
    rf"(?:the )?(?!(?i:{'|'.join(' '.join(DAYS_OF_WEEK).split())})\b)"
    r"(?P<place>[A-ZÀ-Þ][\w'’-]{0,20}"
    r"(?: (?:[A-ZÀ-Þ][\w'’-]{0,20}|of|the|in|on|and|&|de|di|del)){0,9})"
)
# No place: we moved to G, it moved to B flat.
_KEY: Final = re.compile(
    r"[A-H](?:[b#♭♯]|is|es|s)?(?:[- ]?(?:m|flat|sharp|dur|minor|major|maj|min|moll))?(?![\w'’]| [A-ZÀ-Þ])"
)
_AT_A_PLACE: Final = re.compile(
    r"^[Aa]t (?:the )?(?P<place>[A-Z][\w'’-]{0,20}(?: (?:[A-Z][\w'’-]{0,20}|of|the|on|in|and|&)){0,5}"
    rf"{_TOWN})[.!]?$"
)
# After a date, up to the end of the line: à la salle des fêtes, im Festzelt, en el Casino.
_LABELLED: Final = re.compile(
    r"(?:venue|place|location|ort|lieu|lugar|luogo|sted|plats|plaats)\s?=\s?(?P<place>.+)$", re.IGNORECASE
)
_TAKES_PLACE: Final = re.compile(r"\sstatt[.!]?$")  # findet im Festzelt statt
_FOREIGN_AT: Final = re.compile(
    r"[ ,](?:à l['’]\s?|(?:à la|au|chez|im|in der|in dem|auf dem|en el|en la|al|nel|nella|"
    r"in het|in de|in(?= (?:zaal|feestzaal|café|kerk))|vid|på|ved|hos)\s)"
    r"(?P<place>(?:\w[\w'’-]{0,20} ){0,5}\w[\w'’-]{2,20})(?:[.!]?$|[.!](?= ))"
)
# In small letters, after a date, up to the end of the clause: still in the sports hall.
_IN_THE: Final = re.compile(
    rf"[ ,](?:(?:still|all|again) )?(?:in|at|on) the (?P<place>(?:[a-zà-ÿ'’-]{{2,16}} ){{0,3}}(?:{_NOUN}))(?=[.,;!]|$)"
)
_PLACE_NAME: Final = re.compile(r"^[A-Z][\w'’.& -]{2,60}$")
_NOT_YET: Final = re.compile(
    r"^(?:not sure|don['’]?t know|no idea|no clue|tb[acd]\b|will\b|i['’]?ll\b|ask\b|unknown|later\b|let you know|"
    r"noch\b|steht noch|wei(?:ß|ss)|wissen|folgt|keine ahnung|unklar|à confirmer|on ne sait|je ne sais|aucune idée|"
    r"por confirmar|no (?:lo )?s[ée]|aún no|da (?:definire|confermare)|non (?:lo )?so|não sei|nog\b|weet\b|geen idee|"
    r"vet (?:inte|ej)|ved (?:ikke|det)|vet ikke|nie wiem|nevím)",
    re.IGNORECASE,
)
_PLAYED: Final = re.compile(
    r"^(?:it'?s|it is|we'?re|we are|we play|playing|the gig|gig|show|the show|see you)\b", re.IGNORECASE
)


def _end_of_name(words: str, titles: Sequence[str]) -> int:
    """Return where the name of a place ends, before when the show is, what is not said of it, or a song."""
    ends = _ENDS_PLACE.search(words)
    songs = (
        one.start() for one in _AND.finditer(words) if folded(words[one.end() :]).startswith((*filter(None, titles),))
    )
    return min([len(words), *songs, *([ends.start()] if ends else [])])


_AND: Final = re.compile(r"\s(?:and|but|then)\s")


def without_place(text: str, titles: Sequence[str], *, is_asked: bool) -> tuple[str, str]:
    """Split off the place of the show: "5 December at the Old Mill"; the whole line where the question asks for it."""
    rest, place = _split(text, titles, is_asked=is_asked)
    return (text, "") if place and not is_asked and is_within_title(text, place, titles) else (rest, place)


def is_within_title(text: str, place: str, titles: Sequence[str]) -> bool:
    """Return whether a place is only the end of a title: "leave out Fog in the Ballroom"."""
    named, said = folded(place), folded(text)
    first = named.split()[:1]
    for title in titles:
        if first and first[0] in title.split()[1:]:
            said = said.replace(title, " ")
    return named not in said


def _split(text: str, titles: Sequence[str], *, is_asked: bool) -> tuple[str, str]:
    if is_asked and len(text) <= 120 and not text.endswith("?") and not is_put_off(text):
        sentence = _FIRST_SENTENCE.match(text)
        said, rest = (sentence["place"], text[sentence.end() :]) if sentence else (text, "")
        return rest, _PREPOSITION.sub("", said.rstrip(" ."))
    if labelled := _LABELLED.match(text):
        return "", labelled["place"]
    if (found_place := _PLACE_SAME.search(text)) and is_place(found_place["place"]):
        return f"{text[: found_place.start()]}{text[found_place.end() :].lstrip(' .!,')}", found_place["place"].strip()
    if (found_place := _MOVED_TO.search(text)) and not _KEY.match(text, found_place.start("place")):
        said = _SMALL_END.sub("", found_place["place"])
        return f"{text[: found_place.start()]}{text[found_place.start('place') + len(said) :].lstrip(' .!,')}", said
    if (found_place := _PLACE_IS.search(text)) and not _KEY.match(text, found_place.start("place")):
        begins = found_place.start("place")
        end = begins + _end_of_name(found_place["place"], titles)
        return f"{text[: found_place.start()]}{text[end:].lstrip(' .!,')}", text[begins:end].strip()
    if (whole := _AT_A_PLACE.match(text)) and not folded(whole["place"]).startswith(tuple(filter(None, titles))):
        return "", whole["place"]
    found = _FOREIGN_AT.search(text)
    if found and day_in(text[: found.start()], ANY_DAY) and not _is_in_case(text[: found.start()]):
        place = _TAKES_PLACE.sub("", found["place"].strip(" .!"))
        stop = ";" if found[0][-1] in ".!" and found.end() < len(text) else ""  # another sentence follows
        return text[: found.start()].rstrip(" ,") + stop + text[found.end() :], place
    before = text[: found.start()] if (found := _IN_THE.search(text)) else ""
    if found and day_in(before, ANY_DAY) and not re.search(r", [A-ZÀ-Þ]", before):
        return text[: found.start()].rstrip(" ,") + text[found.end() :], found["place"]
    if (found := _PLACE_AT.search(text)) and (_PLAYED.match(text) or day_in(text[: found.start("place")], ANY_DAY)):
        end = found.start("place") + _end_of_name(found["place"], titles)
        before = _IT_IS.sub("", text[: found.start("at")])
        return before + text[end:].lstrip(), text[found.start("place") : end].strip()
    return text, ""
