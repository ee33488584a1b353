"""Chats whose lines name the sender and the time in other orders."""

import pytest

from companion.setlist import SetList
from companion.setlist.parsing.understand import take_in
from companion.setlist.readers.text import pages_of_text


def read(text: str) -> SetList:
    return take_in(pages_of_text(text, "list.txt"), "List")


SAID = (
    ("Ola", "18:01", "list please?"),
    ("Wim", "18:05", "set 1"),
    ("Wim", "18:05", "Postbox Tango - Bb"),
    ("Wim", "18:05", "Nine Wet Umbrellas - Gm"),
    ("Wim", "18:06", "Harbour Lamps - C"),
    ("Wim", "18:06", "set 2"),
    ("Wim", "18:06", "Slow Ferry - D"),
    ("Wim", "18:07", "Tram Home - F"),
    ("Ola", "18:09", "ta"),
)


@pytest.mark.parametrize(
    "form",
    [
        "{who} ({when}): {says}",
        "{who} [{when}] {says}",
        "{who} [{when}]: {says}",
        "[{who} {when}] {says}",
        "[{who}, {when}]: {says}",
        "{who}, {when} - {says}",
        "{who} {when}: {says}",
        "{when} {who}: {says}",
        "{when} - {who}: {says}",
        "{when} [{who}] {says}",
        "[{when}] {who}: {says}",
        "<{who}> {says}",
    ],
)
def test_a_chat_is_read_with_sender_and_time_in_either_order(form: str) -> None:
    found = read("\n".join(form.format(who=who, when=when, says=says) for who, when, says in SAID))
    assert [[song.title for song in one.songs] for one in found.show.sets] == [
        ["Postbox Tango", "Nine Wet Umbrellas", "Harbour Lamps"],
        ["Slow Ferry", "Tram Home"],
    ]


def test_one_message_of_many_lines_names_its_sender_once() -> None:
    found = read(
        "Ola (18:01): list?\nWim (18:05): set 1\nPostbox Tango - Bb\nNine Wet Umbrellas - Gm\nHarbour Lamps - C\n"
        "Wim (18:06): set 2\nSlow Ferry - D\nTram Home - F\nOla (18:09): ta"
    )
    assert [len(one.songs) for one in found.show.sets] == [3, 2]


def test_titles_with_lengths_in_brackets_are_not_a_chat() -> None:
    found = read("Postbox Tango (3:40): Bb\nNine Wet Umbrellas (4:10): Gm\nHarbour Lamps (2:55): C\nMoth (3:05): D")
    assert [song.title for song in found.show.sets[0].songs] == [
        "Postbox Tango",
        "Nine Wet Umbrellas",
        "Harbour Lamps",
        "Moth",
    ]


@pytest.mark.parametrize(
    "form",
    [
        "Nov 27, {when} - {who}: {says}",
        "[27 Nov 2026, {when}] {who}: {says}",
        "Fr. 27. November, {when} - {who}: {says}",
        "27 nov. à {when} - {who}: {says}",
    ],
)
def test_the_month_of_a_message_may_be_a_word(form: str) -> None:
    said = [form.format(who=who, when=when, says=says) for who, when, says in SAID]
    found = read("\n".join(said))
    assert [song.title for each in found.show.sets for song in each.songs] == [
        "Postbox Tango",
        "Nine Wet Umbrellas",
        "Harbour Lamps",
        "Slow Ferry",
        "Tram Home",
    ]
