"""Times of sets in a line that speaks of other things too are asked; so is the place that it names."""

import pytest
from leader.reply_shape import PIER, TODAY
from leader.scoring import said

from companion.leader.answers import read_answers


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Set lengths 40, 50", "First minutes 40, Second minutes 50"),
        (
            "Moth in G. Two sets, 50 min and 60 min, start 19:45 and 21:15. Cut 5.",
            "First minutes 50 ?, Second minutes 60 ?",
        ),
        ("Moth in G. Second set 35 minutes. Postbox Tango has a long rallentando.", "Second minutes 35 ?"),
        (
            "so Moth is in G and Postbox Tango is in A we're on at half past eight",
            "First starts 20:30 ?",
        ),
        ("I know one thing: we're on at 20:15 and Moth is in C", "First starts 20:15 ?"),
        ("See you at 7 to set up, we start 9pm", "First starts 21:00 ?"),
        ("8.30, two sets of 40 mins", "First starts 20:30 ?, First minutes 40 ?, Second minutes 40 ?"),
        ("5 Dec, kitchen opens 6, music 7 to 8 and 8:30 to 9:30", "First starts 19:00 ?, Second starts 20:30 ?"),
        ("Vi spelar lördag 5 december kl 18. Soppa finns.", "First starts 18:00 ?, show date 2026-12-05"),
        ("Die Gitarre fängt Moth an und wir fangen um halb neun an bis dann", "First starts 20:30 ?"),
        (
            "Also the venue has changed to Otter Grange, and the date stays Saturday 5 December 2026",
            "show venue Otter Grange",
        ),
        ("Moth in G. Hall is Elder Hall as on the list.", "show venue Elder Hall"),
        ("Date is Saturday the 5th of December, Copper Attic, doors 19:30", "show venue Copper Attic ?"),
    ],
)
def test_a_sentence_about_times_or_the_place_is_asked(text: str, found: str) -> None:
    read = read_answers(text, PIER, today=TODAY)
    assert {f"{said(PIER, one)}{' ?' if one.doubt else ''}" for one in read.found} >= set(found.split(", "))


def test_a_room_that_opens_starts_no_song() -> None:
    read = read_answers("4 G. kitchen opens 5. Hall opens 6, bar opens 7", PIER, today=TODAY)
    assert not [one for one in read.found if one.field == "starts_with"]
