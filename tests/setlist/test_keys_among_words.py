"""Keys in the words behind a title, and other small signs at a line's ends."""

import pytest

from tests.setlist.reading_texts import read, said

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
