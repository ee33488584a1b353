"""Keys in small letters, in a row; and "all" that is as on the record."""

import pytest
from leader.reply_shape import BARN, PIER, InventedReply, in_sets, reply
from leader.scoring import score

from companion.music import read_key
from companion.show import Song

RECORDED = in_sets(
    "Fair",
    Main=(Song("Haywain", record_key=read_key("F")), Song("Lantern", record_key=read_key("Bb")), Song("Ferret Reel")),
)
SPOKEN = (
    "right um the first three are in d a and g minor then number four in c and we start that one with the drums number "
    "five e and straight into number six which is a oh and that is all of them"
)
LONE = (
    "ok so number one is f and number two is a with the fiddle starting number three that's a and number four is e "
    "minor and number five a with the drums first and that's it"
)
OF_LONE = "1 key F\n2 key A\n2 starts_with fiddle\n3 key A\n4 key Em\n5 key A\n5 starts_with drums"
OF_SPOKEN = "1 key D\n2 key A\n3 key Gm\n4 key C\n4 starts_with drums ?\n5 key E\n5 segue Owl Hour\n6 key A"
REPLIES = [
    reply(BARN, "1 and 2 in d and a", "1 key D\n2 key A"),
    reply(BARN, "the first three in e, a and d", "1 key E\n2 key A\n3 key D"),
    reply(BARN, "1 in a minor and 2 in a", "1 key Am\n2 key A"),
    reply(BARN, "1 is in a good key", ""),
    reply(BARN, SPOKEN, OF_SPOKEN),
    # "a" before what stands behind no article
    reply(BARN, LONE, OF_LONE),
    reply(BARN, "2 is a with the guitar first", "2 key A\n2 starts_with guitar"),
    reply(BARN, "nummer 2 ist a mit der Gitarre am Anfang", "2 key A ?"),
    reply(BARN, "2 is a bit slow", ""),
    reply(BARN, "2 D, la iniziamo con la batteria", "2 key D ?\n2 starts_with drums ?"),
    # all as on the record
    reply(RECORDED, "All as recorded", "1 key F\n2 key Bb\nask 3 key the record"),
    reply(RECORDED, "all like the record\nexcept Lantern, A", "1 key F\n2 key A\nask 3 key the record"),
    reply(RECORDED, "Alles wie auf der Platte", "1 key F\n2 key Bb\nask 3 key the record"),
    reply(PIER, "7 and 8 all as on the record", "7 key E\nask 8 key the record"),
]


@pytest.mark.parametrize("one", REPLIES, ids=lambda one: one.text[:40])
def test_small_letters_in_a_row_are_keys_and_all_are_all_songs(one: InventedReply) -> None:
    found = score(one)
    assert (found.missing, found.wrong, found.doubted) == ((), (), ())
