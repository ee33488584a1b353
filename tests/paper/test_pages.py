"""Every sheet of the demo show, on both papers, read back by two programs that did not write it."""

import re
from functools import cache
from pathlib import Path

import pytest
from paper.readers_back import (
    bare,
    bars_of,
    bookmarks,
    embedded,
    missing_in_order,
    outside,
    overlapping,
    pages_of,
    poppler_fonts,
    poppler_text,
)

from companion.music import ChordLine, Key, read_chord_line, read_meter
from companion.paper import Paper, PrintJob, Sheet, print_show
from companion.paper.leaves import FLOOR_M, LEAST_ARCMIN, letter_height_pt
from companion.show import Song, read_show

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "shows/pier-street.yaml"
SHOW = read_show(DEMO).show
SONGS = [song for one in SHOW.sets for song in one.songs]
CHARTED = [song for song in SONGS if song.road_map]
PLAYERS = ("keys", "Bb", "alto sax")
SHEETS = [(sheet, paper) for sheet in Sheet for paper in Paper]
SIGNS = str.maketrans({"b": "♭", "#": "♯"})
FOLDER: list[Path] = []


@pytest.fixture(scope="session", autouse=True)
def _folder(tmp_path_factory: pytest.TempPathFactory) -> None:
    """Keep what is printed once, for several tests, with the other files of the tests."""
    FOLDER.append(tmp_path_factory.mktemp("printed"))


@cache
def printed(sheet: Sheet, paper: Paper = Paper.A4, players: tuple[str, ...] = (), *, numbers: bool = False) -> Path:
    out = FOLDER[-1] / f"{printed.cache_info().misses}-{sheet.value}.pdf"
    print_show(DEMO, PrintJob((sheet,), paper, players=players, in_numbers=numbers), out)
    return out


def key(song: Song) -> str:
    return str(song.key).translate(SIGNS) if song.key else ""


@pytest.mark.parametrize(
    ("sheet", "paper"), [one if one[1] is Paper.A4 else pytest.param(*one, marks=pytest.mark.long) for one in SHEETS]
)
def test_no_letter_is_near_the_edge_or_overlaps_another(sheet: Sheet, paper: Paper) -> None:
    for number, page in enumerate(pages_of(printed(sheet, paper)), start=1):
        assert (round(page.width), round(page.height)) == {Paper.A4: (595, 842), Paper.LETTER: (612, 792)}[paper]
        assert outside(page, edge=18) == [], f"page {number}"  # 6.4 mm: what printers leave white, from memory
        assert list(overlapping(page)) == [], f"page {number}"


@pytest.mark.parametrize("sheet", Sheet)
def test_both_readers_find_every_font_embedded(sheet: Sheet) -> None:
    fonts = embedded(printed(sheet))
    assert fonts
    assert all(lies_in_it for _name, lies_in_it in fonts), fonts
    rows = poppler_fonts(printed(sheet))
    assert rows
    assert all(row[-5:-2] == ["yes", "yes", "yes"] for row in rows), rows  # embedded, subset, with its letters


@pytest.mark.parametrize("sheet", Sheet)
def test_both_readers_find_every_title_in_order(sheet: Sheet) -> None:
    titles = [song.title for song in (CHARTED if sheet is Sheet.CHARTS else SONGS)]
    assert missing_in_order("".join(page.text for page in pages_of(printed(sheet))), titles) == []
    assert missing_in_order("".join(poppler_text(printed(sheet))), titles) == []


def test_each_set_is_on_one_page_with_keys_sounds_and_notes_and_a_short_encore_joins_the_last() -> None:
    pages = pages_of(printed(Sheet.SET_LIST))
    assert len(pages) == len(SHOW.sets) - 1
    for one, page in zip(SHOW.sets, (*pages, pages[-1]), strict=True):
        assert missing_in_order(page.text, [one.name]) == []
        for song in one.songs:
            for words in (key(song), *(call.sound for call in song.sounds if not song.tacet)):
                assert bare(words) in bare(page.text), (song.title, words)
    assert "everybodysolos" in bare(pages[0].text)


