"""Tempos and meters as a leader says them: 112 bpm, at one thirty, around 96 beats per minute, 4/4 not 3/4, in 3."""

from collections.abc import Sequence
from typing import Final

from companion.leader.hour_words import folded_words
from companion.leader.reply_words import COUNTED, FRACTION, NUMBER, SIGN, WORD, ReplyWord, counted, low, phrase, set_of
from companion.leader.said_numbers import number_said
from companion.leader.stated_fact import StatedFact

AT_TEMPO: Final = set_of(
    "at @ tempo bpm around about ca roughly approx q = ♩ circa say crotchet crotchets viertel noire negra semiminima"
)
PER_MINUTE: Final = (
    *("to the minute", "per minute", "a minute", "pro minute", "al minuto", "a la minute", "por minuto", "i minuten"),
    *(
        "bpm",
        "b p m",
        "beats per minute",
        "beats a minute",
        "beats",
        "schlage pro minute",
        "a la noire",
        "pulsaciones",
        "slag",
    ),
    *(
        "pulsaciones",
        "battiti al minuto",
        "battute al minuto",
        "batidas por minuto",
        "slag i minuttet",
        "slagen per minuut",
    ),
)
SLOWEST_SAID: Final = 60  # a lower number in words may count bars
ABOUT: Final = set_of("around about ca roughly approx circa ish say")


def tempo(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read a tempo: 112 bpm, at 112, around 96 bpm."""
    begins, is_about = at, False
    while low(words, begins) in AT_TEMPO or low(words, begins) == "quarter" or _is_told(words, at, begins):
        is_about = is_about or low(words, begins) in ABOUT
        begins += 1
    said = _abroad(words, at, begins) or (counted(list(words), begins) if begins < len(words) else None)
    if said is None:
        return None
    number, end = said[0], begins + said[1]
    hundreds = _without_hundred(words, begins, end)
    number, end = hundreds or (number, end)
    if low(words, end) == "ish":
        is_about, end = True, end + 1
    says = phrase(words, end, *PER_MINUTE)
    if hundreds and not says and low(words, at) not in ("tempo", "bpm"):
        return None  # we start at one thirty
    if words[begins].kind != NUMBER and not says and number < SLOWEST_SAID:
        return None
    if not 30 <= number <= 300 or not (says or begins > at):
        return None
    if not says and low(words, end) in (
        "min",
        "mins",
        "minutes",
        "bars",
        "sec",
        "seconds",
        "people",
        "guests",
        "heads",
    ):
        return None
    doubt = "about" if is_about else ""
    return StatedFact(
        "tempo", str(number), end + says, firm=says > 0 or low(words, at) in ("tempo", "bpm", "@"), doubt=doubt
    )


def _is_told(words: Sequence[ReplyWord], at: int, begins: int) -> bool:
    """Return whether a verb stands behind "tempo": the tempo is 68."""
    return begins == at + 1 and low(words, at) in _NAMED and low(words, begins) in _IS


_NAMED: Final = ("tempo", "bpm")
_IS: Final = folded_words("is ist est es é är er jest je should would will")
_BEATS_SAID: Final = ("bpm", "b p m", "beats per minute", "beats a minute")


def _abroad(words: Sequence[ReplyWord], at: int, begins: int) -> tuple[int, int] | None:
    """Read a number in the words of another language behind "tempo" or before "bpm", and how many words it takes."""
    if begins >= len(words) or words[begins].kind != WORD:
        return None
    number, end = number_said(words, begins)
    english = counted(list(words), begins)
    if english is not None and end <= begins + english[1]:
        return None
    is_told = (begins > at and low(words, at) in _NAMED) or phrase(words, end, *_BEATS_SAID) > 0
    return (number, end - begins) if number and is_told else None


def _without_hundred(words: Sequence[ReplyWord], at: int, end: int) -> tuple[int, int] | None:
    """Read a number of three digits as it is spoken without "hundred": one thirty, one twenty-four, one oh eight."""
    hundreds = {"one": 100, "two": 200}.get(low(words, at), 0)
    if not hundreds or end != at + 1 or end >= len(words) or words[end].kind != WORD:
        return None
    begins = end + (low(words, end) in ("oh", "o"))
    rest = counted(list(words), begins) if begins < len(words) else None
    least = 1 if begins > end else 10
    if rest is None or not least <= rest[0] < (10 if begins > end else 100):
        return None
    return hundreds + rest[0], begins + rest[1]


def meter_end(words: Sequence[ReplyWord], at: int) -> int:
    """Return where the words behind a meter end that belong to it: 4/4 time, 4/4 not 3/4."""
    end = at + phrase(words, at, "time", "feel", "takt")
    denies = end + (low(words, end) == ",")
    denies += phrase(words, denies, *_NOT)
    is_denied = denies > end + 1 or low(words, end) in _NOT
    return denies + 1 if is_denied and denies < len(words) and words[denies].kind == FRACTION else end


_NOT: Final = (
    *("not", "and not", "instead of", "rather than", "no longer", "nicht", "statt", "pas", "au lieu de", "no", "non"),
    *(
        "en vez de",
        "invece di",
        "nao",
        "em vez de",
        "niet",
        "in plaats van",
        "inte",
        "istallet for",
        "ikke",
        "i stedet for",
    ),
    *("nie", "zamiast", "ne", "misto"),
)


def felt_in(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read how many beats of a bar are felt, right behind a key and a comma: 12 = G, in 3."""
    number = counted(list(words), at + 1) if low(words, at) in ("in", "en", "im", "i") and at + 1 < len(words) else None
    if number is None or number[0] not in _BEATS or at < 2 or words[at - 1].text not in (",", "(", "-", "–"):
        return None
    end = at + 1 + number[1]
    is_key = words[at - 2].text[:1] in _KEYS and len(words[at - 2].text) <= len("C#m")
    ends = end >= len(words) or words[end].kind == SIGN
    is_song = end < len(words) and words[end].text in (":", "=", "-", "–")
    if not (is_key and ends) or is_song:
        return None
    return StatedFact("notes", " ".join(word.text for word in words[at:end]), end)


_BEATS: Final = (2, 3, 4, 6)
_KEYS: Final = tuple("ABCDEFG")


METERS_SAID: Final = ((2, 4), (3, 4), (4, 4), (6, 8), (9, 8), (12, 8))


def meter_in_words(words: Sequence[ReplyWord], at: int) -> StatedFact | None:
    """Read a meter in words that is all between two signs: F, three-four, bass begins."""
    parts = COUNTED.get(low(words, at)), COUNTED.get(low(words, at + 2))
    is_told = low(words, at + 1) == "-" and at > 0 and words[at - 1].text in (",", "(", ";")
    ends = at + 3 >= len(words) or words[at + 3].kind == SIGN
    return StatedFact("meter", f"{parts[0]}/{parts[1]}", at + 3) if is_told and ends and parts in METERS_SAID else None
