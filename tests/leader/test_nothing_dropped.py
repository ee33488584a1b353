"""Every word of a reply is in a fact, in why it is in doubt, or among the words that are kept."""

import random

import pytest
from examples import seldom
from leader.reply_shape import BALL, PIER, TODAY

from companion.leader.answers import LeaderAnswers, read_answers

NONSENSE = ("zorp", "Wilfred", "quibble", "snarf", "Plonk", "vexing")
# No word or sign of these is left out as a courtesy or a word between.
WORDS = [
    *("1", "2", "4", "5", "8", "99", "Bb", "F#m", "Eb", "in Ab", "is C#m", "drums start", "fades", "cold", "Moth"),
    *("Old Canal Road", "set 2", "112 bpm", "3:40", "no chart", "you start", "drop", "tag", "capo 3"),
    *("is", "and", "the", "for", "not", "sorry", "so is", "all", "the rest", "except", "as the record", "ask Pat"),
    *(
        "Only change:",
        "Kettle on the Jetty in Ab",
        "3 Eb",
        "guitar",
        "Ringo on congas",
        "for 8",
        "both",
        "ring out",
        "so",
        "Full band.",
        "tutti",
        "everyone",
        "the singer",
        "at 20:15",
        "9.40",
        "for 35 minutes",
        "Sat 12 Dec",
        "at the Corn Hall",
        "same again",
        "first set",
        "me",
    ),
    *(",", ".", ";", "-", "/", "(", ")", ":", "?", "\n", "\n\n"),
]
KEYS = ("Bb", "F#m", "Eb", "Ab", "C#m")
# Words of facts, and what the player sees of them: as they stand, or as the show file writes them.
SHOWN = {
    "drums": ("drums",),
    "fades": ("fade",),
    "cold": ("cold",),
    "112": ("112",),
    "3:40": ("3:40",),
    "chart": ("chart",),
    "tag": ("tag",),
    "capo": ("capo",),
    "guitar": ("guitar",),
    "congas": ("congas",),
    "ring": ("ring",),
    "Kettle": ("Kettle",),
    "band.": ("band", "all"),
    "tutti": ("tutti", "all"),
    "everyone": ("everyone", "all"),
    "singer": ("singer",),
    "20:15": ("20:15",),
    "9.40": ("9.40", "21:40"),
    "35": ("35", "21:15", "22:15", "20:50"),
    "Dec": ("Dec", "12-12"),
    "Corn": ("Corn",),
    "again": ("again", "35"),
}


def told(answers: LeaderAnswers) -> str:
    """Return all that the player sees of a reply."""
    found = [f"{one} {one.words}" for one in (*answers.found, *answers.contradicts)]
    kept = [f"{one.title} {one.words} {one.to}" for one in (*answers.left, *answers.passed, *answers.confirms)]
    return "\n".join([*found, *kept])


@pytest.mark.parametrize("tens", [*range(4), *map(seldom, range(4, 12))])
def test_every_word_that_nothing_explains_is_shown_to_the_player(tens: int) -> None:
    for seed in range(10 * tens, 10 * tens + 10):
        assert_every_word_is_shown(seed)


def assert_every_word_is_shown(seed: int) -> None:
    dice = random.Random(seed)  # noqa: S311  no secret
    words = dice.choices(WORDS, k=dice.randrange(2, 14))
    put_in = dice.sample(NONSENSE, k=2)
    for one in put_in:
        words.insert(dice.randrange(len(words) + 1), one)
    text = " ".join(words)
    shown = told(read_answers(text, dice.choice([PIER, BALL]), today=TODAY))
    assert [one for one in put_in if one not in shown] == [], (text, shown)


@pytest.mark.parametrize("tens", [*range(6), *map(seldom, range(6, 20))])
def test_every_fact_of_a_reply_lands_or_is_shown_to_the_player(tens: int) -> None:
    for seed in range(10 * tens, 10 * tens + 10):
        assert_every_fact_is_shown(seed)


def assert_every_fact_is_shown(seed: int) -> None:
    dice = random.Random(seed)  # noqa: S311  no secret
    words = dice.choices(WORDS, k=dice.randrange(2, 14))
    text = " ".join(words)
    shown = told(read_answers(text, dice.choice([PIER, BALL]), today=TODAY))
    assert [key for key in KEYS if any(key in word for word in words) and key not in shown] == [], (text, shown)
    said = [one for word in words for one in word.split() if one in SHOWN]
    assert [one for one in said if not any(there in shown for there in SHOWN[one])] == [], (text, shown)
