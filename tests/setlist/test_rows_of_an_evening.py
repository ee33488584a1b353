"""Rows that are no songs, sets named in other ways than by a heading, and several songs on a line (invented lists)."""

from email.message import EmailMessage

import pytest

from companion.setlist import LineKind, SetList
from companion.setlist.list_reading import list_in
from companion.setlist.model import TextSpan
from companion.setlist.parsing.understand import take_in
from companion.setlist.readers.pdf import rows_of
from companion.setlist.readers.printed_lines import PrintedLine


def read(text: str, name: str = "list.txt") -> SetList:
    return list_in(text.encode(), name)


def said(found: SetList) -> str:
    """Return each set's name and its songs: First: Moth=C; Weeds | Second: Tidal=G."""
    return " | ".join(
        f"{one.name}: " + "; ".join(f"{song.title}={song.key}" if song.key else song.title for song in one.songs)
        for one in found.show.sets
    )


CASES = {
    "sets named by the numbers of their songs": (
        (
            "First set 1-2, second set 3-5\n\n1. Moth Parade (C)\n2. Weeds (G)\n3. Tidal Clock (D)\n"
            "4. Fog Bell (A)\n5. Jam Jar (E)"
        ),
        "First: Moth Parade=C; Weeds=G | Second: Tidal Clock=D; Fog Bell=A; Jam Jar=E",
    ),
    "numbers alone above each set": (
        "THE OLD FORGE\n\n1.\nmoth parade A\nweeds D\ntidal clock G\n\n2.\nfog bell Em\njam jar A\nslow ferry D",
        "First: moth parade=A; weeds=D; tidal clock=G | Second: fog bell=Em; jam jar=A; slow ferry=D",
    ),
    "arrows between songs with keys": (
        "Set 1\nMoth Parade (C) > Weeds (G) > Tidal Clock (D)\nFog Bell (A) -> Jam Jar (E)",
        "First: Moth Parade=C; Weeds=G; Tidal Clock=D; Fog Bell=A; Jam Jar=E",
    ),
    "commas between songs with keys": (
        "Gather: Moth Parade (D), Weeds (G)\nTalk: Tidal Clock (Em)\nClose: Fog Bell (A), Jam Jar (D)",
        "First: Moth Parade=D; Weeds=G; Tidal Clock=Em; Fog Bell=A; Jam Jar=D",
    ),
    "times of an evening": (
        (
            "14:00 Ceremony\n  Moth Parade (F#m)\n  Weeds (F)\n15:00 Photos\n15:30 Drinks reception\n"
            "  Tidal Clock (Em)\n  Fog Bell (D)\n17:00 Meal\n20:05 Party set\n  Jam Jar (G)\n23:30 Carriages"
        ),
        "Ceremony: Moth Parade=F#m; Weeds=F | Drinks reception: Tidal Clock=Em; Fog Bell=D | Party set: Jam Jar=G",
    ),
    "a list of inputs above the songs": (
        "INPUT LIST\n1 Kick\n2 Snare\n3 Vox\n\nSET LIST\n1. Moth Parade - G\n2. Weeds - B\n3. Tidal Clock - Ab",
        "First: Moth Parade=G; Weeds=B; Tidal Clock=Ab",
    ),
    "headings of Markdown with times": (
        (
            "# Fayre\n\n## Afternoon (14:00)\n\n1. Moth Parade - D\n2. Weeds - Am\n\n## Sundown (16:00)\n\n"
            "1. Tidal Clock - C\n2. Fog Bell - Em"
        ),
        "Afternoon: Moth Parade=D; Weeds=Am | Sundown: Tidal Clock=C; Fog Bell=Em",
    ),
    "part 2 where the numbers begin again": (
        (
            "Set list part 1\n1 Moth Parade – Am\n2 Weeds – F\n3 Tidal Clock – C\npart 2 after the buffet\n"
            "1 Fog Bell – D\n2 Jam Jar – Em"
        ),
        "First: Moth Parade=Am; Weeds=F; Tidal Clock=C | Second: Fog Bell=D; Jam Jar=Em",
    ),
    "one more": (
        "SET ONE\nMoth Parade - F\nWeeds - Bb\nTidal Clock - Dm\n\nIf they want one more: Fog Bell - G",
        "First: Moth Parade=F; Weeds=Bb; Tidal Clock=Dm | If they want one more: Fog Bell=G",
    ),
    "Spanish numbers": (
        "1er pase\n1.- Moth Parade – Fa#m\n2.- Weeds – Sib\n3.- Tidal Clock – Mim\n4.- Fog Bell – Reb",
        "First: Moth Parade=F#m; Weeds=Bb; Tidal Clock=Em; Fog Bell=Db",
    ),
    "numbers in square brackets": (
        "SET A\n[01] Moth Parade | Cm\n[02] Weeds | G\n[03] Tidal Clock | Am",
        "Set A: Moth Parade=Cm; Weeds=G; Tidal Clock=Am",
    ),
    "syllables apart from their signs": (
        "• Sous la lampe — Do m\n• Quai neuf — La m\n• Autobus — Sol\n• Cerises — Si b\n• Demain — Mi m",
        "First: Sous la lampe=Cm; Quai neuf=Am; Autobus=G; Cerises=Bb; Demain=Em",
    ),
    "a key last in a bracket": (
        (
            "14 Moth Parade (bossa, Dm)\n7 Weeds (ballad, Eb)\n112 Tidal Clock (up, Bb) trade 4s\n"
            "31 Fog Bell (blues, C)\n5 Jam Jar (up, F)"
        ),
        "First: Moth Parade=Dm; Weeds=Eb; Tidal Clock=Bb; Fog Bell=C; Jam Jar=F",
    ),
    "talk behind a key": (
        (
            "Moth Parade – G – shuffle\nTurn the Tide at the Lamps – Bbm – four on the floor\n"
            "Tidal Clock – D\nFog Bell – C – swung"
        ),
        "First: Moth Parade=G; Turn the Tide at the Lamps=Bbm; Tidal Clock=D; Fog Bell=C",
    ),
    "singers behind a picture": (
        "Moth Parade – C 🎤 Ann\nWeeds – Ab 🎤 Bo\nTidal Clock – G 🎤 Ann\nFog Bell – D 🎤 Bo",
        "First: Moth Parade=C; Weeds=Ab; Tidal Clock=G; Fog Bell=D",
    ),
    "pictures before keys": (
        "1. Moth Parade 💔 Am\n2. Weeds 🍐 D\n3. Tidal Clock 🍭 G (Ann)",
        "First: Moth Parade=Am; Weeds=D; Tidal Clock=G",
    ),
    "named values below a title": (
        (
            "1. Moth Parade\n    Key: D   BPM: 138   Lead: Ann\n2. Weeds\n    Key: C#m   BPM: 91   Lead: Bo\n"
            "3. Tidal Clock\n    Key: E   BPM: 115   Lead: Bo"
        ),
        "First: Moth Parade=D; Weeds=C#m; Tidal Clock=E",
    ),
    "chords below a title": (
        "Moth Parade (Db)\nWeeds (G)\n  outro vamp C  Bb  F\nTidal Clock (F)\nFog Bell (Am)",
        "First: Moth Parade=Db; Weeds=G; Tidal Clock=F; Fog Bell=Am",
    ),
    "words of a key behind a colon": (
        (
            "Moth Parade: E flat major\nWeeds: F sharp min, then up a semitone for last chorus\n"
            "Tidal Clock: A major\nFog Bell: same as record\nJam Jar: C\nSlow Ferry: D"
        ),
        "First: Moth Parade=Eb; Weeds=F#m; Tidal Clock=A; Fog Bell; Jam Jar=C; Slow Ferry=D",
    ),
    "a title that counts": (
        "1. 4 Pence a Mile - G\n2. Number 9 - Am\n3. Six of One - E",
        "First: 4 Pence a Mile=G; Number 9=Am; Six of One=E",
    ),
    "a break in a frame of stars": (
        "moth parade  A\nweeds  E\ntidal clock  Bm\n*** pint ***\nfog bell  Em\njam jar  D",
        "First: moth parade=A; weeds=E; tidal clock=Bm | Second: fog bell=Em; jam jar=D",
    ),
    "names below kind regards": (
        "SET 1\nMoth Parade - D\nWeeds - C\nTidal Clock - G\n\nKind regards\nMarla\nMusical Director",
        "First: Moth Parade=D; Weeds=C; Tidal Clock=G",
    ),
    "assent between the songs of a chat": (
        (
            "19:44 Ann: list 4 tmrw\n19:44 Ann: 1st half\n19:45 Ann: Moth Parade (D)\n19:45 Ann: Weeds (G)\n"
            "19:46 Bo: do we know that??\n"
            "19:47 Ann: yes we did it in March\n19:47 Ann: Tidal Clock (Am)\n"
            "19:48 Ann: Fog Bell (C)\n19:48 Ann: Jam Jar (E)\n19:49 Ann: Slow Ferry (A)"
        ),
        "First: Moth Parade=D; Weeds=G; Tidal Clock=Am; Fog Bell=C; Jam Jar=E; Slow Ferry=A",
    ),
}


