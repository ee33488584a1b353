"""A key behind "same" is the song's own: it repeats no other song's."""

import pytest
from leader.reply_shape import BARN, InventedReply, reply
from leader.scoring import score

REPLIES = [
    reply(BARN, f"1 G\n{line}", "1 key G\n3 key Bb")
    for line in (
        "3 same, Bb",
        "3: same key - Bb",
        "Ferret unchanged, Bb",
        "3 bleibt gleich, B♭",
        "3 pareil, si bémol",
        "3 uguale, sib",
        "3 hetzelfde, Bb",
        "3 samma (Bb)",
    )
]
REPLIES += [
    reply(BARN, "1 G\n3 same", "1 key G\n3 key G ?"),
    reply(BARN, "3 same as the last one, F", "3 key F"),
    reply(BARN, "3 wie 5, F", "3 key F"),
    reply(BARN, "3) n/a", "ask 3 key the leader, later"),
]


@pytest.mark.parametrize("one", REPLIES, ids=lambda one: one.text[:40])
def test_the_same_before_a_key_means_nothing(one: InventedReply) -> None:
    found = score(one)
    assert (found.missing, found.wrong, found.doubted, found.lost) == ((), (), (), ())


@pytest.mark.parametrize(
    "line",
    [
        "3 leave it in Bb",
        "3 leave in Bb",
        "3 leave that one in Bb please",
        "Ferret let's leave it in Bb",
        "3 lass es in B♭",
        "3 laat die in Bb",
    ],
)
def test_a_song_that_is_left_in_its_key_is_understood(line: str) -> None:
    found = score(reply(BARN, f"1 G\n{line}", "1 key G\n3 key Bb"))
    assert (found.missing, found.wrong, found.doubted, found.lost) == ((), (), (), ())
