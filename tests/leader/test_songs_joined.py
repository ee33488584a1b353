"""Several songs of one sentence, as leaders of many countries join them: a range, "and", into the next one, both."""

import pytest
from leader.reply_shape import PIER, TODAY, reply
from leader.scoring import compare

from companion.leader.answers import read_answers

TWO = "4 key G\n8 key G"
# Source: common practice, no source; the words are invented.
JOINED = [
    ("5 à 7 : toutes en sol", "5 key G\n6 key G\n7 key G"),
    ("5 a 7 en sol", "5 key G\n6 key G\n7 key G"),
    ("5 tot en met 7 in G", "5 key G\n6 key G\n7 key G"),
    ("5 t/m 7: G", "5 key G\n6 key G\n7 key G"),
    ("5 al 7: tutte in sol", "5 key G\n6 key G\n7 key G"),
    ("5 bis 7 alle in G", "5 key G\n6 key G\n7 key G"),
    ("5 až 7 vše v G", "5 key G\n6 key G\n7 key G"),
    ("5 a 6 g 7 d", "5 key A\n6 key G\n7 key D"),
    ("5 A 6 in G", "5 key A\n6 key G"),
    ("Moth y Postbox Tango en sol", TWO),
    ("Moth e Postbox Tango in sol", TWO),
    ("Moth e Postbox Tango, entrambe in sol", TWO),
    ("Moth en Postbox Tango in G", TWO),
    ("Moth a Postbox Tango v G", TWO),
    ("moth e postbox tango in g", "4 key E\n8 key G"),
    ("Moth und Postbox Tango beide in G", TWO),
    ("Moth et Postbox Tango : tous les deux en sol", TWO),
    ("Moth y Postbox Tango, las dos en sol", TWO),
    ("1 goes straight into 2, both in G", "1 segue Old Canal Road\n1 key G\n2 key G"),
    ("5 into 6 into 7 without stopping", "5 segue The Long Ferry Home\n6 segue Nine Wet Umbrellas"),
    ("5 into 6, ohne Pause. 1 G", "5 segue The Long Ferry Home\n1 key G"),
    ("1 into 2. Both end cold.", "1 segue Old Canal Road\n1 ending cold\n2 ending cold"),
    ("1 into 2, beide in G", "1 segue Old Canal Road\n1 key G\n2 key G"),
    ("5 into 6, all in G", "5 segue The Long Ferry Home\n5 key G\n6 key G"),
]


@pytest.mark.parametrize(("text", "facts"), JOINED)
def test_songs_that_are_joined_share_what_is_said_of_them(text: str, facts: str) -> None:
    score = compare(reply(PIER, text, facts), read_answers(text, PIER, today=TODAY))
    assert (score.missing, score.wrong, score.doubted) == ((), (), ())
