"""What names a list, and lines without a number among songs that have one."""

from pathlib import Path

import pytest
from reportlab.pdfgen.canvas import Canvas

from companion.setlist import LineKind, SetList, import_list
from companion.setlist.parsing.understand import take_in
from companion.setlist.readers.text import pages_of_text

pytestmark = pytest.mark.usefixtures("reads_here")


def read(text: str) -> SetList:
    return take_in(pages_of_text(text, "list.txt"), "List")


def took(found: SetList) -> dict[str, LineKind]:
    return {line.text: line.took for line in found.lines}


NUMBERED = "1. Postbox Tango - Bb\n2. Nine Wet Umbrellas (Gm)\n{}\n3. Harbour Lamps - C\n4. Slow Ferry (D)\n5. Moth - A"


@pytest.mark.parametrize(
    ("line", "is_taken_for"),
    [
        ("Tram Home - F", LineKind.SONG),
        ("\nTram Home - F", LineKind.SONG),
        ("\nTram Home 3:20", LineKind.SONG),
        ("Tram Home - F\nBrass Monkey Parade (Eb)", LineKind.SONG),
        ("Brass Monkey Parade Round The Old Harbour Wall - F", LineKind.SONG),
        ("organ solo here (F)", LineKind.NOTE),
        ("(F for Ann)", LineKind.NOTE),
        ("in F tonight", LineKind.NOTE),
        ("watch the drummer", LineKind.NOTE),
    ],
)
def test_a_line_without_a_number_is_a_song_if_it_has_a_key_or_length(line: str, is_taken_for: LineKind) -> None:
    found = read(NUMBERED.format(line))
    lines = [one for one in found.lines if one.text in line.split("\n")]
    assert {one.took for one in lines} == {is_taken_for}
    if is_taken_for is LineKind.SONG:
        assert all("no number or bullet, unlike the others: read as a song" in map(str, one.doubts) for one in lines)


def test_a_key_alone_makes_the_last_line_a_song() -> None:
    assert took(read(NUMBERED.format("") + "\nLast Orders - A\nload in 5:30"))["Last Orders - A"] is LineKind.SONG
    assert took(read(NUMBERED.format("") + "\nDoors 7:30"))["Doors 7:30"] is not LineKind.SONG


def test_numbered_lines_are_the_songs_even_among_many_without_numbers() -> None:
    text = "1. Postbox Tango - Bb\nwatch the drummer\n2. Moth\nkeys alone\n3. Weeds\nslower than the record\n4. Tidal\n"
    found = read(text + "no keys in the bridge\nas on the record\n5. Slow Ferry\nlast chord held\nlights out")
    assert [song.title for song in found.show.sets[0].songs] == [
        "Postbox Tango",
        "Moth",
        "Weeds",
        "Tidal",
        "Slow Ferry",
    ]


@pytest.mark.parametrize(
    ("above", "title"),
    [
        ("The Saltwater Ball\n", "The Saltwater Ball"),
        ("The Saltwater Ball\n12 August 2027\n", "The Saltwater Ball"),
        ("The Saltwater Ball, 12 August 2027\n", "The Saltwater Ball, 12 August 2027"),
        ("", "List"),
        ("Hi Jo, here is the list:\n", "List"),
        ("Moth - Bb\n", "List"),
        ("1. Moth\n", "List"),
        ("Guys!\n", "List"),
    ],
)
def test_the_line_above_the_first_set_names_the_list(above: str, title: str) -> None:
    found = read(f"{above}Set 1\n1. Gasworks Corner - C\n2. Weeds - G\n3. Tidal - A")
    assert found.show.title == title
    assert str(found.show.date) == ("2027-08-12" if "2027" in above else "None")
    assert [song.title for song in found.show.sets[-1].songs][-3:] == ["Gasworks Corner", "Weeds", "Tidal"]


@pytest.mark.parametrize("with_columns", [True, False])
@pytest.mark.parametrize("says_large", [True, False])
def test_the_first_line_of_a_pdf_is_the_shows_title_if_large_or_above_a_set(
    tmp_path: Path, *, says_large: bool, with_columns: bool
) -> None:
    canvas = Canvas(str(tmp_path / "list.pdf"))
    canvas.setFont("Helvetica", 20 if says_large else 11)
    canvas.drawString(60, 800, "Tidewater Wedding")
    canvas.setFont("Helvetica", 11)
    if not says_large:
        canvas.drawString(60, 785, "Set 1")
    for at, title in enumerate(("Gasworks Corner", "Kettle on the Jetty", "Moth", "Slow Ferry")):
        canvas.drawString(60, 770 - 20 * at, f"{at + 1}. {title}")
        if with_columns:
            canvas.drawString(300, 770 - 20 * at, "Bb")
            canvas.drawString(360, 770 - 20 * at, "3:40")
    canvas.save()
    imported = import_list(tmp_path / "list.pdf", tmp_path / "show.yaml")
    assert sum(len(one.songs) for one in imported.show.sets) == 4
    assert imported.show.title == "Tidewater Wedding"


@pytest.mark.parametrize("gap", ["  ", "   ", "      "])
def test_a_key_after_a_wide_gap_in_a_pdf_is_not_part_of_the_title(tmp_path: Path, gap: str) -> None:
    canvas = Canvas(str(tmp_path / "list.pdf"))
    lines = (
        f"1. Onion Clock{gap}Am",
        f"2. Salt{gap}Parade",
        "3. Moth Gravel",
        f"4. Lantern Yard{gap}E{gap}3:40{gap}120",
        "5. Weeds",
    )
    for at, line in enumerate(lines):
        canvas.drawString(60, 770 - 20 * at, line)
    canvas.save()
    listed = import_list(tmp_path / "list.pdf", tmp_path / "show.yaml").listed
    songs = listed.show.sets[0].songs
    assert [
        (song.title, song.key and str(song.key), song.length_s, song.tempo_bpm)
        for song in songs
        if song.title != "Salt"
    ] == [
        ("Onion Clock", "Am", None, None),
        *([("Salt Parade", None, None, None)] if songs[1].title != "Salt" else []),
        ("Moth Gravel", None, None, None),
        ("Lantern Yard", "E", 220, 120),
        ("Weeds", None, None, None),
    ]


def test_a_column_of_numbers_names_no_artist_though_a_heading_stands_in_it() -> None:
    titles = ("Postbox Tango", "Nine Wet Umbrellas", "Harbour Lamps", "Slow Ferry", "Moth", "Tram Home", "Weeds")
    rows = "".join(f"{number}.,{title},Bb,3:{number:02}\n" for number, title in enumerate(titles, start=1))
    found = take_in(pages_of_text(f"Set 1,20:00 60 min,,\n{rows}", "list.csv"), "List")
    (one,) = found.show.sets
    assert [(song.title, song.artist) for song in one.songs] == [(title, None) for title in titles]
