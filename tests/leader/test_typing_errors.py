"""Words of an answer with one typing error are read; words that are another word, or a title's, are not changed."""

import pytest
from leader.reply_shape import BALL, TODAY
from leader.scoring import said

from companion.leader.answers import read_answers
from companion.leader.reply_words import words_of
from companion.leader.typing_errors import respelled

NOTHING: frozenset[str] = frozenset()


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        *(
            ("exept", "except"),
            ("gutiar", "guitar"),
            ("orignal", "original"),
            ("recrod", "record"),
            ("drumms", "drums"),
        ),
        *(("everthing", "everything"), ("minro", "minor"), ("fadse", "fades"), ("flta", "flta"), ("worry", "worry")),
        *(("manor", "manor"), ("expect", "expect"), ("sending", "sending"), ("everything's", "everythings")),
        ("drum", "drum"),
    ],
)
def test_a_word_with_one_typing_error_is_compared_as_the_word_that_is_meant(typed: str, meant: str) -> None:
    assert [word.low for word in respelled(words_of(typed), NOTHING, NOTHING)] == [meant]


def test_a_word_of_a_title_stays_as_it_is() -> None:
    assert [word.low for word in respelled(words_of("exept"), {"exept"}, NOTHING)] == ["exept"]


def test_a_typing_error_costs_no_song_its_ending() -> None:
    found = read_answers("all end cold exept lanterns", BALL, today=TODAY)
    assert {said(BALL, one) for one in found.found} == {f"{one} ending cold" for one in range(1, 21) if one != 5}
    assert (found.left, [one for one in found.found if one.doubt]) == ((), [])
