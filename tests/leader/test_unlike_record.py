"""What is otherwise than on the record, or than last time, is never read as its opposite."""

import pytest
from leader.reply_shape import PIER, TODAY

from companion.leader.answers import read_answers

_LIKE = (
    "like the record",
    "as on the album",
    "wie auf der Platte",
    "comme sur le disque",
    "come sul disco",
    "como en el disco",
    "como no disco",
    "zoals op de plaat",
    "som på skivan",
    "som på pladen",
    "jak na płycie",
    "jako na desce",
    "kuten levyllä",
    "mint a lemezen",
    "kao na ploči",
    "like last time",
    "wie letztes Mal",
    "comme d'habitude",
)
_NOT = {
    "wie": "nicht",
    "comme": "pas",
    "come": "non",
    "como en": "no",
    "como no": "não",
    "zoals": "niet",
    "som": "inte",
    "jak ": "nie",
    "jako": "ne",
    "kuten": "ei",
    "mint": "nem",
    "kao": "ne",
}


def _denied(like: str) -> str:
    said = next((no for begins, no in _NOT.items() if like.startswith(begins)), "not")
    return f"{said} {like}"


def _read(text: str) -> tuple[list[str], list[str]]:
    answers = read_answers(text, PIER, today=TODAY)
    return [str(one) for one in answers.found], [str(one) for one in (*answers.left, *answers.passed)]


@pytest.mark.parametrize("like", _LIKE)
def test_unlike_the_record_is_a_note_in_the_words_of_the_leader(like: str) -> None:
    words = _denied(like)
    assert _read(f"2 D, {words}") == (["Old Canal Road: key D", f"Old Canal Road: note: {words}"], [])


@pytest.mark.parametrize("like", _LIKE[:-3])
def test_the_key_that_is_denied_is_the_record_s(like: str) -> None:
    no = _denied(like).removesuffix(like).strip()
    assert _read(f"2 in D {no} E {like}") == (["Old Canal Road: key D", "Old Canal Road: key of the record E"], [])


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("2 D (the record is in E)", ["key D", "key of the record E"]),
        ("2 D, album is E", ["key D", "key of the record E"]),
        ("2 D instead of E like the album", ["key D", "key of the record E"]),
        ("2 not E as recorded, we play it in D", ["key of the record E", "key D"]),
        ("2 D not E like last time", ["key D", "note: not E like last time"]),
        ("2 fade, not cold like the album", ["fade-out", "note: not cold like the album"]),
        ("2 D, unlike the album", ["key D", "note: unlike the album"]),
        ("2 D, don't play it like the record", ["key D", "note: don't play it like the record"]),
        ("2 D, not as fast as the record", ["key D", "note: not as fast as the record"]),
    ],
)
def test_what_is_otherwise_stays_whole(text: str, found: list[str]) -> None:
    assert _read(text) == ([f"Old Canal Road: {one}" for one in found], [])


def test_the_key_that_is_denied_is_corrected_without_a_question() -> None:
    answers = read_answers("7 in C not E like the album", PIER, today=TODAY)
    assert not answers.contradicts


@pytest.mark.parametrize(
    "text",
    ["2 same as the record", "2 not sure, same as the record", "2 not sure like the record"],
)
def test_words_that_deny_nothing_leave_the_question_to_the_record(text: str) -> None:
    found, left = _read(text)
    assert (found, len(left)) == ([], 1)


def test_what_all_songs_are_not_like_is_no_note_of_each() -> None:
    found, left = _read("all in D, not E like the album")
    assert not [one for one in found if "note" in one or "record" in one]
    assert left == ["not E like the album"]
