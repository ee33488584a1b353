"""Sets that a line of talk parts a list into, and the question where it only speaks of a break."""

import pytest
from setlist.reading_texts import read, said

LIST = "1. Moth Parade - C\n2. Weeds Again - G\n3. Owl Walk - A\n4. Late Tram - D\n5. Fog Bell - E\n6. Tin Roof - F\n"


@pytest.mark.parametrize(
    "line",
    [
        "First 4, then break 20 min, then the rest. See you there",
        "we do the first four, then a short break, then the rest",
        "die ersten 4, dann Pause, dann der Rest",
        "les quatre premiers, pause, puis le reste",
        "break after Late Tram",
        "the break is after number 4",
        "Pause nach 4",
        "after 4 we have a break",
    ],
)
def test_a_line_says_where_the_second_set_begins(line: str) -> None:
    found = read(f"{LIST}\n{line}\n")
    assert said(found) == (
        "First: Moth Parade=C; Weeds Again=G; Owl Walk=A; Late Tram=D | Second: Fog Bell=E; Tin Roof=F"
    )
    assert any("as a line says" in doubt.says for doubt in found.doubts)


def test_sets_of_so_many_songs_each() -> None:
    assert len(read(f"Hi! 3 sets of 2 on Friday\n\n{LIST}").show.sets) == 3


@pytest.mark.parametrize("line", ["we'll have a break somewhere in the middle", "two sets as usual, 45 mins each"])
def test_a_line_that_only_speaks_of_a_break_leaves_a_question(line: str) -> None:
    found = read(f"{LIST}\n{line}\n")
    assert len(found.show.sets) == 1
    assert any("speaks of a break or of sets" in doubt.says for doubt in found.doubts)


@pytest.mark.parametrize(
    "line", ["no break, we play straight through", "setlist for Friday, one set", "see you after 9 for a drink"]
)
def test_other_talk_leaves_no_question(line: str) -> None:
    found = read(f"{LIST}\n{line}\n")
    assert len(found.show.sets) == 1
    assert not found.doubts
