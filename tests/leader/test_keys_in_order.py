"""Keys without numbers, in the order of the songs that were asked about; and facts that songs of a list share."""

import pytest
from leader.reply_shape import BARN, PIER, TODAY, InventedReply, reply
from leader.scoring import score

from companion.leader.answers import read_answers

ALL_SIX = "1 key D{0}\n2 key E{0}\n3 key C{0}\n4 key G{0}\n5 key Em{0}\n6 key A{0}"
ALL_EIGHT = "1 key D{0}\n2 key E{0}\n4 key G{0}\n5 key Em{0}\n6 key A{0}\n7 key E{0}\n8 key C{0}"
AFTER_TIME = "Second starts 22:00 ?\n1 key Am\n2 key Am\n6 key C\n7 key C"

REPLIES = [
    reply(BARN, "Morning! D, E, C, G, Em, A in that order :-)", ALL_SIX.format("")),
    reply(BARN, "Olga - D, E, C, G, Em, A in that order. 2 about 96", ALL_SIX.format("") + "\n2 tempo 96 ?"),
    reply(BARN, "Hei Olga, D, E, C, G, Em, A der Reihe nach", ALL_SIX.format("")),
    reply(BARN, "Bonjour Marc – D, E, C, G, Em, A dans l'ordre", ALL_SIX.format("")),
    reply(BARN, "D E C G Em A, in dieser Reihenfolge. 6 Fade-out", ALL_SIX.format("") + "\n6 ending fade"),
    reply(BARN, "D, E, C, G, Em, A in quest'ordine. La 6 sfuma", ALL_SIX.format("") + "\n6 ending fade"),
    reply(BARN, "keys: d e c g em a", ALL_SIX.format(" ?")),
    reply(BARN, "D E C G Em A. 6 fades out", ALL_SIX.format(" ?") + "\n6 ending fade"),
    reply(BARN, "D / E / C / G / Em / A", ALL_SIX.format(" ?")),
    # a song without a key, and a set that is named between the keys
    reply(
        BARN, "D/E/-/G/Em/A. Lantern fades out", "1 key D ?\n2 key E ?\n4 key G ?\n5 key Em ?\n6 key A ?\n2 ending fade"
    ),
    reply(BARN, "D, E, C, G, Em, x", "1 key D ?\n2 key E ?\n3 key C ?\n4 key G ?\n5 key Em ?"),
    reply(PIER, "D E F G / second half Em A E C", ALL_EIGHT.format(" ?")),
    reply(PIER, "D/E/F/G then Em/A/E/C", ALL_EIGHT.format(" ?")),
    reply(PIER, "D E F / second half G Em A E C", ""),  # the second half has four songs
    reply(BARN, "Hi\nD\nE\nC\nG\nEm\nA\nCheers", ALL_SIX.format(" ?")),
    reply(BARN, "D E C G Em", ""),  # one too few
    # the keys of all songs, though the show knows some
    reply(PIER, "D, E, F, G, Em, A, E, C - in order :)", ALL_EIGHT.format("")),
    reply(PIER, "D E F G | Em A E C\nthose are 1-8 in order. Moth fades out", ALL_EIGHT.format("") + "\n4 ending fade"),
    reply(PIER, "D E F G\nEm A E C", ALL_EIGHT.format(" ?")),
    reply(PIER, "Tonarten der Reihe nach:\nD, E, F, G, Em, A, E, C", ALL_EIGHT.format("")),
    # one below the other under the name of the set, or as many as there are songs
    reply(PIER, "Keys, first set:\nD\nE\nF\nG\nsecond set\nEm\nA\nE\nC", ALL_EIGHT.format("")),
    reply(PIER, "deuxième set :\nmi mineur\nla\nmi\ndo", "5 key Em\n6 key A\n7 key E\n8 key C"),
    reply(PIER, "D\nE\nF\nG\nEm\nA\nE\nC", ALL_EIGHT.format(" ?")),
    # a range after another sentence
    reply(BARN, "6 en sol. De 1 à 3 tout en la mineur", "1 key Am\n2 key Am\n3 key Am\n6 key G"),
    reply(BARN, "6 en sol. De 1 a 3 en la menor", "1 key Am\n2 key Am\n3 key Am\n6 key G"),
    # a number that the set named before is too short for
    reply(PIER, "Second set at 22:00. 1 to 2 in A minor, 6 and 7 in C", AFTER_TIME),
    reply(PIER, "2. Set um 22 Uhr. 1 bis 2 in a-Moll, 6 und 7 in C", AFTER_TIME.replace(" ?", "")),
    reply(BARN, "2 same as 4, both D", "2 key D\n4 key D"),
    reply(
        PIER, "I start 1, 2 and 5 on guitar", "\n".join(f"{one} starts_with the leader on guitar" for one in (1, 2, 5))
    ),
    reply(PIER, "4 Phil on sax", "4 starts_with Phil on sax"),
    reply(PIER, "> 1 Gasworks Corner\n> 2 Old Canal Road\nboth in A", "1 key A\n2 key A"),
]


@pytest.mark.parametrize("one", REPLIES, ids=lambda one: one.text[:40])
def test_each_key_lands_for_its_song(one: InventedReply) -> None:
    found = score(one)
    assert (found.missing, found.wrong, found.doubted, found.lost) == ((), (), (), ())


def test_keys_alone_that_fit_no_number_of_songs_are_kept_for_the_player() -> None:
    read = read_answers("D E C G Em", BARN, today=TODAY)
    assert read.found == ()
    assert [str(piece) for piece in read.left] == ["D E C G Em"]
