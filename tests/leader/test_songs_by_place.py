"""Songs by their place: the opener, the first after the break, the next two, those three."""

import pytest
from leader.reply_shape import InventedReply, in_sets, reply
from leader.scoring import score

HALVES = in_sets("Fair", First=("Haywain", "Lantern", "Ferret Reel"), Second=("Tar Pit", "Violet Hinge", "Slow Kettle"))
REPLIES = [
    # 's behind a place
    reply(HALVES, "set 2: the opener's in G, the closer's Am", "4 key G\n6 key Am"),
    reply(HALVES, "third's D, second one's G, first's F", "1 key F\n2 key G\n3 key D"),
    # beside the break
    reply(HALVES, "first song after the break D", "4 key D"),
    reply(HALVES, "First one after the interval is Em, last one before the interval G", "3 key G\n4 key Em"),
    reply(HALVES, "the last one before the break fades", "3 ending fade"),
    reply(HALVES, "erster Song nach der Pause D, letztes Lied vor der Pause Em", "3 key Em\n4 key D"),
    reply(HALVES, "premier morceau après la pause : ré mineur", "4 key Dm"),
    reply(HALVES, "la prima canzone dopo la pausa è in sol", "4 key G"),
    reply(HALVES, "eerste nummer na de pauze in G", "4 key G"),
    # the first few and the last few of a set
    reply(HALVES, "First two of set two in E", "4 key E\n5 key E"),
    reply(HALVES, "second half: the last two in Bb", "5 key Bb\n6 key Bb"),
    reply(HALVES, "die ersten zwei vom zweiten Set in E", "4 key E\n5 key E"),
    reply(HALVES, "i primi due del secondo set in Mi", "4 key E\n5 key E"),
    reply(HALVES, "les deux premiers du deuxième set en mi", "4 key E\n5 key E"),
    reply(HALVES, "het eerste setje in G", "left het eerste setje in G"),
    reply(HALVES, "first eight, second ten", "First starts 20:00\nSecond starts 22:00\nleft first eight, second ten"),
    # the next few
    reply(HALVES, "1 G. The next two after that: Bm, then A.", "1 key G\n2 key Bm ?\n3 key A ?"),
    reply(HALVES, "4 G. The next two: Bm as you've got, then A", "4 key G\n5 key Bm ?\n6 key A ?"),
    reply(HALVES, "1 sol, les deux suivantes en ré", "1 key G\n2 key D ?\n3 key D ?"),
    reply(HALVES, "4 G. Die nächsten zwei: Bm, A", "4 key G\n5 key Bm ?\n6 key A ?"),
    # those that were named last
    reply(HALVES, "1 G and 2 F. Those two end cold", "1 key G\n2 key F\n1 ending cold\n2 ending cold"),
    reply(HALVES, "1 G, 2 F and 3 A. These two fade", "1 key G\n2 key F\n3 key A\n2 ending fade ?\n3 ending fade ?"),
]


@pytest.mark.parametrize("one", REPLIES, ids=lambda one: one.text[:40])
def test_a_song_is_named_by_its_place(one: InventedReply) -> None:
    found = score(one)
    assert (found.missing, found.wrong, found.doubted) == ((), (), ())
