"""Headings of sets: a line that only names a set, and lines that may be such a heading."""

from typing import Final

from companion.leader.reply_items import KeyFact, ReplyItem, ScannedLine, Separator, is_word
from companion.leader.reply_words import SIGN, set_of
from companion.leader.songs_meant import SongsMeant
from companion.leader.stated_fact import StatedFact
from companion.leader.turns_of_phrase import ASKED_FOR, COLOUR, FILLER, TurnOfPhrase

MAX_HEADING: Final = 6  # words


def set_heading(line: ScannedLine, *, has_list: bool = False) -> SongsMeant | None:
    """Return the set that a line is only the heading of: Second set, Set 2:. ``has_list``: a numbered line follows."""
    meant = [item for item in line.items if isinstance(item.what, SongsMeant)]
    letters = [item for item in line.items if is_word(item, line.words)]
    facts = [item for item in line.items if isinstance(item.what, StatedFact | KeyFact) and not _asks_keys(item, line)]
    announces = line.text.endswith(":") and not facts  # Second set, numbers from the top:
    is_name = all(item in meant or _is_empty(item, line) for item in letters)  # ok second set
    announces = announces or ((is_name or (has_list and _only_tells_of_set(line))) and not _states(line))
    if len(letters) == len(meant) + 1 and any(_asks_keys(item, line) for item in letters):
        announces = True  # Dinner keys
    if (
        len(meant) == 1
        and (letters == meant or announces)
        and isinstance(what := meant[0].what, SongsMeant)
        and what.sets
    ):
        return what
    return None


def _is_empty(item: ReplyItem, line: ScannedLine) -> bool:
    """Return whether a word only leads to the name of a set: right, now the second set."""
    is_filler = isinstance(item.what, TurnOfPhrase) and item.what.kind == FILLER
    return is_filler or _asks_keys(item, line) or all(line.words[at].low in _LEADING for at in range(item.at, item.end))


def _asks_keys(item: ReplyItem, line: ScannedLine) -> bool:
    """Return whether the word "keys" is what the songs below are asked for, and no player: keys for set 2:."""
    return isinstance(item.what, StatedFact) and line.said(item.at, item.end).casefold() == "keys"


def _only_tells_of_set(line: ScannedLine) -> bool:
    """Return whether a sentence says nothing of songs, and no more of its set than that: what I know of the second set.

    "After the first set we eat" is about another time.
    """
    tells = all(
        item.what is None or isinstance(item.what, SongsMeant | Separator) or _is_plain(item) for item in line.items
    )
    named = next((item.end for item in line.items if isinstance(item.what, SongsMeant)), 0)
    is_last = all(word.kind == SIGN or word.low in _OF_HEADING for word in line.words[named:])
    return tells and is_last and not any(word.low in _ANOTHER_TIME for word in line.words)


def _states(line: ScannedLine) -> bool:
    """Return whether a line says something of its set, or that there is nothing to say: set 2 is fine."""
    named = next((item.end for item in line.items if isinstance(item.what, SongsMeant)), 0)
    lows = [word.low for word in line.words]
    return bool(_DENYING.intersection(lows) or _IS.intersection(lows[named:]))


_DENYING: Final = set_of(
    "no not nothing none never nobody can't cant don't dont without still yet done finished thanks thank kein keine "
    "keinen nichts nicht rien aucun pas sans nada ningun no sin niente nessun nessuna non senza nao sem geen niets "
    "niet zonder inga inget inte utan ingen ikke intet uden uten nic nie bez zadne"
)
_IS: Final = set_of(
    "is are stays stay remains remain was follows ist sind bleibt bleiben est sont reste es son esta queda e sono "
    "resta rimane fica is zijn blijft ar blir er forblir jest zostaje je zustava"
)


def _is_plain(item: ReplyItem) -> bool:
    return isinstance(item.what, TurnOfPhrase) and item.what.kind in (*_PLAIN, COLOUR)


_ANOTHER_TIME: Final = set_of(
    "after before between until till vor nach zwischen bis apres avant entre jusque despues antes hasta dopo prima fra "
    "tra depois ate na voor tussen tot efter fore mellan innan til etter mellom po przed mezi pred"
)
_ABOUT: Final = set_of(
    "re about regarding concerning on for with betr betreff zu zum zur wegen uber fur concernant sur pour sobre para "
    "con riguardo circa su per over betreffende bij om angaende ang till til o k"
)
_LEADING: Final = _ABOUT | set_of(
    "right so now then and next ok okay und dann jetzt so nun et puis alors bon ahora luego vale y ora poi allora e "
    "en dan nu och sa og"
)
_OF_HEADING: Final = set_of(
    "keys numbers numbered from top counting counted start starting again here songs as at one pour le les fur das den "
    "para el per il och for det voor de dla w v now so then tonarten tonalites tonos tonalita dann puis luego poi"
)


def is_half_read(line: ScannedLine) -> bool:
    """Return whether the heading of a set has words that may change what it means: "Not the second set:"."""
    others = [item for item in line.items if is_word(item, line.words) and not isinstance(item.what, SongsMeant)]
    return any(
        line.words[at].low not in _OF_HEADING | _LEADING
        for item in others
        if not (isinstance(item.what, Separator) or (isinstance(item.what, TurnOfPhrase) and item.what.kind in _PLAIN))
        for at in range(item.at, item.end)
    )


_PLAIN: Final = (FILLER, ASKED_FOR)  # here are the keys for the dinner set:


def misses_set(line: ScannedLine) -> bool:
    """Return whether a line names a set that the show has not."""
    meant = (item.what for item in line.items if isinstance(item.what, SongsMeant))
    return any(line.words[one.at].low in ("set", "satz") and bool(one.no_song) for one in meant)


def speaks_of_set(line: ScannedLine) -> bool:
    """Return whether a line may be the heading of a set, although it is not understood: "late set (maybe):"."""
    words = [word for word in line.words if word.kind != SIGN]
    return len(words) <= MAX_HEADING and any(word.low in ("set", "sets", "satz") for word in words)
