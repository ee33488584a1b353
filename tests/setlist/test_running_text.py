"""Songs in sentences and whole evenings in one line: titles, keys and sets come apart, and are doubted (invented)."""

import pytest
from setlist.reading_texts import read, said

CASES = {
    "sentences with quoted titles and two sets": (
        (
            'Dear Ann,\n\nWe open with "Moth in the Lamp" in G, which is easy. Then comes "Weeds" (D minor) and '
            "after it "
            '"Tidal Clock" in E flat, and please wait for the drums there. We close the first half with "Fog '
            'Bell" in F.'
            '\n\nAfter the interval we begin with "Kite" in B minor, then "Walk On, Captain" in C.\n\n'
            'Should they want an encore, it will be "Jam Jar" in F.\n\nYours, Edmund'
        ),
        (
            "First: Moth in the Lamp=G; Weeds=Dm; Tidal Clock=Eb; Fog Bell=F | Second: Kite=Bm; Walk On, Captain=C | "
            "Encore: Jam Jar=F"
        ),
    ),
    "sentences without quotation marks": (
        (
            "We open with Moth Parade in G, straight into Weeds in A minor, then Tidal Clock (C) which is slow. "
            "Second set kicks off with Jam Jar (E), followed by Kite (A), and we finish on Gravel Road in G - "
            "big ending. "
            "If they want more we'll do Long Way Down in E.\nLoad in 5, food at 6."
        ),
        (
            "First: Moth Parade=G; Weeds=Am; Tidal Clock=C | Second: Jam Jar=E; Kite=A; Gravel Road=G | "
            "Encore: Long Way Down=E"
        ),
    ),
    "numbers in words": (
        (
            "Right so we start with Moth Parade in G, then we go into Weeds, that's in D. Number three is Tidal Clock "
            "in E. Then Fog Bell in C and you do the intro on that one. And we finish with Jam Jar in D."
        ),
        "First: Moth Parade=G; Weeds=D; Tidal Clock=E; Fog Bell=C; Jam Jar=D",
    ),
    "all in small letters": (
        (
            'ok mo here, list for sunday. we open w "moth parade" in c then "weeds" in g. number 3 is "tidal '
            'clock" in d, '
            'number 4 "fog bell" in f u play the intro. "jam jar" is bb and we close w "kite" in g. food is free'
        ),
        "First: moth parade=C; weeds=G; tidal clock=D; fog bell=F; jam jar=Bb; kite=G",
    ),
    "sets in one line in small letters": (
        (
            "set 1 is moth parade g, weeds am, tidal clock c. set 2 is jam jar e, kite a, plum duff bm. encore "
            "is fog bell e"
        ),
        (
            "First: moth parade=G; weeds=Am; tidal clock=C | Second: jam jar=E; kite=A; plum duff=Bm | "
            "Encore: fog bell=E"
        ),
    ),
    "words in front of a row of songs": (
        (
            "Fri list - first half: Moth Parade (G) / Weeds (Am) / Not for Nora (C, piano intro)\n"
            "second half: Jam Jar (E) / Last One Home (D, segue) / Kite (A)\n\nAny questions ring me. Len"
        ),
        "First: Moth Parade=G; Weeds=Am; Not for Nora=C | Second: Jam Jar=E; Last One Home=D; Kite=A",
    ),
    "points between songs": (
        "first half. Moth Parade G. Weeds Am. Tidal Clock C.\n2nd half. Jam Jar E. Kite A. Plum Duff Bm.",
        "First: Moth Parade=G; Weeds=Am; Tidal Clock=C | Second: Jam Jar=E; Kite=A; Plum Duff=Bm",
    ),
    "a dash before each key, a word behind one": (
        "Moth Parade – Em, Weeds – G, Tidal Clock – C (slow), Fog Bell – D, Kite – G",
        "First: Moth Parade=Em; Weeds=G; Tidal Clock=C; Fog Bell=D; Kite=G",
    ),
    "parts of the evening before a colon": (
        (
            "Dear all,\nFor the ceremony: Moth Parade (D), Weeds (B flat). During drinks: Fog Bell, Jam Jar and "
            "Kite (all "
            "in C).\n\nAfter dinner, for dancing: Plum Duff (E), Gravel Road (A), and The Long Way (Bm) - you "
            "start there."
        ),
        (
            "Ceremony: Moth Parade=D; Weeds=Bb | During drinks: Fog Bell=C; Jam Jar=C; Kite=C | "
            "After dinner, for dancing: Plum Duff=E; Gravel Road=A; The Long Way=Bm"
        ),
    ),
    "a break in capitals inside the line": (
        "Moth Parade (G), Weeds (Am), Tidal Clock (C) INTERVAL Fog Bell (D), Jam Jar (E) ENCORE Kite (E)",
        "First: Moth Parade=G; Weeds=Am; Tidal Clock=C | Second: Fog Bell=D; Jam Jar=E | Encore: Kite=E",
    ),
    "titles alone in a message": (
        "Hiya, set for Thursday: Moth Parade, Weeds, Mr Pomfrey Waits, Kite, Jam Jar. No drums (just cajon). Ta! Bx",
        "First: Moth Parade; Weeds; Mr Pomfrey Waits; Kite; Jam Jar",
    ),
    "titles alone in sets": (
        (
            "Hi Jen, first half: Moth Parade, Weeds, Fog Bell and Bring the Bins In. Second half: Jam Jar, Kite, Plum "
            "Duff. Encore: Long Way Down. See you there!"
        ),
        (
            "First: Moth Parade; Weeds; Fog Bell; Bring the Bins In | Second: Jam Jar; Kite; Plum Duff | "
            "Encore: Long Way Down"
        ),
    ),
    "titles alone with arrows": (
        "Set for Saturday: Moth Parade > Weeds > Tidal Clock > Fog Bell > Jam Jar > Kite. All usual keys.",
        "First: Moth Parade; Weeds; Tidal Clock; Fog Bell; Jam Jar; Kite",
    ),
    "words that lead to titles, line by line": (
        (
            "opening w/ moth parade in A\nthen weeds (D)\ntidal clock - G\nslow one: fog bell - F\njam jar Em\n"
            "then straight into kite C\nthen back up, hay bale D\nlast one is off to bed A big ending, 4 times round"
        ),
        (
            "First: moth parade=A; weeds=D; tidal clock=G; fog bell=F; jam jar=Em; kite=C; then back up, hay bale=D; "
            "off to bed=A"
        ),
    ),
    "numbers inside the lines": (
        (
            "Friday: 1. Moth Parade (G) 2. Weeds (Am) 3. Tidal Clock (C) 4. Fog Bell (D)\nbreak\n"
            "5. Jam Jar (E) 6. Kite (A) 7. Plum Duff (Bm)"
        ),
        "First: Moth Parade=G; Weeds=Am; Tidal Clock=C; Fog Bell=D | Second: Jam Jar=E; Kite=A; Plum Duff=Bm",
    ),
    "in German": (
        (
            'Hallo Kat, wir fangen an mit "Regen" in G-Dur, dann kommt "Keller" (a-Moll) und danach "Koffer" in '
            "Es. Nach "
            'der Pause geht\'s weiter mit "Laterne" in F. Als Zugabe "Gute Nacht" in C.'
        ),
        "First: Regen=G; Keller=Am; Koffer=Eb | Second: Laterne=F | Encore: Gute Nacht=C",
    ),
    "in French": (
        (
            "On commence par Le chat du voisin en Sol, puis Mobylette en la mineur, ensuite Trois valises (Ré). "
            "Après la "
            "pause, on enchaîne avec Place du marché en Do. Rappel : Bonne nuit Simone (Do)."
        ),
        (
            "First: Le chat du voisin=G; Mobylette=Am; Trois valises=D | Second: Place du marché=C | "
            "Encore: Bonne nuit Simone=C"
        ),
    ),
    "in Italian": (
        (
            "Ciao, apriamo con Il gatto del vicino in sol, poi Tre valigie in la minore e Piazza grande in do. "
            "Dopo la "
            "pausa ripartiamo con Ultimo tram (re), segue Vento di mare (fa). Bis: Buonanotte Simona in do."
        ),
        (
            "First: Il gatto del vicino=G; Tre valigie=Am; Piazza grande=C | Second: Ultimo tram=D; Vento di "
            "mare=F | "
            "Encore: Buonanotte Simona=C"
        ),
    ),
    "in Swedish": (
        (
            "Vi öppnar med Månsken över macken i G, sen kommer Tunga stövlar i Am och därefter Söndagsbilen i D. "
            "Efter "
            "pausen: Sista bussen (E), Kaffe på bit (A) och så avslutar vi med God natt, Gunilla i C."
        ),
        (
            "First: Månsken över macken=G; Tunga stövlar=Am; Söndagsbilen=D | "
            "Efter pausen: Sista bussen=E; Kaffe på bit=A; God natt, Gunilla=C"
        ),
    ),
}


