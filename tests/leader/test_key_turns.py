"""Another key later in a song is a note on it; the key of another song is none."""

import pytest
from leader.reply_shape import BARN, PIER, InventedReply, reply
from leader.scoring import score

REPLIES = [
    reply(BARN, "2 C, the last time we go up to D. 3 E", "2 key C\n2 notes the last time we go up to D\n3 key E"),
    reply(BARN, "Nr. 2 C-Dur, beim letzten Refrain nach D-Dur", "2 key C\n2 notes beim letzten Refrain nach D-Dur"),
    reply(BARN, "2 in sol, l'ultima volta sale in la", "2 key G\n2 notes l'ultima volta sale in la"),
    reply(BARN, "2 in Sol e sale in La alla fine", "2 key G\n2 notes sale in La alla fine"),
    reply(BARN, "2 en do y al final sube a re\n3 en mi", "2 key C\n2 notes al final sube a re\n3 key E"),
    reply(
        BARN,
        "2: G (goes up to A for the last chorus), 3: E",
        "2 key G\n2 notes goes up to A for the last chorus\n3 key E",
    ),
    reply(BARN, "2 D, op het eind naar Es", "2 key D\n2 notes op het eind naar Es"),
    reply(BARN, "2 sol y el último estribillo sube a la", "2 key G\n2 notes el último estribillo sube a la"),
    reply(BARN, "2 C, at the end we move up to D\n3 sol e 4 la", "2 key C\n2 notes move up to D\n3 key G\n4 key A"),
    reply(BARN, "2 in C, and the last in G", "2 key C\n6 key G"),
    reply(BARN, "2 C, 4 to 6 in D", "2 key C\n4 key D\n5 key D\n6 key D"),
    reply(PIER, "1 C, second half in D", "1 key C\n5 key D ?\n6 key D ?\n7 key D ?\n8 key D ?"),
]


@pytest.mark.parametrize("one", REPLIES, ids=lambda one: one.text[:40])
def test_a_change_of_key_is_a_note(one: InventedReply) -> None:
    found = score(one)
    assert (found.missing, found.wrong, found.doubted, found.lost) == ((), (), (), ())
