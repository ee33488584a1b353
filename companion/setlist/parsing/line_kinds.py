"""Lines that are not songs: decoration, totals, page numbers, greetings, marks, facts about the show."""

import re

from companion.setlist.parsing.cells import any_date_in, date_in
from companion.setlist.parsing.set_headings import bare

LONGEST_SCHEDULE = 120
LONGEST_DAY = 10  # letters beside a date: Wednesday,
_RULE = re.compile(r"^[\W_]*$")
_ACROSS = re.compile(r"^(?:[-–—=_*~#•·+.] ?){3,}$")
_ASSENT = re.compile(
    r"^(?:yes|yep|yeah|no|nope|ok(?:ay)?|sure|great|cool|nice|lol|haha|ta|perfect|will do|"
    r"same|ja|nein|oui|non|si)[\s!.,]*$",
    re.IGNORECASE,
)
_HOLD_ON = re.compile(
    r"^(?:(?:yes|yep|yeah|no|nope|ok|okay|sure|ja|nein|oui|non|si|sí|nee|nej)[\s!.,]{1,4})?"
    r"(?:hang on|hold on|one (?:sec|second|minute|moment|tick)|just a (?:sec|second|minute|moment)|wait|more coming|"
    r"moment|warte(?: mal)?|sekunde|attends|un moment|un momento|espera|aspetta|wacht(?: even)?|vänta|"
    r"vent(?: litt| lige)?)"
    r"[\s!.,]{0,4}$",
    re.IGNORECASE,
)
_PAGE = re.compile(
    r"^(?:page|seite|p\.)\s*\d+(?:\s*(?:of|/|von)\s*\d+)?$|^\d+\s*(?:of|/)\s*\d+$|"
    r"^(?:printed|exported|gedruckt|imprimé)\b.{0,60}$|^.{0,60}\s(?:page|seite)\s\d+\s?(?:of|/|von)\s?\d+$",
    re.IGNORECASE,
)
_TOTAL = re.compile(
    r"^(?:grand\s+|set\s+)?(?:total|sum|gesamt|summe|running time|total time|overall|playing time|"
    r"spielzeit|songs?\s*[:=])\b.*\d|"
    r"^[Σ∑]\s*\d|"
    r"^\d+\s+(?:songs|titles|titel|tunes|numbers|lieder)\b",
    re.IGNORECASE,
)
_MARK = re.compile(r"^\(?\s*([*†‡★☆✱]{1,3})\s*(?:[=:–—-]|means|is|are)\s*(\S.*?)\)?$")
_METER = re.compile(r"(?:3|5|6|7|9|12)/(?:4|8|16)$")
_SIGN_MEANS = re.compile(r"^[^\w\s]{1,3}\s?(?:=|means)\s?[^\W_][^=]*$")
_NOTE_MEANS = re.compile(  # Tonarten (H = B); H is really H, and B is Bb
    r"(?<!\w)(?:H\s?=\s?B|B[b♭]?\s?=\s?[BH][b♭]?)(?!\w)|"
    r"^(?:[^\W\d_]{2,9},?\s)?(?:H|B[b♭]?)\s(?:is|means|ist|heißt|bedeutet|er|är|betyder|est|es|è|jest|on|betekent)\s"
    r"(?:[^\W\d_]{2,12}\s)?(?:H|B[b♭]?)(?!\w)"
)
_PLACE = (
    r"(?:singer|vocals?|who|name|no|number|song|title|tune|artist|key|tempo|bpm|length|time|notes?|sänger(?:in)?|gesang|lied|"
    r"titel|tonart|tempo|notiz|chanteu(?:r|se)|titre|chanson|ton|tonalité|cantante|canción|título|tono|tonalidad|brano|"
    r"titolo|tonalità|zanger|nummer|toonsoort|sångare|låt|tonart|sanger|sang|toneart)"
)
_PLACES_MEAN = re.compile(rf"^[(\[]{_PLACE}(?:\s?[:;,/|=–—-]\s?{_PLACE}){{1,5}}[)\]]$", re.IGNORECASE)
_APART = re.compile(r"\s*[,;/|]\s*")
_ABOUT = re.compile(
    r"^(show|gig|event|band|date|datum|day|venue|place|ort|location|hall|where|when|wann|load[- ]?in|"
    r"sound ?check|get[- ]?in|start|doors|dress(?: code)?|"
    r"attire|wear|uniform|outfit|clothes|pay|budget|guests|meal|food|travel|engineer|pa|"
    r"leader|contact|kontakt|phone|tel|md|client|fee|parking|address|adresse|set list|setlist|notes?|"
    r"bemerkung(?:en)?|version|updated|stand)\s*[:=–]\s*(.+)$",
    re.IGNORECASE,
)
_AT = r"(?:\s*(?:at|from|by|ca\.?|approx\.?|[:=–-])?\s*\d{1,2}(?:[:.h]\d\d)?\s?(?:am|pm|h|uhr|hrs)?)"
_SCHEDULE = re.compile(  # Doors 7; load in 16:00 / soundcheck 17:15 (common practice, no source)
    r"^(?:(?:doors?(?: open)?|curfew|load[- ]?(?:in|out)|get[- ]?(?:in|out)|sound ?check|line ?check|on ?stage|"
    r"stage time|arriv(?:e|al)|set ?up|change ?over|music ends?|bar closes?|meet|einlass|aufbau|beginn|ende)\b"
    rf"{_AT}(?:\s?[-–]{_AT})?\s*[,/;|·•]?\s*){{1,6}}\.?$",
    re.IGNORECASE,
)
_TITLE_OF_LIST = re.compile(
    r"\b(?:set ?list|song ?list|repertoire|running order|songs for|(?:^|the )list for|programm?e?|titelliste|"
    r"setliste|liste)\b",
    re.IGNORECASE,
)
_DAY_AND_DATE = re.compile(r"\b(?:mon|tues|wednes|thurs|fri|satur|sun)day,?\s\d{1,2}[./]\d{1,2}\b", re.IGNORECASE)
_GREETING = re.compile(
    r"^(?:hi|hey|hello|hallo|dear|moin|servus|liebe[r]?|good (?:morning|evening))\b[^–(|]*[,!:.]$|"
    r"^(?:hi|hey|hello|hallo|moin)(?: \w+)?$|"
    r"^(?:here'?s|here is|here are|let me know|any questions|call me|please|sorry|ps\b|p\.s\.|"
    r"sent from|on .* wrote|this is the|attached)\b|"
    r"https?://|\w@\w+\.\w|\b0\d{3,4}\s?\d{5,7}\b|\+\d{2}[\s\d]{8,}",
    re.IGNORECASE,
)
_TITLES_TOO = frozenset(("Sorry", "Please", "Attached", "Call", "Here", "Let"))  # Sorry About the Sofa
_SMALL_WORDS = frozenset(("the", "a", "an", "of", "to", "in", "on", "and", "or", "my", "for", "is"))
_PHONE = re.compile(r"\b0\d{3,4}[\s-]?\d{3}[\s-]?\d{2,4}\b|\+\d{2}[\s\d]{8,}")
_UNTIL = (  # see you on Saturday, in each language (dictionaries; no single source)
    r"(?:à|a)\s(?:lundi|mardi|mercredi|jeudi|vendredi|samedi|dimanche|demain|bientôt|plus|ce soir)|"
    r"bis\s(?:montag|dienstag|mittwoch|donnerstag|freitag|samstag|sonntag|bald|morgen|später|denne|gleich|dahin)|"
    r"hasta\s(?:luego|pronto|mañana|el\s\w+)|nos vemos|até\s(?:logo|já|breve|amanhã|sábado|domingo|sexta)|"
    r"a\s(?:presto|domani|dopo|sabato|domenica|venerdì)|ci vediamo|tot\s(?:dan|morgen|zo|straks|\w{2,7}dag)|"
    r"vi ses|vi sees|"
    r"do zobaczenia|nashledanou|vidimo se|nähdään"
)
_GOODBYE = (
    r"tschüss|tschüß|ciao|servus|salut|groetjes?|groeten|hälsningar|kram|hilsen|mvh|abrazos?|un abrazo|um abraço|"
    r"abraços|"
    r"saludos|bises|bisous|pozdrav|pozdrawiam|gruß|grüße|lg|cheers|see you(?: there| then)?|see ya|ta|thanks|"
    r"merci|danke|"
    r"gracias|grazie|obrigad[oa]|bedankt|tack|tak|takk"
)
_SEES_AGAIN = re.compile(rf"^(?:{_UNTIL})\b\s?(?:$|[!.,])", re.IGNORECASE)  # A samedi ! Loïc
MOST_BEHIND = 60  # characters behind such words
_SAYS_GOODBYE = re.compile(  # 19 Uhr da sein. Tschüss Jens
    rf"[.!?,]\s(?:{_GOODBYE})(?:[\s,]++[^\W\d_]{{2,20}}+){{0,2}}+[\s.!x]*+$", re.IGNORECASE
)
_SIGNS_OFF = re.compile(r"^[^\W\d_]{2,15}(?: [^\W\d_]{1,15}){0,2}, [^\W\d_]{2,15}(?: [^\W\d_]{1,15})?[.!]?$")
_FAREWELL = re.compile(
    r"^(?:blessings|that['’]?s (?:it|all|your lot|the lot)|"
    r"thanks|thank you|thx|cheers|best(?: wishes| regards)?|regards|see you|see ya|bye|love|"
    r"viele grüße|lg|vg|grüße|danke|bis dann|yours|ta)"
    r"\b(?:\s(?:so much|a lot|again|everyone|all)[,!. ]+\w+(?: x+)?|"
    r"[^–(|]*[,!.:)]|,\s*\w+(?: \w+)?|\W*|\s+(?:again|all|so much|on \w+|there|then|\w+)\W*)$|(?:^|\s)x{1,4}$",
    re.IGNORECASE,
)


