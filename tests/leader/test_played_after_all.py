"""Songs that are kept after all, and a place in the set that is said of a song."""

import pytest
from leader.reply_shape import BARN, PIER, InventedReply, reply
from leader.scoring import score

REPLIES = [
    reply(BARN, "drop 4\nhmm keep 4 actually, Gm", "4 key Gm"),
    reply(BARN, "Gatepost is out\nno wait, keep Gatepost, Gm", "4 key Gm"),
    reply(BARN, "4 fällt weg\nbehalten 4 doch, g-moll", "4 key Gm"),
    reply(BARN, "4 G, keep it simple", "4 key G ?\n4 notes keep it simple ?"),
    reply(PIER, "2 F and it's the closer so keep vamping", "2 key F ?\n2 ending vamp-out ?\n2 notes it's the closer ?"),
    reply(BARN, "drop 4\nleave 4 in, Gm", "4 key Gm"),
    reply(BARN, "Gatepost is out\nno wait, leave Gatepost in, Gm", "4 key Gm"),
    reply(BARN, "4 streichen\nlasst 4 drin, g-moll", "4 key Gm ?"),
    reply(BARN, "leave 4 in Gm", "4 key Gm ?"),
    # dropped and taken back in one line
    reply(BARN, "4 skip - or rather play it, one verse", "4 notes one verse ?"),
    reply(BARN, "Gatepost: skip, no, play it", ""),
    reply(BARN, "4 on saute, ou plutôt on la joue", ""),
    reply(BARN, "4 streichen, oder doch spielen, in G", "4 key G"),
    reply(BARN, "4 cut. 5 keep it in", "4 dropped yes"),
    # where a song may be dropped, what is said of it is asked for too
    reply(PIER, "2 Fm. 6 C. 2 is left out should we run late", "2 key Fm ?\n2 dropped yes ?\n6 key C"),
    reply(PIER, "2 cut\n4 D\nbold move, Em for 2", "2 key Em ?\n2 dropped yes ?\n4 key D"),
    reply(PIER, "2 Dm (live we never do it where the record is)\n4 G", "2 key Dm ?\n4 key G"),
    reply(PIER, "De opener in D", "1 key D ?"),
    reply(BARN, "> 4. Gatepost: key? the end?\nGm, we vamp and I wave it off", "4 key Gm ?\n4 ending vamp-out ?"),
]


@pytest.mark.parametrize("one", REPLIES, ids=lambda one: one.text[:40])
def test_a_song_that_is_kept_is_played(one: InventedReply) -> None:
    found = score(one)
    assert (found.missing, found.wrong, found.doubted) == ((), (), ())