@pytest.mark.parametrize(("text", "expected"), CASES.values(), ids=CASES)
def test_a_list_with_such_rows_is_read_as_meant(text: str, expected: str) -> None:
    assert said(read(text)) == expected


def test_what_stands_below_a_title_is_a_note_on_it() -> None:
    songs = read("Moth Parade (Db)\nWeeds (G)\n  outro vamp C  Bb  F\nTidal Clock (F)").show.sets[0].songs
    assert songs[1].notes == "outro vamp C Bb F"
    songs = read(CASES["named values below a title"][0]).show.sets[0].songs
    assert [(song.tempo_bpm, song.notes) for song in songs] == [(138, "lead Ann"), (91, "lead Bo"), (115, "lead Bo")]


def test_a_list_of_inputs_is_kept_but_not_played() -> None:
    found = read(CASES["a list of inputs above the songs"][0])
    assert [line.took for line in found.lines if line.text in ("1 Kick", "3 Vox")] == [LineKind.LEFT] * 2
    assert "2 Snare" in (found.show.notes or "")


def test_a_song_without_a_key_among_keys_is_asked() -> None:
    found = read(CASES["words of a key behind a colon"][0])
    assert [line.text for line in found.in_doubt] == ["Fog Bell: same as record"]


def test_the_text_that_a_mail_carries_is_read_below_its_own() -> None:
    made = EmailMessage()
    made["From"], made["Message-ID"], made["Subject"] = "Sam <sam@pier.invalid>", "<1@pier.invalid>", "Saturday"
    made.set_content("Hi, list attached as a text file.\n\nSam\n")
    made.add_attachment("Set 1\n1. Moth Parade - Ab\n2. Weeds - Fm\n3. Tidal Clock - Am\n", filename="list.txt")
    found = list_in(made.as_bytes(), "list.eml")
    assert said(found) == "First: Moth Parade=Ab; Weeds=Fm; Tidal Clock=Am"
    assert "the mail carries list.txt: read below its text" in [doubt.says for doubt in found.doubts]


