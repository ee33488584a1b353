"""Lists that write numbers, singers, keys and senders in more than one way (invented)."""

import pytest
from setlist.test_song_or_not import said

from companion.setlist.list_reading import list_in

CASES = {
    "bare numbers, some of them struck out": (
        (
            "1 Moth Parade D\n2 Weeds G\n~~3 Fox A~~\n   4 Tidal Clock Em\n5 Fog Bell C\n\ntune here, then go on\n\n"
            "8 Jam Jar F\n9 Salt Club Bm"
        ),
        "First: Moth Parade=D; Weeds=G; Tidal Clock=Em; Fog Bell=C; Jam Jar=F; Salt Club=Bm",
    ),
    "an arrow from a struck title to its replacement": (
        "1. Moth Parade D\n2. ~~Weeds G~~ -> Tidal Clock F\n3. Fog Bell Em\n4. ~~Old Fox~~ → Jam Jar C",
        "First: Moth Parade=D; Tidal Clock=F; Fog Bell=Em; Jam Jar=C",
    ),
    "a sender's line that begins with the day": (
        (
            "Sat 9:02 AM Marla\nSET 1\nMoth Parade - G\nWeeds key of D\nSat 9:10 AM Marla\nSET 2\nTidal Clock A\n"
            "Sat 9:20 AM Marla\nFog Bell Bm"
        ),
        "First: Moth Parade=G; Weeds=D | Second: Tidal Clock=A; Fog Bell=Bm",
    ),
    "a sender's line in Danish": (
        "lør 19:02 Mads\nSÆT 1\nMoth Parade G\nWeeds D\nsøn 08:15 Mads\nSÆT 2\nTidal Clock A\nFog Bell E",
        "First: Moth Parade=G; Weeds=D | Second: Tidal Clock=A; Fog Bell=E",
    ),
    "an arrow that points back at the song": (
        "Moth Parade G\nWeeds Em <-- organ, slow\nTidal Clock C\nFog Bell A ← false end",
        "First: Moth Parade=G; Weeds=Em [organ, slow]; Tidal Clock=C; Fog Bell=A [false end]",
    ),
    "singers before a colon and before a dash": (
        (
            "DEE: Moth Parade - G\nRAY : Weeds - C\nDEE: Tidal Clock -F\nBOTH - Fog Bell D - brass\nRAY: Jam Jar E\n"
            "BOTH: Salt Club - Am\nRAY: Tin Roof A\nDEE: Last Ferry - Bb"
        ),
        (
            "First: Moth Parade=G [DEE]; Weeds=C [RAY]; Tidal Clock=F [DEE]; Fog Bell=D [BOTH; brass]; "
            "Jam Jar=E [RAY]; Salt Club=Am [BOTH]; Tin Roof=A [RAY]; Last Ferry=Bb [DEE]"
        ),
    ),
    "one who sings a few of many songs": (
        (
            "- Moth Parade, Em\n- Ida: Weeds G\n- Tidal Clock C\n- Ida: Fog Bell, Dm\n- Jam Jar F\n- Salt Club A\n"
            "- Ida: Tin Roof D\n- Last Ferry G\n- Old Fox C"
        ),
        (
            "First: Moth Parade=Em; Weeds=G [Ida]; Tidal Clock=C; Fog Bell=Dm [Ida]; Jam Jar=F; Salt Club=A; "
            "Tin Roof=D [Ida]; Last Ferry=G; Old Fox=C"
        ),
    ),
    "keys in several spellings": (
        (
            "Moth Parade - E\nWeeds! - G?\ntidal clock Am\nFog Bell..C?\nJam Jar - Bm ?\nSalt Club, E - no keys yet\n"
            "Tin Roof G\nLast Ferry - D\nOld Fox - A\nNight Bus - F"
        ),
        (
            "First: Moth Parade=E; Weeds!=G [G?]; tidal clock=Am; Fog Bell=C [C?]; Jam Jar=Bm [Bm?]; "
            "Salt Club=E [no keys yet]; Tin Roof=G; Last Ferry=D; Old Fox=A; Night Bus=F"
        ),
    ),
    "a break between dashes with words": (
        (
            "G - Moth Parade\nA - Weeds\nD -Tidal Clock\n  --break, pass the hat--\nG Fog Bell\n"
            "Em - Jam Jar   no chop, just hold\nC -Salt Club"
        ),
        (
            "First: Moth Parade=G; Weeds=A; Tidal Clock=D | Second: Fog Bell=G; Jam Jar=Em [no chop, just hold]; "
            "Salt Club=C"
        ),
    ),
    "a break in equal signs": (
        "Moth Parade G\nWeeds Dm\n==PAUSE==\nTidal Clock A\nFog Bell C",
        "First: Moth Parade=G; Weeds=Dm | Second: Tidal Clock=A; Fog Bell=C",
    ),
    "who does what, in a bracket": (
        "G - Moth Parade\nA - Weeds (Ed hollers)\nD - Tidal Clock\nC - Fog Bell\nE - Jam Jar (Part Two)",
        "First: Moth Parade=G; Weeds=A [Ed hollers]; Tidal Clock=D; Fog Bell=C; Jam Jar (Part Two)=E",
    ),
    "a head with a day and a length above titles alone": (
        "TIN LUNG 14/2 the lower cellar\n25 min dont talk\n\nrat parade\nweeds\nKEEP OUT\ntidal clock\nlast tram",
        "First: rat parade; weeds; KEEP OUT; tidal clock; last tram",
    ),
    "minutes below numbered songs": (
        "1 Moth Parade G\n2 Weeds D\n3 Tidal Clock C\n4 Fog Bell F\n\n35 mins. No encore.",
        "First: Moth Parade=G; Weeds=D; Tidal Clock=C; Fog Bell=F",
    ),
    "two times in the heading of a line of songs": (
        (
            "Ceremony\nMoth Parade - D\nWeeds - G\n\nCanapés, 3.30 to 4.30\nTidal Clock F , Fog Bell C , Jam Jar Bb\n\n"
            "EVENING 9pm\nSalt Club E\nTin Roof A, everybody up\nLast Ferry D\nOld Fox Em"
        ),
        (
            "Ceremony: Moth Parade=D; Weeds=G | Canapés: Tidal Clock=F; Fog Bell=C; Jam Jar=Bb | "
            "Evening: Salt Club=E; Tin Roof=A [everybody up]; Last Ferry=D; Old Fox=Em"
        ),
    ),
    "an arrow back with talk in small letters": (
        (
            "Moth Parade key of A\nWeeds D\nTidal Clock key of G\n"
            "Fog Bell key of D <-- false ending dont get caught again\nJam Jar F"
        ),
        "First: Moth Parade=A; Weeds=D; Tidal Clock=G; Fog Bell=D [false ending dont get caught again]; Jam Jar=F",
    ),
    "a row of songs between slashes, and a title that begins as talk does": (
        (
            "Arrivals, 2pm - 2.30pm\nMoth Parade D / Weeds and Salt G / Garden Hour A\n\nDrinks, 4 to 5.30\n"
            "Tidal Clock F, Fog Bell C, Jam Jar Bb\n\nDancing from 8.15pm\n"
            "First Light E (slow)\nTin Roof D\nOld Fox Em\nSalt Club C\nHat Trick Dm"
        ),
        (
            "Arrivals: Moth Parade=D; Weeds and Salt=G; Garden Hour=A | Drinks: Tidal Clock=F; Fog Bell=C; Jam Jar=Bb"
            " | Dancing: First Light=E [slow]; Tin Roof=D; Old Fox=Em; Salt Club=C; Hat Trick=Dm"
        ),
    ),
    "what the names of notes mean": (
        (
            "[28.11.26, 23:05] Ida: 1 Moth Parade (Am)\n2 Weeds (H)\n3 Tidal Clock (B)\n4 Fog Bell (C)\n"
            "[28.11.26, 23:12] Ida: H ist wirklich H also englisch B, und B ist Bb"
        ),
        "First: Moth Parade=Am; Weeds=B; Tidal Clock=Bb; Fog Bell=C",
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_a_list_is_read_through_its_spellings(name: str) -> None:
    text, expected = CASES[name]
    assert said(list_in(text.encode(), "list.txt")) == expected
