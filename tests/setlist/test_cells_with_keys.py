"""Tables whose cells hold keys in odd ways: among words, in capitals, in the notes, one space from the title."""

import pytest
from setlist.reading_texts import read, said

TOP = "Title | Key | Notes\nPaper Moth | G |\nKettle Drum | Bb | slow\nLamplight | Em |\n"


@pytest.mark.parametrize(
    ("row", "found", "doubts"),
    [
        ("Slow Ferry | Eb -- no keys till chorus |", "Slow Ferry=Eb", 0),
        ("Slow Ferry | (same as last time, G) |", "Slow Ferry=G", 1),
        ("Slow Ferry | F bright and quick |", "Slow Ferry=F", 1),
        ("SLOW FERRY | EM |", "SLOW FERRY=Em", 1),
        ("SLOW FERRY | BBM | LOUD", "SLOW FERRY=Bbm", 1),
        ("Slow Ferry | F | in E now, not F", "Slow Ferry=E", 1),
        ("Slow Ferry | F | in E for the solo", "Slow Ferry=F", 0),
        ("Slow Ferry |  | Eb", "Slow Ferry=Eb", 1),
        ("- [x] Slow Ferry | A |", "Slow Ferry=A", 0),
        ("- [ ] 4. Slow Ferry | A |", "Slow Ferry=A", 0),
        ("- 63 | A |", "63=A", 0),
    ],
)
def test_a_row(row: str, found: str, doubts: int) -> None:
    taken = read(TOP + row + "\n")
    assert said(taken) == f"First: Paper Moth=G; Kettle Drum=Bb; Lamplight=Em; {found}"
    assert sum(bool(line.doubts) for line in taken.lines) == doubts


@pytest.mark.parametrize("words", ["OUT (too quiet)", "OUT", "OUT too quiet", "CUT - never again", "RAUS"])
def test_a_song_that_its_notes_take_out_is_asked_about(words: str) -> None:
    taken = read(f"{TOP}Slow Ferry | A | {words}\n")
    assert said(taken) == "First: Paper Moth=G; Kettle Drum=Bb; Lamplight=Em"
    assert [doubt.question for line in taken.lines for doubt in line.doubts] == ["Is 'Slow Ferry' played?"]


@pytest.mark.parametrize("words", ["CUT TIME", "CUT last chorus", "DROP D", "SKIP INTRO"])
def test_a_song_of_which_only_a_part_is_cut_is_played(words: str) -> None:
    taken = read(f"{TOP}Slow Ferry | A | {words}\n")
    assert said(taken) == "First: Paper Moth=G; Kettle Drum=Bb; Lamplight=Em; Slow Ferry=A"
    assert words in (taken.show.sets[0].songs[3].notes or "")


def test_titles_that_reach_into_the_column_of_keys() -> None:
    text = (
        "PAPER MOTH             G\nKETTLE DRUM            C\nWALTZ FOR THE PORTERS Am\nLAMPLIGHT              F\n"
        "A LETTER FOR THE COOK Bb\nSLOW FERRY             D   SAX LEADS\nGOODNIGHT, SWEET MOTHERS  Eb\n"
    )
    assert said(read(text)) == (
        "First: PAPER MOTH=G; KETTLE DRUM=C; WALTZ FOR THE PORTERS=Am; LAMPLIGHT=F; A LETTER FOR THE COOK=Bb; "
        "SLOW FERRY=D; GOODNIGHT, SWEET MOTHERS=Eb"
    )


def test_a_key_of_three_signs_in_front_of_its_title() -> None:
    text = (
        "A   Paper Moth\nBb  Kettle Drum\n    (up to C at the end)\nC#m Slow Ferry Home\nG   Lamplight\nEm  Fog Bell\n"
    )
    taken = read(text)
    assert said(taken) == "First: Paper Moth=A; Kettle Drum=Bb; Slow Ferry Home=C#m; Lamplight=G; Fog Bell=Em"
    assert "up to C" in (taken.show.sets[0].songs[1].notes or "")


