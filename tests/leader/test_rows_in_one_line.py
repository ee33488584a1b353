"""Rows of a list that stand in one line without signs between them land as if each stood in a line of its own."""

import pytest
from leader.reply_shape import TODAY, in_sets
from leader.scoring import said

from companion.leader.answers import read_answers
from companion.music import read_key
from companion.show import Song

QUAY = in_sets(
    "Quay Night",
    First=(
        "Copper Gull",
        "Salt Parade",
        Song("Minor Weather", record_key=read_key("Bb")),
        "Harbour Tailor",
        "Eight Ropes",
    ),
    Second=("Ferry to Norwold", "Lamplit Mile", "Oyster Clock", "The Drowned Bell", "Last Tide"),
)
IN_ONE_LINE = [
    (
        "Hi answers in your order 1 - A 2 - F 3 - E 4 - Dm ends cold 5 - G drums start 6 - C 96 bpm See you there Ines",
        "1 key A;2 key F;3 key E;4 ending cold;4 key Dm;5 key G;5 starts_with drums;6 key C;6 tempo_bpm 96",
    ),
    (
        "Hi thanks for stepping in 1 Key of A drums start it 2 D ends cold 3 same key as the record 4 C 118 bpm 5 Em",
        "1 key A;1 starts_with drums;2 ending cold;2 key D;3 key Bb;4 key C;4 tempo_bpm 118;5 key Em",
    ),
    (
        "first set 1) A 2) C 3) G 4) D 5) Ab second set 1) Am 2) E 3) Bm 4) G ends cold",
        "1 key A;2 key C;3 key G;4 key D;5 key Ab;6 key Am;7 key E;8 key Bm;9 ending cold;9 key G",
    ),
    (
        "Set 1 all in G easy Set 2: 1 is now D 2 Eb 3 Cm 4 C",
        "1 key G;2 key G;3 key G;4 key G;5 key G;6 key D;7 key Eb;8 key Cm;9 key C",
    ),
    (
        "Gull - Em Parade - G guitar starts Tailor - Am 100 bpm Ropes - D cold Second set: Ferry - E Lamplit Mile - Cm",
        "1 key Em;2 key G;2 starts_with guitar;4 key Am;4 tempo_bpm 100;5 ending cold;5 key D;6 key E;7 key Cm",
    ),
    (
        "ok second set 1 is Em 2 is A 3 is F#m & you have the intro 4 c 5 d",
        "6 key Em;7 key A;8 key F#m;8 starts_with keys;9 key C;10 key D",
    ),
    ("nr 1 is in C nr 2 in F nr 3 in Em and nr 4 in Am", "1 key C;2 key F;3 key Em;4 key Am"),
    (
        "1 C / 2 G / 4 F#m / 5 Bb / 6 Em 7 out 8 in D guitar starts",
        "1 key C;2 key G;4 key F#m;5 key Bb;6 key Em;7 dropped yes;8 key D;8 starts_with guitar",
    ),
    (
        "1 C 2 G 4 A 5 F sorry 4 in D not A 6 Em",
        "1 key C;2 key G;4 key D;5 key F;6 key Em",
    ),
    (
        "04 Harbour Tailor - Gm fades 05 Eight Ropes - Bb 06 Ferry to Norwold - Am 07 Lamplit Mile - E",
        "4 ending fade;4 key Gm;5 key Bb;6 key Am;7 key E",
    ),
]


def _sure(text: str) -> set[str]:
    found = read_answers(text, QUAY, today=TODAY).found
    return {said(QUAY, one).replace(" tempo ", " tempo_bpm ") for one in found if not one.doubt}


@pytest.mark.parametrize(("text", "facts"), IN_ONE_LINE)
def test_rows_of_a_list_in_one_line_are_read_as_rows(text: str, facts: str) -> None:
    assert (text, _sure(text)) == (text, {*facts.split(";")})


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("Hi Copper Gull is in E minor and the fiddle starts it Salt Parade we take at 132", "2 starts_with fiddle"),
        ("Copper Gull : the key is A and ends with a rit Lamplit Mile 2:45 long", "7 ending ritard"),
        ("Tailor 2 semitones up so E Parade 3/4 feel accordion starts : ok", "2 key E"),
        (
            "Tailor 2 semitones up so E Parade 3/4 feel accordion starts Ropes and Oyster Clock : gone",
            "5 starts_with accordion",
        ),
        ("number nine depends on her voice she'll tell you on the night Greg (guitar)", "9 starts_with guitar"),
        ("Lamplit Mile lasts 3 min 15 the next two are in E", "7 length 3:00"),
        ("1 C 2 G 3 D 4 G The last of each set ends cold", "1 ending cold"),
    ],
)
def test_words_that_may_belong_to_the_song_before_are_not_sure_of_the_next(text: str, wrong: str) -> None:
    assert (text, wrong in _sure(text)) == (text, False)


@pytest.mark.parametrize(
    ("text", "wrong"),
    [
        ("drums (4) cold (5) Em (6)", {"4 ending cold", "5 key Em"}),
        ("G/4 D/5 A/6", {"4 key D", "5 key A"}),
        ("drums: 4 - cold: 5 - Em: 6", {"4 ending cold", "5 key Em"}),
        ("G 4 D 5 A 6 Em 7", {"4 key D", "5 key A", "6 key Em"}),
    ],
)
def test_facts_before_their_numbers_are_no_rows(text: str, wrong: set[str]) -> None:
    assert (text, wrong & _sure(text)) == (text, set())


def test_a_number_is_spoken_of_behind_a_capital_key() -> None:
    text = "number one is in g number three has moved to E number five accordion starts and that is all from me for now"
    assert _sure(text) == {"1 key G", "3 key E", "5 starts_with accordion"}
