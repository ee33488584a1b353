"""What is asked for and what goes wrong: songs and sets chosen, bad chords, odd titles, nothing to print."""

import json
import os
import re
import unicodedata
from pathlib import Path

import click
import pytest
from paper.readers_back import bare, bookmarks, missing_in_order, outside, overlapping, pages_of

from companion.cli import main
from companion.commands.on_paper import print_
from companion.music import read_chord
from companion.paper import NothingToPrint, Paper, PrintJob, Sheet, print_show
from companion.paper.leaves import POINT_MM, letter_height_pt
from companion.right_to_left import as_drawn

DEMO = Path(__file__).resolve().parents[2] / "shows/pier-street.yaml"


def show(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "show.yaml"
    path.write_text(text, encoding="utf-8")
    return path


def song(**more: object) -> str:
    rows = "".join(f"    {key}: {value}\n" for key, value in more.items())
    return f"show: Pier\nsongs:\n  - title: Gasworks Corner\n{rows}"


@pytest.mark.parametrize(
    ("arcmin", "distance_m", "height_mm"),
    [  # h = 2 d tan(angle / 2), worked out by hand
        (20, 1.8, 10.5),
        (16, 1.0, 4.7),
        (24, 2.0, 14.0),
        (12, 3.0, 10.5),
    ],
)
def test_letters_are_as_high_as_the_visual_angle_requires(arcmin: float, distance_m: float, height_mm: float) -> None:
    assert round(letter_height_pt(arcmin, distance_m) * POINT_MM, 1) == height_mm


def test_the_command_knows_every_sheet_and_paper() -> None:
    choices = {one.name: one.type.choices for one in print_.params if isinstance(one.type, click.Choice)}
    assert list(choices["sheets"]) == [sheet.value for sheet in Sheet]
    assert list(choices["paper"]) == [paper.value for paper in Paper]


def test_the_command_outputs_json(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "list.pdf"
    assert main(["print", str(DEMO), "--out", str(out), "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == {"path": str(out), "pages": 2, "notes": [], "faults": []}


def test_the_command_says_what_it_wrote(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = show(tmp_path, song(key="Bb"))
    assert main(["print", str(path), "--sheet", "setlist", "--sheet", "floor"]) == 0
    assert capsys.readouterr().out == f"{tmp_path / 'show-setlist-floor.pdf'}: 2 pages\n"


@pytest.mark.parametrize(
    ("wanted", "titles"),
    [
        (PrintJob((Sheet.CHARTS,), songs=("rope walk",)), ["Rope Walk Shuffle"]),
        (PrintJob((Sheet.CHARTS,), set_name="3"), ["Last Bus from Fennel Square", "Everybody off the Pier"]),
        (PrintJob((Sheet.CHARTS,), set_name="encore"), ["Last Bus from Fennel Square", "Everybody off the Pier"]),
        (PrintJob(songs=("Tarpaulin Moon",)), ["Tarpaulin Moon"]),
        (PrintJob(songs=("Tarpaulin Moon",), key="C"), ["Tarpaulin Moon"]),
    ],
)
def test_only_the_requested_sheets_are_printed(tmp_path: Path, wanted: PrintJob, titles: list[str]) -> None:
    out = tmp_path / "some.pdf"
    assert print_show(DEMO, wanted, out).pages == len(titles)
    assert missing_in_order("".join(page.text for page in pages_of(out)), titles) == []


@pytest.mark.parametrize(
    ("wanted", "message"),
    [
        (PrintJob(songs=("Gasworks Cornre",)), 'there is no song "Gasworks Cornre". Write: --song "Gasworks Corner"'),
        (PrintJob(songs=("the",)), 'several songs contain "the". Write: --song "'),
        (PrintJob(set_name="Frist"), 'there is no set "Frist". Write: --set "First"'),
        (PrintJob(set_name="7"), 'there is no set "7". Write: --set "First" or "Second" or'),
        (PrintJob(key="C"), 'only one song at a time can be transposed. Write: --song "its title"'),
    ],
)
def test_an_unknown_song_or_set_is_reported_with_the_nearest(tmp_path: Path, wanted: PrintJob, message: str) -> None:
    with pytest.raises(NothingToPrint, match=re.escape(message)):
        print_show(DEMO, wanted, tmp_path / "none.pdf")


def test_several_songs_are_printed_and_no_chart_replaces_anothers_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = show(tmp_path, "show: Pier\nsongs: [Gasworks Corner, Moth, Rope Walk]\n")
    both = ["--song", "Moth", "--song", "gasworks"]
    for more in (both, both[:2], both[2:], [*both[:2], "--for", "Eb"], ["--song", "Rope Walk", "--numbers"]):
        assert main(["print", str(path), "--sheet", "charts", *more]) == 0
    said = [line.rpartition("/")[2] for line in capsys.readouterr().out.splitlines()]
    assert said == [
        "show-charts-moth-gasworks.pdf: 2 pages",
        "show-charts-moth.pdf: 1 page",
        "show-charts-gasworks.pdf: 1 page",
        "show-charts-moth-eb.pdf: 1 page",
        "show-charts-rope-walk-numbers.pdf: 1 page",
    ]
    text = "".join(page.text for page in pages_of(tmp_path / "show-charts-moth-gasworks.pdf"))
    assert missing_in_order(text, ["Gasworks Corner", "Moth"]) == []


def test_a_show_without_songs_has_nothing_to_print(tmp_path: Path) -> None:
    for text in ("show: Pier\n", "show: Pier\nsongs: []\n", "show: Pier\nsets:\n  - {set: First, songs: []}\n"):
        for sheet in Sheet:
            with pytest.raises(NothingToPrint, match="has no songs yet"):
                print_show(show(tmp_path, text), PrintJob((sheet,)))


def test_an_empty_set_beside_a_full_one_gets_a_page(tmp_path: Path) -> None:
    path = show(
        tmp_path, "show: Pier\nsets:\n  - {set: First, songs: []}\n  - {set: Second, songs: [Gasworks Corner]}\n"
    )
    for sheet in Sheet:
        out = tmp_path / f"{sheet.value}.pdf"
        assert print_show(path, PrintJob((sheet,), blank=True), out).pages >= 1
        assert "GasworksCorner" in bare("".join(page.text for page in pages_of(out)))


def test_a_full_disk_leaves_the_older_print_and_nothing_beside_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path, out = show(tmp_path, song(key="Bb")), tmp_path / "list.pdf"
    print_show(path, PrintJob(), out)
    before, beside = out.read_bytes(), sorted(tmp_path.iterdir())

    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(
        NothingToPrint, match=r"list\.pdf cannot be written: No space left on device\. Write: --out and another file"
    ):
        print_show(path, PrintJob(), out)
    assert out.read_bytes() == before
    assert sorted(tmp_path.iterdir()) == beside


@pytest.mark.parametrize("sheet", [Sheet.SET_LIST, Sheet.FLOOR_LIST, Sheet.CRIB_SHEET])
def test_the_first_letter_of_a_title_in_hebrew_stands_at_the_right(tmp_path: Path, sheet: Sheet) -> None:
    title = "\u05e9\u05dc\u05d5\u05dd"  # four letters, each another
    path, out = show(tmp_path, f"show: Pier\nsongs: [{{title: {title}, key: Bb}}]\n"), tmp_path / "list.pdf"
    print_show(path, PrintJob((sheet,)), out)
    page = pages_of(out)[0]
    left = {letter: box[0] for letter, box in zip(page.letters, page.boxes, strict=True)}
    assert sorted(title, key=left.__getitem__, reverse=True) == list(title)


@pytest.mark.parametrize(
    ("written", "drawn"),  # by hand, by the rules named; \u05d0 \u05d1 \u05d2 are the first three letters of Hebrew
    [
        ("Moth \u2013 Gravel", "Moth \u2013 Gravel"),
        ("\u05d0\u05d1\u05d2", "\u05d2\u05d1\u05d0"),  # UAX #9, L2
        ("Moth \u05d0\u05d1 C", "Moth \u05d1\u05d0 C"),  # P2 and P3: the first letter gives the line's direction
        ("\u05d0\u05d1 3:40", "3:40 \u05d1\u05d0"),  # W4: a number keeps its order
        ("\u05d0 (\u05d1)", "(\u05d1) \u05d0"),  # L4: brackets are mirrored
        ("\u05d0 (Live)", "(Live) \u05d0"),  # N0 and L4
        ("\u05d0 (ab (cd) ef) \u05d1", "\u05d1 (ab (cd) ef) \u05d0"),  # N0: the inner pair is not
        ("Moth (\u05d0\u05d1)", "Moth (\u05d1\u05d0)"),  # N0: the pair goes with the line
    ],
)
def test_letters_are_drawn_in_visual_order(written: str, drawn: str) -> None:
    assert as_drawn(written) == drawn


BAD_AND_GOOD = """show: Pier
songs:
  - title: Moth
    key: Bb
    road_map: [{section: Verse, chords: 'Bb | Ebx'}, {section: Solo, chords: 1 | 8}, {section: Tag, chords: Bb}]
  - title: Gasworks Corner
    key: C
    road_map: [{section: Verse, chords: C | G}]
"""


@pytest.mark.parametrize("sheet", [Sheet.CHARTS, Sheet.BAND_PACK])
def test_a_bad_chord_line_is_printed_as_written_with_its_fault(tmp_path: Path, sheet: Sheet) -> None:
    printed = print_show(show(tmp_path, BAD_AND_GOOD), PrintJob((sheet,)))
    line = BAD_AND_GOOD.splitlines()[4]
    assert [(fault.line, line[fault.column - 1], bool(fault.write)) for fault in printed.faults] == [
        (5, "x", True),
        (5, "8", True),
    ]
    text = "".join(page.text for page in pages_of(printed.path))
    wanted = ["Moth", "Verse", "Bb | Ebx", '"x" is not a chord sign in "Ebx"', "Solo", "1 | 8", "Tag", "B♭"]
    assert missing_in_order(text, wanted) == []
    assert missing_in_order(text, ["Gasworks Corner", "C", "G"]) == []


def test_a_bad_chord_line_gives_exit_code_1(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = show(tmp_path, BAD_AND_GOOD)
    assert main(["print", str(path), "--sheet", "charts"]) == 1
    out, err = capsys.readouterr()
    assert out == f"{tmp_path / 'show-charts.pdf'}: 2 pages\n"
    assert err.splitlines() == [
        f'{path}:5:49: "x" is not a chord sign in "Ebx". Write: Eb',
        f'{path}:5:82: expected a degree 1 to 7 here in "8". Write: a number from 1 to 7, as in 1 or b7',
    ]
    assert main(["print", str(path), "--sheet", "setlist"]) == 0  # a set list needs no chords


def test_check_finds_the_chord_lines_that_print_finds(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = show(tmp_path, BAD_AND_GOOD)
    assert main(["print", str(path), "--sheet", "charts", "--json"]) == 1
    printed = json.loads(capsys.readouterr().out)["faults"]
    assert main(["check", str(path), "--json"]) == 1
    assert json.loads(capsys.readouterr().out)["faults"] == printed
    assert len(printed) == 2
    assert main(["check", str(path)]) == 1
    out, err = capsys.readouterr()
    assert f"{path}:5:49: " in err
    assert "Moth has no tempo" in out  # missing letters are still reported
    assert out.splitlines()[-1].startswith("2 faults; ")


NO_ROAD_MAPS = """show: Pier
songs:
  - Moth
  - {title: Gasworks Corner, key: C, road_map: Verse 8}
  - Tarpaulin Moon
  - Rope Walk
"""


def test_songs_without_a_road_map_get_a_chart_only_on_request(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = show(tmp_path, NO_ROAD_MAPS)
    assert main(["print", str(path), "--sheet", "charts"]) == 0
    out, err = capsys.readouterr()
    assert out == f"{tmp_path / 'show-charts.pdf'}: 1 page\n"
    assert err == (
        "note: 3 of 4 songs have no road map yet, so they have no chart. Write: --blank for empty bars to fill in\n"
    )
    assert main(["print", str(path), "--sheet", "charts", "--blank"]) == 0
    assert capsys.readouterr() == (f"{tmp_path / 'show-charts.pdf'}: 4 pages\n", "")
    assert print_show(path, PrintJob(songs=("Moth",))).pages == 1  # named, so it is asked for


def test_a_pack_lists_songs_without_a_road_map_but_has_no_page_for_them(tmp_path: Path) -> None:
    path, out = show(tmp_path, NO_ROAD_MAPS), tmp_path / "pack.pdf"
    assert print_show(path, PrintJob((Sheet.BAND_PACK,)), out).pages == 2
    contents, _chart = pages_of(out)
    assert (
        missing_in_order(
            contents.text, ["Moth", "no chart", "Gasworks Corner", "C", "2", "Tarpaulin Moon", "no chart", "Rope Walk"]
        )
        == []
    )
    assert bookmarks(out) == [(0, "keys", 0), (1, "Gasworks Corner", 1)]
    assert print_show(path, PrintJob((Sheet.BAND_PACK,), blank=True), out).pages == 5


def test_without_any_road_map_there_is_no_chart_to_print(tmp_path: Path) -> None:
    path = show(tmp_path, "show: Pier\nsongs: [Moth, Rope Walk]\n")
    with pytest.raises(NothingToPrint, match=r"no song has a road map yet\. Write: --blank"):
        print_show(path, PrintJob((Sheet.CHARTS,)))


def test_an_unwritable_place_is_reported(tmp_path: Path) -> None:
    with pytest.raises(NothingToPrint, match="cannot be written"):
        print_show(DEMO, PrintJob(), tmp_path / "nowhere" / "list.pdf")


def holds(path: Path, out: Path, *wanted: PrintJob) -> list[str]:
    """Print; return the text of the pages, each checked."""
    texts = []
    for one in wanted:
        print_show(path, one, out)
        for page in pages_of.__wrapped__(out):
            assert outside(page, edge=18) == []
            assert list(overlapping(page)) == []
            texts.append(page.text)
    return texts


@pytest.mark.parametrize("chord", ["Ebmaj7#11add13/Bb", "C#m7b5add11add13no3/G#", "F#7b5#5b9#9#11b13add9add11add13/A#"])
def test_chords_of_forty_characters_stay_in_their_bars(tmp_path: Path, chord: str) -> None:
    line = " | ".join([chord] * 4 + [f"{chord} {chord}"] * 4)
    path = show(tmp_path, song(key="E", road_map=f"[{{section: Verse, chords: '{line}'}}]"))
    (text,) = holds(path, tmp_path / "long.pdf", PrintJob((Sheet.CHARTS,)))
    written = str(read_chord(chord))  # 16 to 38 characters
    assert bare(text).count(written.replace("#", "♯").replace("b", "♭")) == 12


def test_a_long_chord_on_a_short_beat_moves_the_next_one(tmp_path: Path) -> None:
    line = "F#m7b5. Bb7b9... | Ebmaj7. Abm7. Db7.. | <Gbmaj9#11>. B7^... | <Cm7b5/Gb. F7#9..."
    path = show(tmp_path, song(key="Gb", road_map=f"[{{section: Verse, chords: '{line}'}}]"))
    (text,) = holds(path, tmp_path / "beats.pdf", PrintJob((Sheet.CHARTS,)))
    assert missing_in_order(text, ["F♯m7♭5", "B♭7♭9", "E♭maj7", "A♭m7", "D♭7", "Cm7♭5/G♭", "F7♯9"]) == []


def test_a_section_of_400_bars_is_laid_out(tmp_path: Path) -> None:
    line = " | ".join(f"{'CDEFGAB'[number % 7]}m7" for number in range(400))
    road_map = f"[{{section: Jam, bars: 400, chords: '{line}'}}, {{section: Outro, bars: 400}}]"
    path = show(tmp_path, song(key="C", road_map=road_map))
    for paper in Paper:
        texts = holds(path, tmp_path / "jam.pdf", PrintJob((Sheet.CHARTS,), paper))
        assert len(texts) == 4  # a hundred readable rows do not fit on one page
        assert sum(bare(text).count("m7") for text in texts) == 400
        assert "400bars" in bare(texts[-1])


def test_a_title_in_any_script_is_printed_and_missing_letters_are_reported(tmp_path: Path) -> None:
    signs = [chr(code) for code in range(0x21, 0x30000, 0x61) if unicodedata.category(chr(code))[0] in "LNSP"]
    for start in range(0, len(signs), 150):
        title = "Tide " + "".join(sign for sign in signs[start : start + 150] if sign not in "'\"\\")
        path = show(tmp_path, f"show: Pier\nsongs:\n  - title: '{title}'\n    key: Bb\n")
        printed = print_show(path, PrintJob(tuple(Sheet), blank=True), tmp_path / "signs.pdf")
        assert printed.pages >= 5
        for page in pages_of.__wrapped__(printed.path):
            assert outside(page, edge=10) == []  # an accent may reach above the letters
    assert "a box is printed instead" in printed.notes[0]


def test_a_set_of_a_hundred_songs_continues_on_a_second_page(tmp_path: Path) -> None:
    titles = [f"Song {number} of the long pier" for number in range(1, 101)]
    path = show(
        tmp_path,
        "show: Pier\nsongs:\n" + "".join(f"  - {{title: {title}, key: Bb, notes: riff}}\n" for title in titles),
    )
    for sheet in (Sheet.SET_LIST, Sheet.FLOOR_LIST, Sheet.BAND_PACK):
        texts = holds(path, tmp_path / "many.pdf", PrintJob((sheet,)))
        assert len(texts) > 1
        assert missing_in_order("".join(texts), titles) == []
