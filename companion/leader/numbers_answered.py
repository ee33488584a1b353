"""Songs alone as the answer to a question about all: "only 18, 35", "18 and 35 are yours", "we start all but 3".

The message asks in one question which songs the keys start, and of which there are charts; songs alone answer it.
"""

from collections.abc import Callable, Collection, Container
from typing import Final, NamedTuple

from companion.leader.hour_words import each_folded, folded_words
from companion.leader.reply_dates import DayReading
from companion.leader.reply_items import KeyFact, ScannedLine, Separator
from companion.leader.reply_lines import CHARTS_FOR, YOU_START
from companion.leader.reply_readings import NOWHERE, Claim, Passed, ReplyReading, Unread
from companion.leader.reply_records import NOT_YOU
from companion.leader.reply_words import SIGN, set_of, words_of
from companion.leader.songs_meant import SongsMeant
from companion.leader.starting_words import FOREIGN_STARTS, START_VERBS
from companion.leader.stated_fact import StatedFact
from companion.leader.turns_of_phrase import ALL_OF_THEM, FILLER, HEDGE, TurnOfPhrase

FIELD_ASKED: Final = {YOU_START: "starts_with", CHARTS_FOR: "chart"}  # below a quoted question
BY_NUMBERS: Final = ("starts_with", "chart")
REST_OF_ALL: Final = SongsMeant((), 0, 0, is_rest=True)
_ONLY: Final = folded_words(
    "yes yeah yep only just ja jo nur oui seulement sí si solo sólo sì soltanto sim só somente alleen bara kun bare "
    "tak tylko ano jen da samo igen csak kyllä vain"
)
# Whole answers. A "no" may be about anything.
_NONE: Final = each_folded(
    "none | none of them | none of these | no none | keine | keins | aucun | aucune | ninguna | ninguno | nessuna | "
    "nessuno | nenhuma | geen | inga | ingen | żadnej"
)
_BE: Final = folded_words(
    "are is they those these that thats that's the ones and und sind ist das die sont est ce celles son es esas sono "
    "è quelle são é zijn är er dem de och og et y please pls thanks"
)
_YOURS: Final = folded_words(
    "you yours your for deine deins du dir bei tienne tiennes toi à tu tuyas tuyo tú tue tuoi te suas tuas você jij "
    "jou jouw van dina dine din twoje ty"
)
_FOR: Final = folded_words("for bei à van")  # they name nobody
_OURS: Final = folded_words("we band wir nous on nosotros noi nós wij vi my rest guys the of us")
_STARTS: Final = START_VERBS | FOREIGN_STARTS | folded_words("fangen fängt starten commence commençons beginnen")
_ALL: Final = ALL_OF_THEM | folded_words("all everything every one song songs alle alles an")
_EXCEPT: Final = folded_words(
    "except for apart from bar besides other than but not excluding save ausser außer sauf undtagen utom menos excepto "
    "salvo tranne behalve aside paitsi excepte osim razen krome oprocz"
)


class _Answer(NamedTuple):
    """The words before songs and those after them, for comparison."""

    before: frozenset[str]
    songs: tuple[int, ...]
    after: frozenset[str]


def numbers_answer(
    line: ScannedLine, scan: Callable[[str], ScannedLine], at_once: Container[str], *, is_last: bool
) -> list[ReplyReading]:
    """Return what songs alone answer; nothing where other words stand beside them.

    ``at_once``: the fields that the last message asked about many songs in one question. ``is_last``: nothing follows.
    """
    text, asked = line.text, [field for field in BY_NUMBERS if field in at_once]
    if asked == ["starts_with"] and " ".join(word.low for word in words_of(text) if word.kind != SIGN) in _NONE:
        return [Passed(REST_OF_ALL, NOT_YOU, text, "starts_with")]
    if any(isinstance(item.what, KeyFact | DayReading) for item in line.items):
        return []
    found = _parted(line, scan)
    if found is None:
        return []
    before, songs, after = found
    about, is_yours = SongsMeant(songs, 0, 0), bool(after & _YOURS - _FOR)
    keys = StatedFact("starts_with", "keys", 0)
    doubt = "" if "starts_with" in at_once else text
    if before & _STARTS and before & _EXCEPT and before & _OURS - {"the", "of"}:
        rest = SongsMeant(songs, 0, 0, is_rest=True)
        return [Claim(about, keys, text, "" if is_yours else doubt), Passed(rest, NOT_YOU, text, "starts_with", doubt)]
    if not before <= _ONLY:
        return []
    if is_yours:
        return [Claim(about, keys, text, doubt)]
    if len(asked) != 1 or not (before or (is_last and len(songs) > 1)):
        return []
    return [Claim(about, keys if asked[0] == "starts_with" else StatedFact("chart", True, 0), text)]


