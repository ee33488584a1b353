"""Small words of a sentence in front of titles and behind them are no part of the titles, each with a question."""

import pytest
from setlist.reading_texts import read, said

REST = "Weeds Again - G\nOwl Walk - Em\nLate Tram - D\nFog Bell - F\n"
TITLES = "Weeds Again=G; Owl Walk=Em; Late Tram=D; Fog Bell=F"


@pytest.mark.parametrize(
    "line",
    [
        "we start with Moth Parade, that's in C, shuffle",
        "opener is Moth Parade (C). Keys alone at the top",
        "we open w MOTH PARADE (in C all the way)",
        "wir fangen an mit Moth Parade (C), langsam",
        "on commence par Moth Parade (C), doucement",
        "empezamos con Moth Parade (C), despacio",
        "vi börjar med Moth Parade (C), lugnt",
    ],
)
def test_words_that_say_what_comes_first_are_no_part_of_the_title(line: str) -> None:
    found = read(f"{line}\n{REST}")
    assert said(found).replace("MOTH PARADE", "Moth Parade") == f"First: Moth Parade=C; {TITLES}"
    assert any(doubt.asks_for == "title" for one in found.in_doubt for doubt in one.doubts)


@pytest.mark.parametrize("lead", ["second set starts with", "then second half opens with", "zweites Set beginnt mit"])
def test_words_that_begin_a_set_in_front_of_its_first_title_begin_it(lead: str) -> None:
    found = read(f"{REST}{lead} Moth Parade (C)\nTin Roof - A\n")
    assert said(found) == f"First: {TITLES} | Second: Moth Parade=C; Tin Roof=A"


def test_a_key_that_small_words_announce_is_the_key() -> None:
    assert said(read(f"{REST}Moth Parade thats Am\nTin Roof (E again)\n")) == (
        f"First: {TITLES}; Moth Parade=Am; Tin Roof=E"
    )


@pytest.mark.parametrize("line", ["on the Weathered Bridge (C)", "de Late Parade - C", "and so it Goes (C)"])
def test_a_title_in_small_letters_stays_whole_and_is_asked_about(line: str) -> None:
    found = read(f"{REST}{line}\n")
    assert found.show.sets[0].songs[-1].title == line.split(" (", maxsplit=1)[0].split(" - ", maxsplit=1)[0]
    assert found.in_doubt


@pytest.mark.parametrize(
    "line",
    [
        "zum Auftakt Moth Parade in C, ganz leise",
        "dann gleich hinterher Moth Parade in C",
        "und vor der Pause Moth, Parade in C",
        "en als laatste Moth Parade in C",
        "and then before the break Moth Parade in C",
    ],
)
def test_words_lead_to_a_title_below_a_song_whose_key_is_said(line: str) -> None:
    found = read(f"Weeds Again in G\nOwl Walk in D\nLate Tram in F\n{line}\nFog Bell in A\n")
    assert said(found).replace("Moth, P", "Moth P") == (
        "First: Weeds Again=G; Owl Walk=D; Late Tram=F; Moth Parade=C; Fog Bell=A"
    )
    assert found.in_doubt


def test_words_lead_to_a_title_in_a_chat_and_below_a_remark_on_the_key() -> None:
    chat = (
        "Moth Parade in G",
        "top",
        "moet ik iets meenemen?",
        "nee hoor",
        "Weeds Again in D, jij solo",
        "ok genoteerd",
    )
    more = ("Owl Walk in F", "Late Tram in C", "en als laatste Fog Bell in A", "tot vrijdag")
    lines = [
        f"[28-11-2026 19:0{at}] {'Bo' if text[0].isupper() or 'als' in text else 'Fem'}: {text}"
        for at, text in enumerate((*chat, *more))
    ]
    assert said(read("\n".join(lines))) == "First: Moth Parade=G; Weeds Again=D; Owl Walk=F; Late Tram=C; Fog Bell=A"
    found = read(
        "Weeds Again in G\nOwl Walk in D\nLate Tram in F, sung by Ann\n"
        "and before the break Moth Parade in C\nKettle in E\n"
    )
    assert said(found) == "First: Weeds Again=G; Owl Walk=D; Late Tram=F; Moth Parade=C; Kettle=E"


def test_german_capitals_tell_that_b_is_b_flat() -> None:
    found = read("MOTTE IM HAUS D-MOLL\nDER LETZTE ZUG G\nREGEN E-MOLL\nEIS UND BROT B\nLANGER WEG C\n")
    song = found.show.sets[0].songs[3]
    assert (song.title, str(song.key)) == ("EIS UND BROT", "Bb")
    assert found.lines[3].doubts
