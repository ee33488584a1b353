"""Rows of songs behind names in any words, two keys on a line, remarks behind titles (invented lists)."""

import io

import openpyxl
import pytest
from setlist.reading_texts import read, said

from companion.setlist.list_reading import list_in

CASES = {
    "rows with names in any words": (
        (
            "Fair at Lower Pond, 13.2.\nStreet: Moth / Weeds / Tidal Clock / Jam Jar\n"
            "Stage: Fog Bell / Kite / Slow Ferry\nMore: Moth\nHats on at one!"
        ),
        "Street: Moth; Weeds; Tidal Clock; Jam Jar | Stage: Fog Bell; Kite; Slow Ferry | More: Moth",
    ),
    "headings that share a word": (
        "eka setti\nmoth Em\nweeds Dm\ntidal clock F\n\ntoka setti\nfog bell Cm\nkite F\njam jar Bb",
        "eka setti: moth=Em; weeds=Dm; tidal clock=F | toka setti: fog bell=Cm; kite=F; jam jar=Bb",
    ),
    "titles without keys that share a word": (
        (
            "Set 1\nMoth in the Lamp - Em\nRunning for the Night Bus\nWeeds of June - Dm\nTidal Clock - F\n"
            "Bus Lane Romance\nFog Bell Hour - Cm\nKite in a Tree - F"
        ),
        (
            "First: Moth in the Lamp=Em; Running for the Night Bus; Weeds of June=Dm; Tidal Clock=F; "
            "Bus Lane Romance; Fog Bell Hour=Cm; Kite in a Tree=F"
        ),
    ),
    "a dash right behind the number": (
        "1ª PARTE\n1- Moth (Sol M)\n2- Weeds (Lá m)\n3- Tidal Clock (Dó M)",
        "First: Moth=G; Weeds=Am; Tidal Clock=C",
    ),
    "a point behind the last song of a row": (
        "Set 1: Moth (C), Weeds (D), Jam Jar (Dm).\n\nSet 2: Kite (Gm), Fog Bell (C).",
        "First: Moth=C; Weeds=D; Jam Jar=Dm | Second: Kite=Gm; Fog Bell=C",
    ),
    "a key between tabs": (
        "C\tMoth Parade at Noon\nC\tTidal Clock One\tlong outro\nAm\tWeeds of the Pond\nBb\tFog Bell\nE\tKite",
        "First: Moth Parade at Noon=C; Tidal Clock One=C; Weeds of the Pond=Am; Fog Bell=Bb; Kite=E",
    ),
    "remarks behind titles with their keys in front": (
        (
            "C Moth Parade clav\nBb Mermaid in the Minibar organ on chorus\n"
            "Am Tidal Clock\nEb Fog Bell\nG Slow Ferry\nD Jam Jar\nE Kite Day\nF Old Pier"
        ),
        (
            "First: Moth Parade=C; Mermaid in the Minibar=Bb; Tidal Clock=Am; Fog Bell=Eb; Slow Ferry=G; "
            "Jam Jar=D; Kite Day=E; Old Pier=F"
        ),
    ),
    "the key of another part": (
        "Moth  Polka  B-Dur\nWeeds  Walzer  As\nTidal Clock  Polka  c-Moll, Trio Es\nFog Bell  Marsch  Es",
        "First: Moth=Bb; Weeds=Ab; Tidal Clock=Cm; Fog Bell=Eb",
    ),
    "a bracket that speaks of last time": (
        "Moth - G (up to A last chorus)\nWeeds - B (same as last year)\nTidal Clock - C",
        "First: Moth=G; Weeds=B; Tidal Clock=C",
    ),
    "a word before the time of a chat": (
        (
            "27.11.2026 klo 18.13 - Rei: Set 1:\nMoth F\nWeeds Db\nTidal Clock Dm\n"
            "27.11.2026 klo 18.15 - Rei: Set 2:\nFog Bell Am\nKite C\nJam Jar D\n27.11.2026 klo 18.41 - Pia: ok!"
        ),
        "First: Moth=F; Weeds=Db; Tidal Clock=Dm | Second: Fog Bell=Am; Kite=C; Jam Jar=D",
    ),
    "a number and its new key in talk": (
        (
            "Ivo Ter, [27.11.2026 14:33]\n1 Moth Em\n2 Weeds C\n3 Tidal Clock Dm\n4 Fog Bell Am\n\n"
            "Ivo Ter, [27.11.2026 14:41]\nmože, 3 u Em\n\nIvo Ter, [27.11.2026 14:42]\n5 Kite F"
        ),
        "First: Moth=Em; Weeds=C; Tidal Clock=Em; Fog Bell=Am; Kite=F",
    ),
    "songs told one after the other": (
        (
            "hey, quick one. we open with Moth Boogie in E like always, then Dial M for Moth (Gm). "
            "third is Tidal Clock, that one's C now. after the speeches it's Fog Bell in F#m and we close on Kite in D."
        ),
        "First: Moth Boogie=E; Dial M for Moth=Gm; Tidal Clock=C; Fog Bell=F#m; Kite=D",
    ),
    "quoted titles in any language": (
        (
            'Kedves Anna!\n\nA vacsora alatt a "Moth a kalapban" lesz az első (C-dúr), majd a "Weeds" (d-moll). '
            'A bulit a "Tidal Clock" nyitja D-dúrban.\n\nÜdv, Feri'
        ),
        "First: Moth a kalapban=C; Weeds=Dm; Tidal Clock=D",
    ),
    "a minor key in two words before a remark": (
        "1. Moth Re m\n2. Weeds La m – entra Jo\n3. Tidal Clock Sol\n4. Fog Bell Fa",
        "First: Moth=Dm; Weeds=Am; Tidal Clock=G; Fog Bell=F",
    ),
    "a table below a head, a remark across its columns": (
        (
            'MV LANTERN BREAM                         PRODUCTION: "POND REVUE"\n\n'
            "CUE   TIME    ITEM              KEY   CLICK   NOTES\n"
            "M1    20:15   Moth Parade       Eb    104     pads\n"
            "M2    20:19   Weeds             F     128     solo 8\n"
            "      20:23   -- the director speaks (3') --\n"
            "M3    20:26   Tidal Clock       Gm    88      safety\n"
            "M4    20:30   Fog Bell          Db    100     follow"
        ),
        "First: Moth Parade=Eb; Weeds=F; Tidal Clock=Gm; Fog Bell=Db",
    ),
    "a column of words called number": (
        (
            "| # | Number | Key | Feel |\n|--:|---|:-:|---|\n| 1 | Moth | Fm | ballad |\n| 2 | Weeds | C | swing |\n"
            "| 3 | Tidal Clock | Gm | waltz |\n| 4 | Fog Bell | D | ballad |"
        ),
        "First: Moth=Fm; Weeds=C; Tidal Clock=Gm; Fog Bell=D",
    ),
    "headings behind their times, the first song at the same time": (
        (
            "Time\tItem\tKey\n19:30\tDINNER SET\t\n19:30\tMoth\tC\n19:35\tWeeds\tBb\n19:40\tSorry (Not Now)\tAm\n"
            "21:30\tDANCE SET\t\n21:30\tTidal Clock\tG\n21:34\tFog Bell\tDm\n21:38\tKite\tA\n"
        ),
        "Dinner set: Moth=C; Weeds=Bb; Sorry (Not Now)=Am | Dance set: Tidal Clock=G; Fog Bell=Dm; Kite=A",
    ),
    "a title that begins as an apology does": (
        "Moth in the Lamp\nWeeds of June\nTidal Clock\nSorry (Not Now)\nKite in a Tree",
        "First: Moth in the Lamp; Weeds of June; Tidal Clock; Sorry (Not Now); Kite in a Tree",
    ),
    "the key of an instrument that sounds another": (
        (
            "Title,Key (alto),Key (concert),Solo\nMoth,Bm,Dm,Jo\nWeeds,Db,E,\n"
            "Tidal Clock,C,Eb,\nFog Bell,D,F,Jo\nKite,G,Bb,\n"
        ),
        "First: Moth=Dm; Weeds=E; Tidal Clock=Eb; Fog Bell=F; Kite=Bb",
    ),
}


