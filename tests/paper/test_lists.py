"""Set list, floor list and crib sheet: keys that change, notes in full, what stays private, and room."""

import re
from pathlib import Path

import pytest
from paper.readers_back import bare, missing_in_order, outside, overlapping, pages_of

from companion.paper import Paper, PrintJob, Sheet, print_show
from companion.paper.leaves import FLOOR_M, LEAST_ARCMIN, letter_height_pt
from companion.paper.words_of import hands_words, keys_words
from companion.show import read_show

LISTS = (Sheet.SET_LIST, Sheet.FLOOR_LIST, Sheet.CRIB_SHEET)
NOTE = (
    "the verse is half time until the drummer turns round, then four bars of nothing but hi-hat; in the second "
    "chorus the singer holds the last word as long as she likes, so wait for the fill; the bass player takes the "
    "solo at weddings and the guitar takes it everywhere else; watch for the tag, which is three times on record "
    "and twice with this band"
)
TITLES = (  # invented, and as long as titles are: 6 to 44 letters
    "Moth",
    "Gasworks Corner",
    "Kettle on the Jetty",
    "Postcard to the Harbourmaster",
    "Seventeen Umbrellas",
    "Wet Paint on the Bandstand",
    "Waltz of the Seventh Groyne",
    "Two Left Wellingtons",
    "The Lamplighter's Bicycle",
    "Ferry Timetable Blues",
    "Nobody's Deckchair",
    "Slow Dance for Lighthouse Keepers",
    "Half Past the Herring Shed",
    "Seven Steps Down to the Slipway",
    "Marzipan Weather",
    "Tram to Pickle Lane",
    "Rope Walk Shuffle",
    "Everybody Who Ever Waited for the Last Ferry",
    "Goodnight, Customs House",
)


def show(tmp_path: Path, songs: str, before: str = "") -> Path:
    path = tmp_path / "show.yaml"
    path.write_text(f"show: Pier\n{before}songs:\n{songs}", encoding="utf-8")
    return path


def texts(path: Path, sheet: Sheet, paper: Paper = Paper.A4) -> list[str]:
    """Print a sheet and return the text of its pages, on which no letter lies over another."""
    out = path.with_suffix(".pdf")
    print_show(path, PrintJob((sheet,), paper), out)
    pages = pages_of.__wrapped__(out)
    for page in pages:
        assert outside(page, edge=18) == []
        assert list(overlapping(page)) == []
    return [page.text for page in pages]


CHANGES = [  # a song's keys by hand: (its key, those of its sections, what the lists say)
    ("Eb", ["", "F"], "E♭→F"),
    ("Eb", ["", "F", "Eb"], "E♭→F→E♭"),
    ("Eb", ["Eb", "Eb"], "E♭"),
    ("F#m", ["", "A"], "F♯m→A"),
    ("C", ["D", "E", "F", "G"], "D→E→F→G"),
    ("C", ["", "D", "E", "F", "G"], "C→D→E→…→G"),
    ("C", [], "C"),
]


@pytest.mark.parametrize("sheet", LISTS)
@pytest.mark.parametrize(("key", "sections", "told"), CHANGES)
def test_the_lists_show_how_the_key_changes(
    tmp_path: Path, key: str, sections: list[str], told: str, sheet: Sheet
) -> None:
    road_map = ", ".join(f"{{section: Part {n}{f', key: {one}' if one else ''}}}" for n, one in enumerate(sections))
    path = show(tmp_path, f"  - {{title: Moth, key: {key}, road_map: [{road_map}]}}\n")
    text = bare(texts(path, sheet)[0]).replace("Moth", " ")
    assert re.search(rf"(?<![→♭♯A-Za-z]){told}(?![→♭♯m])", text)


def test_the_hands_keys_change_too(tmp_path: Path) -> None:
    path = show(
        tmp_path,
        "  - {title: Moth, key: Bb, fingered_in: C, road_map: [{section: Verse}, {section: Chorus, key: C}]}\n",
    )
    (song,) = read_show(path).show.sets[0].songs
    assert (keys_words(song), hands_words(song)) == ("B♭→C", "play C→D")
    for sheet in LISTS:
        assert "playC→D" in bare(texts(path, sheet)[0])


@pytest.mark.parametrize("sheet", Sheet)
def test_the_leaders_message_is_not_printed(tmp_path: Path, sheet: Sheet) -> None:
    """An imported message is kept in the show's notes; others can read a sheet on a music stand."""
    message = "notes: |\n  Hi, here is the list. Fee same as last time, cash.\n  See you, Bo\n"
    path = show(tmp_path, "  - {title: Moth, key: C, notes: soft, road_map: Verse 8}\n", message)
    text = "".join(texts(path, sheet))
    assert "Moth" in text
    assert "Fee" not in text
    assert "See you" not in text


