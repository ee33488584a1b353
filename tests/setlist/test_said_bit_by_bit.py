"""Chats that name songs bit by bit and correct themselves, in several languages (invented lists)."""

import pytest
from setlist.reading_texts import read, said

BITS = (
    "Ann  19:20\nyou ready\nAnn  19:21\nOpening with Copper Rain, G\nAnn  19:22\nthen Cheap Seats. thats Em\n"
    "Ann  19:23\nthen Tall Tom's Ladder (D) dont come in till the drums do\nAnn  19:24\nhang on\n"
    "Ann  19:31\nback. then Slippers of Fire, C\nAnn  19:31\nthen Motorway Rabbit also C\n"
)
LIST = (
    "[29/11/2026 11:02] Ann: {lead}\nMoth Parade - Em\nSaturday Clock - A\nKite Song - D\nJam Jar - G\nFog Bell - C\n"
)


def chat(lead: str, *messages: str) -> str:
    lines = (f"[29/11/2026 11:{at:02}] {message}" for at, message in enumerate(messages, start=10))
    return LIST.format(lead=lead) + "\n".join(lines) + "\n"


def test_songs_said_bit_by_bit_lose_the_words_around_them() -> None:
    found = read(BITS)
    assert said(found) == (
        "First: Copper Rain=G; Cheap Seats.=Em; Tall Tom's Ladder=D; Slippers of Fire=C; Motorway Rabbit=C"
    )
    assert all(line.doubts for line in found.lines if line.song)


def test_a_part_of_a_title_and_a_key_in_a_later_message_change_the_key() -> None:
    found = read(f"{BITS}Bo  19:34\nSlippers in C? demo was in D\nAnn  19:36\noh yeah its D. sorry. Slippers in D\n")
    assert "Slippers of Fire=D" in said(found)
    assert len(found.titles) == 5


@pytest.mark.parametrize("assent", ["ok", "oui", "ja", "vale", "ok ja"])
def test_an_assent_before_a_part_of_a_title_and_its_key_adds_no_song(assent: str) -> None:
    found = read(chat("the list", "Bo: Saturday in G rather?", f"Ann: {assent} Saturday in G"))
    assert said(found) == "First: Moth Parade=Em; Saturday Clock=G; Kite Song=D; Jam Jar=G; Fog Bell=C"


@pytest.mark.parametrize(
    "said_so", ["ah oui, Radiator (F) juste après Kite Song", "oh yes, Radiator (F) after Kite Song"]
)
def test_a_song_that_is_named_with_its_place_is_added_there(said_so: str) -> None:
    found = read(chat("the list", "Bo: and Radiator??", f"Ann: {said_so}"))
    assert found.titles == ["Moth Parade", "Saturday Clock", "Kite Song", "Radiator", "Jam Jar", "Fog Bell"]


@pytest.mark.parametrize("place", ["ja, an der gleichen Stelle Hennensong in F", "yes, same spot Hennensong in F"])
def test_a_song_comes_in_the_place_of_one_that_just_went(place: str) -> None:
    found = read(chat("die liste", "Ann: Kite Song fliegt raus", f"Ann: {place}"))
    assert found.titles == ["Moth Parade", "Saturday Clock", "Hennensong", "Jam Jar", "Fog Bell"]


def test_words_behind_a_part_of_a_title_and_a_colon_are_a_note_on_it() -> None:
    found = read(chat("die liste", "Ann: genau, Saturday: 4 Takte Klavier allein"))
    assert "4 Takte Klavier allein" in (found.show.sets[0].songs[1].notes or "")


def test_an_encore_on_a_condition_in_another_language_holds_its_song() -> None:
    songs = "der lange weg ---- a\nzweiter stock ---- C\ndritte sache ---- h\nkleiner mond ---- D"
    found = read(f"{songs}\n\nzugabe falls laut genug: der deckel ---- G\n")
    assert said(found).endswith("| Encore: der deckel=G")


def test_a_title_with_a_number_is_a_song_of_its_row_and_of_talk() -> None:
    row = "1st set: Boardroom Bossa (Gm), P45 (Em), Reply All (D), Lift Song (F)"
    found = read(f"{row}\n2nd set: Kite (A), Bonus Round (E), Jam Jar (C)\n\nP45 -> keys riff all the way\n")
    assert said(found).startswith("First: Boardroom Bossa=Gm; P45=Em; Reply All=D; Lift Song=F |")
    assert "keys riff" in (found.show.sets[0].songs[1].notes or "")


def test_songs_said_bit_by_bit_may_have_their_keys_in_syllables() -> None:
    said_by = [
        "apriamo con Vento di Carta in Re",
        "poi Scarpe Rosse (Sol) aspetta la batteria",
        "aspetta, suonano",
        "eccomi. poi Pane e Nuvole, Do",
        "poi Luna di Latta. La minore",
    ]
    found = read("\n".join(f"Marta 18:0{at}\n{words}" for at, words in enumerate(said_by)))
    assert said(found) == "First: Vento di Carta=D; Scarpe Rosse=G; Pane e Nuvole=C; Luna di Latta=Am"
