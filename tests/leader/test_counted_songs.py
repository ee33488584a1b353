"""Songs that a reply counts one after the other, by ordinals, in running speech or with signs."""

import pytest
from leader.reply_shape import PIER, TODAY, in_sets
from leader.scoring import said

from companion.leader.answers import read_answers
from companion.show import Show

FOUR = in_sets("Quay", Main=("Salt Lane", "Heron Blues", "The Tin Kite", "Owl and Otter", "Slow Barge"))
# Source: common practice, no source; the words are invented.
COUNTED = [
    (
        (
            "ciao allora la prima è in sol la seconda in la minore la terza in do minore e non più in re minore "
            "e la quarta in fa parte la chitarra l'ultima in re"
        ),
        "1 key G;2 key Am;3 key Cm;4 key F;4 starts_with guitar;5 key D",
    ),
    ("La primera en sol, la segunda en la menor, la tercera en fa y la última en re", "1 key G;2 key Am;3 key F"),
    (
        "also das erste in G das zweite in a-Moll beim dritten fängt die Gitarre an das vierte in F",
        "1 key G;2 key Am;4 key F",
    ),
    ("The first one's in G, the second's A minor, third F, fourth D", "1 key G;2 key Am;3 key F;4 key D"),
    (
        "the first is in G the second in A minor the third in F. The third fades out and the last one ends cold",
        "1 key G;2 key Am;3 key F;3 ending fade;5 ending cold",
    ),
    ("Den första går i G, den andra i Am, den tredje i F", "1 key G;2 key Am;3 key F"),
    ("salut la première en sol la deuxième en la mineur la troisième on la fait en fa", "1 key G;2 key Am;3 key F"),
]


@pytest.mark.parametrize(("text", "facts"), COUNTED)
def test_songs_that_are_counted_in_turn_have_the_facts_behind_them(text: str, facts: str) -> None:
    found = {said(FOUR, one) for one in read_answers(text, FOUR, today=TODAY).found if not one.doubt}
    assert found >= set(facts.split(";"))


@pytest.mark.parametrize(
    ("show", "text"),
    [
        (PIER, "First set at 8, second at 9.30, third at 11"),
        (FOUR, "4 goes first in G, then second verse in A, third verse in B, third chorus in C"),
    ],
)
def test_ordinals_of_sets_and_verses_count_no_songs(show: Show, text: str) -> None:
    keys = {one.song_at for one in read_answers(text, show, today=TODAY).found if one.field == "key" and not one.doubt}
    assert not keys & {1, 2}
