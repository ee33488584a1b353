"""How fast a song probably goes, where its clause has a number and no weighty word: a march, a hundred and ten."""

from collections.abc import Iterator, Sequence
from typing import Final

from companion.leader.guess_words import SMALL, TEMPO_WORDS, UNITS
from companion.leader.guessed_clauses import GuessClause
from companion.leader.hour_words import HOURS, MINUTES_SAID, folded_words
from companion.leader.reply_words import COUNTED, NUMBER, TENS, WORD, ReplyWord, counted, low, set_of
from companion.leader.songs_meant import SongsMeant
from companion.leader.turns_of_phrase import COLOUR, FILLER, HEDGE, TurnOfPhrase

SLOWEST, FASTEST = 40, 280
_HUNDREDS: Final = ("hundert", "einhundert", "honderd", "hundra", "etthundra", "hundrede", "ethundrede", "hundre")
_HUNDRED: Final = folded_words("cent ciento cien cento cem hundert einhundert honderd hundra hundrede hundre sto sta")
_CALLED: Final = set_of(
    "call make set put count think metronome click steady tick peu pres environ circa etwa ungefahr rond cerca unos "
    "intorno ongeveer omkring ungefar rundt mais ou menos mas mais o menos plus moins"
)
_OF_CLOCK: Final = set_of("at from by until till")
_AND_UNITS: Final = ("y", "e", "et", "i", "a", "-", "og", "och")
_FRENCH_TENS: Final = (60, 80)  # soixante-douze
_TIMES: Final = (115, 130, 145)  # at one thirty


def guessed_tempo(clause: GuessClause) -> str | None:
    """Return the one number of a clause that may be a tempo, in digits or as words."""
    if clause.about.is_rest or clause.about.sets:
        return None
    stated = clause.stated("tempo")
    if stated is not None:
        return str(stated.value)
    found = list(_numbers(clause))
    taken = {at for _, begin, end in found for at in range(begin, end)}
    turns = {at for one in clause.items if _is_turn(one.what) for at in range(one.at, one.end)}
    words = clause.line.words
    rest = [words[at].low for at in clause.free if at not in taken | turns]
    rest = [one for one in rest if one not in SMALL and not one.isdecimal()]
    is_plain = all(one in TEMPO_WORDS | _CALLED for one in rest) or bool(clause.sentence & {"tempo", "bpm"})
    return str(found[0][0]) if len(found) == 1 and is_plain else None


def _is_turn(what: object) -> bool:
    return isinstance(what, TurnOfPhrase) and what.kind in (FILLER, COLOUR, HEDGE)


def _numbers(clause: GuessClause) -> Iterator[tuple[int, int, int]]:
    """Yield each number that may be a tempo, and the places of its words."""
    words, after = clause.line.words, 0
    for item in clause.items:
        what = item.what
        is_open = what is None or _is_turn(what) or (isinstance(what, SongsMeant) and not what.songs)
        if item.at < after or not is_open:
            continue
        number, end = _number(words, item.at)
        after = max(end, item.end)
        beside = [words[at] for at in (item.at - 1, end) if 0 <= at < len(words)]
        if not SLOWEST <= number <= FASTEST or any(one.kind == NUMBER for one in beside):
            continue  # a telephone number
        is_hour = words[item.at].kind == WORD and low(words, item.at - 1) in _OF_CLOCK and number in _TIMES
        if low(words, end) not in UNITS and not is_hour:
            yield number, item.at, end


def _number(words: Sequence[ReplyWord], at: int) -> tuple[int, int]:
    """Return a number and where its words end; 0 for none: 96, ninety six, one twelve, one oh four, ciento veinte."""
    if words[at].kind == NUMBER:
        return (0, at + 1) if words[at].is_ordinal else (int(words[at].text), at + 1)
    said = words[at].low
    if said == "one" and (more := _below_hundred(words, at + 1)):
        return 100 + more[0], more[1]
    if (hundred := next((one for one in _HUNDREDS if said.startswith(one)), "")) and said != hundred:
        number = _in_one_word(said[len(hundred) :].removeprefix("und"))
        return (100 + number, at + 1) if number else (0, at + 1)
    if said in _HUNDRED:
        begins = at + 1 + (low(words, at + 1) in ("e", "y", "og", "och", "und", "en"))
        number = _in_one_word(low(words, begins))
        return (100 + number, begins + 1) if number else (100, at + 1)
    if said in MINUTES_SAID and said not in TENS:
        return _with_units(words, at, MINUTES_SAID[said])
    plain = counted(list(words), at)
    return (plain[0], at + plain[1]) if plain is not None else (0, at + 1)


def _with_units(words: Sequence[ReplyWord], at: int, tens: int) -> tuple[int, int]:
    """Read what follows the tens of a number: noventa y seis, quarenta e dois, soixante-douze, novanta sei."""
    begins = at + 1 + (low(words, at + 1) in _AND_UNITS)
    more = 0 if begins >= len(words) or tens % 10 else _in_one_word(low(words, begins))
    most = 20 if tens in _FRENCH_TENS else 10
    return (tens + more, begins + 1) if 0 < more < most else (tens, at + 1)


def _below_hundred(words: Sequence[ReplyWord], at: int) -> tuple[int, int] | None:
    """Read what follows a hundred that is only "one": twelve, thirty two, oh four."""
    is_small = low(words, at) in ("oh", "o") and low(words, at + 1) in COUNTED
    number = counted(list(words), at + is_small) if at < len(words) and words[at].kind == WORD else None
    if number is None or not (is_small or 10 <= number[0] < 100):
        return None
    return number[0], at + is_small + number[1]


def _in_one_word(said: str) -> int:
    return MINUTES_SAID.get(said) or HOURS.get(said) or TENS.get(said) or COUNTED.get(said) or 0
