"""Answers right below a quoted question about one song: the tempo or the length that it asks for."""

import re
from collections.abc import Sequence
from typing import Final, NamedTuple

from companion.leader.claimed_values import LONGEST
from companion.leader.guess_words import player_of
from companion.leader.hour_words import HOURS, folded_words
from companion.leader.quoted_questions import YES, asks
from companion.leader.reply_items import ScannedLine
from companion.leader.reply_readings import NOWHERE, Claim
from companion.leader.reply_words import CLOCK, FRACTION, NUMBER, SIGN, ReplyWord, counted, low, set_of, words_of
from companion.leader.songs_meant import SongsMeant
from companion.leader.stated_fact import StatedFact
from companion.leader.turns_of_phrase import COLOUR, FILLER, turn_at
from companion.setlist.parsing.cells import length_cell

_ASKS: Final = {
    "tempo": r"tempo|bpm|how fast|wie schnell|hoe snel|à quelle vitesse",
    "length": r"how long|length|duration|wie lange?|länge|dauer|dauert|durée|dure|combien de temps|duración|dura|"
    r"durata|duração|hoe lang|duur|lengte|hur lång|längd|hvor lang|længde|lengde|varighed|jak długo|jak dlouhé?",
    "key": r"key|tonart|tonalité|tonalità|tonalidade?|tono|tom|toonsoort|toneart|tonacja|tónina|in which key",
    "ending": r"ending|ends?|endet|ende|schluss|finit|fin|finisce|finale|termina|acaba|final|einde|eindigt|slutar?|"
    r"slutter|koniec|konec",
    "starts_with": r"who (?:starts|begins|counts)|do i (?:start|begin)|starts?|intro|wer (?:beginnt|startet|fängt an)|"
    r"qui (?:commence|démarre|attaque)|quién (?:empieza|comienza)|chi (?:parte|inizia|comincia|attacca)|"
    r"quem (?:começa|entra)|wie (?:begint|start)|vem (?:börjar|startar)|hvem (?:starter|begynder|begynner)",
    "notes": r"sounds?|patch|klang|son|sonido|suono|som|geluid|ljud|lyd|zvuk|brzmienie",
}
_ASKED: Final = {field: re.compile(rf"\b(?:{words})\b", re.IGNORECASE) for field, words in _ASKS.items()}
SLOWEST, FASTEST = 40, 280
MAX_SOUND: Final = 6  # words
MAX_WORDS: Final = 12  # of an answer; more is prose
_MINUTE: Final = folded_words(
    "min mins m minute minutes minuten minutos minuto minuti minutter minutt minuter minut minuta minuty '"
)
_SECOND: Final = folded_words("s sec secs second seconds sek sekunden secondes segundos secondi sekunder sekund")
_PLAIN: Final = _MINUTE | _SECOND | set_of("bpm at @ tempo q = ♩ . , \" ' ( ) ! - : long")
_ABOUT: Final = set_of(
    "about around roughly circa ca some like or so maybe just environ etwa ungefahr so um circa rond ongeveer omkring "
    "ungefar unos mas o menos cerca de quasi quase"
)
_AND: Final = set_of("and und et y e en og och i a")
_HALF: Final = folded_words("half halbe halb demie demi media mezzo mezza meia halv halvt ½ pul pol")
_EINHALB: Final = "einhalb"


_YES_AND: Final = re.compile(rf"^{YES}\s?[,.!:–-]\s?(?=\w)", re.IGNORECASE)


class AskedOf(NamedTuple):
    """The song and the field that a quoted question asks for; field is "" if there is none."""

    about: SongsMeant = NOWHERE
    field: str = ""


def field_asked(text: str) -> str:
    """Return the one field that a quoted question asks for, "" if it asks for none or several.

    >>> field_asked("6. Waltz – tempo?"), field_asked("7 Porch (how long?)"), field_asked("3 Dune: key? who starts?")
    ('tempo', 'length', '')
    """
    if not asks(text):
        return ""
    asked = [field for field, words in _ASKED.items() if words.search(text)]
    return asked[0] if len(asked) == 1 else ""


def asked_about(line: ScannedLine) -> SongsMeant | None:
    """Return the song or the set that a question is about."""
    meant = [item.what for item in line.items if isinstance(item.what, SongsMeant)]
    meant = [one for one in meant if one.songs or one.sets]
    return meant[0] if len({(one.songs, one.sets) for one in meant}) == 1 else None


def asked_of(line: ScannedLine) -> AskedOf:
    """Return the one song that a quoted line is about, and the field that it asks for behind the song's name."""
    about = asked_about(line)
    if about is None or len(about.songs) != 1:
        return AskedOf()
    end = next(item.end for item in line.items if item.what == about)
    return AskedOf(about, field_asked(line.text[line.words[end - 1].end :]))


def without_yes(text: str) -> str:
    """Return an answer without the yes before what it says: "Yes, as on the record" below "key?"."""
    return _YES_AND.sub("", text)


