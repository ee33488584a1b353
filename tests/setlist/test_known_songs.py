"""Which songs of a list the songbooks beside a show know."""

from pathlib import Path

import pytest

from companion.setlist import import_list
from companion.setlist.doubt_answers import answer_to
from companion.setlist.known_songs import known_songs, songbooks_beside
from companion.setlist.list_questions import DoubtQuestion
from companion.setlist.model import DoubtAnswer
from companion.setlist.report import in_short, known_text

pytestmark = pytest.mark.usefixtures("reads_here")

BOOK = """\
gasworks-corner:
  title: Gasworks Corner
  key: C
gasworks-corner@tidewater-nine:
  use: songbook.yaml#gasworks-corner
  key: Bb
gasworks-corner@brass-kettle:
  use: songbook.yaml#gasworks-corner
  key: A
cafe: The Café on Pier St.
broken: {title: Broken, key: H}
"""


@pytest.fixture
def show(tmp_path: Path) -> Path:
    (tmp_path / "songbook.yaml").write_text(BOOK, encoding="utf-8")
    (tmp_path / "another.yaml").write_text("moth: {title: Moth}\ngas: {title: Gasworks Corner, key: F}\n")
    (tmp_path / "pier.dropped.yaml").write_text("lamp: {title: Lamp}\n")
    (tmp_path / "other-show.yaml").write_text("show: Other\nsongs: [Lamp]\n")
    (tmp_path / "rig.yaml").write_text("rig: Home\n")
    (tmp_path / "notes.yaml").write_text("a: [b\n")
    return tmp_path / "pier.yaml"


@pytest.mark.parametrize(
    ("title", "band", "use"),
    [
        ("gasworks corner", None, "songbook.yaml#gasworks-corner"),
        ("Gasworks Corner", "The Tidewater Nine", "songbook.yaml#gasworks-corner@tidewater-nine"),
        ("Gasworks Corner", "Tidewater Nine", "songbook.yaml#gasworks-corner@tidewater-nine"),
        ("Gasworks Corner", "Nobody's Nine", "songbook.yaml#gasworks-corner"),
        ("cafe on pier st", None, "songbook.yaml#cafe"),
        ("Moth", None, "another.yaml#moth"),
        ("Gasworks Corners", None, None),  # alike is not the same
        ("Broken", None, None),
        ("Lamp", None, None),
    ],
)
def test_a_title_finds_its_song_in_the_songbooks_of_the_folder(
    show: Path, title: str, band: str | None, use: str | None
) -> None:
    found = known_songs(show, [title], band)
    assert {asked: one.use for asked, one in found.items()} == ({title: use} if use else {})


def test_the_bands_version_is_the_song_with_its_differences(show: Path) -> None:
    (found,) = known_songs(show, ["Gasworks Corner"], "Tidewater Nine").values()
    assert (found.song.title, str(found.song.key)) == ("Gasworks Corner", "Bb")


@pytest.mark.parametrize(
    ("listed", "asked"),
    [
        ("Gas works Corner", ["Gasworks Corner"]),
        ("Gaswork Corners", ["Gasworks Corner"]),
        ("Gasworks Corner", []),
        ("Mouth", []),  # one letter makes another word
        ("1. Gasworks Corner\n2. Gasworks Corners", []),  # both are on the list: two songs
    ],
)
def test_a_title_almost_as_in_the_songbook_is_asked_about_and_yes_takes_that_song(
    show: Path, listed: str, asked: list[str]
) -> None:
    path = show.with_name("list.txt")
    path.write_text(f"1. Owl\n2. Lamp\n3. {listed}\n" if "\n" not in listed else listed)
    questions: list[str] = []

    def yes(question: DoubtQuestion) -> DoubtAnswer | None:
        if "songbook" not in question.doubt.question:
            return DoubtAnswer("")
        questions.append(question.doubt.question)
        return answer_to(question.doubt, "yes")

    import_list(path, show)
    assert "use:" not in show.read_text() or not asked, "without a yes it is another song"
    show.unlink()
    import_list(path, show, ask=yes)
    assert [one.split('"')[1] for one in questions] == asked
    assert ("use: songbook.yaml#gasworks-corner" in show.read_text()) is ("Mouth" not in listed)


def test_shows_rigs_dropped_songs_and_faulty_files_are_not_songbooks(show: Path) -> None:
    assert [one.name for one in songbooks_beside(show)] == ["songbook.yaml", "another.yaml"]
    assert songbooks_beside(show.parent / "nowhere" / "pier.yaml") == ()


