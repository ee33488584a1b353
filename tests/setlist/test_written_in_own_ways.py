"""Lists that are written, typed or spoken in a way of their own (invented lists, what is expected written first)."""

import pytest
from setlist.reading_texts import read, said

from companion.setlist import LineKind
from companion.setlist.correcting import corrected
from companion.setlist.doubt_answers import answer_to

CASES = {
    "all in capitals, minor keys too": (
        "SET 1\nMOTH PARADE AM\nWEEDS EM\nTIDAL CLOCK BB\nPIER AT 5 AM",
        "First: MOTH PARADE=Am; WEEDS=Em; TIDAL CLOCK=Bb; PIER AT 5 AM",
    ),
    "a point behind each field": (
        "Moth, the Landlord. G. Brushes and a bit of vibes.\nWeeds. F sharp minor. On preset 12.\nTidal Clock. C. Big.",
        "First: Moth, the Landlord=G; Weeds=F#m; Tidal Clock=C",
    ),
    "a typist's points": (
        "1. MOTH PARADE.    G.\n2. WEEDS.    E flat.\n3. DRIVE ON, MRS. TIDE.    C.\n4. PERIWINKLE.    F minor.",
        "First: MOTH PARADE=G; WEEDS=Eb; DRIVE ON, MRS. TIDE=C; PERIWINKLE=Fm",
    ),
    "points that belong to titles": (
        "Pier Head at 5 A.M. / Ab\nKite & Co. / G\nWait... / C\nWeeds / D",
        "First: Pier Head at 5 A.M.=Ab; Kite & Co.=G; Wait...=C; Weeds=D",
    ),
    "a number in a title": ("Moth - C\nNo. 7 Tram - G\nWeeds - D", "First: Moth=C; No. 7 Tram=G; Weeds=D"),
    "numbers with a name": ("No. 1 Moth\nNo. 2 Weeds\nNo. 3 Tidal Clock", "First: Moth; Weeds; Tidal Clock"),
    "a title like a part of a show": (
        "Set 1\n1. Moth (C)\n2. Part-Time Lion (G)\n3. Weeds (D)\nSet 2\n1. Jam Jar (A)",
        "First: Moth=C; Part-Time Lion=G; Weeds=D | Second: Jam Jar=A",
    ),
    "lines of dashes below numbered songs": (
        "1 Moth E\n2 Weeds A\n3 Jam Jar G\n-----\n4 Tidal C\n5 Fog Bell F\n6 Slow Ferry Gm\n-----\n7 Oil D\n8 Kite A",
        "First: Moth=E; Weeds=A; Jam Jar=G | Second: Tidal=C; Fog Bell=F; Slow Ferry=Gm | Third: Oil=D; Kite=A",
    ),
    "a slash behind the number": (
        "1/ Moth / Cm\n2/ Weeds / Bb\n3/ Jam Jar / F / Bo cues",
        "First: Moth=Cm; Weeds=Bb; Jam Jar=F",
    ),
    "a title that ends in Key": (
        "1. Moth   G\n2. Weeds   Em\n3. Jam Jar   A\n4. Coal Door Key E",
        "First: Moth=G; Weeds=Em; Jam Jar=A; Coal Door Key=E",
    ),
    "talk behind a key": (
        "De fiets in G\nZonder jas naar buiten in F\nDansen op klompen maat 46 in A, lange outro\nLaatste pont in Em",
        "First: De fiets=G; Zonder jas naar buiten=F; Dansen op klompen maat 46=A; Laatste pont=Em",
    ),
    "a title like a remark, in syllables": (
        "Limoni - Sol\nTre bugie - Do\nPiano piano, Irma - Mib - solo voce\nUn gelato - Re min\nFuoco - La",
        "First: Limoni=G; Tre bugie=C; Piano piano, Irma=Eb; Un gelato=Dm; Fuoco=A",
    ),
    "a dance and a key in syllables": (
        "Le bal (valse, sol)\nMon vélo (ré)\nSous le néon (la m)\nGinette (fa)",
        "First: Le bal=G; Mon vélo=D; Sous le néon=Am; Ginette=F",
    ),
    "names of columns between slashes": (
        "lead / song / key\nJo / Moth / A\nTam / Weeds / G\nJo / Jam Jar / C\nall / Fog Bell / D",
        "First: Moth=A; Weeds=G; Jam Jar=C; Fog Bell=D",
    ),
    "a key for each singer": (
        "Moth (G)\nWeeds  F  (Cm if Dora sings)\nJam Jar (D if Jo, F if Tam)\nFog Bell (A)\nKite (C)",
        "First: Moth=G; Weeds=F; Jam Jar=D; Fog Bell=A; Kite=C",
    ),
    "a picture behind a key": (
        "Moth (C)\nWeeds (D) 😂\nJam Jar (G)\nFog Bell (Am)",
        "First: Moth=C; Weeds=D; Jam Jar=G; Fog Bell=Am",
    ),
    "a key that goes up later": (
        "Moth Bb\nWeeds G, up to A after the sax\nJam Jar D\nFog Bell Em",
        "First: Moth=Bb; Weeds=G; Jam Jar=D; Fog Bell=Em",
    ),
    "titles between single quotes": (
        "1. 'Moth' in C\n2. 'Glass Staircase' in F\n3. Jam Jar in G",
        "First: Moth=C; Glass Staircase=F; Jam Jar=G",
    ),
    "titles in a sentence, the last two parted by and": (
        "tonight: Moth, Weeds, Jam Jar, Fog Bell, Kite and Red Bench to finish",
        "First: Moth; Weeds; Jam Jar; Fog Bell; Kite; Red Bench",
    ),
    "Dutch flats": ("Moth - F\nWeeds - Bes\nJam Jar - Am", "First: Moth=F; Weeds=Bb; Jam Jar=Am"),
    "a break and what there is to eat": (
        "Set 1\nMoth - G\nWeeds - Em\n\nPaus, korv\n\nSet 2\nJam Jar - C",
        "First: Moth=G; Weeds=Em | Second: Jam Jar=C",
    ),
    "a meal between two blocks": (
        "1 Moth (C)\n2 Weeds (G)\n\nPloughman's supper\n\n3 Tidal (D)\n4 Fog Bell (F)",
        "First: Moth=C; Weeds=G | Second: Tidal=D; Fog Bell=F",
    ),
    "a break in spaced letters": (
        "1. Moth - G\n2. Weeds - Em\n\nI N T E R V A L\n\n1. Jam Jar - C\n2. Kite - D",
        "First: Moth=G; Weeds=Em | Second: Jam Jar=C; Kite=D",
    ),
    "a raffle between two sets of bare titles": (
        "SET 1 - 9 til 9.45\nMoth\nWeeds\nJam Jar\n\nMEAT RAFFLE\n\nSET 2 - 10.15 til 11\nFog Bell\nKite",
        "First: Moth; Weeds; Jam Jar | Second: Fog Bell; Kite",
    ),
    "numbered lines for a voice": (
        "okay so the list for sunday\nnumber one moth in G\nnumber two weeds in B flat\nthat's it thanks bye",
        "First: moth=G; weeds=Bb",
    ),
    "a paragraph": (
        "Hi from the tram. We open with Moth If I Can in D, then Weeds in G and Jam Jar in C. We close with Kite in A.",
        "First: Moth If I Can=D; Weeds=G; Jam Jar=C; Kite=A",
    ),
    "all titles behind a colon, in a message of one line": (
        "Band for new year, Baz's lot. Playing order for the form: Moth, Weeds, Jam Jar, Fog Bell, Kite",
        "First: Moth; Weeds; Jam Jar; Fog Bell; Kite",
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_a_list_in_its_own_way_is_read(name: str) -> None:
    assert said(read(CASES[name][0])) == CASES[name][1]


SERVICES = {
    "roles before a colon, titles that begin with A": (
        "Gathering: A Light in the Vestry (Am)\nPraise: Carry (F#m)\nOffering: Rise (G)\nSending: Table (Dm) Ade leads",
        "First: A Light in the Vestry=Am; Carry=F#m; Rise=G; Table=Dm",
    ),
    "roles before a dash, remarks behind": (
        "• Psalm – Hand – D\n• Offertory – Boats – Cm – choir in parts\n• Communion 2 – Barley – G – chorus twice",
        "First: Hand=D; Boats=Cm; Barley=G",
    ),
    "a rota in a letter": (
        (
            "Dear Friends,\n\nCall to worship - A Light in May - D\nLighting the candle - Kindle Us - Em\n"
            "Dismissal - Boats - C\n\nWith every blessing,\nAlison"
        ),
        "First: A Light in May=D; Kindle Us=Em; Boats=C",
    ),
    "music to walk out to": (
        "Bride in: Lanterns (D)\nSigning: Linen (C)\nOut: Bells for Breda! (A)",
        "First: Lanterns=D; Linen=C; Bells for Breda!=A",
    ),
    "a dance with a hyphen": (
        "1. Circle - The Churn (G)\n2. Strip-the-Hedge - Turf (D)\n3. Waltz - Bridget (A)\n4. Polka - Lantern (D)",
        "First: The Churn=G; Turf=D; Bridget=A; Lantern=D",
    ),
    "a raffle among numbers that go on": (
        "1. Band - Moth (Bb)\n2. Singer - Kelp (F)\n3. Raffle\n4. Singer - Kite (Gm)\n5. Band - Jam (Eb)",
        "First: Moth=Bb; Kelp=F; Kite=Gm; Jam=Eb",
    ),
    "a show with a comic": (
        "1. Band - Moth (Bb)\n2. Comic - no music\n3. Singer (Dot) - Kelp (F)\n4. Singer (Dot) - Kite (Gm)",
        "First: Moth=Bb; Kelp=F; Kite=Gm",
    ),
    "roles in a column": (
        "Entrance  Moth Ankle  D\nPsalm  Pepper Pot  F\nGospel acclamation  Tin Ear  G\nCommunion  Hollow Oak  Em",
        "First: Moth Ankle=D; Pepper Pot=F; Tin Ear=G; Hollow Oak=Em",
    ),
    "an evening by the clock": (
        "8.00  House lights down\n8.02  Moth (E)\n8.06  Compere\n8.11  Weeds (F#m)\n8.20  Raffle\n8.30  Kite (Bb)",
        "First: Moth=E; Weeds=F#m; Kite=Bb",
    ),
    "a numbered line for the guests": (
        "1. Choir: Frost (Em)\n2. Choir: Three Lanterns (G)\n3. All: Ring Out (D)\n4. Mince pies\n5. Choir: Straw (Am)",
        "First: Frost=Em; Three Lanterns=G; Ring Out=D; Straw=Am",
    ),
}


@pytest.mark.parametrize("name", SERVICES)
def test_words_for_a_songs_place_are_no_part_of_its_title(name: str) -> None:
    assert said(read(SERVICES[name][0])) == SERVICES[name][1]


def doubts(text: str) -> list[str]:
    """Return the lines of a text that are in doubt."""
    return [line.text for line in read(text).lines if line.doubts]


DOUBTED = {
    "a minor key in capitals": ("MOTH PARADE EM\nWEEDS C\nTIDAL CLOCK G\nJAM JAR D", ["MOTH PARADE EM"]),
    "a title that stops": (
        "Moth Parade - C\nThe Ghost of the - G\nJam Jar - D\nFog Bell - A",
        ["The Ghost of the - G"],
    ),
    "a small letter in front": (
        "Moth Parade - C\nyes Jam Jar - G\nSlow Ferry - D\nFog Bell - A",
        ["yes Jam Jar - G"],
    ),
    "a bracket in small letters": (
        "112 Pit Parade\n47 Easy Mustard\n203 Harold's Tune (vocal, Cleo)\n8 Sleet Storm\n91 Trombonology",
        ["203 Harold's Tune (vocal, Cleo)"],
    ),
    "two keys for two singers": (
        "Moth (G)\nJam Jar (D if Jo, F if Tam)\nFog Bell (A)\nKite (C)",
        ["Jam Jar (D if Jo, F if Tam)"],
    ),
    "nothing": ("1. Moth Parade - C\n2. Turn It On - G\n3. Jam Jar (Part Two) - D\n4. Fog Bell - A", []),
}


@pytest.mark.parametrize("name", DOUBTED)
def test_a_title_or_key_unlike_the_others_is_in_doubt(name: str) -> None:
    assert doubts(DOUBTED[name][0]) == DOUBTED[name][1]


def test_every_song_heard_in_talk_is_in_doubt() -> None:
    found = read("okay so first one is moth in g then weeds in a minor and we finish on backwards up the hill in e")
    assert said(found) == "First: moth=G; weeds=Am; backwards up the hill=E"
    assert all(line.doubts for line in found.lines if line.took is LineKind.SONG)


CHATS = {
    "talk in front of a title": (
        (
            "[14:02] Lola: early set\n[14:02] Lola: Port F\n[14:03] Lola: Buffet Bossa Dm\n[14:04] Piet: and cap?\n"
            "[14:04] Lola: yes Captain's Nightcap Eb\n[14:05] Lola: Sea Legs A"
        ),
        "Early set: Port=F; Buffet Bossa=Dm; Captain's Nightcap=Eb; Sea Legs=A",
    ),
    "a correction of a key": (
        (
            "[21:14] Tam: friday:\n[21:14] Tam: Ferry A\n[21:15] Tam: Elbow Room C\n[21:15] Tam: Patio Heart G\n"
            "[21:16] Tam: The Day of the Lift Em\n[21:16] Tam: Custard Skies F\n"
            "[21:20] Jo: Elbow Room is D now isn't it\n[21:21] Tam: oh yes sorry, Elbow Room in D"
        ),
        "First: Ferry=A; Elbow Room=D; Patio Heart=G; The Day of the Lift=Em; Custard Skies=F",
    ),
    "as somebody said them": (
        (
            "Reg dear, these are the songs.\n\nfirst they are doing Biscuit Blues, B flat\nthen Ninepence, in G\n"
            "then one called Flannel, D minor\nthen Drizzle in F, Nell counts it"
        ),
        "First: Biscuit Blues=Bb; Ninepence=G; Flannel=Dm; Drizzle=F",
    ),
    "a song that somebody remembers": (
        (
            "[9:02] Baz: Dog Licence E\n[9:02] Baz: Nettles C\n[9:03] Baz: Lock-In G\n[9:15] Kev: No Sally?\n"
            "[9:15] Baz: oh yeah Sally at Sea D, after Nettles"
        ),
        "First: Dog Licence=E; Nettles=C; Sally at Sea=D; Lock-In=G",
    ),
    "words for the order": (
        (
            "Hiya all x set for the do on sat x\nOpening with Sequin Sally in C\nthen Mop Mambo in Am\n"
            "then Dodgem in G\nand closing with Ta-ra, Chuck in C\nany probs give us a bell, Gaynor xx"
        ),
        "First: Sequin Sally=C; Mop Mambo=Am; Dodgem=G; Ta-ra, Chuck=C",
    ),
    "a song if they want more": (
        "Set 2\n1. Moth G\n2. Weeds C\n3. Jam Jar Am\n(if they want more) Kite D",
        "Second: Moth=G; Weeds=C; Jam Jar=Am; Kite=D",
    ),
}


@pytest.mark.parametrize("name", CHATS)
def test_talk_around_a_title_is_no_part_of_it(name: str) -> None:
    assert said(read(CHATS[name][0])) == CHATS[name][1]


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("Set 2\n1. Moth G\n2. Weeds C\n(if they want more) Kite D", "(if they want more) Kite D"),
        ("[9:01] Bo: Moth G\n[9:02] Bo: Weeds C\n[9:03] Bo: yes Kite D", "[9:03] Bo: yes Kite D"),
    ],
)
def test_words_taken_off_a_title_are_asked_and_come_back(text: str, line: str) -> None:
    doubt = next(one for one in read(text).lines if one.text == line).doubts[0]
    assert doubt.question.startswith("Does ")
    assert [(answer.word, len(answer.corrections)) for answer in doubt.answers] == [("no", 0), ("yes", 1)]


