"""Messages with talk about an old list, sets without numbers among numbered ones, and keys before other words."""

import pytest
from setlist.test_messages import read, titles

QUOTED_BELOW = """{talk}

1. Gasworks Corner - Bb
2. Harbour Lamps - Em
3. Moth
4. Weeds - D

Cheers, Sam

On 2 Nov 2026, at 18:03, Sam wrote:
> The old list for reference:
> 1. Gasworks Corner - C
> 2. Weeds - E
> 3. Fog Signal - D
"""


@pytest.mark.parametrize(
    "talk",
    [
        "Here is the running order. Jo sings a few of them lower than before so do not trust the old list, and shout",
        "Here is the list for Saturday 28th, doors at seven. We changed a lot of keys, ignore what is on the old list.",
        "Hi Jo, here's the list:",
    ],
)
def test_a_list_above_a_quoted_one_is_the_newer(talk: str) -> None:
    assert titles(read(QUOTED_BELOW.format(talk=talk))) == [["Gasworks Corner", "Harbour Lamps", "Moth", "Weeds"]]


def test_the_answer_no_chooses_the_other_of_two_lists() -> None:
    (doubt,) = (one for one in read(QUOTED_BELOW.format(talk="Hi Jo,")).doubts if "to play" in one.question)
    yes, no, by_name = doubt.answers
    assert (yes.word, no.word, no.corrections) == ("yes", "no", by_name.corrections)


@pytest.mark.parametrize(
    ("line", "title", "key", "notes"),
    [
        ("Copper Kettle (G) bit faster than the record", "Copper Kettle", "G", "bit faster than the record"),
        ("Half Full - G / straight into", "Half Full", "G", "straight into"),
        ("Cold Tea Blues - C 12 bar, solos all round", "Cold Tea Blues", "C", "12 bar, solos all round"),
        ("Owl - A 4 bar intro", "Owl", "None", "A 4 bar intro"),
        ("Kettle (Part Two) reprise", "Kettle (Part Two) reprise", "None", None),
    ],
)
def test_a_key_before_other_words_is_read(line: str, title: str, key: str, notes: str | None) -> None:
    found = read(f"1. Harbour Lamps - G\n2. {line}\n3. Moth\n4. Pier Seven - Dm\n").show.sets[0].songs[1]
    assert (found.title, str(found.key), found.notes) == (title, key, notes)


PLAIN_SET = """Set 1
1. Gasworks Corner - Bb
2. Harbour Lamps
3. Moth - D
4. Weeds
5. Fog Signal - Em
6. Tin Roof

Set 2 (party set)
Brass Monkey - Bb
Shake the Table
Wrong Platform - E
Don't Tell Doreen
  watch the drummer here
Hot Pavement - Cm
(encore)
Goodnight Harrow - C
Fireworks in the Rain

Cheers
Sam
"""


def test_an_unnumbered_set_in_a_numbered_list_is_read_without_questions() -> None:
    found = read(PLAIN_SET)
    assert titles(found)[1:] == [
        ["Brass Monkey", "Shake the Table", "Wrong Platform", "Don't Tell Doreen", "Hot Pavement"],
        ["Goodnight Harrow", "Fireworks in the Rain"],
    ]
    assert [doubt for line in found.lines for doubt in line.doubts] == []
    assert found.show.sets[1].songs[3].notes == "watch the drummer here"
