"""Songs that end with a vamp: in a list of endings, with a verb, and in other languages."""

import pytest
from leader.reply_shape import PIER, TODAY
from leader.scoring import said

from companion.leader.answers import read_answers


@pytest.mark.parametrize(
    ("text", "endings"),
    [
        ("1 cold 2 vamp 4 fade", ["1 cold", "2 vamp-out", "4 fade"]),
        ("endings: 1 cold, 2: vamp, 5 rit", ["1 cold", "2 vamp-out", "5 ritard"]),
        ("4 G, ends on a long vamp", ["4 vamp-out"]),
        ("4 in G and we loop the end until the bar shuts", ["4 vamp-out"]),
        ("4 D, on boucle la fin", ["4 vamp-out"]),
        ("4 in D, als Endlosschleife", ["4 vamp-out"]),
    ],
)
def test_a_vamp_is_an_ending(text: str, endings: list[str]) -> None:
    found = read_answers(text, PIER, today=TODAY).found
    ends = [said(PIER, one) for one in found if one.field == "ending"]
    assert sorted(ends) == [one.replace(" ", " ending ") for one in endings]


@pytest.mark.parametrize("text", ["4 vamp over G7 for the solo", "4 = G, vamp section after solo"])
def test_a_vamp_within_a_song_is_none(text: str) -> None:
    assert not [one for one in read_answers(text, PIER, today=TODAY).found if one.field == "ending"]
