"""Sets named by the part of the evening beside which they are played (invented lists)."""

import pytest
from setlist.reading_texts import read, said

from companion.setlist import LineKind
from companion.setlist.list_reading import list_in

SETS = {
    "no empty line, no colon": (
        "Before the meal\nMoth G\nWeeds A\nKite Dm\nAfter the speeches\nTidal C\nFog Bell F\nJam Jar E",
        "Before the meal: Moth=G; Weeds=A; Kite=Dm | After the speeches: Tidal=C; Fog Bell=F; Jam Jar=E",
    ),
    "small letters, as a note has them": (
        "before tea\nMoth   C\nWeeds   F  slow\nKite   Bb\n\nafter tea\nTidal   G\nFog Bell   F\nJam Jar   C",
        "Before tea: Moth=C; Weeds=F; Kite=Bb | After tea: Tidal=G; Fog Bell=F; Jam Jar=C",
    ),
    "German": (
        "zum Sektempfang\nMoth - G\nWeeds - A\nKite - D\nnach dem Essen\nTidal - Em\nFog Bell - C\nJam Jar - F",
        "Zum Sektempfang: Moth=G; Weeds=A; Kite=D | Nach dem Essen: Tidal=Em; Fog Bell=C; Jam Jar=F",
    ),
    "songs behind a colon": (
        "pendant l'apéro: Moth (G), Weeds (Am), Kite (C)\naprès le repas: Tidal (D), Fog Bell (E), Jam Jar (A)",
        "Pendant l'apéro: Moth=G; Weeds=Am; Kite=C | Après le repas: Tidal=D; Fog Bell=E; Jam Jar=A",
    ),
    "a number behind the event": (
        "After round 2 (loud)\nMoth G\nWeeds A\nKite Dm\nAfter round 3\nTidal C\nFog Bell F",
        "After round 2: Moth=G; Weeds=A; Kite=Dm | After round 3: Tidal=C; Fog Bell=F",
    ),
    "titles alone": (
        "During drinks\nMoth\nWeeds\nKite\n\nBetween courses (quiet please)\nTidal\nFog Bell\nJam Jar",
        "During drinks: Moth; Weeds; Kite | Between courses: Tidal; Fog Bell; Jam Jar",
    ),
}


@pytest.mark.parametrize("name", SETS)
def test_a_line_that_names_an_event_beside_it_heads_a_set(name: str) -> None:
    assert said(read(SETS[name][0])) == SETS[name][1]


def test_titles_may_begin_so() -> None:
    found = read(
        "1. After Dinner - G\n2. Before the Sermon - A\n3. Between Rounds - C\n4. After Hours - D\n5. Moth - F"
    )
    assert len(found.show.sets) == 1
    assert len(found.show.sets[0].songs) == 5


@pytest.mark.parametrize(
    ("first", "second"),
    [("Before lunch", "After lunch"), ("Morning (11.00)", "Afternoon (2.30)"), ("Drinks 6pm", "Dancing")],
)
def test_in_a_table_without_empty_rows_such_lines_head_sets(first: str, second: str) -> None:
    rows = f"Fair 12 Dec,,\n{first},,\nMoth,G,\nWeeds,D,organ\nKite,C,\n{second},,\nTidal,E,\nFog Bell,A,\nOwl,D,\n"
    found = list_in(rows.encode(), "list.csv")
    assert [len(one.songs) for one in found.show.sets] == [3, 3]
    assert [one.took for one in found.lines].count(LineKind.SET) == 2


@pytest.mark.parametrize("event", ["HOG ROAST 9:45", "Hexenfeuer 21.45 Uhr", "Sardinhada (21h45)"])
def test_a_line_with_a_time_above_a_heading_has_neither_number_nor_key_and_is_no_song(event: str) -> None:
    found = read(
        f"SET 1 8:00\n01 Moth    G\n02 Weeds   D\n03 Kite    A\n\n{event}\n\nSET 2 10:30\n04 Zinc   F\n05 Fog   C\n"
    )
    assert said(found) == "First: Moth=G; Weeds=D; Kite=A | Second: Zinc=F; Fog=C"
