"""Words that point back to a song, and titles by their first letters."""

import pytest
from leader.reply_shape import PIER, TODAY
from leader.scoring import said

from companion.leader.answers import read_answers

# The reply, what lands, and whether it is certain.
POINTING = [
    ("4 Am\nyou start that one", "4 starts_with keys", False),
    ("4 Am\nit ends cold", "4 ending cold", False),
    ("1 G, so's Moth", "4 key G", True),
    ("2 isn't happening, 8 isn't either", "8 dropped yes", True),
    ("OCR: G", "2 key G", False),
    ("1st: G, 2nd: Bb", "2 key Bb", True),
    ("charts: only 1 and 4", "4 chart yes", True),
    ("no Moth tonight", "4 dropped yes", True),
    ("no Moth", "4 dropped yes", False),
    ("12 December, The Duck & Drake, Mill Lane", "show venue The Duck & Drake, Mill Lane", False),
    ("New Year's Eve", "show date 2026-12-31", True),
    ("Only change: Kettle on the Jetty in G please", "3 key G", True),
    ("11:02 Lee: 1 G\n11:05 Trish: 2 C", "2 key C", True),
]


@pytest.mark.parametrize(("text", "fact", "is_certain"), POINTING)
def test_words_that_point_back_land_for_the_song_that_they_mean(text: str, fact: str, *, is_certain: bool) -> None:
    found = read_answers(text, PIER, today=TODAY).found
    assert {said(PIER, one): not one.doubt for one in found}.get(fact) is is_certain


@pytest.mark.parametrize(
    "text", ["can you bring an organ sound for 2", "2 G, strings pad all the way", "2 is G. organ please"]
)
def test_a_sound_that_is_wanted_starts_no_song(text: str) -> None:
    assert not [one for one in read_answers(text, PIER, today=TODAY).found if one.field == "starts_with"]


def test_stamps_of_a_chat_are_no_lengths() -> None:
    found = read_answers("11:02 Lee: 1 G\n11:05 Trish: 2 C", PIER, today=TODAY).found
    assert {one.field for one in found} == {"key"}


# Words that look like answers: nothing lands without a doubt.
TRAPS = [
    "crash course on 2 please",
    "no Moth isn't in G",
    "see 4 in my last mail",
    "choir practice at 7",
    "la 1",
    "4 G\nit was in D",
    "re 3: G",
    "1 or 2 in G",
    "everybody in black",
]


@pytest.mark.parametrize("text", TRAPS)
def test_words_that_only_look_like_answers_land_nowhere_unseen(text: str) -> None:
    found = read_answers(text, PIER, today=TODAY).found
    assert [said(PIER, one) for one in found if not one.doubt and one.field != "notes"] == []
