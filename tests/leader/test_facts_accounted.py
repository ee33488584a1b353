"""Each fact that stands in a reply is in what lands, in why it is in doubt, or in the words that are kept."""

import random
import re

import pytest
from examples import seldom
from leader.reply_shape import BALL, PIER, TODAY, in_sets

from companion.leader.answers import LeaderAnswers, read_answers
from companion.show import Show

ACTS = in_sets(
    "Two Acts", **{"Act 1": ("Moth", "Kettle", "Lantern"), "Act 2": ("Owl Hour", "Nettle", "Gatepost", "Haywain")}
)
KEYS = ("Bb", "F#m", "Eb", "Ab", "C#m", "Gm", "Cm", "D", "F", "Em")
NAMES = (
    "1",
    "2",
    "3",
    "5",
    "6",
    "7",
    "Moth",
    "Owl Hour",
    "Nettle",
    "Kettle",
    "all",
    "the rest",
    "Act 2",
    "set 2",
    "2-3",
)
NOISE = (
    "zorp",
    "and",
    "then",
    "is",
    "in",
    "not",
    "so",
    "hola!",
    "hi Sam,",
    "set/show/block",
    "two times",
    "maybe",
)
SIGNS = (",", ".", ":", ";", " - ", "/", "(", ")", "\n", "?", " = ")


def shown(answers: LeaderAnswers) -> str:
    """Return all that the player sees of a reply; an answer that replaces others has these in its doubt."""
    found = [f"{one.value} | {one.doubt}" for one in (*answers.found, *answers.contradicts)]
    return "\n".join([*found, *(one.words for one in (*answers.left, *answers.passed, *answers.confirms))])


def in_text(key: str, text: str) -> bool:
    return re.search(rf"(?<![\w#]){re.escape(key)}(?![\w#])", text) is not None


@pytest.mark.parametrize("tens", [*range(6), *map(seldom, range(6, 20))])
def test_each_key_of_a_reply_lands_or_is_shown(tens: int) -> None:
    for seed in range(10 * tens, 10 * tens + 10):
        dice = random.Random(seed)  # noqa: S311  no secret
        keys = dice.sample(KEYS, k=dice.randrange(2, 7))
        text = " ".join(word for key in keys for word in _words(dice, key))
        seen = shown(read_answers(text, dice.choice([PIER, BALL, ACTS]), today=TODAY))
        assert [key for key in keys if not in_text(key, seen)] == [], (text, seen)


WORDS = ("zorp", "qvist", "Morgenprobe", "schnarrig", "brusco", "pomalu", "tunkkainen", "lassan", "dépêche", "sakta")
CLAUSES = (
    *("1 G", "2 Bb, drums start", "3 in Eb ends cold", "Moth: F#m", "you start 5", "Nettle in D then E", "4 chart"),
    *(
        "drop 2",
        "all in G",
        "the rest as the record",
        "5 same as 4",
        "set 2 at 21:15 for 40 min",
        "6 ask Pat",
        "7 112 bpm",
    ),
)


@pytest.mark.parametrize("tens", range(10))
def test_a_word_of_any_language_in_any_clause_stays_when_every_doubt_is_settled(tens: int) -> None:
    for seed in range(10 * tens, 10 * tens + 10):
        dice = random.Random(seed)  # noqa: S311  no secret
        word, words = dice.choice(WORDS), dice.choice(CLAUSES).split()
        words.insert(dice.randrange(len(words) + 1), word)
        others = dice.sample(CLAUSES, k=dice.randrange(3))
        text = dice.choice((", ", ". ", "\n", "; ")).join([*others, " ".join(words)])
        answers = read_answers(text, dice.choice([PIER, BALL, ACTS]), today=TODAY)
        values = [str(one.value) for one in (*answers.found, *answers.contradicts)]
        stays = " ".join([*values, *(one.words for one in (*answers.left, *answers.passed, *answers.confirms))])
        assert word in stays, (text, answers)


def _words(dice: random.Random, key: str) -> list[str]:
    """Return a song or a set and a key, with noise and signs between."""
    parts = [dice.choice(NAMES), key, dice.choice(SIGNS)]
    for _ in range(dice.randrange(3)):
        parts.insert(dice.randrange(4), dice.choice(NOISE + SIGNS))
    return parts


@pytest.mark.parametrize(
    ("show", "text", "song", "key"),
    [
        (ACTS, "hola! 1 D 2 F, act 2: 4 C, 5 G, 6 Em, 7 Bb", "Owl Hour", "C"),  # numbers of the message
        (ACTS, "Act 2\n4 C\n7 Bb", "Owl Hour", "C"),
        (ACTS, "Act 2: 1 C, 2 G", "Owl Hour", "C"),  # numbers of the set
    ],
)
def test_the_numbers_below_a_set_count_as_the_others_below_it_do(show: Show, text: str, song: str, key: str) -> None:
    found = read_answers(text, show, today=TODAY).found
    assert [(one.value, one.doubt) for one in found if one.title == song] == [(key, "")]


