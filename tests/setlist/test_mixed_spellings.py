"""Lists that write numbers, singers, keys and senders in more than one way (invented)."""

import pytest

from companion.setlist.list_reading import list_in
from tests.setlist.test_song_or_not import said

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
}


@pytest.mark.parametrize("name", CASES)
def test_a_list_is_read_through_its_spellings(name: str) -> None:
    text, expected = CASES[name]
    assert said(list_in(text.encode(), "list.txt")) == expected
