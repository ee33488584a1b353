"""Lists typed in small letters: rows of titles and keys, and words that only a key tells from talk (invented lists)."""

from setlist.reading_texts import read, said


def questions(text: str) -> list[str]:
    return [doubt.question for line in read(text).lines for doubt in line.doubts]


def test_a_row_whose_every_piece_ends_in_a_key_is_songs_though_some_letters_are_words_too() -> None:
    found = read("for the quiz: moth parade d, weeds bm, paper kite f, fog and bell em, lock-in at lorna's a, tidal c")
    assert said(found).endswith("moth parade=D; weeds=Bm; paper kite=F; fog and bell=Em; lock-in at lorna's=A; tidal=C")


def test_headings_tell_nothing_of_how_the_songs_below_them_are_written() -> None:
    found = read(
        "before quiz\nmoth parade g, weeds am, kite d, tidal c\n\n"
        "between rounds\nowl lane e\nbee house a (short stab)\nfog bell g"
    )
    assert said(found) == (
        "Before quiz: moth parade=G; weeds=Am; kite=D; tidal=C | Between rounds: owl lane=E; bee house=A; fog bell=G"
    )


LINES = "moth parade Em\nweeds G\n{}\nkite F#m\ntidal clock B\n"


def test_a_second_key_behind_a_note_is_of_the_note() -> None:
    found = read(LINES.format("owl lane Bm stops dead at the end, hold the low B"))
    assert said(found) == "First: moth parade=Em; weeds=G; owl lane=Bm; kite=F#m; tidal clock=B"
    assert "hold the low" in (found.show.sets[0].songs[2].notes or "")


def test_a_title_that_sounds_like_talk_is_a_song_in_doubt() -> None:
    text = LINES.format("we are all moths C#m 7/8 in the verse!!")
    assert said(read(text)) == "First: moth parade=Em; weeds=G; we are all moths=C#m; kite=F#m; tidal clock=B"
    assert questions(text) == ["Is 'we are all moths' a song?"]


def test_words_with_a_key_that_were_read_as_a_note_are_asked_for() -> None:
    text = LINES.format("drum machine love Bm solo over verse, watch for the D")
    assert [one for one in questions(text) if "drum machine" in one]