def signs_off(text: str) -> bool:
    """Return whether a line may close a message in any language, where no song follows: Bises, Clémence."""
    return bool(_SIGNS_OFF.match(text))


def names_day(text: str) -> bool:
    """Return whether a date stands in the line."""
    return any_date_in(text) is not None


def is_rule(text: str) -> bool:
    """Return whether the line is only decoration: dashes, a page number."""
    return bool(_RULE.match(text) or (_PAGE.match(text.strip()) and not is_meter(text)))


def is_meter(text: str) -> bool:
    """Return whether the line is a meter and nothing else, of those that are hardly numbers of pages: 6/8, 3/4."""
    return bool(_METER.match(text.strip()))


def is_line(text: str) -> bool:
    """Return whether a line across the page parts what stands above and below: -----, * * *."""
    return bool(_ACROSS.match(text.strip()))


def is_assent(text: str) -> bool:
    """Return whether a message only says yes, no or thanks."""
    return bool(_ASSENT.match(text) or _HOLD_ON.match(text))


def is_total(text: str) -> bool:
    """Return whether the line is a total: Total 45:12, 23 songs."""
    return bool(_TOTAL.match(bare(text)))


def mark_meaning(text: str) -> tuple[str, str] | None:
    """Read the meaning of a mark: * = organ solo."""
    found = _MARK.match(text.strip())
    return (found[1], found[2]) if found else None


