"""What a list hardly supports is asked: titles with signs, lines without a shape, numbers that begin again."""

import pytest

from companion.setlist import SetList
from companion.setlist.list_reading import list_in
from companion.setlist.settling import questions_of


def read(text: str) -> SetList:
    return list_in(text.encode(), "list.txt")


def questions(text: str) -> list[str]:
    return [one.doubt.question for one in questions_of(read(text))]


@pytest.mark.parametrize(
    "line",
    [
        "Moth Parade -> Weeds",
        "Moth Parade [slow",
        "Moth Parade =",
        "Moth Parade (slow",
    ],
)
def test_a_title_that_holds_signs_is_asked(line: str) -> None:
    found = read(f"Fog Bell\nJam Jar\n{line}\nSlow Ferry\nHarbour Lamps\nTidal Clock")
    assert [one.text for one in found.in_doubt] == [line]


def test_many_titles_with_signs_are_one_question() -> None:
    found = questions("Moth Parade [slow\nWeeds [fast\nTidal Clock [slow\nFog Bell [fast\nJam Jar [slow")
    assert found == ["Read as 5 songs in 1 set: is that right?"]


def test_a_list_whose_lines_have_no_shape_in_common_is_asked_as_a_whole() -> None:
    text = "1. Moth Parade\nWeeds in the car park behind it all\nTidal Clock (G)\n2. Fog Bell\nJam Jar\nTram (A)"
    assert any(question.startswith("Read as ") for question in questions(text))


def test_numbers_that_begin_again_within_a_set_are_asked() -> None:
    text = "1. Moth Parade - C\n2. Weeds - D\n3. Tidal Clock - G\n1. Fog Bell - A\n2. Jam Jar - E\n3. Slow Ferry - F"
    assert questions(text) == ["Read as 6 songs in 1 set: is that right?"]


def test_a_line_like_a_title_that_was_passed_over_is_asked() -> None:
    text = "1. Moth Parade\n2. Weeds\n\nTidal Clock Tower\nSunday Bells\n\n3. Fog Bell\n4. Jam Jar\n5. Slow Ferry"
    assert "Is 'Tidal Clock Tower' a song?" in questions(text)


@pytest.mark.parametrize(
    "text",
    [
        "Moth Parade\nWeeds\nTidal Clock\nFog Bell\nJam Jar",
        "Set 1\n1. Moth Parade - C\n2. Weeds - D\n3. Tidal Clock - G\nSet 2\n1. Fog Bell - A\n2. Jam Jar - E",
        "Moth Parade (C)\nWeeds (D)\nTidal Clock\nFog Bell (A)\nJam Jar (E)\nSlow Ferry (F)",
    ],
)
def test_a_clean_list_is_not_asked_as_a_whole(text: str) -> None:
    assert not any(question.startswith("Read as ") for question in questions(text))
