"""What a list hardly supports is asked: titles with signs, lines without a shape, numbers that begin again."""

import pytest

from companion.setlist import SetList
from companion.setlist.list_questions import questions_of
from companion.setlist.list_reading import list_in


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
    assert questions(text) == ["Read as 6 songs in 2 sets: is that right?"]


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


def test_the_same_question_about_each_tempo_is_asked_once() -> None:
    text = "Moth Parade / 152 / C\nWeeds / 131 / C\nTidal Clock / 120 / Am\nFog Bell / 96 / G\nJam Jar / 104 / D"
    assert questions(text) == ["Read as 5 songs in 1 set: is that right?"]
    assert [song.tempo_bpm for song in read(text).show.sets[0].songs] == [152, 131, 120, 96, 104]


def test_dots_before_a_length_leave_nothing_to_ask() -> None:
    lines = ("01 Moth Parade ........... 4:17  139  D", "02 Weeds ................. 3:05   76  D")
    text = "\n".join((*lines, "03 Tidal Clock ........... 3:34  154  Am", "04 Fog Bell .............. 2:58  120  G"))
    assert questions(text) == []