def is_legend(text: str) -> bool:
    """Return whether the line says what signs, names of notes or places mean: ✅ = in; H = B; (singer: song - key)."""
    return bool(_NOTE_MEANS.search(text) or _PLACES_MEAN.match(text.strip())) or (
        not mark_meaning(text) and all(_SIGN_MEANS.match(part) for part in _APART.split(text.strip(" ()[]")))
    )


def about(text: str) -> tuple[str, str] | None:
    """Read a line about the show as (word, text): Band: The Tidewater Nine."""
    found = _ABOUT.match(bare(text))
    if found:
        return found[1].lower(), found[2].strip()
    return ("schedule", bare(text)) if len(text) < LONGEST_SCHEDULE and _SCHEDULE.match(bare(text)) else None


def is_date(text: str) -> bool:
    """Return whether the line is a date and hardly anything else."""
    found = date_in(text)
    if not found:
        return False
    rest = text[: found[1][0]] + text[found[1][1] :]
    return sum(letter.isalpha() for letter in rest) <= LONGEST_DAY


def is_title_of_list(text: str) -> bool:
    """Return whether the line names the list itself, or holds a date."""
    return bool(_TITLE_OF_LIST.search(text) or _DAY_AND_DATE.search(text)) or date_in(text) is not None


def is_chat(text: str) -> bool:
    """Return whether the line is a greeting, a thank-you, an address or a whole sentence."""
    words = [word for word in text.split() if any(letter.isalpha() for letter in word)]
    sentence = len(words) >= 8 and text.rstrip()[-1:] in ".!?:" and text.rstrip()[-2:-1].isalnum()
    return (
        (bool(_GREETING.search(text)) and not _is_title_like_talk(text))
        or is_farewell(text)
        or sentence
        or len(words) > 16
    )


def _is_title_like_talk(text: str) -> bool:
    """Return whether a line that begins as talk does is written as a title: Sorry About the Sofa, Sorry (Not Now)."""
    first, *words = text.split() or [""]
    is_title = all(word.lstrip("(")[:1].isupper() or word in _SMALL_WORDS for word in words)
    return first in _TITLES_TOO and len(words) > 1 and is_title and (text[-1:].isalnum() or text[-1:] == ")")


def is_sentence(text: str) -> bool:
    """Return whether the line is prose: a full stop or comma in it, most words in small letters."""
    words = [word for word in text.split() if word[0].isalpha()]
    small = sum(word[0].islower() for word in words)
    return len(words) >= 4 and small >= 0.6 * len(words) and (text[-1:] in ".!?:" or ", " in text or len(words) > 8)


def has_phone_number(text: str) -> bool:
    """Return whether the line holds a phone number: Call 01632 960123."""
    return bool(_PHONE.search(text))


def is_farewell(text: str) -> bool:
    """Return whether the line closes a message: a name follows, not a song."""
    again = _SEES_AGAIN.match(text)
    if again and len(text) - again.end() <= MOST_BEHIND:
        return True
    return bool(_FAREWELL.search(text) or _SAYS_GOODBYE.search(text))
