"""B in a reply is Bb where H is the note below C: in German, and in the languages beside it."""

import pytest
from leader.reply_shape import PIER, TODAY
from leader.scoring import said

from companion.leader.answers import read_answers

# Invented replies; small words of each language, from memory.
_GERMAN = [
    "Servus! 2 bis 3 in C. 4 B. Den Rest muss ich noch mit Toni klären.",
    "2 C, 3 G, 4 B, mehr hab ich heute nicht, bitte",
    "2 C\n3 G\n4 B\nresten vet jag inte än, tack",
    "3 er C og 4 er B, resten ved jeg ikke",
    "4 B, 3 C, reszta jak na płycie, nie pamiętam tylko",
]
_OTHERS = [
    "2 to 3 in C. 4 B. The rest I have to ask Toni.",
    "de 2 en 3 in C, 4 B, de rest weet ik nog niet",
    "2 et 3 en C, 4 B, le reste je ne sais pas",
]


def _of_four(text: str) -> dict[str, str]:
    found = {said(PIER, one): one.doubt for one in read_answers(text, PIER, today=TODAY).found}
    return {fact: why for fact, why in found.items() if fact.startswith("4 key")}


@pytest.mark.parametrize("text", _GERMAN)
def test_where_h_is_a_note_b_is_asked_as_bb(text: str) -> None:
    found = _of_four(text)
    assert list(found) == ["4 key Bb"]
    assert found["4 key Bb"] != ""


@pytest.mark.parametrize("text", _OTHERS)
def test_elsewhere_b_is_b(text: str) -> None:
    assert list(_of_four(text)) == ["4 key B"]