@pytest.mark.parametrize("songs", [1, 6, 12])
def test_notes_are_printed_in_full_if_there_is_room(tmp_path: Path, songs: int) -> None:
    note = NOTE if songs < 12 else NOTE[:150].rpartition(" ")[0]
    path = show(tmp_path, "".join(f"  - {{title: Moth {n}, key: C, notes: '{note}'}}\n" for n in range(songs)))
    (text,) = texts(path, Sheet.SET_LIST)
    assert bare(text).count(bare(note)) == songs
    assert "…" not in text


def test_a_note_is_complete_on_a_chart_and_on_a_short_crib_sheet(tmp_path: Path) -> None:
    path = show(tmp_path, f"  - {{title: Moth, key: C, road_map: Verse 8, notes: '{NOTE}'}}\n")
    for sheet in (Sheet.CHARTS, Sheet.CRIB_SHEET):
        assert bare(NOTE) in bare(texts(path, sheet)[0])


@pytest.mark.parametrize("sheet", [Sheet.SET_LIST, Sheet.FLOOR_LIST, Sheet.CRIB_SHEET, Sheet.CHARTS])
def test_a_long_title_is_printed_in_full_if_there_is_room(tmp_path: Path, sheet: Sheet) -> None:
    title = "Everybody Who Ever Waited for the Last Ferry Home to Fennel Square in the Rain"
    path = show(
        tmp_path, f"  - {{title: {title}, key: Eb, tempo: 112, meter: 6/8, length: '4:20', road_map: Verse 8}}\n"
    )
    (text,) = texts(path, sheet)
    assert missing_in_order(text, title.split()) == []
    assert "…" not in text


@pytest.mark.parametrize("paper", Paper)
def test_a_floor_list_holds_nineteen_songs(tmp_path: Path, paper: Paper) -> None:
    keys = ["Bb", "F", "Eb", "F#m", "Db"]
    change = ", road_map: [{section: Verse}, {section: Chorus, key: F}]"
    path = show(
        tmp_path,
        "".join(
            f'  - {{title: "{title}", key: {keys[n % 5]}{change if n % 5 == 2 else ""}}}\n'
            for n, title in enumerate(TITLES)
        ),
    )
    (text,) = texts(path, Sheet.FLOOR_LIST, paper)
    assert missing_in_order(text, TITLES) == []
    assert "…" not in text
    (page,) = pages_of.__wrapped__(path.with_suffix(".pdf"))
    heights = [
        top - bottom
        for letter, (_left, bottom, _right, top) in zip(page.letters, page.boxes, strict=True)
        if letter in "EFHKLMTW" and top < page.height - 60
    ]
    assert min(heights) >= letter_height_pt(LEAST_ARCMIN, FLOOR_M) * 0.98


def test_a_long_set_takes_as_many_readable_pages_as_it_needs(tmp_path: Path) -> None:
    note = "riff in the second verse"
    path = show(
        tmp_path, "".join(f"  - {{title: Song {n} of the long pier, key: C, notes: {note}}}\n" for n in range(60))
    )
    pages = texts(path, Sheet.SET_LIST)
    assert len(pages) > 1
    for page in pages_of.__wrapped__(path.with_suffix(".pdf")):
        titles = [
            top - bottom
            for place, (_left, bottom, _right, top) in enumerate(page.boxes)
            if "".join(page.letters[place : place + 4]) == "Song"
        ]
        assert min(titles) >= letter_height_pt(LEAST_ARCMIN, 0.7) * 0.95  # a round letter's box is rounded


def test_a_feature_that_only_the_notes_name_is_printed_once(tmp_path: Path) -> None:
    show = tmp_path / "show.yaml"
    show.write_text("show: Pier\nsongs:\n  - {title: Moth, notes: organ solo (you!)}\n", encoding="utf-8")
    assert "".join(texts(show, Sheet.SET_LIST)).count("organ solo (you!)") == 1


@pytest.mark.parametrize("sheet", [Sheet.SET_LIST, Sheet.CRIB_SHEET])
def test_a_feature_that_the_list_told_twice_is_printed_once(tmp_path: Path, sheet: Sheet) -> None:
    show = tmp_path / "show.yaml"
    notes = "keys start; ask Jo; KEYS START"
    show.write_text(f"show: Pier\nsongs:\n  - {{title: Moth, notes: {notes}}}\n", encoding="utf-8")
    printed = "".join(texts(show, sheet))
    assert printed.casefold().count("keys start") == 1
    assert "ask Jo" in printed