def test_numbers_that_begin_again_begin_a_set_in_doubt() -> None:
    found = read("1. Moth G\n2. Weeds C\n3. Jam Jar Am\n4. Kite D\n\n1. Fog Bell E\n2. Slow Ferry A")
    assert said(found) == "First: Moth=G; Weeds=C; Jam Jar=Am; Kite=D | Second: Fog Bell=E; Slow Ferry=A"
    assert [doubt.question for doubt in found.doubts] == ["Read as 6 songs in 2 sets: is that right?"]


def test_a_board_of_titles_keeps_its_head_and_asks_about_a_lone_last_line() -> None:
    found = read("THE ANVIL\nFriday 9pm\n\nMoth\nWeeds\nJam Jar\nKite\nFog Bell\n\nNo dogs on the stage")
    assert said(found) == "First: Moth; Weeds; Jam Jar; Kite; Fog Bell; No dogs on the stage"
    assert [line.text for line in found.lines if line.doubts] == ["No dogs on the stage"]


def test_a_line_that_becomes_a_song_by_an_answer_parts_its_title_from_its_key() -> None:
    found = read("1. Moth G\n2. Weeds C\n   Velvet Anorak (Am) synth bit\n3. Jam Jar D\n4. Kite E\n5. Fog Bell A")
    line = next(one for one in found.lines if "Anorak" in one.text)
    assert line.took is LineKind.NOTE
    answer = answer_to(line.doubts[0], "yes")
    assert answer is not None
    songs = [song for one in corrected(found, [(line.doubts[0], answer)]).show.sets for song in one.songs]
    assert [(song.title, str(song.key), song.notes) for song in songs if "Anorak" in song.title] == [
        ("Velvet Anorak", "Am", "synth bit")
    ]