def test_an_import_counts_known_songs_and_names_the_missing_keys(show: Path) -> None:
    path = show.with_name("list.txt")
    path.write_text("1. Gasworks Corner\n2. Moth\n3. Owl\n4. Weeds - D\n")
    imported = import_list(path, show)
    assert in_short(imported.listed) == "4 songs in 1 set, 3 without a key"
    assert known_text(imported) == "2 songs known from your songbook: 2 of 3 missing keys still open"


@pytest.mark.parametrize(
    ("title", "slug"),
    [
        ("Lantern for 2", "lantern"),
        ("Rust 'n' Roses", "roses"),
        ("Rust & Roses", "roses"),
        ("3 kleine Kähne", "kahne"),
        ("Twenty One Gulls", "gulls"),
        ("7 Bridges", None),  # two songs of the book may be meant
    ],
)
def test_numbers_and_the_word_and_may_be_spelt_otherwise(tmp_path: Path, title: str, slug: str | None) -> None:
    (tmp_path / "songbook.yaml").write_text(
        "lantern: {title: Lantern for Two}\nroses: {title: Rust and Roses}\nkahne: {title: Drei kleine Kähne}\n"
        "gulls: {title: 21 Gulls}\na: {title: Seven Bridges}\nb: {title: Sieben Bridges}\n",
        encoding="utf-8",
    )
    found = known_songs(tmp_path / "pier.yaml", [title])
    assert [one.use for one in found.values()] == ([f"songbook.yaml#{slug}"] if slug else [])


def test_a_title_that_is_spelt_otherwise_is_not_asked_about(tmp_path: Path) -> None:
    (tmp_path / "songbook.yaml").write_text("lantern: {title: Lantern for Two, key: Eb}\n")
    imported = import_list("list.txt", tmp_path / "pier.yaml", raw=b"1 Lantern for 2\n2 Moth Parade - C\n3 Fog - E\n")
    assert not imported.listed.in_doubt
    assert str(imported.show.sets[0].songs[0].key) == "Eb"


@pytest.mark.parametrize(
    ("listed", "of"),
    [
        ("When the Kettle Sings", "When the Kettle Sings and All the House Wakes Up Again"),
        ("Rust Before Roses (the long one)", "Rust Before Roses"),
        ("Harbour at Night", "The Harbour at Night, Slowly"),
        ("Gulls Again", "21 Gulls Again"),
        ("22 Gulls Again", None),
        ("Kettle", None),  # one word
        ("Late Train", None),  # two songs of the book may be meant
    ],
)
def test_a_title_that_is_a_part_of_one_in_the_songbook_is_asked_about(
    tmp_path: Path, listed: str, of: str | None
) -> None:
    titles = [
        "When the Kettle Sings and All the House Wakes Up Again",
        "Rust Before Roses",
        "The Harbour at Night, Slowly",
        "21 Gulls Again",
        "Late Train to Quay",
        "Late Train to Fell",
    ]
    book = "".join(f"s{at}: {{title: '{title}'}}\n" for at, title in enumerate(titles))
    (tmp_path / "songbook.yaml").write_text(book)
    raw = f"1 {listed}\n2 Moth Parade\n3 Fog Bell\n".encode()
    imported = import_list("list.txt", tmp_path / "pier.yaml", raw=raw)
    asked = [doubt.question for line in imported.listed.lines for doubt in line.doubts if "songbook" in doubt.question]
    assert [one.split('"')[1] for one in asked] == ([of] if of else [])


@pytest.mark.parametrize(
    ("listed", "asked"),
    [
        ("Moth Parade (Bm all the way now)", 1),
        ("Moth Parade - Bm", 1),
        ("Moth Parade - Am", 0),
        ("Moth Parade - D", 0),
        ("Moth Parade", 0),
    ],
)
def test_a_key_to_which_the_songbooks_song_only_goes_later_is_asked_about(
    tmp_path: Path, listed: str, asked: int
) -> None:
    book = 'moth: {title: Moth Parade, key: Am, road_map: "Verse 16\\nChorus 8 in Bm"}\n'
    (tmp_path / "songbook.yaml").write_text(book)
    raw = f"1. {listed}\n2. Weeds - C\n3. Fog Bell - G\n".encode()
    found = import_list("list.txt", tmp_path / "pier.yaml", raw=raw).listed
    assert sum("from the start" in doubt.question for line in found.lines for doubt in line.doubts) == asked

    def no(question: DoubtQuestion) -> DoubtAnswer | None:
        return answer_to(question.doubt, "no")

    if asked:
        (tmp_path / "pier.yaml").unlink()
        song = import_list("list.txt", tmp_path / "pier.yaml", raw=raw, ask=no).show.sets[0].songs[0]
        assert (str(song.key), str(song.road_map[1].key)) == ("Am", "Bm")
