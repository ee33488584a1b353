"""A random walk: which word comes next, and where the oracle is after it."""

import random
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple

from oracle.oracle import Stage, begun, call, do
from oracle.songs import KEYS, LOWER, UPPER, Evening, Tune

CALL, NEW, READ_AGAIN, NOTE = "call", "call of a new song", "read again", "note"
HOLDS = {"hold lower": LOWER, "hold upper": UPPER}
LIFT = "lift"

WORDS = {
    "next": 30,
    "back": 9,
    "again": 5,
    "take it out": 3,
    "skip": 5,
    "leave out": 5,
    "start over": 2,
    "take back": 8,
    "next song": 4,
    "previous song": 4,
    "drop": 2,
    "swap": 2,
    "to encore": 2,
    "sound now": 1,
    "key up": 3,
    "key down": 3,
    "tap tempo": 2,
    "chart": 1,
    "all off": 2,
    NOTE: 3,
    **dict.fromkeys(HOLDS, 2),
    LIFT: 5,
    CALL: 3,
    NEW: 1,
    READ_AGAIN: 1,
}
"""How often each comes: a foot says next most of the time."""

WISHES = ("Copper Lullaby", "Thistle Arcade", "Nimbus Laundry", "Old Dredger", "Quince and Candle")


class Stride(NamedTuple):
    """One word, and the stage after it; ``tune`` is what a call is for."""

    word: str
    after: Stage
    tune: Tune | None = None


def strides(chance: random.Random, evening: Evening, many: int) -> list[Stride]:
    """Walk so many steps from the beginning of this evening."""
    stage, walked = begun(evening), list[Stride]()
    wishes = [Tune(title, key=chance.choice(list(KEYS))) for title in WISHES]
    while len(walked) < many:
        (word,) = chance.choices(list(WORDS), list(WORDS.values()))
        if word == NEW and not wishes:
            word = CALL
        tune = chance.choice(evening.tunes) if word == CALL else wishes.pop() if word == NEW else None
        after = stride(stage, word, tune)
        if _twice_in_a_row(after):
            continue
        stage = after
        walked.append(Stride(word, stage, tune))
    return walked


def _twice_in_a_row(stage: Stage) -> bool:
    """Return whether a song has two turns, one behind the other, and lacks a section in one of them.

    Nobody on stage asks which of the two "this time" was, so the walks avoid it.
    """
    tunes = [tune.title for tunes in stage.order for tune in tunes]
    shortened = {title for title, _ in stage.left_out}
    return any(one == other and one in shortened for one, other in pairwise(tunes))


def stride(stage: Stage, word: str, tune: Tune | None) -> Stage:
    """The stage after one word."""
    if tune is not None:
        return call(stage, tune)
    if word == READ_AGAIN:  # "you are at the same song and section ... and backspace reaches back as far as that"
        return replace(stage, past=None)
    return do(stage, "first note" if word == NOTE or word in HOLDS else word)