def test_a_song_behind_a_heading_in_a_table() -> None:
    taken = read(f"{TOP}Encore: Slow Ferry (A) | |\n")
    assert said(taken) == "First: Paper Moth=G; Kettle Drum=Bb; Lamplight=Em | Encore: Slow Ferry=A"


def test_parts_of_one_number_keep_no_letter_in_their_titles() -> None:
    text = "1 | Paper Moth | G\n2 | a) Ferry | D\n3 | b) Ferry Again | Dm\n4 | Lamplight | E\n"
    assert said(read(text)) == "First: Paper Moth=G; Ferry=D; Ferry Again=Dm; Lamplight=E"


def test_each_singer_has_a_column_of_keys() -> None:
    text = "Keys per singer\n\nSong           Ann   Bob\n" + "".join(
        f"{title:15}{first:6}{second}\n"
        for title, first, second in (("Paper Moth", "G", "C"), ("Slow Ferry", "Am", "Em"), ("Lamplight", "F", "Bb"))
    )
    taken = read(text)
    assert said(taken) == "First: Paper Moth=G; Slow Ferry=Am; Lamplight=F"
    assert [song.notes for song in taken.show.sets[0].songs] == ["Bob: C", "Bob: Em", "Bob: Bb"]
    answers = [[answer.word for answer in doubt.answers] for line in taken.lines for doubt in line.doubts]
    assert answers == [["yes", "C"], ["yes", "Em"], ["yes", "Bb"]]


def test_the_key_that_is_played_now() -> None:
    assert said(read(f"{TOP}Slow Ferry | in E now (was F) |\n")).endswith("Slow Ferry=E")


@pytest.mark.parametrize(
    ("notes", "key"),
    [
        ("now a bit slower", "F"),
        ("now in a big hall", "F"),
        ("now E for Ann", "E"),
        ("teraz w wolnym tempie", "F"),
        ("teraz Bb", "Bb"),
        ("Gm tonight. Ann sings", "Gm"),
    ],
)
def test_notes_name_the_key_that_is_played_now_only_with_a_capital_or_alone(notes: str, key: str) -> None:
    assert said(read(f"{TOP}Slow Ferry | F | {notes}\n")).endswith(f"Slow Ferry={key}")


def test_keys_in_spanish_words() -> None:
    text = "Luna Rota en sol mayor\nTren Viejo en la menor\nFarolas en fa\nPuerto en re mayor, lento\nSal en mi bemol\n"
    assert said(read(text)) == "First: Luna Rota=G; Tren Viejo=Am; Farolas=F; Puerto=D; Sal=Eb"


def test_values_with_their_names_in_front_name_no_columns() -> None:
    text = "1. Paper Moth | key: G | keys: organ\n2. Slow Ferry | key: Am | keys: piano\n"
    taken = read(
        f"{text}3. Lamplight | key: F# | keys: pad\n4. Copper Pan | key: D | keys: none\n5. Who? | key: ? | keys: pad\n"
    )
    assert said(taken) == "First: Paper Moth=G; Slow Ferry=Am; Lamplight=F#; Copper Pan=D; Who?"
    notes = [song.notes for song in taken.show.sets[0].songs]
    assert notes[:3] == ["keys: organ", "keys: piano", "keys: pad"]


def test_words_behind_a_title_that_follows_its_key() -> None:
    text = "In G\tPaper Moth\nIn F\tThe Purple Boat\tsoft\nIn B flat\tSlow Ferry\nIn A minor\tLamplight\tvibes sound\n"
    taken = read(text)
    assert said(taken) == "First: Paper Moth=G; The Purple Boat=F; Slow Ferry=Bb; Lamplight=Am"
    assert [song.notes for song in taken.show.sets[0].songs] == [None, "soft", None, "vibes sound"]


def test_a_title_its_key_and_words_between_commas_are_no_sentence() -> None:
    text = "Lune, fa majeur\nTrain, do mineur\nPluie, si bémol\nLe Mur du Port, la mineur, lent\nSel, mi mineur\n"
    assert said(read(text)) == "First: Lune=F; Train=Cm; Pluie=Bb; Le Mur du Port=Am; Sel=Em"
