"""How fast a song probably goes, where its clause has a number and no weighty word: a march, a hundred and ten."""

from collections.abc import Iterator
from typing import Final

from companion.leader.guess_words import SMALL, TEMPO_WORDS, UNITS
from companion.leader.guessed_clauses import GuessClause
from companion.leader.reply_words import NUMBER, WORD, low, set_of
from companion.leader.said_numbers import number_said
from companion.leader.songs_meant import SongsMeant
from companion.leader.turns_of_phrase import COLOUR, FILLER, HEDGE, TurnOfPhrase

SLOWEST, FASTEST = 40, 280
_CALLED: Final = set_of(
    "call make set put count think metronome click steady tick peu pres environ circa etwa ungefahr rond cerca unos "
    "intorno ongeveer omkring ungefar rundt mais ou menos mas mais o menos plus moins"
)
_OF_CLOCK: Final = set_of("at from by until till")
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
        number, end = number_said(words, item.at)
        after = max(end, item.end)
        beside = [words[at] for at in (item.at - 1, end) if 0 <= at < len(words)]
        if not SLOWEST <= number <= FASTEST or any(one.kind == NUMBER for one in beside):
            continue  # a telephone number
        is_hour = words[item.at].kind == WORD and low(words, item.at - 1) in _OF_CLOCK and number in _TIMES
        if low(words, end) not in UNITS and not is_hour:
            yield number, item.at, end
