"""Lists in small letters, keys too: the place of the keys tells them from words."""

import pytest
from setlist.reading_texts import read, said

PLAIN = "kettle drum - g\nharbour wall - am\npaper moth - d\nslow ferry - eb\n"


@pytest.mark.parametrize(
    ("line", "found"),
    [
        ("long way round -f#m", "long way round=F#m"),
        ("long way round- c", "long way round=C"),
        ("long way round - e into", "long way round=E"),
        ("long way round - c dont rush it", "long way round=C"),
        ("long way round - d (everyone sings, go on until the lights come up)", "long way round=D"),
        ("long way round", "long way round"),
    ],
)
def test_a_key_is_found_where_the_others_have_theirs(line: str, found: str) -> None:
    assert said(read(PLAIN + line)) == f"First: kettle drum=G; harbour wall=Am; paper moth=D; slow ferry=Eb; {found}"


def test_keys_in_brackets_and_what_follows_them() -> None:
    text = "kettle drum (g)\nharbour wall (am)\npaper moth (d)\nok, fog (bm)\nslow ferry (eb) -> f last chorus\n"
    found = read(f"first forty\n{text}\nsecond forty\nlight (c)\nfog bell (a)\n")
    assert said(found).endswith("fog bell=A")
    assert "ok, fog=Bm; slow ferry=Eb | Second: light=C" in said(found)


def test_the_letter_a_before_words_is_a_key_in_doubt() -> None:
    found = read(PLAIN + "long way round - a bit of patience")
    assert said(found).endswith("long way round=A")
    assert [doubt.asks_for for line in found.lines for doubt in line.doubts] == ["key"]


def test_a_song_that_goes_on_runs_into_the_next() -> None:
    songs = read(PLAIN + "long way round - e into\nlamplight - c").show.sets[0].songs
    assert [song.title for song in songs if song.segue] == ["long way round"]


def test_words_that_lead_to_a_title_and_may_begin_it_are_asked_about() -> None:
    found = read(
        "first light in g\nthen harbour wall in am\nand paper moth in d\nthen slow ferry in eb\nlamplight in c\n"
    )
    assert said(found) == "First: light=G; harbour wall=Am; paper moth=D; slow ferry=Eb; lamplight=C"
    assert [doubt.question for line in found.lines for doubt in line.doubts] == ["Does 'first' belong to the title?"]


def test_keys_at_the_ends_of_titles_a_space_before_them() -> None:
    text = "bar gig fri\n\npaper moth g\nslow ferry am\nlamp in the window\nharbour wall d, keys tacet\ncopper pan eb\n"
    assert said(read(text)) == ("First: paper moth=G; slow ferry=Am; lamp in the window; harbour wall=D; copper pan=Eb")
    plain = "paper moth\nslow ferry to a\nwhat i am\nharbour wall\ncopper pan\nnight bus\n"
    assert not any(song.key for song in read(plain).show.sets[0].songs)
