"""Keys in the words behind a title, and other small signs at a line's ends."""

import pytest
from setlist.reading_texts import read, said

TOP = "1. Paper Moth - G\n2. Kettle Drum - Bb\n3. Lamplight - Em\n4. Harbour Wall - C\n"
TAKEN = "First: Paper Moth=G; Kettle Drum=Bb; Lamplight=Em; Harbour Wall=C; "


@pytest.mark.parametrize(
    ("line", "found", "doubts"),
    [
        ("5. Slow Ferry   reels D, 4 x 32", "Slow Ferry=D", 1),
        ("5. Slow Ferry - Tom sings, he does it in F", "Slow Ferry=F", 0),
        ("5. Slow Ferry - Eb -> E -> F (last page)", "Slow Ferry=Eb", 0),
        ("5. Slow Ferry Eb → E → F", "Slow Ferry=Eb", 0),
        ("5. Slow Ferry (D) - Trio in G", "Slow Ferry=D", 0),
        ("5. Slow Ferry (D) – Einsatz nach dem Takt", "Slow Ferry=D", 0),
    ],
)
def test_a_line(line: str, found: str, doubts: int) -> None:
    taken = read(TOP + line)
    assert said(taken) == TAKEN + found
    assert sum(bool(each.doubts) for each in taken.lines) == doubts


def test_a_song_that_only_goes_to_a_key_has_none() -> None:
    assert said(read(f"{TOP}5. Slow Ferry   goes up to D later")).endswith("Slow Ferry")


def test_a_meter_alone_belongs_to_the_song_above() -> None:
    songs = read("1. Paper Moth - G\n6/8\n2. Kettle Drum - Bb\n3. Lamplight - Em\n").show.sets[0].songs
    assert [str(song.meter) if song.meter else "" for song in songs] == ["6/8", "", ""]


def test_a_number_that_is_the_title() -> None:
    assert said(read("• Paper Moth - G\n• 99 - D\n• Lamplight - Em\n")) == "First: Paper Moth=G; 99=D; Lamplight=Em"


def test_a_long_title_leaves_no_room_for_dots() -> None:
    text = (
        "Paper Moth ....... Re minore\nLamplight ........ Do maggiore\n"
        "A Long Way Home . Sol minore\nSlow Ferry ..... Fa maggiore\n"
    )
    assert said(read(text)) == "First: Paper Moth=Dm; Lamplight=C; A Long Way Home=Gm; Slow Ferry=F"


def test_a_minor_key_in_capitals_before_a_wide_gap() -> None:
    text = "PAPER MOTH ........ G\nLAMPLIGHT ......... AM   ORGAN!!\nSLOW FERRY ........ BB   HORNS OUT\n"
    assert said(read(text)) == "First: PAPER MOTH=G; LAMPLIGHT=Am; SLOW FERRY=Bb"


@pytest.mark.parametrize(
    ("line", "found", "notes"),
    [
        ("5. The Wet Ferry (slow then fast) - D", "The Wet Ferry=D", "slow then fast"),
        ("5. The Wet Ferry (Slow Then Fast) - D", "The Wet Ferry (Slow Then Fast)=D", None),
        ("5. The Wet Ferry (my darling) - D", "The Wet Ferry (my darling)=D", None),
    ],
)
def test_words_in_a_bracket_behind_a_title(line: str, found: str, notes: str | None) -> None:
    taken = read(TOP + line)
    assert said(taken) == TAKEN + found
    assert taken.show.sets[0].songs[-1].notes == notes
    assert not notes or any(each.doubts for each in taken.lines)


@pytest.mark.parametrize(
    "line",
    [
        '"The Slow Ferry" in A flat (soft opening, keys alone)',
        "The Slow Ferry in A flat (you play the two bars at the start alone)",
        "The Slow Ferry, key of A flat (this is the special one, play it gently as the mayor reads over it)",
    ],
)
def test_a_bracket_with_talk_behind_a_key_makes_no_sentence(line: str) -> None:
    mark = '"' if line.startswith('"') else ""
    joint = ", key of" if "key of" in line else " in"
    text = "".join(f"{mark}{title}{mark}{joint} {key}\n" for title, key in (("Autumn", "C"), ("Lamplight", "G minor")))
    assert said(read(f"{text}{line}\n{mark}Harbour{mark}{joint} F\n")) == (
        "First: Autumn=C; Lamplight=Gm; The Slow Ferry=Ab; Harbour=F"
    )


def test_a_title_in_the_words_of_a_sentence_ends_in_its_key_as_the_others_do() -> None:
    text = "Wintergarten (G)\nSusi, mach mir bitte auf (B)\nDer lange Weg (Es)\nKaltes Wasser (c-Moll)\nNacht (As)\n"
    assert said(read(text)) == (
        "First: Wintergarten=G; Susi, mach mir bitte auf=Bb; Der lange Weg=Eb; Kaltes Wasser=Cm; Nacht=Ab"
    )
