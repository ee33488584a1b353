"""Tempos in a list, each right after its song."""

import pytest
from leader.reply_shape import BARN, InventedReply, reply
from leader.scoring import score

THREE = "1 tempo 128{0}\n2 tempo 96{0}\n6 tempo 141{0}"
SURE, ASKED = THREE.format(""), THREE.format(" ?")
REPLIES = [
    reply(BARN, "Clicks: 1 128, 2 96, 6 141\n3 D", f"{SURE}\n3 key D"),
    reply(BARN, "here are the tempos\n1 - 128\n2 - 96\n6 - 141", SURE),
    reply(BARN, "tempos from my metronome:\n1: 128\n2: 96\n6: 141\n\nKeys:\n4 G", f"{SURE}\n4 key G"),
    reply(BARN, "Tempi: 1=128 / 2=96 / 6=141", SURE),
    reply(BARN, "Metronom:\n1) 128\n2) 96\n6) 141, Bass fängt an", f"{SURE}\n6 starts_with bass"),
    reply(BARN, "BPM:\nHaywain 128\nLantern 96, Owl Hour 141", SURE),
    reply(BARN, "Clicks are 128 for 1, 96 for Lantern and 141 for 6", SURE),
    # no heading says it
    reply(BARN, "1 128\n2 96\n6 141", ASKED),
    reply(BARN, "1 – 128, 2 – 96, 6 – 141", ASKED),
    reply(BARN, "1 D, 128. 2 G, 96. 6 C, 141", f"{ASKED}\n1 key D\n2 key G\n6 key C"),
    reply(BARN, "My number is 07 700 96 141", ""),
]


@pytest.mark.parametrize("one", REPLIES, ids=lambda one: one.text[:40])
def test_each_tempo_of_a_list_lands_for_its_song(one: InventedReply) -> None:
    found = score(one)
    assert (found.missing, found.wrong, found.doubted, found.lost) == ((), (), (), ())