@pytest.mark.parametrize("songs", [1, 12, 18, 22, 30])
def test_the_floor_list_is_legible_while_standing(songs: int, tmp_path: Path) -> None:
    """Its titles' capitals are at least 16 minutes of arc high (ISO 9241-3), seen from standing."""
    least = letter_height_pt(LEAST_ARCMIN, FLOOR_M)
    path = tmp_path / "songs.yaml"
    titles = "".join(
        f"  - {{title: '{SONGS[number % len(SONGS)].title.replace(chr(39), chr(8217))}, {number}', key: C}}\n"
        for number in range(songs)
    )
    path.write_text(f"show: Many\nsongs:\n{titles}", encoding="utf-8")
    print_show(path, PrintJob((Sheet.FLOOR_LIST,)), tmp_path / "floor.pdf")
    for page in pages_of(tmp_path / "floor.pdf"):
        heights = [
            top - bottom
            for letter, (_left, bottom, _right, top) in zip(page.letters, page.boxes, strict=True)
            if re.match("[A-Z]", letter) and top < page.height - 60  # below the small head
        ]
        assert heights
        assert min(heights) >= least * 0.98  # a round letter's box is what PDFium rounds


def test_sixty_songs_with_two_lines_each_fit_two_pages(tmp_path: Path) -> None:
    path = tmp_path / "sixty.yaml"
    songs = "".join(
        f"  - {{title: 'Song {number} of the long pier', key: Bb, starts_with: keys, count_off: 'two bars, sticks', "
        f"sound: grand piano, ending: cold, road_map: 'Intro 4*, Verse 16 @strings, Solo 8*'}}\n"
        for number in range(1, 61)
    )
    path.write_text(f"show: Sixty\nsongs:\n{songs}", encoding="utf-8")
    for paper in Paper:
        out = tmp_path / f"{paper.value}.pdf"
        assert print_show(path, PrintJob((Sheet.CRIB_SHEET,), paper), out).pages == 2
        pages = pages_of(out)
        assert missing_in_order("".join(page.text for page in pages), [f"Song {n} of" for n in range(1, 61)]) == []
        for page in pages:
            assert outside(page, edge=18) == []
            assert list(overlapping(page)) == []


def sounding(song: Song, chords: str, now: Key) -> ChordLine:
    """Read a chord line in this key; no song here that was written in another key changes its own."""
    line = read_chord_line(chords, song.meter or read_meter("4/4")).as_letters(now)
    return (line.moved(song.chords_in, now) if song.chords_in else line).plain


def chords_of(song: Song) -> list[str]:
    """Return the chords of a song's own chord lines in concert letters, by the reader of chord lines alone."""
    found: list[str] = []
    now = song.fingered_in or song.key  # no section of a song that is fingered elsewhere changes its key
    for section in song.road_map:
        now = section.key or now
        if section.chords and now:
            line = sounding(song, section.chords, now)
            found += [
                re.sub(r"b(?=\d)|(?<=[A-G])b|#", lambda sign: sign[0].translate(SIGNS), word)
                for word in words(str(line))
            ]
    return found


def words(line: str) -> list[str]:
    """Return the chords of a written line without its signs."""
    pieces = re.split(r"[|\s()]+", re.sub(r"in \d+/\d+|\d(?:st|nd|rd|th)\b|x\d+|%\d?", " ", line))
    return [piece.strip("<>^.") for piece in pieces if piece.strip("<>^./")]


def test_both_readers_find_every_chord_in_order() -> None:
    pages = pages_of(printed(Sheet.CHARTS))
    by_poppler = poppler_text(printed(Sheet.CHARTS))
    assert len(pages) == len(CHARTED)  # one page a song
    looked_for = 0
    for song, page, other in zip(CHARTED, pages, by_poppler, strict=True):
        chords = chords_of(song)
        looked_for += len(chords)
        assert missing_in_order(page.text, [song.title, key(song) if not song.fingered_in else "", *chords]) == [], (
            song.title
        )
        assert missing_in_order(other, chords) == [], song.title
        for section in song.road_map:
            assert bare(section.name) in bare(page.text)
            assert bare(section.cue or "") in bare(page.text)
    assert looked_for > 150


