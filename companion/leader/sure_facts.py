"""The one gate that every fact of a line passes: it lands without a doubt only if its whole clause is explained.

A clause begins where songs or a set are named, or a sentence begins, and ends before the next one. It is explained if
each of its words names songs, states a fact, means nothing beside one, or is quoted by another reading of its line.
"""

import re
from collections.abc import Iterator, Sequence
from typing import Final

from companion.leader.accounted_words import is_quoted, quoted_places
from companion.leader.courtesies import is_courtesy
from companion.leader.players import PLAYERS
from companion.leader.reply_items import KeyFact, ReplyItem, ScannedLine, Separator, is_word
from companion.leader.reply_readings import NOWHERE, Claim, Passed, ReplyReading, in_doubt
from companion.leader.reply_words import NUMBER, WORD, set_of
from companion.leader.songs_meant import SongsMeant
from companion.leader.sounds_named import sound_named
from companion.leader.starting_words import FOREIGN_STARTS, START_VERBS
from companion.leader.stated_fact import StatedFact
from companion.show.titles import folded


def with_clauses_explained(line: ScannedLine, said: Sequence[ReplyReading], asked: str = "") -> Iterator[ReplyReading]:
    """Yield what a line says, in doubt where a word of its clause is not explained. ``asked``: what it answers."""
    noted = quoted_places(line.text, [one for one in said if _is_note(one) or isinstance(one, Passed)])
    clauses = [[item for item in clause if not is_quoted(item, line, noted)] for clause in _clauses(line)]
    for one in said:
        read = _with_doubt_of(one, line, [clause for clause in clauses if clause])
        if asked != "starts_with" and isinstance(read, Claim) and isinstance(one, Claim) and _may_be_a_sound(one):
            yield _as_note(line, read._replace(doubt=read.doubt or read.words))
        else:
            yield read


def _is_note(said: ReplyReading) -> bool:
    return isinstance(said, Claim) and isinstance(said.fact, StatedFact) and said.fact.field == "notes"


def _with_doubt_of(said: ReplyReading, line: ScannedLine, clauses: Sequence[Sequence[ReplyItem]]) -> ReplyReading:
    if not isinstance(said, Claim) or said.doubt or said.about is NOWHERE or _is_note(said):
        return said
    if _may_be_of_an_end(said) or _are_several_who_play(said) or _may_be_played_all_along(said, line):
        return in_doubt(said, said.words)
    places = quoted_places(line.text, [said])
    for clause in clauses:
        start, end = line.words[clause[0].at].start, line.words[clause[-1].end - 1].end
        is_here = any(at < end and start < to for at, to in places)
        if not is_here:
            continue
        if strays := _unexplained(line, clause) or _other_song(line, clause, said) or _small_letter(line, clause, said):
            return in_doubt(said, strays)
    return in_doubt(said, signed) if (signed := _signed(line, said)) else said


def _signed(line: ScannedLine, said: Claim) -> str:
    """Return the name with the player in brackets behind it that signs a reply: "till then Greg (guitar)"."""
    at = next((at for at, item in enumerate(line.items) if item.what == said.fact and at > 1), 0)
    if not at or line.said(line.items[at - 1].at, line.items[at - 1].end) != "(" or len(line.items) > at + 2:
        return ""
    name = line.items[at - 2]
    is_name = name.what is None and line.words[name.at].text.istitle()
    return line.said(name.at, line.items[at].end) if is_name else ""


def _may_be_of_an_end(said: Claim) -> bool:
    """Return whether everybody is said to play, and no verb says that they start: all together may end a song."""
    if not isinstance(said.fact, StatedFact) or said.fact.field != "starts_with" or said.fact.value != "all":
        return False
    return not any(folded(word) in _VERBS for word in re.findall(r"\w+", said.words))


def _may_be_a_sound(said: Claim) -> bool:
    """Return whether a sound of the keyboard is named and nothing more: "Bm, organ" may say what to play."""
    if not isinstance(said.fact, StatedFact) or said.fact.field != "starts_with":
        return False
    return said.fact.value in _SOUNDS and not said.fact.firm


def _as_note(line: ScannedLine, said: Claim) -> Claim:
    item = next((one for one in line.items if one.what == said.fact), None)
    sound = sound_named(line, range(item.at, item.end)) if item else ""
    return said._replace(fact=StatedFact("notes", sound, item.end)) if item and sound else said


def _may_be_played_all_along(said: Claim, line: ScannedLine) -> bool:
    """Return whether the keyboard is only named beside a key: "so Ebm on your keyboard", "D und da bitte Orgel"."""
    if not isinstance(said.fact, StatedFact) or (said.fact.field, said.fact.value) != ("starts_with", "keys"):
        return False
    words = {folded(word) for word in re.findall(r"\w+", said.words)}
    is_named = any(PLAYERS.get(word) == "keys" for word in words - _WHO)
    begins = not words.isdisjoint({*START_VERBS, *FOREIGN_STARTS} - {"lead"})
    return is_named and not begins and any(isinstance(item.what, KeyFact) for item in line.items)