@pytest.mark.parametrize(("text", "expected"), CASES.values(), ids=CASES)
def test_songs_in_running_text_are_read_as_meant(text: str, expected: str) -> None:
    assert said(read(text)) == expected


def test_what_a_sentence_says_of_a_song_is_its_note() -> None:
    first, *_, last = read(CASES["sentences without quotation marks"][0]).show.sets[0].songs
    assert (first.notes, last.notes) == ("straight into", "which is slow")


def test_a_list_out_of_sentences_is_doubted_as_a_whole() -> None:
    doubts = read(CASES["in German"][0]).doubts
    assert [doubt.says for doubt in doubts] == ["titles, keys and sets are read out of sentences"]


def test_a_plain_row_of_songs_is_not_doubted() -> None:
    found = read("Moth Parade (Em), Weeds (G), Tidal Clock (C)\nEncore: Kite (A), Jam Jar (D)")
    assert not found.doubts
    assert not found.in_doubt


@pytest.mark.parametrize(
    "text",
    [
        "Moth (C) - trio in F\nWeeds (G)\nKite (A)\nJam Jar (D)",  # a part of the song above
        "Moth - orig G, we do A\nWeeds - orig C, we do D\nKite - orig E, we do F",
    ],
)
def test_a_line_about_one_song_stays_one(text: str) -> None:
    assert next(song.title for song in read(text).show.sets[0].songs) == "Moth"
    assert len(read(text).titles) == len([line for line in text.split("\n") if line[0].isupper()])


