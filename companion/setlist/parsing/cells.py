"""Read one cell as people write it: a key, length, tempo, meter, time or date; None where it is none of these."""

import datetime as dt
import re

import msgspec

from companion.music import Key, Meter, NotMusic, read_key, read_meter, read_tempo
from companion.setlist.notation import Notation

NOTHING = re.compile(r"(?:[-–—?.…/]+|n/?a|tbc|tbd|tba|unknown|none|nil|offen|unbekannt|key\s*\?*|\?+)$", re.IGNORECASE)
LONGEST_S = 2 * 60 * 60


class KeyFound(msgspec.Struct, frozen=True):
    """A key as read. ``also``: other text in the cell; ``doubt``: why it is uncertain."""

    key: Key | None
    record_key: Key | None = None
    also: str = ""
    doubt: str = ""


def is_nothing(text: str) -> bool:
    """Return whether the cell stands for an unknown value: -, ?, TBC, n/a."""
    return not text.strip() or bool(NOTHING.match(text.strip()))


# ------------------------------------------------------------------ keys

_LABEL = re.compile(
    r"(?:(?:in the )?key of|key|tonart|tonality|concert|conc\.?|tonalité|in)\s*[:=]?\s+|(?:key|tonart)\s*[:=]\s*",
    re.IGNORECASE,
)
_CONCERT = re.compile(r"\s*\(?\bconcert\b\)?\s*$", re.IGNORECASE)
_GERMAN = re.compile(
    r"([A-Ha-h])(is|es|s)?(?:\s*[-–]?\s*(dur|moll|major|minor|maj|min|m)|(m))?$",
    re.IGNORECASE,
)
# Unmistakably German: Es, Fis, Dur or Moll; with them B is Bb. A lone H or B decides nothing.
GERMAN_ALONE = re.compile(
    r"(?:[CDFG](?:is|es)|[AHE]is|Es|As)(?:m|[\s–-]?(?:dur|moll))?$|[A-H][\s–-]?(?:dur|moll)$", re.IGNORECASE
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
_OR = re.compile(r"\b(?:or|oder)\b|\?", re.IGNORECASE)


def plain_key(text: str, *, notation: Notation = Notation.LETTERS) -> Key | None:
    """Read one key and nothing else, in the list's notation."""
    text = _CONCERT.sub("", text.strip().strip("()[]. "))
    text = _LABEL.sub("", text, count=1) if _LABEL.match(text) else text
    if (notation is Notation.GERMAN or GERMAN_ALONE.match(text)) and (found := _german(text)):
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


def _german(text: str) -> Key | None:
    """Read German key names: H, B, Es, As, Fis, b-moll, fis."""
    found = _GERMAN.match(text.strip())
    if not found:
        return None
    letter, syllable = found[1], (found[2] or "").lower()
    if syllable == "s" and letter.upper() not in ("A", "E"):
        return None
    mode = (found[3] or found[4] or "").lower()
    is_minor = mode in ("moll", "minor", "min", "m") or (not mode and letter.islower())
    name = {"H": "B", "B": "B" if syllable else "Bb"}.get(letter.upper(), letter.upper())
    name += {"is": "#", "es": "b", "s": "b"}.get(syllable, "")
    try:
        return read_key(name + ("m" if is_minor else ""))
    except NotMusic:
        return None


def key_cell(text: str, *, notation: Notation = Notation.LETTERS) -> KeyFound | None:
    """Read a key's cell with what players add: a second key, the record's key in brackets, a question mark.

    Two keys joined by "or", or H in a list not marked German, give no key: the player must ask.
    """
    text = text.strip()
    if key := plain_key(text, notation=notation):
        return KeyFound(key)
    if found := _BRACKET.match(text):
        outer, inner = plain_key(found[1], notation=notation), found[2]
        if outer:
            return _with_bracket(outer, inner, notation=notation)
    if found := _ORIGINAL.match(text):
        record = plain_key(found[1] or found[2], notation=notation)
        return KeyFound(None, record) if record else None
    if text.endswith("?") and (key := plain_key(text.rstrip("? "), notation=notation)):
        return KeyFound(key, also=text, doubt=f"the list itself has a question mark: {text}")
    return _several(text, notation=notation) or _unsure(text)


def _with_bracket(outer: Key, inner: str, *, notation: Notation) -> KeyFound | None:
    original = _ORIGINAL.match(inner)
    record = plain_key(original[1] or original[2], notation=notation) if original else None
    if record:
        return KeyFound(outer, record)
    if plain_key(inner, notation=notation):
        return KeyFound(
            outer, also=f"key: {outer} ({inner})", doubt=f"two keys: used {outer}, kept {inner} in the notes"
        )
    return KeyFound(outer, also=inner)


def _several(text: str, *, notation: Notation) -> KeyFound | None:
    parts = [part for part in _TWO.split(text) if part]
    keys = [plain_key(part, notation=notation) for part in parts]
    if len(parts) < 2 or None in keys:
        return None
    if _OR.search(text):
        return KeyFound(None, also=f"key: {text}", doubt=f"{text}: left open; ask the leader")
    return KeyFound(keys[0], also=f"key: {text}", doubt=f"two keys: used {keys[0]}, kept {text} in the notes")


def _unsure(text: str) -> KeyFound | None:
    if re.match(r"[Hh](?:m|[- ]?(?:moll|dur|minor|major))?$", text):
        return KeyFound(None, also=f"key: {text}", doubt=f"{text} means B in a German list (--german); left open")
    if re.match(r"[A-G][b#♭♯]?M$", text):
        return KeyFound(None, also=f"key: {text}", doubt=f"M after {text[:-1]} may mean major or minor; left open")
    return None


# ------------------------------------------------------------------ lengths, tempos, meters

_CLOCKED = re.compile(
    r"(?:(\d{1,2}):)?(\d{1,3}):([0-5]\d)(?:\.0+)?(?:\s*(?:min(?:utes)?|mins?|m|h|[ap]m))?\.?$", re.IGNORECASE
)
_SPOKEN = re.compile(
    r"(\d{1,2})\s*(?:m|min|mins|minutes?|minuten|['´’′])\.?\s*(?:([0-5]?\d)\s*(?:s|sec|secs|seconds?|"
    r"sek|''|\"|″|”)?)?\.?$",
    re.IGNORECASE,
)
_SECONDS = re.compile(r"(\d{2,4})\s*(?:s|sec|secs|seconds|sek|″)\.?$", re.IGNORECASE)
_POINTED = re.compile(r"(\d{1,2})[.,]([0-5]\d)$")
_BARE = re.compile(r"\d{2,4}$")


def length_cell(text: str, *, named: bool = False) -> int | None:
    """Read seconds from 3:40, 0:03:40, 3m40, 3'40", 3 min, 220 s; in a column named so, also from 3.40 and 220."""
    text = text.strip().strip("()[]~ ")
    if found := _CLOCKED.match(text):
        seconds = int(found[1] or 0) * 3600 + int(found[2]) * 60 + int(found[3])
        if found[1] and int(found[1]) and found[3] == "00":
            seconds //= 60  # a spreadsheet shows 3:40 minutes as the clock time 3:40:00
    elif found := _SPOKEN.match(text):
        seconds = int(found[1]) * 60 + int(found[2] or 0)
    elif found := _SECONDS.match(text):
        seconds = int(found[1])
    elif named and (found := _POINTED.match(text)):
        seconds = int(found[1]) * 60 + int(found[2])
    elif named and _BARE.match(text):
        seconds = int(text)
    else:
        return None
    return seconds if 0 < seconds <= LONGEST_S else None


_TEMPO_SAID = re.compile(
    r"(?:(?:tempo|bpm|♩|𝅘𝅥|q|quarter)\.?\s*[:=]?\s*|@\s*)(?:ca?\.?\s*|~\s*)?(\d{2,3}(?:[.,]\d{1,2})?)(?:\s*bpm)?$|"
    r"(?:ca?\.?\s*|~\s*)?(\d{2,3}(?:[.,]\d{1,2})?)\s*bpm$",
    re.IGNORECASE,
)


def tempo_cell(text: str, *, named: bool = False) -> float | None:
    """Read beats a minute from 112 bpm, ♩=112, @112; in a column named so, also from 112 and ca. 112."""
    text = text.strip().strip("()[] ")
    found = _TEMPO_SAID.match(text)
    said = (found[1] or found[2]) if found else text if named else None
    if said is None:
        return None
    try:
        return read_tempo(said)
    except NotMusic:
        return None


def meter_cell(text: str) -> Meter | None:
    """Read 4/4, 6/8 or 3/4 time; not C, which is a key here."""
    text = re.sub(r"\s*(?:time|takt|feel)$", "", text.strip().strip("()[] "), flags=re.IGNORECASE)
    if not re.match(r"\d{1,2}\s*/\s*\d{1,2}$", text):
        return None
    try:
        return read_meter(text)
    except NotMusic:
        return None


def says_key_or_length(text: str) -> bool:
    """Return whether the text is a key, in English or German, or a length, and nothing else."""
    text = text.strip()
    return bool(key_cell(text) or plain_key(text, notation=Notation.GERMAN) or length_cell(text))


# ------------------------------------------------------------------ times and dates

_TIME = re.compile(r"\b(\d{1,2})(?:[:.]([0-5]\d)|\s?h\s?([0-5]\d)?)?\s*(am|pm|a\.m\.|p\.m\.|uhr|h)?\b", re.IGNORECASE)


def clock_cell(text: str) -> int | None:
    """Read minutes since midnight from 20:00, 8pm, 8.30 pm, 20 Uhr, 20h30; not from a bare 20."""
    found = _TIME.fullmatch(text.strip())
    if not found or not (found[2] or found[3] or found[4] or "h" in text.lower()):
        return None
    hours, minutes, half = int(found[1]), int(found[2] or found[3] or 0), (found[4] or "").lower().replace(".", "")
    if half in ("am", "pm"):
        if not 1 <= hours <= 12:
            return None
        hours = hours % 12 + (12 if half == "pm" else 0)
    return hours * 60 + minutes if hours < 30 else None


MONTHS = {
    name: number
    for number, names in enumerate(
        (
            "january jan januar jänner",
            "february feb februar",
            "march mar märz mrz",
            "april apr",
            "may mai",
            "june jun juni",
            "july jul juli",
            "august aug",
            "september sep sept",
            "october oct oktober okt",
            "november nov",
            "december dec dezember dez",
        ),
        start=1,
    )
    for name in names.split()
}
_ISO = re.compile(r"\b(\d{4})-(\d{1,2})-(\d{1,2})\b")
_POINTS = re.compile(r"\b(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4})\b")
_SLASHES = re.compile(r"\b(\d{1,2})/(\d{1,2})/(\d{4})\b")
_DAY_MONTH = re.compile(r"\b(\d{1,2})(?:st|nd|rd|th|\.)?\s+(?:of\s+)?([A-Za-zä]{3,9})\.?,?\s+(\d{4})\b")
_MONTH_DAY = re.compile(r"\b([A-Za-zä]{3,9})\.?\s+(\d{1,2})(?:st|nd|rd|th)?,?\s+(\d{4})\b")


def date_in(text: str) -> tuple[dt.date, tuple[int, int]] | None:
    """Find a date with its year in a line, and its span there. 5/6/2027 is ambiguous and is not read."""
    for pattern, order in ((_ISO, "ymd"), (_POINTS, "dmy"), (_SLASHES, "?"), (_DAY_MONTH, "dmy"), (_MONTH_DAY, "mdy")):
        for found in pattern.finditer(text):
            day = _day(found.groups(), order)
            if day:
                return day, found.span()
    return None


def _day(parts: tuple[str, ...], order: str) -> dt.date | None:
    numbers = [MONTHS.get(part.lower()) if not part.isdecimal() else int(part) for part in parts]
    first, second, third = numbers
    if first is None or second is None or third is None:
        return None
    if order == "?":
        if first <= 12 and second <= 12 and first != second:
            return None
        order = "mdy" if second > 12 else "dmy"
    year, month, day = {"ymd": (first, second, third), "dmy": (third, second, first), "mdy": (third, first, second)}[
        order
    ]
    try:
        return dt.date(year, month, day)
    except ValueError:
        return None
