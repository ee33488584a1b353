"""Two keys of which the leader prefers one; and letters that are keys or other words."""

import pytest
from planning.shows import show, song

from companion.leader.answers import read_answers

SONGS = ("Copper Kettle", "Weeds", "Les amis d'Odile", "Tram Home")


def _found(reply: str) -> list[str]:
    return [str(one) for one in read_answers(reply, show(*map(song, SONGS))).found]


@pytest.mark.parametrize(
    ("reply", "key"),
    [
        ("2 C or D, leaning D", "D"),
        ("2 = E or Eb, Flo decides, say Eb for now", "Eb"),
        ("2 A or Am (probably Am)", "Am"),
        ("2 G oder A, eher A", "A"),
        ("2 F oder Fis? sagen wir Fis", "F#"),
        ("2: C o D, más bien D", "D"),
        ("2 C or D, D is better", "D"),
        ("2 Gm or G... it's G", "G"),
        ("2 A? or Bb, Bb I'd say", "Bb"),
        ("2 sol ou la... c'est la", "A"),
        ("2 F, but Ida would like G, so let us say G", "G"),
        ("2 F, aber Uli will G, also sagen wir G", "G"),
        ("2 F, but the singer wants E so make it E", "E"),
        ("2 sol o la", "G"),
        ("2 C or D", "C"),
    ],
)
def test_the_key_that_is_preferred_is_asked(reply: str, key: str) -> None:
    found = read_answers(reply, show(*map(song, SONGS))).found
    assert [(one.title, one.field, one.value) for one in found] == [("Weeds", "key", key)]
    assert found[0].doubt


@pytest.mark.parametrize(
    ("reply", "found"),
    [
        ("kettle A stops cold", ["Copper Kettle: key A", "Copper Kettle: cold ending"]),
        ("weeds A fades\ntram A", ["Weeds: key A", "Weeds: fade-out", "Tram Home: key A"]),
        ("tram A drums start", ["Tram Home: key A", "Tram Home: drums start"]),
        ("tram tempo 140 e parte il basso", ["Tram Home: tempo 140", "Tram Home: bass starts"]),
        ("odile G", ["Les amis d'Odile: key G"]),
        ("2. Do puis Ré", ["Weeds: key C (not sure: two keys: Do puis Ré)", "Weeds: note: key: Do puis Ré"]),
        ("2 C dann D", ["Weeds: key C (not sure: two keys: C dann D)", "Weeds: note: key: C dann D"]),
    ],
)
def test_a_letter_is_a_key_or_another_word(reply: str, found: list[str]) -> None:
    assert _found(reply) == found