@pytest.mark.parametrize(
    "lead",
    ["hey its tash, thurs set is", "the list for friday is", "also die setliste ist", "ciao, la lista per sabato è"],
)
def test_words_that_say_what_the_list_is_lead_to_its_titles(lead: str) -> None:
    found = read(f"{lead} wattle street, dog eared, tram stop, bin night, hydrangea. soundcheck 6, bring a stool\n")
    assert found.titles == ["wattle street", "dog eared", "tram stop", "bin night", "hydrangea"]
    assert found.doubts


def test_a_row_that_leaves_several_keys_out_parts_its_songs_at_every_comma() -> None:
    row = "Ballroom G, The Union C, Turf Smoke, Caravan D, Sergeant A, Rosary, Airport Waltz G, Tractor E, Half Door A"
    found = read(f"{row}\n")
    assert len(found.titles) == 9
    assert "Turf Smoke" in found.titles
    assert all(line.doubts for line in found.lines if line.song)


def test_one_comma_in_a_row_belongs_to_the_title_in_doubt() -> None:
    found = read("Ballroom G, The Union C, Hey, Marigold D, Sergeant A, Airport Waltz G, Tractor E\n")
    assert "Hey, Marigold" in found.titles


def test_a_row_of_titles_of_which_few_have_a_key_is_parted_at_its_sign() -> None:
    row = "Set for Sat: Copper Kettle / Grey Mare / The Lamp (Em) / Salt on the Stairs (keys solo) / Old, Old Coat"
    found = read(f"{row}. And if they want more: Bus Stop Queen. Tilda\n")
    assert said(found) == (
        "First: Copper Kettle; Grey Mare; The Lamp=Em; Salt on the Stairs; Old, Old Coat | Encore: Bus Stop Queen"
    )
    assert found.doubts


def test_a_row_in_small_letters_keeps_what_stands_behind_its_keys() -> None:
    row = "hatt på hylla / ugle i mosen (H) / brun ost (Em) / onkel i båt (A) orgel! / regn (C), rolig / is i magen"
    found = read(f"spilleliste:\n\n{row}\n\ningen pause\n")
    assert said(found) == "First: hatt på hylla; ugle i mosen=B; brun ost=Em; onkel i båt=A; regn=C; is i magen"


def test_names_between_slashes_beside_numbered_songs_are_no_row() -> None:
    songs = "\n".join(f"{number}. Moth {number} Parade (G)" for number in range(1, 8))
    assert len(read(f"Line-up: guitar / bass / drums / keys / two vox\n{songs}\n").titles) == 7


def test_words_that_name_the_list_and_an_exclamation_lead_to_a_row() -> None:
    found = read(
        "fri list!!! copper coin (D) | salt & soda | ladder man (Am) quiet start | the wrong biscuit | hatstand\n"
    )
    assert said(found) == "First: copper coin=D; salt & soda; ladder man=Am; the wrong biscuit; hatstand"


@pytest.mark.parametrize("more", ["Falls noch Zeit ist", "If there's time", "mocht er nog tijd zijn"])
def test_a_condition_behind_a_row_or_alone_holds_its_song(more: str) -> None:
    row = "Turmuhr / Honighans (D) / Neun Nelken / Schirm (Em) / Braten / Heller"
    assert said(read(f"Liste: {row}. {more}: Gute Nacht, Gretel (G)\n")).endswith("=G")
    found = read(f"1. Turmuhr - D\n2. Honighans - C\n3. Neun Nelken - F\n\n{more}: Braten - G\n")
    assert found.titles == ["Turmuhr", "Honighans", "Neun Nelken", "Braten"]
    assert len(found.show.sets) == 2


def test_talk_that_names_songs_which_the_list_has_with_numbers_adds_none() -> None:
    talk = "so friday... opener is Battery Hen in E, then Mouth Full of Gravel also E, then Petrol Kite (Am)"
    found = read(f"{talk}\n\n1. Battery Hen E\n2. Mouth Full Of Gravel E\n3. Petrol Kite Am\n4. Sick Note D\n")
    assert found.titles == ["Battery Hen", "Mouth Full Of Gravel", "Petrol Kite", "Sick Note"]
