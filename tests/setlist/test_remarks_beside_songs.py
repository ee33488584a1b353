"""Remarks of the leader between and below the songs are no songs: food, fuses, no encore, goodbyes."""

import pytest
from setlist.reading_texts import read, said

KEYED = "Postbox Tango (A)\nNine Wet Umbrellas (Em)\nHarbour Lamps (G)\nOld Canal Road (Dm)\nSlow Ferry (C)"
TITLES = ["Postbox Tango", "Nine Wet Umbrellas", "Harbour Lamps", "Old Canal Road", "Slow Ferry"]
BOXES = "\n".join(f"[ ] {line}" for line in KEYED.split("\n"))
NUMBERS = "\n".join(f"{at} {line}" for at, line in enumerate(KEYED.split("\n"), start=1))


@pytest.mark.parametrize(
    "remark", ["- remember spare fuses", "- Jo walks in at 8.15, be playing by then", "- Black shirts please, no jeans"]
)
def test_a_line_with_another_bullet_and_no_key_is_no_song_but_is_asked_about(remark: str) -> None:
    found = read(f"Songs for Friday\n\n{BOXES}\n\n{remark}")
    assert found.titles == TITLES
    assert [doubt.question for line in found.lines for doubt in line.doubts] == [f"Is {remark[2:]!r} a song?"]


def test_a_time_that_answers_between_numbered_songs_is_no_song() -> None:
    songs = [f"18:0{at} Ros: {line}" for at, line in enumerate(NUMBERS.split("\n"))]
    songs.insert(4, "18:09 Kit: what time is load in\n18:09 Ros: 3. and bring your own stand Kit")
    assert read("\n".join(songs)).titles == TITLES


@pytest.mark.parametrize(
    "goodbye",
    [
        "A samedi ! Loïc",
        "Bis Sonntag! Kuchen gibts gratis. Horst",
        "19 uhr da sein. tschüss jens",
        "Tot zaterdag, Bram",
        "Nos vemos el sábado!",
        "Vi ses, Ola",
    ],
)
def test_a_goodbye_in_any_language_is_no_song(goodbye: str) -> None:
    assert read(f"{KEYED}\n\n{goodbye}").titles == TITLES
    assert read(f"{NUMBERS}\n{goodbye}").titles == TITLES


@pytest.mark.parametrize("title", ["Ciao Bella", "A Samedi Soir", "Bis Montag Früh", "Salut les Loups"])
def test_a_title_that_begins_as_a_goodbye_stays_a_song(title: str) -> None:
    assert read(f"{title} (D)\n{KEYED}").titles == [title, *TITLES]
    assert read("\n".join([*TITLES[:3], title, *TITLES[3:]])).titles == [*TITLES[:3], title, *TITLES[3:]]


@pytest.mark.parametrize(
    "last", ["its just the one set. no encore we are not that band", "we dont do an encore we just go straight home"]
)
def test_a_last_line_apart_that_is_longer_than_any_title_is_asked_about(last: str) -> None:
    found = read(f"moth season\nunder the viaduct\npaper lungs\nsaltmarsh\na small parade\nwool\n\n{last}")
    assert len(found.titles) == 6
    assert [doubt.question for line in found.lines for doubt in line.doubts] == [f"Is {last!r} a song?"]


@pytest.mark.parametrize(
    "between", ["dann Pause 20 min, dann", "then a break 20 min, then", "puis pause, ensuite :", "luego pausa 15 min"]
)
def test_a_break_between_words_for_then_parts_the_sets(between: str) -> None:
    found = read(f"{KEYED}\n{between}\nTram Home (F)\nGasworks Corner (Bb)\nKettle Blues (E)")
    assert [len(one.songs) for one in found.show.sets] == [5, 3]


@pytest.mark.parametrize(
    "line",
    [
        "Moth Season, key of B flat (this is the special one, play it gently as Ron reads a poem over it)",
        "Moth Season in B flat (the last one before the food comes, so do not hurry it)",
    ],
)
def test_a_key_before_a_long_bracket_makes_no_talk_of_a_song(line: str) -> None:
    songs = "Postbox Tango, key of A\nNine Umbrellas, key of E\nHarbour Lamps, key of G\nSlow Ferry, key of C"
    assert "Moth Season=Bb" in said(read(f"{songs}\n{line}"))


def test_a_small_list_takes_the_song_that_somebody_wants() -> None:
    songs = "mirror ball - e\nsoup - g\nleft luggage - d\nbig blue bucket - am\nnans advice - c"
    found = read(f"{songs}\npete wants to do gasket aswell, in e, put it last")
    assert said(found).endswith("nans advice=C; gasket=E")
    assert sum(len(line.doubts) for line in found.lines) == 1
