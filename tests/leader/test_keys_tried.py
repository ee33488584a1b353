"""Keys that were tried or did not suit, before the one that is right; and "ab" before a time."""

import pytest
from leader.reply_shape import PIER, TODAY
from leader.scoring import said

from companion.leader.answers import read_answers


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("4: we tried Bb, but went with Ab", "Ab"),
        ("4: we tried Bb, we tried A, we ended up on Ab", "Ab"),
        ("Moth - tried it in G, settled on E", "E"),
        ("4: Bb was too high, so Ab", "Ab"),
        ("4 E is too low so we do it in F", "F"),
        ("4: B-Dur war zu hoch, also As-Dur", "Ab"),
        ("4 = Am tonight", "Am"),
        ("4 is in f sharp minor no what am i saying f sharp major", "F#"),
        ("4 G no i mean A", "A"),
        ("Moth Ab? no its A", "A"),
        ("4 G, no wait, E", "E"),
        ("4 G - quatsch, A", "A"),
        ("4: A heute", "A"),
    ],
)
def test_the_last_key_is_the_right_one(text: str, key: str) -> None:
    found = read_answers(text, PIER, today=TODAY).found
    assert [(said(PIER, one), bool(one.doubt)) for one in found] == [(f"4 key {key}", False)]


@pytest.mark.parametrize(
    "text", ["4: we tried it in Bb", "4: tried G and A, dunno", "4: we tried Bb, A", "4 G? no idea", "4 G no wait"]
)
def test_a_key_that_was_only_tried_is_asked(text: str) -> None:
    assert not [one for one in read_answers(text, PIER, today=TODAY).found if one.field == "key" and not one.doubt]


def test_ab_before_a_time_is_no_key() -> None:
    found = read_answers("Der Auftritt ist am 12. Dezember, erster Teil ab 19 Uhr", PIER, today=TODAY).found
    assert not [one for one in found if one.field == "key"]
