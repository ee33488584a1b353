"""Lines in a chat with songs below them may be headings: asked, and the times said for so many sets are given then."""

import pytest
from setlist.reading_texts import read

from companion.setlist.correcting import corrected
from companion.setlist.doubt_answers import answer_to

HEAD = "[3/11/2026, 20:4{minute}:10] Ada Quill: "
FIRST = "1. Salt Parade - G\n2. Weeds - C\n3. Fog Bell - Em\n"
SECOND = "4. Tidal Clock - Bb\n5. Owl Walk - A\n6. Quiet Street - D\n"


def chat(heading: str, said: str = "see you there") -> str:
    return (
        f"{HEAD.format(minute=0)}hi, {said}\n{HEAD.format(minute=1)}ok here goes\n{FIRST}"
        f"{HEAD.format(minute=4)}{heading}\n{SECOND}"
    )


@pytest.mark.parametrize(
    "heading",
    [
        "Once the chairs are cleared",
        "Floor packers",
        "Chairs away",
        "now they can dance",
        "when the cake is gone",
        "wenn die Torte weg ist",
    ],
)
def test_a_message_that_begins_with_words_and_goes_on_with_songs_may_name_a_set(heading: str) -> None:
    found = read(chat(heading))
    line = next(one for one in found.lines if heading in one.text)
    (doubt,) = line.doubts
    answer = next(filter(None, (answer_to(doubt, word) for word in ("heading", "yes"))))
    sets = corrected(found, [(doubt, answer)]).show.sets
    assert [(one.name.lower(), len(one.songs)) for one in sets] == [("first", 3), (heading.lower(), 3)]
    assert not any(song.notes for one in sets for song in one.songs)


@pytest.mark.parametrize(
    ("said", "times"),
    [
        ("we start at 8.30, two sets of 45 minutes, 20 min break in between", [(1230, 45), (1295, 45)]),
        ("on at 9pm, two 40s, 15 min break", [(1260, 40), (1315, 40)]),
        ("two sets of 45", [(None, 45), (None, 45)]),
        ("three sets of 45", [(None, None), (None, None)]),
        ("zwei Sets von 50 Minuten", [(None, 50), (None, 50)]),
    ],
)
def test_times_said_for_two_sets_are_given_when_an_answer_parts_the_list(
    said: str, times: list[tuple[int | None, int | None]]
) -> None:
    found = read(chat("Floor packers", said))
    assert any("in 1 set" in doubt.question for doubt in found.doubts)
    doubt = next(doubt for one in found.lines if "Floor packers" in one.text for doubt in one.doubts)
    answer = next(
        one for one in doubt.answers if one.word in ("heading", "yes") and "heading" in f"{one.word} {doubt.question}"
    )
    sets = corrected(found, [(doubt, answer)]).show.sets
    assert [(one.starts_min, one.minutes) for one in sets] == times
