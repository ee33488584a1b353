"""Songs that the leader names in words of their own, told by the songs beside them; rows of keys, one for each set."""

import pytest
from planning.shows import song

from companion.leader.answers import read_answers
from companion.show import Set, Show

SHOW = Show("Quay", sets=(
    Set("First", songs=(song("Regen am Hafen"), song("Nasse Socken"), song("Drei Onkel"), song("Lotte tanzt"))),
    Set("Second", songs=(song("Kupferkessel"), song("Letzte Fähre"), song("Das Dach"))),
))  # fmt: skip
KEYS = ("G", "Am", "A", "E", "F", "C", "D")


def _keys(reply: str) -> list[tuple[str, bool]]:
    found = {
        one.title: (str(one.value), bool(one.doubt)) for one in read_answers(reply, SHOW).found if one.field == "key"
    }
    return [found.get(one.title, ("", False)) for of in SHOW.sets for one in of.songs]


@pytest.mark.parametrize(
    ("reply", "doubted"),
    [
        ("Regen G, wet socks Am, Onkel A, Lotte E", {1}),
        ("Regen G, the wet one is in Am, uncles A, Lotte E", {1, 2}),
        ("Regen G\nthe wet one: Am\nOnkel A\nLotte E", {1}),
        ("Regen = G\nwet socks = Am\nOnkel - A\nLotte - E", {1}),
        ("Regen - G\nwet socks - Am\nOnkel - A\nLotte - E", {1}),
    ],
)
def test_a_name_between_two_songs_is_the_one_between_them(reply: str, doubted: set[int]) -> None:
    assert _keys(reply)[:4] == [(key, at in doubted) for at, key in enumerate(KEYS[:4])]


def test_as_many_names_as_songs_are_in_their_order() -> None:
    assert [key for key, _ in _keys("the rain G, wet socks Am, uncles A, Lotte E, kettle F, ferry C, roof D")] == [
        *KEYS
    ]


@pytest.mark.parametrize(
    "reply",
    ["Regen G, wet socks Am, Lotte E, ferry C", "Lotte E, wet socks Am, Onkel A, Regen G", "the rain G, wet socks Am"],
)
def test_no_song_is_told_by_an_order_that_does_not_fit(reply: str) -> None:
    assert _keys(reply)[1] == ("", False)


@pytest.mark.parametrize(
    ("reply", "is_sure"),
    [
        ("G Am A E\nand\nF C D", False),
        ("G, Am, A, E\n\nSecond set:\nF, C, D", False),
        ("First set:\nG Am A E\nSecond set:\nF C D", False),
        ("Set 2\n\nF, C, D in that order\nSet 1\nG, Am, A, E in that order", True),
    ],
)
def test_rows_of_keys_are_those_of_the_sets(reply: str, *, is_sure: bool) -> None:
    assert _keys(reply) == [(key, not is_sure) for key in KEYS]


@pytest.mark.parametrize(
    ("reply", "keys"),
    [
        ("Regen in G, Socken auch, Onkel Em", ["G", "G", "Em"]),
        ("Regen in G, Socken ook, Onkel anche", ["G", "G", "G"]),
        ("Dach Em", ["", "", ""]),
    ],
)
def test_too_says_the_key_again(reply: str, keys: list[str]) -> None:
    assert [key for key, _ in _keys(reply)[:3]] == keys
