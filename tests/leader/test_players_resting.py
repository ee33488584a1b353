"""A player who rests, or a part that is left out, is a note on the song: the song is played."""

import pytest
from leader.reply_shape import BARN, PIER, InventedReply, reply
from leader.scoring import score

REPLIES = [
    reply(BARN, "2 C, bridge without piano", "2 key C\n2 notes bridge without piano"),
    reply(BARN, "2 C, no keys until the second verse, 3 D", "2 key C\n2 notes no keys until the second verse\n3 key D"),
    reply(BARN, "2 C, erste Strophe ohne Klavier", "2 key C\n2 notes erste Strophe ohne Klavier"),
    reply(BARN, "2 in do, senza batteria nella prima strofa", "2 key C\n2 notes senza batteria nella prima strofa"),
    reply(BARN, "2 has no click\n3 C, sans cuivres", "2 notes no click\n3 key C\n3 notes sans cuivres"),
    reply(BARN, "2 C without the horns in the bridge", "2 key C\n2 notes without the horns in the bridge"),
    reply(BARN, "2 C, first time round no keys", "2 key C\n2 notes first time round no keys"),
    reply(BARN, "no click on 2", "2 notes no click"),
    reply(BARN, "No piano in 2 until the last chorus", "2 notes No piano in 2 until the last chorus ?"),
    reply(BARN, "2 C, no keys", "2 key C\n2 tacet yes"),
    reply(BARN, "2 C, horns up front", "2 key C ?\n2 starts_with horns ?"),
    # what all do
    reply(BARN, "2 C, everyone sings. 3 D", "2 key C\n2 notes everyone sings\n3 key D"),
    reply(
        BARN,
        "2 C, alle singen mit\n3 C, tutti cantano",
        "2 key C\n2 notes alle singen mit\n3 key C\n3 notes tutti cantano",
    ),
    # a part of a song
    reply(PIER, "7 as the record but the bridge is cut", "7 key E ?\n7 notes the bridge is cut ?"),
    reply(BARN, "2 C, second verse is out", "2 key C ?\n2 notes second verse is out ?"),
    reply(BARN, "2 is cut", "2 dropped yes"),
]


@pytest.mark.parametrize("one", REPLIES, ids=lambda one: one.text[:40])
def test_what_rests_in_a_song_is_a_note(one: InventedReply) -> None:
    found = score(one)
    assert (found.missing, found.wrong, found.doubted) == ((), (), ())
