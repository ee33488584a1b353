"""Chats with names alone or a line above them, songs dropped by number, medleys, keys of the stage."""

import pytest
from setlist.reading_texts import read, said

LIST = "1) Moth Parade - C\n2) Weeds Again - G\n3) Owl Walk - A\n4) Late Tram - D\n"
ALL = "First: Moth Parade=C; Weeds Again=G; Owl Walk=A; Late Tram=D"


@pytest.mark.parametrize(
    ("hello", "change", "expected"),
    [
        ("hola!", "y quita la 2, que no sale", "First: Moth Parade=C; Owl Walk=A; Late Tram=D"),
        ("ciao!", "togli la 2", "First: Moth Parade=C; Owl Walk=A; Late Tram=D"),
        ("hi all", "drop 2, nobody knows it", "First: Moth Parade=C; Owl Walk=A; Late Tram=D"),
        ("moin", "Weeds Again spielen wir in A", ALL.replace("Weeds Again=G", "Weeds Again=A")),
        ("salut", "merci", ALL),
    ],
)
def test_a_chat_may_have_names_alone_and_a_list_of_many_lines(hello: str, change: str, expected: str) -> None:
    found = read(f"Zoltan: {hello}\nZoltan: here it is\n{LIST}Ines: ok\nZoltan: {change}\nInes: thanks\n")
    assert said(found) == expected


def test_labels_with_a_colon_are_no_names_of_a_chat() -> None:
    found = read("Opener: Hi Lantern - C\nCloser: OK Weeds - G\nOpener: Owl Walk - A\nCloser: Hello Tram - D\n")
    assert sum(len(one.songs) for one in found.show.sets) == 4


def test_a_chat_may_begin_below_its_name() -> None:
    found = read(
        "group: the band\nOla (18:01): set 1\nMoth Parade C\nWeeds Again G\nOwl Walk A\n"
        "Wim (18:09): set 2\nLate Tram D\nSlow Ferry E\nFog Bell F\nOla (18:10): Late Tram is a bit low for me in D\n"
        "Wim (18:11): ok\n"
    )
    assert said(found).replace("\n", " ").count("=") == 6


def test_a_break_with_its_time_is_no_sender() -> None:
    found = read("Moth Parade C\nDinner (20:15)\nWeeds Again G\nDinner (21:15)\nOwl Walk A\n")
    assert [song.title for one in found.show.sets for song in one.songs] == ["Moth Parade", "Weeds Again", "Owl Walk"]


@pytest.mark.parametrize("head", ["Medley, all in A:", "MEDLEY (no gaps, in A):", "Potpourri (A):"])
def test_the_songs_below_a_medley_are_in_the_key_that_it_names_in_doubt(head: str) -> None:
    found = read(f"Moth Parade (C)\nWeeds Again (G)\n{head}\n   - Owl Walk\n   - Late Tram\nFog Bell (F)\n")
    assert said(found) == "First: Moth Parade=C; Weeds Again=G; Owl Walk=A; Late Tram=A; Fog Bell=F"
    assert found.in_doubt


@pytest.mark.parametrize("form", ["rec {} -> live {}", "orig {} → now {}", "original {}, live {}", "rec. {} > wir {}"])
def test_the_key_of_the_stage_counts_and_not_that_of_the_record(form: str) -> None:
    keys = (("E", "D"), ("A", "G"), ("Bm", "Am"))
    lines = (
        f"{title}   {form.format(*pair)}" for title, pair in zip(("Moth", "Weeds Again", "Owl"), keys, strict=True)
    )
    found = read("\n".join(lines))
    assert said(found) == "First: Moth=D; Weeds Again=G; Owl=Am"


def test_out_in_capitals_among_small_labels_takes_a_song_out() -> None:
    found = read("Opener: Moth Parade - C\nWeeds Again - G\nOUT: Owl Walk - A\nCloser: Late Tram - D\n")
    assert said(found) == "First: Moth Parade=C; Weeds Again=G; Late Tram=D"


@pytest.mark.parametrize(
    "heads", [("1. Tanzrunde (20:30)", "2. Tanzrunde (22:30 Uhr)"), ("Tanzrunde 1 (ab 20:30)", "Tanzrunde 2 (22.30)")]
)
def test_a_word_that_counts_up_heads_a_set_with_its_time_too(heads: tuple[str, str]) -> None:
    found = read(f"{heads[0]}\nMoth Parade - C\nWeeds Again - G\n\n{heads[1]}\nOwl Walk - A\nLate Tram - D\n")
    assert said(found) == "First: Moth Parade=C; Weeds Again=G | Second: Owl Walk=A; Late Tram=D"


def test_a_number_before_a_dash_and_a_key_is_a_title() -> None:
    assert said(read("Moth Parade - C\n83 - Em\nOwl Walk - A\n")) == "First: Moth Parade=C; 83=Em; Owl Walk=A"


def test_next_is_leads_to_a_title() -> None:
    found = read(
        "first one is Moth Parade in G\nnext is Weeds Again in D\nnext up is Owl Walk in E minor\nand last is Kite in C"
    )
    assert said(found) == "First: Moth Parade=G; Weeds Again=D; Owl Walk=Em; Kite=C"


@pytest.mark.parametrize("front", ["Sat @ the Barn ->", "tonights order,,", "Friday list =>"])
def test_words_about_the_list_in_front_of_its_row_are_no_title(front: str) -> None:
    found = read(f"{front} Moth Parade (C) / Weeds Again (G) / Owl Walk (A) / Late Tram (D) / Kite (E) / Oars (F)\n")
    assert said(found) == "First: Moth Parade=C; Weeds Again=G; Owl Walk=A; Late Tram=D; Kite=E; Oars=F"


def test_a_key_alone_before_the_title_is_the_key_in_doubt() -> None:
    found = read("1) A - Moth Parade\n2) Weeds Again (G)\n3) Owl Walk - Gm\n4) Em - Late Tram\n5) Kite in F\n")
    assert said(found) == "First: Moth Parade=A; Weeds Again=G; Owl Walk=Gm; Late Tram=Em; Kite=F"
    assert found.in_doubt
