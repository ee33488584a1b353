"""Letters in front of titles: who sings, a key of several songs, and capos whose shapes are named like keys."""

from setlist.reading_texts import read, said


def test_initials_of_singers_are_no_keys_of_several_songs() -> None:
    text = "B: Paper Moth, A\nK: Kettle Drum, G\nB: Slow Ferry, B\nT: Harbour Wall, C\nK: Lamplight, Am, train beat\n"
    found = read(text)
    assert said(found) == "First: Paper Moth=A; Kettle Drum=G; Slow Ferry=B; Harbour Wall=C; Lamplight=Am"
    assert [song.notes for song in found.show.sets[0].songs] == ["B", "K", "B", "T", "K; train beat"]


def test_a_singers_initial_that_is_a_key_too_makes_no_song_of_a_note() -> None:
    found = read(
        "(D = Dot, R = Ray)\n\nR: Postbox Tango - E\nD: Nine Wet Umbrellas - Bb, organ solo\nR: Slow Ferry - D"
    )
    assert said(found) == "First: Postbox Tango=E; Nine Wet Umbrellas=Bb; Slow Ferry=D"


def test_a_key_of_several_songs_is_still_one() -> None:
    assert said(read("G: Paper Moth, Kettle Drum, Lamplight\nD: Slow Ferry, Harbour Wall\n")) == (
        "First: Paper Moth=G; Kettle Drum=G; Lamplight=G; Slow Ferry=D; Harbour Wall=D"
    )


def test_what_a_capo_makes_of_a_shape() -> None:
    text = "Paper Moth - D\nKettle Drum - capo 3, shapes in G = Bb\nLamplight - capo 1, shapes in D\nSlow Ferry - Em\n"
    found = read(text)
    assert said(found) == "First: Paper Moth=D; Kettle Drum=Bb; Lamplight=Eb; Slow Ferry=Em"
    assert [line.song for line in found.lines if line.doubts] == [3]


def test_the_names_of_notes_explained_are_no_song() -> None:
    assert said(read("Tonarten (H = B)\nPaper Moth - H\nKettle Drum - Es\nLamplight - G\n")) == (
        "First: Paper Moth=B; Kettle Drum=Eb; Lamplight=G"
    )
