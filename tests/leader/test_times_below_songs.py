"""Times of a set behind its list of songs, and a start that names no set beside another one that does."""

import pytest
from leader.reply_shape import PIER, TODAY
from leader.scoring import said

from companion.leader.answers import read_answers


@pytest.mark.parametrize(
    ("text", "times"),
    [
        ("Set two: 1 Gm, 2 Bbm. Starts at 21:00, 45 min", ["Second starts 21:00", "Second minutes 45"]),
        ("Set two: 1 Gm, 2 Bbm. Starts 9pm.", ["Second starts 21:00"]),
        ("Zweites Set: 1 Gm, 2 Bbm. Beginn 21:00, 45 min", ["Second starts 21:00", "Second minutes 45"]),
        ("Set two: 1 Gm, 2 Bbm. 45 minutes, from 21:00.", ["Second starts 21:00", "Second minutes 45"]),
        ("Set two: 1 Gm, 2 Bbm. The gig starts at 20:00", ["First starts 20:00"]),
        ("Set two: 1 Gm, 2 Bbm. Soundcheck at 17:00", []),
    ],
)
def test_times_behind_the_songs_of_a_set_are_its_own(text: str, times: list[str]) -> None:
    found = read_answers(text, PIER, today=TODAY).found
    assert [said(PIER, one) for one in found if one.song_at is None] == times
    assert not any(one.field == "length" for one in found)


@pytest.mark.parametrize(
    "text",
    [
        "sat 2 january, starts 7.30pm, second half 9pm",
        "sat 2 january starts 7.30pm, second set 9pm",
        "sábado 2 enero, empieza 19:30, segundo pase 21:00",
        "Samedi 2 janvier, commence 19h30, deuxième set 21h",
    ],
)
def test_a_start_without_a_set_is_that_of_the_first(text: str) -> None:
    found = read_answers(text, PIER, today=TODAY).found
    assert {"First starts 19:30", "Second starts 21:00"} <= {said(PIER, one) for one in found if not one.doubt}
