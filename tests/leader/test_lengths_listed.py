"""Lists of song lengths: on one line, below a heading, with or without the word for them."""

import pytest
from leader.reply_shape import PIER, TODAY
from leader.scoring import said

from companion.leader.answers import read_answers

SURE = [
    ("lengths: 1 is 3 min, 4 is four and a half min, 6 is 5:20", ["1 3:00", "4 4:30", "6 5:20"]),
    ("Lengths for the radio: 1 3:20, 2 4:05, Moth 2:45", ["1 3:20", "2 4:05", "4 2:45"]),
    ("length - 2: 3:10 / 5: 4:00", ["2 3:10", "5 4:00"]),
    ("Lengths\n2 3:10\nMoth 4:00", ["2 3:10", "4 4:00"]),
    ("durations: 3 (4:10), 5 (2:20)", ["3 4:10", "5 2:20"]),
    ("Längen: 1 3:00, 4 4:30", ["1 3:00", "4 4:30"]),
    ("Durées : 1 3:00, 4 : 5 minutes", ["1 3:00", "4 5:00"]),
    ("Durata: 1 3:20, 4 circa 5 minuti", ["1 3:20", "4 5:00"]),
    ("length of 4: 3:45", ["4 3:45"]),
    ("durée de la 7 : 3 min 30", ["7 3:30"]),
    ("1 lasts 3:15", ["1 3:15"]),
    ("1 is 3 min, 4 is 3:40", ["1 3:00", "4 3:40"]),
]


@pytest.mark.parametrize(("text", "lengths"), SURE)
def test_lengths_land_for_their_songs(text: str, lengths: list[str]) -> None:
    read = read_answers(text, PIER, today=TODAY)
    assert [said(PIER, one) for one in read.found] == [one.replace(" ", " length ") for one in lengths]
    assert not any(one.doubt for one in read.found)
    assert not read.left


def test_bare_pairs_that_look_like_lengths_are_asked() -> None:
    found = read_answers("1 3:00, 2 4:10, 4 2:50", PIER, today=TODAY).found
    assert [(said(PIER, one), bool(one.doubt)) for one in found] == [
        ("1 length 3:00", True),
        ("2 length 4:10", True),
        ("4 length 2:50", True),
    ]


@pytest.mark.parametrize("text", ["set lengths: 45 min each", "lengths 45 and 60 min", "First 8:00, Second 9:30"])
def test_lengths_of_sets_and_times_are_no_songs(text: str) -> None:
    assert not [one for one in read_answers(text, PIER, today=TODAY).found if one.field == "length"]
