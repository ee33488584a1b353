"""Lines that are not songs: headings, breaks, encores, decoration, totals, page numbers, greetings, marks."""

import re

import msgspec

from companion.setlist.parsing.cells import clock_cell, date_in

_ORDINALS = {
    word: number
    for number, words in enumerate(
        (
            "1st first one i erstes erster eins",
            "2nd second two ii zweites zweiter zwei",
            "3rd third three iii drittes dritter drei",
            "4th fourth four iv viertes vierter vier",
            "5th fifth five v fünftes",
            "6th sixth six vi",
        ),
        start=1,
    )
    for word in words.split()
}
_NAMES = ("", "First", "Second", "Third", "Fourth", "Fifth", "Sixth")
_ORDINAL = "|".join(_ORDINALS) + r"|\d{1,2}(?:st|nd|rd|th|\.)?"
_SET = re.compile(
    rf"^(?:(?:set|block|teil|part|half|runde|satz)\s*(?:list\s*)?(?:no\.?|nr\.?|#)?\s*({_ORDINAL}|[a-d])|"
    rf"(?:the\s+)?({_ORDINAL})\s+(?:set|block|teil|(?<![.\d]\s)half|runde|satz))\b(.*)$",
    re.IGNORECASE,
)
_ENCORES = re.compile(r"^(encores?|zugaben?|rappel|bis)\b(?:\s*(\d))?(.*)$", re.IGNORECASE)
_NAMED_SET = re.compile(
    r"^((?:dance|dinner|acoustic|jazz|cocktail|drinks|reception|party|ceremony|late|early|opening|"
    r"closing|warm[- ]?up|main|quiet|last|ballroom|"
    r"evening|afternoon)(?:\s+\w+)?\s+set)\b(.*)$",
    re.IGNORECASE,
)
_BREAK = re.compile(
    r"^\W*(?:(?:short|long|dinner|main|kurze|große)\s+)?(?:\d{1,3}\s*[- ]?(?:min(?:ute)?s?)?\.?\s*)?"
    r"(?:break|interval|intermission|pause|umbaupause|interlude break|entr'?acte)\b(?:\W*(?:of|von|"
    r"ca\.?)?\W*\d{1,3}\s*['′]?\s*(?:min(?:ute)?[sn]?)?\.?)?"
    r"(?:[\s:,–().-]|food|drinks|speeches|buffet|dinner|raffle|cake|till|until|bis|back at|"
    r"\d{1,3}(?!\d)|min(?:ute)?[sn]?|pm|to)*\W*$",
    re.IGNORECASE,
)
_RULE = re.compile(r"^[\W_]*$")
_PAGE = re.compile(r"^(?:page|seite|p\.)\s*\d+(?:\s*(?:of|/|von)\s*\d+)?$|^\d+\s*(?:of|/)\s*\d+$", re.IGNORECASE)
_TOTAL = re.compile(
    r"^(?:grand\s+|set\s+)?(?:total|sum|gesamt|summe|running time|total time|overall|playing time|"
    r"spielzeit|songs?\s*[:=])\b.*\d|"
    r"^\d+\s+(?:songs|titles|titel|tunes|numbers|lieder)\b",
    re.IGNORECASE,
)
_MARK = re.compile(r"^\(?\s*([*†‡★☆✱]{1,3})\s*(?:[=:–—-]|means|is|are)\s*(\S.*?)\)?$")
_ABOUT = re.compile(
    r"^(show|gig|event|band|date|datum|day|venue|place|ort|location|hall|where|when|wann|load[- ]?in|"
    r"sound ?check|get[- ]?in|start|doors|dress(?: code)?|"
    r"leader|contact|kontakt|phone|tel|md|client|fee|parking|address|adresse|set list|setlist|notes?|"
    r"bemerkung(?:en)?|version|updated|stand)\s*[:=–]\s*(.+)$",
    re.IGNORECASE,
)
_TITLE_OF_LIST = re.compile(
    r"\b(?:set ?list|song ?list|repertoire|running order|songs for|programm?e?|titelliste|setliste|liste)\b",
    re.IGNORECASE,
)
_GREETING = re.compile(
    r"^(?:hi|hey|hello|hallo|dear|moin|servus|liebe[r]?|good (?:morning|evening))\b[^–(|]*[,!:.]$|"
    r"^(?:hi|hey|hello|hallo|moin)(?: \w+)?$|"
    r"^(?:here'?s|here is|here are|let me know|any questions|call me|please|sorry|ps\b|p\.s\.|"
    r"sent from|on .* wrote|this is the|attached)\b|"
    r"https?://|\w@\w+\.\w",
    re.IGNORECASE,
)
_FAREWELL = re.compile(
    r"^(?:thanks|thank you|thx|cheers|best(?: wishes| regards)?|regards|see you|see ya|love|"
    r"viele grüße|lg|vg|grüße|danke|bis dann|yours|ta)"
    r"\b(?:[^–(|]*[,!.:)]|,\s*\w+(?: \w+)?|\W*|\s+(?:again|all|so much|on \w+|there|then|\w+)\W*)$|(?:^|\s)x{1,3}$",
    re.IGNORECASE,
)
_FROM_TO = re.compile(
    r"(\d{1,2}(?:[:.]\d\d)?\s*(?:am|pm|uhr|h)?)\s*(?:-|–|—|to|bis|until|"
    r"till)\s*(\d{1,2}(?:[:.]\d\d)?\s*(?:am|pm|uhr|h)?)",
    re.IGNORECASE,
)
_AT = re.compile(r"\b\d{1,2}(?:[:.]\d\d\s*(?:am|pm|uhr|h)?|\s*(?:am|pm|uhr)|h\d\d)", re.IGNORECASE)
_MINUTES = re.compile(r"\b(\d{1,3})\s*(?:min(?:ute)?[sn]?\b|['′])", re.IGNORECASE)


