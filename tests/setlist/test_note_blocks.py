"""What is said about songs in paragraphs of their own, and a set of one song without its number."""

from setlist.reading_texts import read, said


def test_sentences_below_each_song_are_its_notes() -> None:
    text = (
        "Notes for whoever sits in\n\nWe tune to 442.\n\n"
        "1. Paper Moth (Dm)\nYou start. Four bars alone, soft.\n\n"
        "2. Kettle Drum (G)\nNothing to say here.\n\n3. Lamplight (C)\n\n"
        "4. Slow Ferry (Bbm)\nUp a tone to Cm for the last chorus. Everyone forgets.\n\nSee you there, Bo\n"
    )
    taken = read(text)
    assert said(taken) == "First: Paper Moth=Dm; Kettle Drum=G; Lamplight=C; Slow Ferry=Bbm"
    notes = [song.notes for song in taken.show.sets[0].songs]
    assert notes[0] == "You start. Four bars alone, soft."
    assert notes[2] is None
    assert (notes[3] or "").startswith("Up a tone")
    assert "See you there" not in " ".join(filter(None, notes))


def test_without_numbers_too() -> None:
    text = (
        "Paper Moth - Dm\nwatch me for the end\n\nKettle Drum - G\nstrings all through, please keep them low.\n\n"
        "Lamplight - C\nends when I nod\n\nSlow Ferry - A\n"
    )
    taken = read(text)
    assert said(taken) == "First: Paper Moth=Dm; Kettle Drum=G; Lamplight=C; Slow Ferry=A"
    assert [song.notes for song in taken.show.sets[0].songs][:3] == [
        "watch me for the end",
        "strings all through, please keep them low.",
        "ends when I nod",
    ]


def test_the_only_title_below_encore_is_a_song_in_doubt() -> None:
    taken = read("1 velvet rope\n2 night bus\n3 third floor\n4 copper pan\n\nencore (if they ask)\ncold tea\n")
    assert said(taken).endswith("Encore: cold tea")
    assert [line.text for line in taken.lines if line.doubts] == ["cold tea"]


def test_a_few_bullets_that_hang_below_titles_without_keys_are_notes() -> None:
    found = read(
        "wet paint\ntall order\nkestrel\n   - organ not piano\ngo home\nvelvet\n   - half time feel in the bridge"
    )
    assert [song.title for song in found.show.sets[0].songs] == [
        "wet paint",
        "tall order",
        "kestrel",
        "go home",
        "velvet",
    ]
    assert found.show.sets[0].songs[2].notes == "organ not piano"


def test_bullets_that_hang_below_headings_are_songs() -> None:
    found = read("Set 1\n  - Moth Parade\n  - Weeds\n  - Oars\nSet 2\n  - Fog Bell\n  - Salt")
    assert [len(one.songs) for one in found.show.sets] == [3, 2]