def yes_to_all(line: ScannedLine, asked: Collection[tuple[int, str]], at_once: Container[str]) -> list[ReplyReading]:
    """Return "all yes" as the answer to all that the message asks to be sure of: ``asked``, songs and fields.

    It is not understood where the message also asks which songs the keys start, or of which there are charts.
    """
    said = {word.low for word in line.words if word.kind != SIGN}
    if not (asked and said & _SAYS_YES - _ALL and said & _ALL and said <= _SAYS_YES | _ALL | _TO_THEM):
        return []
    if any(field in at_once for field in BY_NUMBERS):
        return [Unread(NOWHERE, line.text)]
    songs = tuple(sorted({place for place, _ in asked}))
    return [Claim(SongsMeant(songs, 0, 0), StatedFact("yes", True, 0), line.text)]


_TO_THEM: Final = folded_words("to of them these those for right correct zu allen à toutes a tutte por para")


def _parted(line: ScannedLine, scan: Callable[[str], ScannedLine]) -> _Answer | None:
    """Part a line into words that only say of whom, songs, and such words behind them; None if it has any other."""
    words, text = line.words, line.text
    heads, tails = _ONLY | _OURS | _STARTS | _ALL | _EXCEPT, _BE | _YOURS
    first, last = 0, len(words)
    while first < last and (words[first].kind == SIGN or words[first].low in heads):
        first += 1
    while last > first and (words[last - 1].kind == SIGN or words[last - 1].low in tails):
        last -= 1
    for begin, end in dict.fromkeys(((0, len(words)), (first, len(words)), (first, last))):
        is_whole = begin == 0 and end == len(words)
        part = line if is_whole or end <= begin else scan(text[words[begin].start : words[end - 1].end])
        songs = _songs(part) if end > begin else ()
        if songs:
            before = frozenset(word.low for word in words[:begin] if word.kind != SIGN)
            return _Answer(before, songs, frozenset(word.low for word in words[end:] if word.kind != SIGN))
    return None


def _songs(line: ScannedLine) -> tuple[int, ...]:
    """Return the songs of a line that names some and says nothing else."""
    said = [one.what for one in line.items if not (isinstance(one.what, Separator) or one.end == one.at)]
    meant = [one for one in said if isinstance(one, SongsMeant)]
    is_plain = all(one.songs and not (one.is_rest or one.sets or one.no_song or one.is_word) for one in meant)
    return tuple(song for one in meant for song in one.songs) if is_plain and len(meant) == len(said) else ()


_SAYS_YES: Final = set_of("yes yep yeah all everything ja alle oui si")


def bare_numbers(line: ScannedLine, field: str) -> list[ReplyReading]:
    """Read numbers alone, all, or none, where that is an answer: "Do I start any of these?" "2 and 5"."""
    if field not in FIELD_ASKED:
        return []
    fact = StatedFact("starts_with", "keys", 0) if field == YOU_START else StatedFact("chart", True, 0)
    said = {word.low for word in line.words if word.kind != SIGN}
    if said & _SAYS_YES and said <= _SAYS_YES | {"for", "of", "them", "the", "to", "it"}:
        return [Claim(REST_OF_ALL, fact, line.text)]  # yes for all
    others = [item.what for item in line.items if not isinstance(item.what, Separator | SongsMeant)]
    if any(not (isinstance(one, TurnOfPhrase) and one.kind in (FILLER, HEDGE)) for one in others):
        low = line.text.strip(" .!").casefold()
        if low in ("no", "none", "none of them", "nope", "no none", "nein", "keine", "non"):
            if field == YOU_START:
                return [Passed(REST_OF_ALL, NOT_YOU, line.text, "starts_with")]
            return [Claim(REST_OF_ALL, fact._replace(value=False), line.text)]
        return []
    doubt = "; ".join(line.said(item.at, item.end) for item in line.items if _is_hedge(item.what))
    return [
        Claim(meant, fact, line.text, doubt)
        for meant in [one.what for one in line.items if isinstance(one.what, SongsMeant)]
        if meant.songs or meant.is_rest
    ]


def _is_hedge(what: object) -> bool:
    return isinstance(what, TurnOfPhrase) and what.kind == HEDGE
