"""Songs from a songbook: what it holds, what the show changes, and every way in which it can be missing."""

from pathlib import Path

import pytest

from companion.errors import FaultyFile
from companion.files import SourceFile
from companion.files.text_file import open_source
from companion.music import read_key
from companion.show import Section, Song, read_show, songbook
from companion.show.show_file import read_songbook, show_in

BOOK = """\
gasworks-corner:
  title: Gasworks Corner
  key: Bb
  tempo: 112
  road_map: Intro 4*, Verse 16
kettle: Kettle on the Jetty
up-a-tone: {use: "songbook.yaml#gasworks-corner", key: C}
round: {use: "songbook.yaml#and-round"}
and-round: {use: "songbook.yaml#round"}
nothing:
list: [1]
faulty: {title: Faulty, tempoo: 3}
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shows = tmp_path / "shows"
    shows.mkdir()
    (shows / "songbook.yaml").write_text(BOOK, encoding="utf-8")
    (tmp_path / "outside.yaml").write_text(BOOK, encoding="utf-8")
    return shows


def songs(folder: Path, *lines: str) -> tuple[Song, ...]:
    file = folder / "show.yaml"
    file.write_text("show: S\nsongs:\n" + "".join(f"  - {line}\n" for line in lines), encoding="utf-8")
    return read_show(file).show.sets[0].songs


def faults(folder: Path, *lines: str) -> list[str]:
    with pytest.raises(FaultyFile) as caught:
        songs(folder, *lines)
    return [str(fault).replace(f"{folder}/", "").replace(f"{folder}\\", "") for fault in caught.value.faults]


def test_a_song_is_written_once_and_used_with_what_differs(folder: Path) -> None:
    used, changed, titled, retitled, twice = songs(
        folder,
        "use: songbook.yaml#gasworks-corner",
        "{use: songbook.yaml#gasworks-corner, key: C, road_map: Verse 8}",
        "use: songbook.yaml#kettle",
        "{use: songbook.yaml#kettle, title: Kettle}",
        "use: songbook.yaml#up-a-tone",
    )
    intro, verse = Section("Intro", 4, feature="feature"), Section("Verse", 16)
    assert used == Song("Gasworks Corner", read_key("Bb"), tempo_bpm=112, road_map=(intro, verse))
    assert changed == Song("Gasworks Corner", read_key("C"), tempo_bpm=112, road_map=(Section("Verse", 8),))
    assert titled == Song("Kettle on the Jetty")
    assert retitled == Song("Kettle")
    assert twice == Song("Gasworks Corner", read_key("C"), tempo_bpm=112, road_map=(intro, verse))


def test_a_songbook_in_a_folder_below_is_found_and_finds_its_own(folder: Path) -> None:
    (folder / "books").mkdir()
    (folder / "books" / "songbook.yaml").write_text("one: {use: more.yaml#two}\n", encoding="utf-8")
    (folder / "books" / "more.yaml").write_text("two: {use: ../songbook.yaml#kettle}\n", encoding="utf-8")
    assert songs(folder, "use: books/songbook.yaml#one") == (Song("Kettle on the Jetty"),)


def test_places_point_into_the_file_that_says_it(folder: Path) -> None:
    songs(folder, "{use: songbook.yaml#gasworks-corner, key: C}")
    read = read_show(folder / "show.yaml")
    (song,) = read.show.sets[0].songs
    key = read.places.fault(song, "key", problem="")
    tempo = read.places.fault(song, "tempo", problem="")
    assert (Path(key.path).name, key.line, key.column) == ("show.yaml", 3, 47)
    assert (Path(tempo.path).name, tempo.line, tempo.column) == ("songbook.yaml", 4, 10)


SLUG = "Write: use: songbook.yaml#slug-of-the-song"
OUT = "leads out of the show's folder"
ABSOLUTE = "is an absolute path, which works on one computer only"


@pytest.mark.parametrize(
    ("use", "fault"),
    [
        ("songbook.yaml#ketle", '3:24: songbook.yaml has no song "ketle". Write: songbook.yaml#kettle'),
        ("songbok.yaml#a", '3:10: "songbok.yaml": there is no such file. Write: songbook.yaml, in the same folder'),
        ("songbook.yaml", f'3:10: "songbook.yaml" names no song in a songbook. {SLUG}'),
        ("'#kettle'", f'3:10: "#kettle" names no song in a songbook. {SLUG}'),
        ("../outside.yaml#kettle", f'3:10: "../outside.yaml" {OUT}. {SLUG}'),
        ("x/../../outside.yaml#kettle", f'3:10: "x/../../outside.yaml" {OUT}. {SLUG}'),
        ("/outside.yaml#kettle", f'3:10: "/outside.yaml" {ABSOLUTE}. {SLUG}'),
        ("C:/outside.yaml#kettle", f'3:10: "C:/outside.yaml" {ABSOLUTE}. {SLUG}'),
        ("b\\a.yaml#kettle", f'3:10: "b\\a.yaml" has a backslash, which works on one system only. {SLUG}'),
        ("[a]", f"3:10: use takes one text. {SLUG}"),
    ],
)
def test_a_song_that_cannot_be_used_is_reported(folder: Path, use: str, fault: str) -> None:
    assert faults(folder, f"use: {use}") == [f"show.yaml:{fault}"]


@pytest.mark.parametrize(
    ("slug", "fault"),
    [
        ("round", "9:18: these songs use each other in a circle. Write: the song itself in one of them"),
        ("nothing", '10:1: "nothing" is empty. Write: title: ... below it'),
        ("list", "11:7: a song is written as keys and values, not as a list. Write: title: ..."),
        ("faulty", '12:25: a song has no key "tempoo". Write: tempo'),
    ],
)
def test_a_songs_faults_are_reported_in_its_songbook(folder: Path, slug: str, fault: str) -> None:
    assert faults(folder, f"use: songbook.yaml#{slug}") == [f"songbook.yaml:{fault}"]


def test_a_faulty_songbook_is_reported_once_at_its_own_lines(folder: Path) -> None:
    (folder / "songbook.yaml").write_text("a: @b\n", encoding="utf-8")
    assert faults(folder, "use: songbook.yaml#a", "use: songbook.yaml#b") == [
        'songbook.yaml:1:4: a value that begins with @ needs quotes. Write: a: "@b"'
    ]
    (folder / "songbook.yaml").write_text("- a\n", encoding="utf-8")
    assert faults(folder, "use: songbook.yaml#a") == [
        "songbook.yaml:1:1: a songbook lists songs under their slugs. Write: gasworks-corner: {title: Gasworks Corner}"
    ]


def test_a_book_is_opened_once_for_all_its_songs(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    opened: list[str] = []

    def open_and_count(path: Path) -> SourceFile:
        opened.append(path.name)
        return open_source(path)

    monkeypatch.setattr(songbook, "open_source", open_and_count)
    assert len(songs(folder, *["use: songbook.yaml#kettle"] * 5)) == 5
    assert opened == ["songbook.yaml"]


def test_other_faults_of_the_song_are_reported_beside_a_missing_songbook(folder: Path) -> None:
    found = faults(folder, "{use: none.yaml#a, tempoo: 3}")
    assert [fault.partition(": ")[0] for fault in found] == ["show.yaml:3:11", "show.yaml:3:24"]


@pytest.mark.skipif(not hasattr(Path, "symlink_to"), reason="no links here")
def test_a_link_does_not_lead_out_of_the_folder(folder: Path) -> None:
    try:
        (folder / "link.yaml").symlink_to(folder.parent / "outside.yaml")
    except OSError:
        pytest.skip("this user may make no links")
    (fault,) = faults(folder, "use: link.yaml#kettle")
    assert "leads out of the show's folder" in fault


def test_books_bring_in_no_more_than_a_show_can_hold(folder: Path) -> None:
    long = ", ".join(f"{{section: S{n}}}" for n in range(390))
    (folder / "songbook.yaml").write_text(f"long: {{title: L, road_map: [{long}]}}\n", encoding="utf-8")
    text = "show: S\nsongs:\n" + "  - use: songbook.yaml#long\n" * 1000
    with pytest.raises(FaultyFile, match="the songs used from songbooks are more than a show can hold"):
        show_in(SourceFile(str(folder / "show.yaml"), text))


def test_a_show_uses_at_most_twenty_books(folder: Path) -> None:
    for number in range(21):
        (folder / f"b{number}.yaml").write_text(f"a: Song {number}\n", encoding="utf-8")
    assert len(songs(folder, *(f"use: b{number}.yaml#a" for number in range(20)))) == 20
    (fault,) = faults(folder, *(f"use: b{number}.yaml#a" for number in range(21)))
    assert "more than 20 songbooks" in fault


MOVED_BOOK = """\
letters:
  title: Letters
  key: A
  road_map:
    - {section: Verse, bars: 4, chords: A | D | E | A}
    - {section: Chorus, bars: 4, key: B, chords: B | E | F#7 | B}
from-a-chart: {use: "songbook.yaml#letters", chords_in: C}
lower: {use: "songbook.yaml#letters", key: G}
"""


@pytest.mark.parametrize(
    ("line", "key", "chords_in", "chorus"),
    [  # by hand: the songbook's road map belongs to the songbook's key
        ("use: songbook.yaml#letters", "A", None, "B"),
        ("{use: songbook.yaml#letters, key: G}", "G", "A", "A"),
        ("{use: songbook.yaml#letters, key: G, chords_in: F}", "G", "F", "A"),
        ("{use: songbook.yaml#from-a-chart, key: G}", "G", "C", "A"),
        ("use: songbook.yaml#lower", "G", "A", "A"),
        ("{use: songbook.yaml#lower, key: Bb}", "Bb", "A", "C"),  # two books deep: still the key of the road map
        ("{use: songbook.yaml#letters, key: A}", "A", None, "B"),
    ],
)
def test_a_songbooks_letters_and_section_keys_belong_to_its_key(
    folder: Path, line: str, key: str, chords_in: str | None, chorus: str
) -> None:
    (folder / "songbook.yaml").write_text(MOVED_BOOK, encoding="utf-8")
    (used,) = songs(folder, line)
    assert (str(used.key), used.chords_in and str(used.chords_in)) == (key, chords_in)
    assert str(used.road_map[1].key) == chorus


@pytest.mark.parametrize("book", ["letters", "from-a-chart"])
def test_a_road_map_beside_use_belongs_to_the_key_beside_it(folder: Path, book: str) -> None:
    (folder / "songbook.yaml").write_text(MOVED_BOOK, encoding="utf-8")
    road_map = "[{section: Verse, bars: 1, chords: G}, {section: Chorus, bars: 1, key: A, chords: A}]"
    (used,) = songs(folder, f"{{use: songbook.yaml#{book}, key: G, road_map: {road_map}}}")
    assert (used.chords_in, str(used.road_map[1].key)) == (None, "A")


def test_a_moved_songbook_song_keeps_its_place(folder: Path) -> None:
    (folder / "songbook.yaml").write_text(MOVED_BOOK, encoding="utf-8")
    file = folder / "show.yaml"
    file.write_text("show: S\nsongs:\n  - {use: songbook.yaml#letters, key: G}\n", encoding="utf-8")
    read = read_show(file)
    (used,) = read.show.sets[0].songs
    fault = read.places.fault(used.road_map[1], "chords", problem="here")
    assert (Path(fault.path).name, fault.line) == ("songbook.yaml", 6)


def test_a_songbook_is_read_as_all_its_songs_and_its_faults_have_their_places(tmp_path: Path) -> None:
    path = tmp_path / "songbook.yaml"
    path.write_text("moth: {title: Moth, key: C}\nlamp: Lamp\nmoth@nine: {use: songbook.yaml#moth, key: D}\n")
    book = read_songbook(path)
    assert book is not None
    assert [(song.title, str(song.key)) for song in book.show.sets[0].songs] == [
        ("Moth", "C"),
        ("Lamp", "None"),
        ("Moth", "D"),
    ]
    path.write_text("moth: {title: Moth, key: H}\n")
    with pytest.raises(FaultyFile, match=r"songbook\.yaml:1:26: \"H\" is not a key"):
        read_songbook(path)


@pytest.mark.parametrize("text", ["show: S\nsongs: [A]\n", "rig: R\n", "band: B\n", "a: b\n", "- a\n", "a: [b]\n"])
def test_other_files_are_not_songbooks(text: str, tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"
    path.write_text(text)
    assert read_songbook(path) is None


def test_a_songbook_is_not_a_show(tmp_path: Path) -> None:
    path = tmp_path / "songbook.yaml"
    path.write_text("moth: {title: Moth}\n")
    with pytest.raises(
        FaultyFile, match=r"this is a songbook, not a show\. Write: a show whose songs use it: - use: song"
    ):
        read_show(path)