def test_the_list_in_a_mail_that_was_forwarded_as_a_part_is_read() -> None:
    inner, made = EmailMessage(), EmailMessage()
    inner["From"], inner["Subject"] = "Bo <bo@pier.invalid>", "List"
    inner.set_content("Set 1\n1. Moth Parade - Ab\n2. Weeds - Fm\n3. Tidal Clock - Am\n")
    made["From"], made["Message-ID"] = "Sam <sam@pier.invalid>", "<1@pier.invalid>"
    made.set_content("See below.\n")
    made.add_attachment(inner)
    assert said(list_in(made.as_bytes(), "list.eml")) == "First: Moth Parade=Ab; Weeds=Fm; Tidal Clock=Am"


def printed(lines: list[list[tuple[float, str]]]) -> SetList:
    """Read lines as a PDF's page holds them; a piece is its left edge and its text, a letter six points wide."""
    page = tuple(
        PrintedLine(
            700.0 - 20 * at,
            12.0,
            tuple(TextSpan(begin, begin + 6 * len(text), text) for begin, text in pieces),
        )
        for at, pieces in enumerate(lines)
    )
    return take_in(rows_of((page,)), "List")


def test_dots_lead_from_a_title_to_its_key() -> None:
    found = printed(
        [
            [(50, "Moth Parade ....................."), (400, "D")],
            [(50, "Weeds ..........................."), (400, "C")],
            [(50, "What the Lighthouse Keeper Said .......... Ab")],
            [(50, "Tidal Clock ....................."), (400, "Gm")],
        ]
    )
    assert said(found) == "First: Moth Parade=D; Weeds=C; What the Lighthouse Keeper Said=Ab; Tidal Clock=Gm"


def test_dots_between_a_title_and_its_key_need_no_columns() -> None:
    text = "I\nMoth Parade ......... D\nWeeds ........ C\nNets ... Ab\nII\nTidal Clock ....... G\nFog Bell ........ E"
    assert said(read(text)) == "First: Moth Parade=D; Weeds=C; Nets=Ab | Second: Tidal Clock=G; Fog Bell=E"


def test_titles_in_two_columns_go_on_below_their_hanging_numbers() -> None:
    found = printed(
        [
            [(50, "Set 1"), (310, "Set 2")],
            [(50, "1."), (74, "Moth Parade on"), (310, "1."), (334, "Fog Bell")],
            [(74, "Parade (Bbm)"), (334, "(Bb)")],
            [(50, "2."), (74, "Weeds (Em)"), (310, "2."), (334, "Jam Jar (G)")],
            [(50, "3."), (74, "Tidal Clock on"), (310, "3."), (334, "Slow Ferry (F)")],
            [(74, "Clocktower Hill")],
            [(74, "(Eb)")],
            [(50, "4."), (74, "Harbour (A)"), (310, "4."), (334, "Lamps (D)")],
        ]
    )
    assert said(found) == (
        "First: Moth Parade on Parade=Bbm; Weeds=Em; Tidal Clock on Clocktower Hill=Eb; Harbour=A"
        " | Second: Fog Bell=Bb; Jam Jar=G; Slow Ferry=F; Lamps=D"
    )
