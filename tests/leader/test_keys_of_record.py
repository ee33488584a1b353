"""The keys of all songs from their records, where the words speak of the keys and not of the songs."""

import pytest
from leader.reply_shape import TODAY, in_sets
from leader.scoring import said

from companion.leader.answers import read_answers
from companion.music import read_key
from companion.show import Song

RECORDED = in_sets(
    "Recorded",
    First=(
        Song("Lantern Hill", record_key=read_key("G")),
        Song("Mossy Gate", record_key=read_key("D")),
        Song("Kite Weather", record_key=read_key("Eb")),
    ),
)
ALL = ["1 key G", "2 key D", "3 key Eb"]


@pytest.mark.parametrize(
    ("text", "keys"),
    [
        ("Keys from the recordings please", ALL),
        ("Take the keys from the recordings.", ALL),
        ("Keys I trust you to take from the records, but Kite Weather: F please", [*ALL[:2], "3 key F"]),
        ("all keys off the record", ALL),
        ("1-3 record keys throughout", ALL),
        ("1-3 original keys", ALL),
        ("the keys are as on the record except 3 which is F", [*ALL[:2], "3 key F"]),
        ("die Tonarten bitte von den Aufnahmen", ALL),
        ("Les tonalités du disque", ALL),
    ],
)
def test_the_keys_are_those_of_the_records(text: str, keys: list[str]) -> None:
    found = read_answers(text, RECORDED, today=TODAY).found
    assert sorted(said(RECORDED, one) for one in found if one.field == "key") == keys


def test_keys_like_on_the_record_may_be_how_they_are_played() -> None:
    found = read_answers("keys like on the record", RECORDED, today=TODAY).found
    assert found
    assert all(one.doubt for one in found)


@pytest.mark.parametrize("text", ["I like the keys on the record", "2 keys start like on the record"])
def test_other_words_about_keys_and_records_set_none(text: str) -> None:
    assert not [one for one in read_answers(text, RECORDED, today=TODAY).found if one.field == "key"]
