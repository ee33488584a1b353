"""Titles that a narrow page breaks, and indented words that are no title."""

from setlist.reading_texts import read, said

NARROW = "1. The Girl Who Painted\n   the Harbour\n2. Moth\n3. Nine Wet Umbrellas\n   Tomorrow\n4. Late Tram\n"


def test_indented_words_that_did_not_fit_above_continue_a_title_in_a_list_without_keys() -> None:
    found = read(NARROW)
    assert said(found) == "First: The Girl Who Painted the Harbour; Moth; Nine Wet Umbrellas Tomorrow; Late Tram"
    assert [doubt.question for line in found.lines for doubt in line.doubts] == [
        "Is 'the Harbour' a song?",
        "Is 'Tomorrow' a song?",
    ]


def test_indented_words_that_would_fit_above_are_a_note() -> None:
    found = read(NARROW.replace("2. Moth\n", "2. Moth\n   Dulcie too\n"))
    assert [song.title for song in found.show.sets[0].songs][1:] == ["Moth", "Nine Wet Umbrellas", "Late Tram"]


def test_a_title_does_not_begin_further_in_than_it_goes_on() -> None:
    found = read("Moth - D\n   Organ, not piano.\nWeeds - Bm\n   Segue straight into\nLate Tram - D\nFog Bell - E\n")
    assert said(found) == "First: Moth=D; Weeds=Bm; Late Tram=D; Fog Bell=E"
    assert "Segue straight into" in (found.show.sets[0].songs[1].notes or "")