@pytest.mark.parametrize(("text", "expected"), CASES.values(), ids=CASES)
def test_such_a_list_is_read_as_meant(text: str, expected: str) -> None:
    assert said(read(text)) == expected


def test_a_second_key_on_a_line_is_in_doubt_unless_the_song_changes_to_it() -> None:
    found = read("Moth - Em - Jo in Dm\nWeeds - C - up to D\nTidal Clock - G\nFog Bell - Am")
    assert [any(doubt.asks_for == "key" for doubt in line.doubts) for line in found.lines] == [
        True,
        False,
        False,
        False,
    ]


def _book(*sheets: tuple[str, list[list[str]]]) -> bytes:
    made = openpyxl.Workbook()
    made.remove(made.worksheets[0])
    for name, rows in sheets:
        sheet = made.create_sheet(name)
        for row in rows:
            sheet.append(row)
    file = io.BytesIO()
    made.save(file)
    return file.getvalue()


SONGS = [["Item", "Key"], ["Moth", "E"], ["Weeds", "Bbm"], ["Tidal Clock", "G"], ["Fog Bell", "D"], ["Kite", "C"]]


def test_a_sheet_about_the_document_is_no_list() -> None:
    about = [["MV Lantern", "Production"], ["Document", "Running order"], ["Revision", "4"], ["Contact", "M. Oak"]]
    found = list_in(_book(("Read me", about), ("Order", SONGS)), "list.xlsx")
    assert said(found) == "Order: Moth=E; Weeds=Bbm; Tidal Clock=G; Fog Bell=D; Kite=C"
    assert {one.reason for one in found.set_aside} == {"of another sheet: Read me"}


def test_headings_in_any_words_stand_over_sets_side_by_side() -> None:
    rows = [["VEČERA", "", "", "PLES", ""], ["Moth", "Bb", "", "Weeds", "Ab"], ["Kite", "Dm", "", "Jam Jar", "Gm"]]
    rows += [["Tidal Clock", "F", "", "Fog Bell", "A"], ["Pier", "G", "", "Slow Ferry", "C"]]
    found = list_in(_book(("Set", rows)), "list.xlsx")
    assert (
        said(found)
        == "Večera: Moth=Bb; Kite=Dm; Tidal Clock=F; Pier=G | Ples: Weeds=Ab; Jam Jar=Gm; Fog Bell=A; Slow Ferry=C"
    )


@pytest.mark.parametrize("same", ["same", "the same", "gleich", "idem"])
def test_a_bracket_that_calls_the_key_the_same_is_no_part_of_the_title(same: str) -> None:
    found = read(f"A (was C) Moth Parade\nG (was Bb) Weeds Again\nD ({same}) Owl Walk\nAm (was Cm) Fog Bell\n")
    assert said(found) == "First: Moth Parade=A; Weeds Again=G; Owl Walk=D; Fog Bell=Am"