class SetHeading(msgspec.Struct, frozen=True):
    """A set's heading. ``starts_min`` since midnight; ``also`` is the rest of the line."""

    name: str
    starts_min: int | None = None
    minutes: int | None = None
    also: str = ""


def bare(text: str) -> str:
    """Return a heading without the marks around it: ### SET 1 ###, == Set 1 ==, [Set 1], Set 1:."""
    return re.sub(r"^[\s#=*_~>\[(•·|+-]+|[\s#=*_~\])|:+-]+$", "", text)


def read_set(text: str) -> SetHeading | None:
    """Read a heading: Set 1, SECOND SET (21:15, 45 min), 1. Set, Encore, ## Set II; None for anything else."""
    plain = bare(text)
    if not plain or len(plain) > 80:
        return None
    if found := _SET.match(plain):
        number = _number((found[1] or found[2]).lower())
        name = _NAMES[number] if isinstance(number, int) and 0 < number < len(_NAMES) else f"Set {number}"
        rest = found[3]
    elif found := _ENCORES.match(plain):
        name, rest = "Encore" + (f" {found[2]}" if found[2] else ""), found[3]
    elif found := _NAMED_SET.match(plain):
        name, rest = found[1][:1].upper() + found[1][1:].lower(), found[2]
    else:
        return None
    return _times(name, rest)


def _number(said: str) -> int | str:
    digits = re.match(r"\d+", said)
    return int(digits[0]) if digits else _ORDINALS.get(said, said.upper())


def _times(name: str, rest: str) -> SetHeading | None:
    starts, minutes, said = None, None, rest
    if found := _FROM_TO.search(rest):
        first, last = found[1], found[2]
        half = re.search(r"am|pm|uhr", last, re.IGNORECASE)
        starts, ends = clock_cell(first) or (clock_cell(first + half[0]) if half else None), clock_cell(last)
        if starts is not None and ends is not None:
            minutes = (ends - starts) % 1440
            rest = rest[: found.start()] + rest[found.end() :]
        else:
            starts = None
    if starts is None and (found := _AT.search(rest)):
        starts = clock_cell(found[0])
        rest = rest[: found.start()] + rest[found.end() :] if starts is not None else rest
    if found := _MINUTES.search(rest):
        minutes = minutes or int(found[1])
        rest = rest[: found.start()] + rest[found.end() :]
    parted = not said.strip() or said.lstrip()[0] in "(:[–—-|,;=/@" or said.lstrip()[0].isdecimal()
    also = re.sub(
        r"^[\W_]+|[\s,;:(\[–—|/-]+$", "", re.sub(r"\b(?:ca|approx|start(?:s|ing)?|at|um|from|ab)\b\.?", "", rest)
    ).strip()
    if len(also.split()) > 6 or (also and not parted):
        return None  # "Second Set of Keys" and "Encore for Nobody" are titles
    also = also if any(letter.isalnum() for letter in also) else ""
    return SetHeading(name, starts, minutes if minutes and minutes <= 600 else None, also)


def is_break(text: str) -> bool:
    """Return whether the line is a break between sets."""
    return bool(_BREAK.match(bare(text)))


def is_rule(text: str) -> bool:
    """Return whether the line is only decoration: dashes, a page number."""
    return bool(_RULE.match(text) or _PAGE.match(text.strip()))


def is_total(text: str) -> bool:
    """Return whether the line is a total: Total 45:12, 23 songs."""
    return bool(_TOTAL.match(bare(text)))


def mark_meaning(text: str) -> tuple[str, str] | None:
    """Read the meaning of a mark: * = organ solo."""
    found = _MARK.match(text.strip())
    return (found[1], found[2]) if found else None


def about(text: str) -> tuple[str, str] | None:
    """Read a line about the show as (word, text): Band: The Tidewater Nine."""
    found = _ABOUT.match(bare(text))
    return (found[1].lower(), found[2].strip()) if found else None


def is_title_of_list(text: str) -> bool:
    """Return whether the line names the list itself, or holds a date."""
    return bool(_TITLE_OF_LIST.search(text)) or date_in(text) is not None


def is_chat(text: str) -> bool:
    """Return whether the line is a greeting, a thank-you, an address or a whole sentence."""
    words = [word for word in text.split() if any(letter.isalpha() for letter in word)]
    sentence = len(words) >= 8 and text.rstrip()[-1:] in ".!?:" and text.rstrip()[-2:-1].isalnum()
    return bool(_GREETING.search(text)) or is_farewell(text) or sentence or len(words) > 16


def is_farewell(text: str) -> bool:
    """Return whether the line closes a message: a name follows, not a song."""
    return bool(_FAREWELL.search(text))
