"""How long a song is, in the words of several languages; a limit is a question."""

import pytest
from leader.reply_shape import BARN, PIER, InventedReply, reply
from leader.scoring import score

REPLIES = [
    reply(BARN, "2 lasts three and a half minutes", "2 length 3:30"),
    reply(BARN, "2 in re, dura cinque minuti e mezzo", "2 key D\n2 length 5:30"),
    reply(BARN, "2: D, siete minutos", "2 key D\n2 length 7:00"),
    reply(BARN, "2 D, dauert dreieinhalb Minuten, 3 E", "2 key D\n2 length 3:30\n3 key E"),
    reply(BARN, "2 D, varer 4 minutter", "2 key D\n2 length 4:00"),
    reply(BARN, "2 D, duurt vierenhalve minuut", "2 key D\n2 length 4:30"),
    reply(BARN, "2 D, dure 3 minutes et demie", "2 key D\n2 length 3:30"),
    reply(BARN, "2 D, lasts 3 min 15", "2 key D\n2 length 3:15"),
    reply(BARN, "2 D, about 3 minutes 30", "2 key D\n2 length 3:30 ?"),
    # a limit
    reply(BARN, "2 D, no longer than 4 minutes please", "2 key D\n2 length 4:00 ?"),
    reply(BARN, "2 is 4 minutes, not longer", "2 length 4:00 ?"),
    reply(BARN, "2 D, höchstens viereinhalb Minuten", "2 key D\n2 length 4:30 ?"),
    reply(BARN, "2 D, pas plus de 4 minutes", "2 key D\n2 length 4:00 ?"),
    reply(BARN, "2 D, ikke mere end 4 minutter", "2 key D\n2 length 4:00 ?"),
    # no song's
    reply(BARN, "it is 5 minutes from the station", ""),
    reply(PIER, "second set is 20 minutes", "Second minutes 20"),
]


@pytest.mark.parametrize("one", REPLIES, ids=lambda one: one.text[:40])
def test_the_length_of_a_song_is_read_in_words(one: InventedReply) -> None:
    found = score(one)
    assert (found.missing, found.wrong, found.doubted, found.lost) == ((), (), (), ())