def as_read(written: str) -> list[str]:
    """Return the bars of a written line as a player reads them: by hand, from the table of signs in the guide."""
    bars = []
    for bar in re.split(r"\|", re.sub(r"[()]|\bx\d+|\d(?:st|nd|rd|th)\b(?:-\d\w\w)?|\bin (?=\d)", " ", written)):
        chords = bar.split()
        dots = {len(chord) - len(chord.rstrip(".")) for chord in chords if "/4" not in chord and chord != "N.C."}
        tokens = []
        for chord in chords:
            name = chord if chord == "N.C." else chord.rstrip(".")
            name = re.sub(r"^<(.+)>$", r"\1", name)
            name = re.sub(r"b(?=\d)|(?<=[A-G])b|#", lambda sign: sign[0].translate(SIGNS), name)
            tokens += [name, *(["/"] * (len(chord) - len(chord.rstrip(".")) - 1 if len(dots) > 1 else 0))]
        if tokens:
            bars.append(" ".join(tokens))
    return bars


def test_every_chart_page_reads_back_bar_by_bar_with_every_beat() -> None:
    read = 0
    for song, page in zip(CHARTED, bars_of(printed(Sheet.CHARTS)), strict=True):
        found = [" ".join(bar.words) for bar in page if bar.words]
        now, at = song.fingered_in or song.key, 0
        for section in song.road_map:
            now = section.key or now
            if section.chords and now and not (section.tacet or song.tacet):
                wanted = as_read(str(sounding(song, section.chords, now)))
                places = [n for n in range(at, len(found)) if found[n : n + len(wanted)] == wanted]
                assert places, (song.title, section.name, wanted, found[at:])
                at = places[0] + len(wanted)
                read += len(wanted)
    assert read > 150


def test_a_pack_has_contents_bookmarks_and_page_numbers_for_each_player() -> None:
    path = printed(Sheet.BAND_PACK, players=PLAYERS)
    pages = pages_of(path)
    each = len(CHARTED) + 1
    assert len(pages) == each * len(PLAYERS)
    marks = bookmarks(path)
    assert [title for level, title, _page in marks if level == 0] == [
        "keys",
        "B♭ part",
        "alto sax in E♭",
    ]
    for player in range(len(PLAYERS)):
        mine = marks[player * each : (player + 1) * each]
        assert mine[0][2] == player * each
        assert [(level, title) for level, title, _page in mine[1:]] == [(1, song.title) for song in CHARTED]
        contents = pages[player * each].text
        for number, (song, (_level, _title, page)) in enumerate(zip(CHARTED, mine[1:], strict=True), start=2):
            assert bare(song.title) in bare(pages[page].text)
            assert bare(pages[page].text).endswith(f"{number}/{each}") or f"{number}/{each}" in bare(pages[page].text)
            assert re.search(rf"{re.escape(song.title)}.*\b{number}\b", contents)


@pytest.mark.parametrize(
    ("player", "title", "written"),
    [  # tests/music/data/instrument_keys.csv: any orchestration book
        ("C", "Rope Walk Shuffle", "B♭"),
        ("Bb", "Rope Walk Shuffle", "C"),
        ("tenor sax", "Rope Walk Shuffle", "C"),
        ("alto sax", "Rope Walk Shuffle", "G"),
        ("F", "Rope Walk Shuffle", "F"),
        ("Bb", "Wet Paint on the Bandstand", "G♯m"),
        ("Eb", "Slow Dance for Lighthouse Keepers", "E♭"),
        ("F", "Borrowed Trombone", "Dm"),
    ],
)
def test_a_part_is_printed_in_its_own_key(player: str, title: str, written: str, tmp_path: Path) -> None:
    out = tmp_path / "part.pdf"
    print_show(DEMO, PrintJob(songs=(title,), players=(player,)), out)
    (page,) = poppler_text(out)
    assert written in page.splitlines()[:2]


def test_printing_twice_gives_the_same_page(tmp_path: Path) -> None:
    first, second = tmp_path / "1.pdf", tmp_path / "2.pdf"
    for out in (first, second):
        print_show(DEMO, PrintJob((Sheet.SET_LIST,)), out)
    assert first.read_bytes() == second.read_bytes()
