"""Numbers near the time of a set: they may count its songs or those of the whole message, which is asked."""

import pytest
from leader.reply_shape import PIER, TODAY

from companion.leader.answers import read_answers


@pytest.mark.parametrize(
    ("text", "either"),
    [
        ("Second set at 22:00. 1 to 3 in A minor", "3, or is it Kettle on the Jetty?"),
        ("zweites Set 19:15 Uhr. 2 bis 3 alles in G", "3, or is it Kettle on the Jetty?"),
        ("second set is at 10. 2 in G, 3 in A", "2, or is it Old Canal Road?"),
        ("second set at 10\n1 in G", "1, or is it {}?"),
        ("second set at 10\n\n4 starts with drums", "4, or is it {}?"),
    ],
)
def test_a_number_behind_the_time_of_a_later_set_is_asked(text: str, either: str) -> None:
    of_songs = [one for one in read_answers(text, PIER, today=TODAY).found if one.song_at is not None]
    number = int(either.split(",", maxsplit=1)[0])
    second = PIER.sets[1].songs[number - 1].title
    assert either.format(second) in [why for one in of_songs for why in one.doubt.split("; ")]
    assert all(one.doubt for one in of_songs)


@pytest.mark.parametrize(
    "text",
    [
        "first set at 8\nsecond set at 10\n1 in G, 2 in A",  # a table of the times of all sets
        "second set at 10\n1 in G, 2 in A, 6 in C",  # a number too high for the set
        "first set is at 8\n1 in G, 2 in A.",
        "1 in G, 2 in A\nsecond set at 10",
        "Second set:\n1 in G, 2 in A",
    ],
)
def test_a_number_that_can_only_mean_one_song_is_not_asked(text: str) -> None:
    of_songs = [one for one in read_answers(text, PIER, today=TODAY).found if one.song_at is not None]
    assert of_songs
    assert not any(one.doubt for one in of_songs)


def test_the_numbers_behind_the_times_of_all_sets_are_those_of_the_message() -> None:
    found = read_answers("first set at 8, second set at 10. 1 in G", PIER, today=TODAY).found
    assert [(one.title, bool(one.doubt)) for one in found if one.field == "key"] == [
        (PIER.sets[0].songs[0].title, True)
    ]


def test_numbers_that_go_on_below_a_set_and_its_first_song_count_in_it() -> None:
    found = read_answers("Second set: 1 Bm\n2 G\n3 D\nFirst set: see my mail", PIER, today=TODAY).found
    titles = [song.title for song in PIER.sets[1].songs]
    assert [(one.title, one.value) for one in found] == [(titles[0], "Bm"), (titles[1], "G"), (titles[2], "D")]


def test_a_number_below_that_does_not_go_on_is_asked() -> None:
    found = read_answers("Second set: 1 Bm, 2 C\n4 drums start", PIER, today=TODAY).found
    assert [bool(one.doubt) for one in found if one.field == "starts_with"] == [True]


@pytest.mark.parametrize(
    "heading",
    [
        "Tonarten 2. Block:",
        "Block 2:",
        "2e bloc, les tonalités:",
        "keys for set 2:",
        "Keys for the second half:",
        "part 2:",
    ],
)
def test_numbers_below_a_part_of_the_show_count_its_songs(heading: str) -> None:
    found = read_answers(f"{heading}\n1 G\n3 Am", PIER, today=TODAY).found
    assert [(one.set_at, one.song_at, one.value) for one in found] == [(1, 0, "G"), (1, 2, "Am")]


def test_the_last_one_behind_another_set_is_asked() -> None:
    text = "First set is as you have it. Café Morgenrot in C. The last one Bb."
    last = [one for one in read_answers(text, PIER, today=TODAY).found if one.value == "Bb"]
    assert [(one.title, bool(one.doubt)) for one in last] == [("Postbox Tango", True)]


def test_a_number_in_a_sentence_behind_that_of_a_set_is_asked() -> None:
    text = "Second set I haven't tapped yet, will send it Tuesday. 2 is Bm."
    keys = [one for one in read_answers(text, PIER, today=TODAY).found if one.field == "key"]
    assert keys
    assert all(one.doubt for one in keys)


def test_numbers_before_the_name_of_a_set_are_not_its_own() -> None:
    found = read_answers("1 in G, 2 in C. Second set: 1 in F, 2 in D\n3 in A", PIER, today=TODAY).found
    titles = [song.title for each in PIER.sets for song in each.songs]
    assert [(one.title, one.value) for one in found] == [
        (titles[0], "G"),
        (titles[1], "C"),
        (titles[4], "F"),
        (titles[5], "D"),
        (titles[6], "A"),
    ]


def test_a_doubt_quotes_the_leader_without_gaps_before_points() -> None:
    found = read_answers("Second set at 22:00. 1 to 3 in A minor, 4 in D", PIER, today=TODAY).found
    assert not any(" ." in one.doubt or " ," in one.doubt for one in found)
