"""Names of singers before titles, alone and together, in only a part of the lines."""

import pytest
from setlist.reading_texts import read, said

READ = "First: Moth Parade=C; Weeds Again=G; Owl Walk=Em; Late Tram=A; Fog Bell=D; Wet Paint=F; Kettle Song=Bm"


@pytest.mark.parametrize("both", ["Pia+Olaf", "Pia & Olaf", "Pia/Olaf"])
def test_singers_stand_before_some_titles_alone_or_together(both: str) -> None:
    found = read(
        f"Pia: Moth Parade (C)\nWeeds Again (G)\nPia: Owl Walk (Em)\nLate Tram (A)\n{both}: Fog Bell (D)\n"
        "Wet Paint (F)\nOlaf: Kettle Song (Bm)\n"
    )
    assert said(found) == READ
    assert found.show.sets[0].songs[4].notes == both


def test_different_words_before_titles_are_no_singers() -> None:
    found = read(
        "Hush: The Moth (C)\nWeeds Again (G)\nOwl Walk (Em)\nNight: A Tram (A)\n"
        "Fog: Two (D)\nWet Paint (F)\nLate Tram (A)\nKettle Song (Bm)\n"
    )
    assert found.show.sets[0].songs[0].title == "Hush: The Moth"
