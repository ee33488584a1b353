"""Replies in the forms that leaders really use, read as a person would read them."""

import pytest
from examples import seldom
from leader.band_replies import BAND_REPLIES
from leader.free_replies import FREE_REPLIES
from leader.guest_replies import GUEST_REPLIES
from leader.invented_replies import REPLIES
from leader.kind_replies import KIND_REPLIES
from leader.last_replies import LAST_REPLIES
from leader.more_replies import MORE_REPLIES
from leader.nasty_replies import NASTY_REPLIES, ORDINARY_REPLIES
from leader.peoples_replies import PEOPLES_REPLIES
from leader.reply_shape import TODAY
from leader.scoring import score
from planning.shows import show, song

from companion.leader.answers import read_answers

EVERY_REPLY = (
    *(*REPLIES, *MORE_REPLIES, *LAST_REPLIES, *BAND_REPLIES, *ORDINARY_REPLIES, *NASTY_REPLIES, *KIND_REPLIES),
    *FREE_REPLIES,
    *PEOPLES_REPLIES,
    *GUEST_REPLIES,
)
A_TEST = 12  # replies: a test for each would take longer than the reading


FIRST = range(0, len(EVERY_REPLY), A_TEST)


@pytest.mark.parametrize(
    "first", [*FIRST[::4], *map(seldom, [*FIRST[1::2], *FIRST[2::4]])], ids=lambda at: EVERY_REPLY[at].text[:40]
)
def test_every_fact_of_an_invented_reply_lands_and_nothing_else_does(first: int) -> None:
    found = {reply.text: score(reply) for reply in EVERY_REPLY[first : first + A_TEST]}
    off = {text: (one.missing, one.wrong, one.doubted, one.lost) for text, one in found.items()}
    assert {text: fields for text, fields in off.items() if any(fields)} == {}


def test_the_numbers_of_the_message_hold_although_the_show_has_changed_since() -> None:
    changed = show(song("Weeds"), song("Tidal"), song("Moth"))
    found = read_answers("1 Bb, 2 G", changed, today=TODAY, numbers=[2, None, 0])
    assert [str(one) for one in found.found] == ["Moth: key Bb"]
    assert [str(one) for one in found.left] == ["2 G (song 2 of the message is gone)"]


def test_an_answer_to_a_question_about_a_doubt_replaces_what_the_show_says() -> None:
    kettle = show(song("Kettle", "F"))
    assert [str(one) for one in read_answers("1 G", kettle).contradicts] == ["Kettle: key F → G"]
    asked = read_answers("1 G", kettle, asked=frozenset([(0, "key")]))
    assert [str(one) for one in asked.found] == ["Kettle: key F → G"]


def test_yes_confirms_what_the_message_asked_to_be_sure() -> None:
    found = read_answers("1 yes", show(song("Kettle", "F")), asked=frozenset([(0, "key")]))
    assert [(one.title, one.field) for one in found.confirms] == [("Kettle", "key")]
    assert found.found == ()


@pytest.mark.parametrize(
    ("asked", "reply", "landed"),
    [
        ("Do I start any of these? (For the others I wait for the count.)", "2", ["Weeds: the keys start"]),
        ("Do you have charts for any of these?", "1 and 2", ["Moth: there is a chart", "Weeds: there is a chart"]),
        ("Do you have charts for any of these?", "none", [f"{one}: no chart" for one in ("Moth", "Weeds", "Tidal")]),
    ],
)
def test_numbers_alone_answer_a_question_about_many_songs(asked: str, reply: str, landed: list[str]) -> None:
    shown = show(song("Moth"), song("Weeds"), song("Tidal"))
    assert [str(one) for one in read_answers(f"> {asked}\n> 1, 2, 3\n{reply}", shown).found] == landed


def test_a_leader_who_starts_every_song_is_not_asked_again_who_starts() -> None:
    found = read_answers("Do I start any of these?\nno", show(song("Moth"), song("Weeds")))
    assert [(one.title, one.field, one.to) for one in found.passed] == [
        ("Moth", "starts_with", "not you"),
        ("Weeds", "starts_with", "not you"),
    ]


def test_a_reply_full_of_control_characters_and_brackets_is_read() -> None:
    text = "\x00\x1b1 Bb\x07\n" + "(" * 900 + "2 G" + ")" * 90 + "\n" + "> " * 400 + "3 D\n"
    found = read_answers(text, show(song("Moth"), song("Weeds"), song("Tidal")))
    assert "Moth: key Bb" in [str(one) for one in found.found]


KNOWN = show(song("Kettle", "F"), song("Moth", "Am"), song("Weeds", "C"))


@pytest.mark.parametrize(
    ("text", "titles"),
    [
        ("3 stays", ["Weeds"]),
        ("Kettle stays as it is, 2 D", ["Kettle"]),
        ("1 und 3 bleiben", ["Kettle", "Weeds"]),
        ("2 reste", ["Moth"]),
        ("all of them stay the same", ["Kettle", "Moth", "Weeds"]),
    ],
)
def test_a_song_that_stays_keeps_its_key(text: str, titles: list[str]) -> None:
    found = read_answers(text, KNOWN)
    assert [(one.title, one.field) for one in found.confirms] == [(title, "key") for title in titles]
    assert found.left == ()


def test_a_key_that_the_song_stays_in_is_that_key() -> None:
    assert [str(one) for one in read_answers("3 stays in D", KNOWN).contradicts] == ["Weeds: key C → D"]


def test_beside_a_key_that_is_right_only_the_words_in_doubt_are_left() -> None:
    found = read_answers("2 is Am, last chorus up a tone to Bm\n3 C but ask Pat", KNOWN)
    assert [(one.title, one.words) for one in found.confirms] == [("Moth", "2 is Am"), ("Weeds", "3 C")]
    assert [one.words for one in found.left] == ["last chorus up a tone to Bm", "ask Pat"]