def asked_value(asked: AskedOf, text: str) -> Claim | None:
    """Return the tempo, the length or the sound that a line answers; in doubt if it has other words."""
    words = words_of(text)
    if asked.field == "notes" and len(asked.about.songs) == 1 and _may_be_sound(words):
        is_known = any(player_of(word.low) for word in words)
        return Claim(asked.about, StatedFact("notes", text.strip(" ."), len(words)), text, "" if is_known else text)
    if asked.field not in ("tempo", "length") or len(asked.about.songs) != 1 or len(words) > MAX_WORDS:
        return None
    said = _tempo(words) if asked.field == "tempo" else _length(words)
    if said is None:
        return None
    fact, places = said
    others = [word.low for at, word in enumerate(words) if at not in places and word.low not in _PLAIN]
    return Claim(asked.about, fact, text, text if others else "")


def _may_be_sound(words: Sequence[ReplyWord]) -> bool:
    """Return whether a few words may name a sound: no question, no doubt, nobody to ask, nothing of the record."""
    turns = (turn_at(words, at) for at in range(len(words)))
    is_plain = all(turn is None or turn.kind in (FILLER, COLOUR) for turn in turns)
    return is_plain and 0 < len(words) <= MAX_SOUND and not any(word.text == "?" for word in words)


def _tempo(words: list[ReplyWord]) -> tuple[StatedFact, range] | None:
    found = [(at, said) for at in range(len(words)) if (said := counted(words, at))]
    figures = [one for one in found if SLOWEST <= one[1][0] <= FASTEST]
    if not figures or any(word.kind == CLOCK for word in words):
        return None
    at, (number, many) = figures[0]
    if any(not at <= place < at + many for place, _ in found):
        return None
    return StatedFact("tempo", str(number), at + many), range(at, at + many)


def _length(words: list[ReplyWord]) -> tuple[StatedFact, range] | None:
    for at, word in enumerate(words):
        if word.kind == CLOCK and (seconds := length_cell(word.text, named=True)):
            return _of_seconds(seconds, range(at, at + 1))
        if said := _minutes(words, at):
            return _of_seconds(*said)
    return None


def _of_seconds(seconds: int, places: range) -> tuple[StatedFact, range] | None:
    if not 0 < seconds <= LONGEST * 60:
        return None
    return StatedFact("clock", f"{seconds // 60}:{seconds % 60:02}", places.stop), places


def _number(words: list[ReplyWord], at: int) -> tuple[int, int] | None:
    """Read a number in digits, or in the words of any language: how many, and how many words it takes."""
    if at >= len(words):
        return None
    return counted(words, at) or ((HOURS[words[at].low], 1) if words[at].low in HOURS else None)


def _minutes(words: list[ReplyWord], at: int) -> tuple[int, range] | None:
    """Read 3 and a half min, 4 min 10, seven minutes, dreieinhalb Minuten: seconds, and the places of the words."""
    stem = words[at].low.removesuffix(_EINHALB)
    if stem != words[at].low and stem in HOURS:
        return HOURS[stem] * 60 + 30, range(at, at + 1)
    number = _number(words, at)
    if number is None:
        return None
    end = at + number[1]
    is_pointed = low(words, end) in (",", ".") and low(words, end + 1) == "5" and _is_tight(words, end)
    if is_pointed:  # 3,5
        return number[0] * 60 + 30, range(at, end + 2)
    has_unit = low(words, end) in _MINUTE
    end += has_unit
    half = _half(words, end)
    if half > end:
        return number[0] * 60 + 30, range(at, half)
    seconds = _number(words, end + (low(words, end) in _AND)) if has_unit else None
    if seconds is not None and seconds[0] < 60:
        end += (low(words, end) in _AND) + seconds[1]
        return number[0] * 60 + seconds[0], range(at, end + (low(words, end) in _SECOND))
    others = {word.low for place, word in enumerate(words) if word.kind != SIGN and not at <= place < end}
    if has_unit or (others <= _ABOUT and 1 < number[0] <= LONGEST):
        return number[0] * 60, range(at, end)
    is_figure = words[at].kind == NUMBER and (low(words, end) in _SECOND or number[0] > FASTEST // 4)
    return (number[0], range(at, end)) if is_figure else None


def _half(words: Sequence[ReplyWord], at: int) -> int:
    """Return the end of "and a half", "½", "et demie"; the same place if no half is here."""
    end = at + (low(words, at) in _AND)
    end += low(words, end) in ("a", "en", "ett", "et", "een")
    is_half = (
        low(words, end) in _HALF
        or low(words, end) == "1 2"
        or (end < len(words) and words[end].kind == FRACTION and words[end].text == "1/2")
    )
    return end + 1 if is_half else at


def _is_tight(words: Sequence[ReplyWord], at: int) -> bool:
    """Return whether no space stands on either side of a sign."""
    return words[at - 1].end == words[at].start and words[at].end == words[at + 1].start
