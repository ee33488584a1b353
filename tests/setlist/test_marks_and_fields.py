"""Letters that count, capos, kinds of tunes, fields without gaps, two songs with a word between (invented lists)."""

import pytest
from setlist.reading_texts import read, said


@pytest.mark.parametrize("sign", [")", ".", ":"])
def test_capitals_that_count_the_songs_are_no_part_of_the_titles(sign: str) -> None:
    rows = ("Moth Parade   Em", "Weeds   A", "Kite   G", "Jam Jar   D", "Fog Bell   F#m")
    lines = [f"{letter}{sign} {row}" for letter, row in zip("ABCDE", rows, strict=True)]
    assert said(read("\n".join(lines))) == "First: Moth Parade=Em; Weeds=A; Kite=G; Jam Jar=D; Fog Bell=F#m"


@pytest.mark.parametrize(
    "capo",
    [
        "(capo 2, shapes in G)",
        "(Kapo 2, Griffe G)",
        "(capo 2 G shapes)",
        "[capodastre 2, formes G]",
        "(capo 2, formes de Sol)",
    ],
)
def test_a_bracket_with_a_capo_is_no_part_of_the_title(capo: str) -> None:
    found = read(f"1. Weir Song {capo}\n2. Weeds (Am)\n3. Kite (D)\n")
    assert said(found) == "First: Weir Song=A; Weeds=Am; Kite=D"
    assert any(line.doubts for line in found.lines if "Weir" in line.text)


def test_the_kind_of_a_tune_in_a_bracket_before_its_key_is_a_note() -> None:
    found = read("Port Nua (slip jig) D\nThe Weeds (reel) G\nPostie's Knees (polkas) A\nAn Teach - Em\n")
    assert said(found) == "First: Port Nua=D; The Weeds=G; Postie's Knees=A; An Teach=Em"
    assert [song.notes for song in found.show.sets[0].songs][:3] == ["slip jig", "reel", "polkas"]
    assert not any(line.doubts for line in found.lines)


def test_a_bracket_behind_a_gap_is_a_note() -> None:
    found = read("F    Pelican Walk\nGm   Alma's Garden      (bossa)\nEb   A Flat in Bloom   (not the key!! its Eb)\n")
    assert said(found) == "First: Pelican Walk=F; Alma's Garden=Gm; A Flat in Bloom=Eb"


def test_fields_behind_a_long_title_without_gaps_are_read_as_the_others() -> None:
    found = read(
        "Riot Glass   3:40   Am  128bpm\nTiny Chairs    4:05   F   96\nYes We Have No Pyjamas 3:25 E 152\n"
        "Sixteen Doors   5:10   A   124 -> segue\nAnkle   3:10   G   140\n"
    )
    assert said(found) == ("First: Riot Glass=Am; Tiny Chairs=F; Yes We Have No Pyjamas=E; Sixteen Doors=A; Ankle=G")
    assert [song.tempo_bpm for song in found.show.sets[0].songs] == [128, 96, 152, 124, 140]
    assert not found.doubts


@pytest.mark.parametrize("word", ["into", "straight into", "direkt in"])
def test_two_songs_with_their_keys_and_a_word_between_are_two(word: str) -> None:
    found = read(f"Weeds D\nThe Hen Flies (jig) Em {word} Sheila's Gate (jig) G  <- no gap\nKite A\nJam Jar G\n")
    assert said(found) == "First: Weeds=D; The Hen Flies=Em; Sheila's Gate=G; Kite=A; Jam Jar=G"


def test_a_key_among_words_between_commas_is_the_songs() -> None:
    found = read("Weeds D\nKite A\nLang Road  slow air, D, pno only first time\nJam Jar G\n")
    assert said(found) == "First: Weeds=D; Kite=A; Lang Road=D; Jam Jar=G"
    assert "pno only first time" in (found.show.sets[0].songs[2].notes or "")


def test_words_below_talk_after_the_last_song_are_no_note_on_it() -> None:
    found = read("1. Weeds (D)\n2. Kite (A)\n3. Jam Jar (G)\nThat is the order, as ever!\nallons-y, à vendredi, Kobe\n")
    assert found.show.sets[0].songs[-1].notes is None
