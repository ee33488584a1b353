"""As many keys in a row as songs before them are one for each; other numbers of both are not dealt out."""

import pytest
from leader.reply_shape import BALL, PIER, TODAY
from leader.scoring import said

from companion.leader.answers import read_answers
from companion.show import Show


def facts(text: str, show: Show) -> set[str]:
    return {f"{said(show, one)}{' ?' if one.doubt else ''}" for one in read_answers(text, show, today=TODAY).found}


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("1-2 Em, G. 4 Cm", "1 key Em, 2 key G, 4 key Cm"),
        ("5 and 7: C, Fm", "5 key C, 7 key Fm"),
        ("5 bis 7: G, C, A. 8 und 1: E und Es", "5 key G, 6 key C, 7 key A, 8 key E, 1 key Eb"),
        ("Second set is in the order Ab, D, G, Bm", "5 key Ab, 6 key D, 7 key G, 8 key Bm"),
        ("1 and 2 in G then A", "1 key G ?, 2 key A ?"),
        ("1 A. next two C and Eb", "1 key A, 2 key C ?"),
        ("1 and 2 in G", "1 key G, 2 key G"),
    ],
)
def test_each_of_as_many_keys_is_its_own_songs(text: str, found: str) -> None:
    assert facts(text, PIER) >= set(found.split(", "))


@pytest.mark.parametrize("text", ["Second set G Em A E C", "1-2 Em, G, A", "1, 2 and 4 Em, G"])
def test_keys_that_do_not_match_their_songs_in_number_are_in_doubt(text: str) -> None:
    assert all(one.endswith("?") for one in facts(text, PIER) if " key " in one)


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("drop 5. No, leave that in, drop 4 instead", {"5 dropped yes ?", "4 dropped yes"}),
        ("5: drop it. And 5 we do play after all, Em", {"5 key Em"}),
        ("lose Paper Lanterns and the Wooden Hill", {"5 dropped yes ?", "9 dropped yes ?"}),
        ("5 D, we might skip 9, we'll see", {"5 key D ?", "9 dropped yes ?"}),
        ("Wooden Hill: Ab, fade out on the last four", {"9 key Ab ?", "9 ending fade ?"}),
        ("5 D, head twice. 6 Em", {"5 key D ?", "5 notes head twice ?", "6 key Em"}),
        ("5 D. 3 verses only\n6 Em", {"5 key D", "5 notes 3 verses only ?", "6 key Em"}),
        ("🎸 lanterns D 🎸 wooden hill E", {"5 key D", "9 key E"}),
        ("wooden hill E 🎸 see you!", {"9 key E", "9 starts_with guitar ?"}),
    ],
)
def test_what_a_human_sees_in_these_lines_lands_or_is_asked(text: str, found: set[str]) -> None:
    assert facts(text, BALL) == found


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("5 Bm\n*Bbm sorry fat thumbs\n6 A", {"5 key Bbm ?", "6 key A"}),
        ("5 Bm. 6 rec 7 A", {"5 key Bm", "7 key A"}),
        ("6 A, all together, with the lanterns", {"6 key A ?", "6 starts_with all ?", "6 notes with the lanterns ?"}),
        ("5 F, letztes Mal nach Fis", {"5 key F", "5 notes letztes Mal nach Fis"}),
    ],
)
def test_words_beside_a_song_are_no_other_song(text: str, found: set[str]) -> None:
    assert {one for one in facts(text, BALL) if one.split()[0] in "567"} >= found
    assert not [one for one in facts(text, BALL) if one.split()[0] not in "567"]


def test_keys_with_only_spaces_between_are_dealt_out_too() -> None:
    assert facts("first set keys: D G C# Bb", PIER) >= {"1 key D", "2 key G", "4 key Bb"}
