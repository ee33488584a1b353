"""Lines told apart from what they only look like: old lists, talk, refusals, conditions (invented lists)."""

import pytest
from setlist.reading_texts import read, said

QUOTED = "\n\n1. Moth Parade (G)\n2. Weeds (E)\n3. Kite (A)\n\n> On 2 Nov 2026 Ann wrote:\n"
QUOTED += "> 1. Moth Parade (A)\n> 2. Old Man (C)\n> 3. Kite (F)\n"
LIST = "Set 1\nMoth Parade (G)\nWeeds (E)\nSet 2\nKite (A)\nJam Jar (D)\n\n"


@pytest.mark.parametrize(
    "words",
    [
        "Here's the proper one, ignore what's below.",
        "hier die richtige Liste, bitte ignoriert die unten!",
        "voici la bonne, oubliez l'ancienne",
        "forget the list under this",
    ],
)
def test_words_that_call_the_list_below_old_do_not_age_their_own(words: str) -> None:
    found = read(f"Hi,\n{words}{QUOTED}")
    assert said(found) == "First: Moth Parade=G; Weeds=E; Kite=A"
    assert found.choices


@pytest.mark.parametrize("refusal", ["NO!!", "nein", "Raus!", "nope."])
def test_a_refusal_behind_a_struck_title_is_no_song(refusal: str) -> None:
    assert read(f"- Moth\n- ~~Weeds~~ {refusal}\n- Kite\n- Jam Jar\n").titles == ["Moth", "Kite", "Jam Jar"]


def test_a_title_behind_a_struck_one_is_played_in_its_place() -> None:
    assert read("- Moth\n- ~~Weeds~~ No Regrets\n- Kite\n").titles == ["Moth", "No Regrets", "Kite"]


@pytest.mark.parametrize("when", ["in Set 2 if we're running late", "from set 2 if it drags", "if need be"])
def test_a_song_that_is_dropped_on_a_condition_stays_in_doubt(when: str) -> None:
    found = read(f"{LIST}Drop Jam Jar {when}.\n")
    assert found.titles == ["Moth Parade", "Weeds", "Kite", "Jam Jar"]
    assert any(line.doubts for line in found.lines if line.song and "Jam Jar" in line.text)


def test_a_note_behind_a_syllable_and_a_comma_makes_no_sentence_of_a_song() -> None:
    found = read("El gat - Re\nDos trens - Sol\nPluja de juny - La m\nQui té la porta - Mi, tall sec al final!\n")
    assert said(found) == "First: El gat=D; Dos trens=G; Pluja de juny=Am; Qui té la porta=E"


def test_a_title_in_small_letters_that_begins_as_talk_does_is_a_song_between_songs() -> None:
    found = read("bin lorry\nuncle static\nsorry about the rain - drone under it all\ncouncil tax\ncrisp\n")
    assert found.titles == ["bin lorry", "uncle static", "sorry about the rain", "council tax", "crisp"]
    assert any(line.doubts for line in found.lines if "sorry" in line.text)


def test_a_title_with_its_key_that_begins_as_talk_does_is_a_song_between_songs() -> None:
    found = read(
        "Moth Parade D\nsorry i'm late love G\nno cover charge A\nWeeds and Wires Em\nhello tin owl C\nKite F\n"
    )
    assert "sorry i'm late love=G" in said(found)
    assert any(line.doubts for line in found.lines if "sorry" in line.text)


@pytest.mark.parametrize("head", ["old:", "ALT", "oud:"])
def test_a_word_that_says_old_heads_the_list_that_is_not_read(head: str) -> None:
    found = read(f"{LIST}{head}\n1 Moth Parade G\n2 Weeds A\n3 Other One D\n4 Jam Jar C\n")
    assert said(found) == "First: Moth Parade=G; Weeds=E | Second: Kite=A; Jam Jar=D"
    assert found.choices
