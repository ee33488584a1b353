"""Words that point back to a song, and titles by their first letters."""

import pytest
from leader.reply_shape import PIER, TODAY, in_sets
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


def test_a_number_in_a_sentence_behind_its_set_may_count_all_songs() -> None:
    found = read_answers("Set 2: G, D, A, C. Number 4 fades", PIER, today=TODAY).found
    assert [said(PIER, one) for one in found if not one.doubt] == ["5 key G", "6 key D", "7 key A", "8 key C"]
    assert [said(PIER, one) for one in found if one.doubt] == ["4 ending fade"]


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


# Below each reply, the songs that click starts, and whether that is certain.
THEM_ALL = [
    ("first set has click, so click starts them all", (1, 2, 3, 4), None),
    (
        "everything in the second set has click, so click starts all of them. except Ferry, that's drums",
        (5, 7, 8),
        False,
    ),
    ("2, 3 and 5: click starts all of these", (2, 3, 5), True),
    ("The second set is loud. Click starts them all", (5, 6, 7, 8), False),
    ("click starts them all", (1, 2, 3, 4, 5, 6, 7, 8), False),
]


@pytest.mark.parametrize(("text", "songs", "is_certain"), THEM_ALL)
def test_them_all_are_the_songs_that_were_named_before(
    text: str, songs: tuple[int, ...], *, is_certain: bool | None
) -> None:
    found = [one for one in read_answers(text, PIER, today=TODAY).found if one.value == "click"]
    assert [said(PIER, one) for one in found] == [f"{number} starts_with click" for number in songs]
    assert is_certain is None or {not one.doubt for one in found} == {is_certain}


@pytest.mark.parametrize(
    ("text", "facts"),
    [
        ("1 G\n\nNach der Pause:\n5 C\n6 D", "1 key G;5 key C;6 key D"),
        ("1 G\nAfter the interval\n5 C", "1 key G;5 key C"),
        ("Après la pause : 1 en Ré, 2 en Sol", "5 key D;6 key G"),
        ("4 G\nBeginn ist um 20 Uhr, Aufbau ab 17:30.", "4 key G;First starts 20:00"),
    ],
)
def test_what_follows_the_break_is_the_second_of_two_sets(text: str, facts: str) -> None:
    found = read_answers(text, PIER, today=TODAY).found
    assert sorted(said(PIER, one) for one in found) == sorted(facts.split(";"))
    assert not [one for one in found if one.doubt]


CUT = in_sets("Ferry", First=("Glitter Umbrella", "Mistletoe Line", "Slow Ferry"), Encore=("Last Boat", "Old Tin"))


@pytest.mark.parametrize(
    ("text", "facts"),
    [
        ("glitter umb. Em", "1 key Em"),
        ("glitter umb D", "1 key D"),
        ("mistl. in C", "2 key C"),
        ("too slow. 2 G", "2 key G"),
        ("enc 1 D", "4 key D"),
        ("encore 2 A", "5 key A"),
        ("3 same as 1. Mistletoe in G. 1 C", "1 key C;2 key G"),
        ("2 G, parti tu", "2 key G;2 starts_with keys"),
        ("2 fängst du an", "2 starts_with keys"),
        ("2 c'est à toi de commencer", "2 starts_with keys"),
        ("2 G, un abbraccio", "2 key G"),
    ],
)
def test_words_that_are_cut_short_or_turned_round_are_read(text: str, facts: str) -> None:
    found = read_answers(text, CUT, today=TODAY).found
    assert {said(CUT, one) for one in found if not one.doubt} == set(facts.split(";"))


@pytest.mark.parametrize(
    ("text", "fact"),
    [
        ("Moth is Db\nno i read it wrong D. D!!!", "4 key D"),
        ("5 Am\n4 C\nsorry I meant B flat", "4 key Bb"),
        ("Moth D\npardon, mal lu. F", "4 key F"),
        ("Moth C\nsorry for the delay", "4 key C"),
    ],
)
def test_a_line_that_only_corrects_is_about_the_song_above(text: str, fact: str) -> None:
    keys = {said(PIER, one) for one in read_answers(text, PIER, today=TODAY).found if one.field == "key"}
    assert {one for one in keys if one.startswith("4 ")} == {fact}