def _unexplained(line: ScannedLine, clause: Sequence[ReplyItem]) -> str:
    """Return the words of a clause from the first that nothing explains to the last; "" if each is explained."""
    strays = [item for item in clause if item.what is None and is_word(item, line.words)]
    is_of_capo = any(isinstance(item.what, StatedFact) and item.what.field in ("capo", "shapes") for item in clause)
    if not strays or is_of_capo:  # how the guitarist plays it
        return ""
    words = line.said(strays[0].at, strays[-1].end)
    return "" if is_courtesy(words) or _NAME.fullmatch(words) else words


def _other_song(line: ScannedLine, clause: Sequence[ReplyItem], said: Claim) -> str:
    """Return the figure that names a song behind a title, which may count beats: "Umbrella - Eb, 4 on the sticks"."""
    named = next((item for item in clause if isinstance(item.what, SongsMeant) and item.what.songs), None)
    if named is not None and _is_word_behind_figure(named, line):
        return line.said(named.at, named.end)
    if len(said.about.songs) > 1 and (each := next((word for word in line.words if word.low in _EACH_ITS_OWN), None)):
        return each.text
    if isinstance(said.fact, KeyFact) or named is None or not _is_figure(named, line):
        return ""
    if said.fact.end <= named.at:
        return ""  # 96 for Lantern and 141 for 6
    for item in reversed([one for one in line.items if one.at < named.at]):
        if isinstance(item.what, Separator) and item.what.is_strong:
            return ""
        if isinstance(item.what, SongsMeant) and item.what.songs and not item.what.is_rest:
            is_titled = not any(word.kind == NUMBER for word in line.words[item.at : item.end])
            return line.said(named.at, named.end) if is_titled else ""
    return ""


def _is_word_behind_figure(named: ReplyItem, line: ScannedLine) -> bool:
    """Return whether one word of a title stands in the sentence of a figure: "1 - D, starts with the drum machine"."""
    before = [item for item in line.items if item.at < named.at]
    ends = [at for at, item in enumerate(before) if isinstance(item.what, Separator) and item.what.is_strong]
    sentence = before[ends[-1] + 1 if ends else 0 :]
    first = next((item for item in sentence if isinstance(item.what, SongsMeant) and item.what.songs), None)
    word = line.words[named.at]
    is_word = named.end == named.at + 1 and word.kind == WORD and word.text.islower() and word.low not in _POINTING
    return is_word and first is not None and _is_figure(first, line)


def _is_figure(item: ReplyItem, line: ScannedLine) -> bool:
    """Return whether a song is named by a figure alone, without "number" before it."""
    return item.end == item.at + 1 and line.words[item.at].kind == NUMBER


def _small_letter(line: ScannedLine, clause: Sequence[ReplyItem], said: Claim) -> str:
    """Return a small letter that may be a word and no key, with a word behind it: "tempo 140 e parte il basso"."""
    for at, item in enumerate(clause[:-1]):
        is_key = isinstance(item.what, KeyFact) and isinstance(said.fact, KeyFact) and item.what.key == said.fact.key
        is_small = " ".join(word.text for word in line.words[item.at : item.end]) in _SMALL_WORDS
        if is_key and is_small and is_word(clause[at + 1], line.words):
            return line.said(item.at, clause[at + 1].end)
    return ""


def _are_several_who_play(said: Claim) -> bool:
    """Return whether two players are named, and no verb says that they start: "just voice and you"."""
    if (
        not isinstance(said.fact, StatedFact)
        or said.fact.field != "starts_with"
        or not isinstance(said.fact.value, str)
    ):
        return False
    return " and " in said.fact.value and not any(folded(word) in _VERBS for word in re.findall(r"\w+", said.words))


# Words that name a song said before, or one by its place.
_POINTING: Final = set_of("opener closer both beide allebei all last first next same others rest which comes that who")

_EACH_ITS_OWN: Final = set_of(
    "respectively resp beziehungsweise bzw respectivement respectivamente rispettivamente respectievelijk respektive "
    "henholdsvis odpowiednio"
)

_SMALL_WORDS: Final = ("a", "e")

_WHO: Final = {"keys", "you", "u", "yourself", "du", "toi", "jij"}  # no sounds of the keyboard

_SOUNDS: Final = ("organ", "synth", "rhodes", "clav")

# No intro: "the band intros" may be when the singer names the players.
_VERBS: Final = (START_VERBS | FOREIGN_STARTS | {"starting", "top", "in"}) - {"intro", "intros"}

# A song that the show does not have, which is kept by itself: "drop Haywain and Copper Street".
_NAME: Final = re.compile(r"[A-ZÀ-Þ][\w'’]{1,20}(?: [A-ZÀ-Þ][\w'’]{0,20}){1,5}")


def _clauses(line: ScannedLine) -> Iterator[list[ReplyItem]]:
    """Split a line where a sentence ends, and before songs that follow a fact or a separator."""
    clause: list[ReplyItem] = []
    states = parts = False
    for item in line.items:
        ends = isinstance(item.what, Separator) and item.what.is_strong
        if clause and (ends or (isinstance(item.what, SongsMeant) and (states or parts))):
            yield clause
            clause, states = [], False
        if ends or item.end == item.at:
            continue
        clause.append(item)
        parts = isinstance(item.what, Separator)
        states = states or isinstance(item.what, StatedFact | KeyFact)
    if clause:
        yield clause