def test_a_value_that_another_replaces_stays_with_its_words() -> None:
    found = read_answers("Act 2: 3 C. Gatepost is D", ACTS, today=TODAY)
    assert [(one.title, one.value) for one in found.found] == [("Gatepost", "D")]
    assert [str(one) for one in found.left] == ["Gatepost: Act 2: 3 C"]


@pytest.mark.parametrize("text", ["Moth is two times through in G then two in A", "1 is G and two in A"])
def test_a_count_in_words_beside_figures_is_no_sure_number(text: str) -> None:
    text = text.replace("Moth", "1")
    found = read_answers(text, ACTS, today=TODAY)
    assert [one for one in found.found if one.title == "Kettle" and not one.doubt] == []


def test_a_letter_behind_words_that_are_not_understood_is_no_sure_key() -> None:
    found = read_answers(
        "No signal here, will send everything from the Moth hotel tonight. Safe travels, D.", ACTS, today=TODAY
    )
    assert [one for one in found.found if not one.doubt] == []


@pytest.mark.parametrize(
    ("text", "kept"),
    [
        ("Act 2: 4 C, 5 F, 6 boh, ask Pat", "6 boh, ask Pat"),
        ("Moth in D and quibbles with snarf, 2 F", "quibbles with snarf"),
        ("Lantern, to be checked with Odile herself!", "to be checked with Odile herself"),
        ("> Where is it?\n> THE PARISH HALL\n\ncheers", "THE PARISH HALL"),
        ("> Moth: who starts?\n> ZORP AND QUIBBLE\n\ncheers", "ZORP AND QUIBBLE"),
    ],
)
def test_what_is_not_understood_stays_whole(text: str, kept: str) -> None:
    answers = read_answers(text, ACTS, today=TODAY)
    told = [one.words for one in (*answers.left, *answers.passed)] + [str(one.value) for one in answers.found]
    assert any(kept in one for one in told), answers


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("1 (the Bb one) is in A believe it or not", ["Moth key A"]),  # a title with a key's name
        ("5 = A, 7 = D, both end cold", ["Nettle key A", "Nettle ending cold", "Haywain key D", "Haywain ending cold"]),
        ("6 Eb, horns on their own first 4", ["Gatepost key Eb", "Gatepost starts_with horns"]),  # bars
        ("28-11-2026 20:15 - Bas: Lantern C", ["Lantern key C"]),  # who writes is no player
        ("2 D ✘ C ✔", []),  # which of the two is crossed out?
        ("[27. 11. 2026 18:30] Drum Dave: Lantern C", ["Lantern key C"]),
    ],
)
def test_a_fact_is_about_the_song_that_it_names(text: str, found: list[str]) -> None:
    answers = read_answers(text, ACTS, today=TODAY).found
    said = [f"{one.title} {one.field} {one.value}" for one in answers if not one.doubt or one.field == "key"]
    assert sorted(said) == sorted(found)


def test_of_a_long_line_only_the_sentences_with_what_is_lost_are_kept() -> None:
    talk = "We had the best night ever last weekend and the crowd would not go home at all, honestly."
    found = read_answers(f"{talk} Number 2 we changed that it's in F now. 3 in A. {talk}", ACTS, today=TODAY)
    assert "Number 2 we changed that it's in F now" in [one.words for one in found.left]
    assert not any("3 in A" in one.words for one in found.left)


def test_a_capital_within_a_sentence_may_be_a_key_and_is_shown() -> None:
    found = read_answers("Haywain A stops dead", ACTS, today=TODAY)
    told = [one.words for one in found.left] + [str(one) for one in found.found if one.field == "key"]
    assert any("Haywain" in one and "A" in one for one in told), found


def test_a_crossed_and_a_ticked_value_leave_a_doubt() -> None:
    answers = read_answers("2 D ✘ C ✔", ACTS, today=TODAY)
    assert [one for one in answers.found if not one.doubt] == []
    assert any("crossed" in one.words for one in answers.left)


def test_a_correction_in_doubt_tells_what_it_replaces() -> None:
    found = read_answers("7 F\nsorry 7 is A i think", ACTS, today=TODAY).found
    assert [(one.value, "the reply also says F" in one.doubt) for one in found] == [("A", True)]


def test_a_word_beside_the_second_of_two_times_stays() -> None:
    answers = read_answers(
        "5 same as 4; set 2 at 21:15 for 40 min; set 2 at 21:15 for pomalu 40 min", ACTS, today=TODAY
    )
    assert any("pomalu" in one.words for one in answers.left)
