"""Keys as a telephone spells their letters."""

import pytest
from leader.reply_shape import PIER, TODAY
from leader.scoring import said

from companion.leader.answers import read_answers


@pytest.mark.parametrize(
    ("text", "keys"),
    [
        ("number one is in gee number two is in bee flat minor number four ef sharp", ["1 G", "2 Bbm", "4 F#"]),
        ("one is see minor two is in ay and four is bee flat", ["1 Cm", "2 A", "4 Bb"]),
        ("moth is be flat", ["4 Bb"]),
        ("New voice message from Aunt Petra: one is in dee and two is in eff", ["1 D", "2 F"]),
        ("4 sea sharp minor, 5 aye flat", ["4 C#m", "5 Ab"]),
    ],
)
def test_spelled_letters_are_keys(text: str, keys: list[str]) -> None:
    found = read_answers(text, PIER, today=TODAY).found
    assert [said(PIER, one) for one in found if not one.doubt] == [one.replace(" ", " key ") for one in keys]


@pytest.mark.parametrize(
    "text", ["you will see major changes in 4", "ask dee about 4", "the singer on 4 is Dee, I hope"]
)
def test_other_words_are_no_keys(text: str) -> None:
    assert not [one for one in read_answers(text, PIER, today=TODAY).found if one.field == "key" and not one.doubt]
