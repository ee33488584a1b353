"""The leader's second list: what differs is shown, and all work is kept."""

import random
from pathlib import Path

import pytest

from companion.errors import CompanionError
from companion.setlist import Imported, import_list
from companion.setlist.revising.dropped_songs import on_the_shelf, slug_of
from companion.setlist.revising.matching import match
from companion.show import Song, read_show

pytestmark = pytest.mark.usefixtures("reads_here")

SHOW = """# My show
show: Pier Street
band: The Nine
sets:
  # first set
  - set: First
    starts: "20:00"   # sharp
    songs:   # in order
      # learn this one!
      - title: Gasworks Corner   # good one
        key: Bb
        sound: tonewheel organ
        road_map: Intro 4*, Verse 16
      - title: Kettle on the Jetty
        key: Gm
        segue: Harbour Lamps
      - title: Harbour Lamps
        # my own comment
        notes: mine

  - set: Second
    songs:
    - title: Moth
      known: 4
    - title: Weeds
      road_map:
        - {section: Intro, bars: 4, feature: riff}
# the end
"""
SECOND_LIST = """Set 1
1. Kettle on a Jetty - Gm
2. Gasworks Corner - A - 3:40
3. Fresh Tune - C
Set 2
1. Moth
2. Harbour Lamps (organ solo)
"""


def revised(tmp_path: Path, text: str, show: str = SHOW, *, yes: bool = True) -> tuple[Imported, str]:
    path, listed = tmp_path / "pier-street.yaml", tmp_path / "list.txt"
    if not path.exists():
        path.write_text(show)
    listed.write_text(text)
    imported = import_list(listed, path, agree=lambda _: yes)
    return imported, path.read_text()


def test_a_first_list_becomes_a_show_file(tmp_path: Path) -> None:
    (tmp_path / "Pier list.txt").write_text(SECOND_LIST)
    imported = import_list(tmp_path / "Pier list.txt", tmp_path / "new.yaml")
    assert imported.is_new
    assert imported.is_written
    assert read_show(tmp_path / "new.yaml").show == imported.show


def test_differences_are_shown(tmp_path: Path) -> None:
    imported, _ = revised(tmp_path, SECOND_LIST)
    assert [str(one) for one in imported.differences] == [
        "key: Gasworks Corner (Bb → A)",
        "dropped: Weeds (Second 2)",
        "new: Fresh Tune (First 3, C)",
        "moved: Gasworks Corner (First 1 → First 2)",
        "moved: Harbour Lamps (First 3 → Second 2)",
        "renamed: Kettle on a Jetty (was Kettle on the Jetty, almost the same title)",
        "note: Harbour Lamps (+ organ solo)",
        "segue broken: Kettle on a Jetty (goes into Harbour Lamps, but Gasworks Corner follows)",
        "changed: Gasworks Corner (length - → 3:40)",
    ]


def test_work_and_comments_are_kept(tmp_path: Path) -> None:
    imported, text = revised(tmp_path, SECOND_LIST)
    show = read_show(tmp_path / "pier-street.yaml").show
    assert show == imported.show
    corner = show.sets[0].songs[1]
    assert (str(corner.key), corner.sounds[0].sound, len(corner.road_map)) == ("A", "tonewheel organ", 2)
    for comment in (
        "# My show",
        "# first set",
        "# sharp",
        "# learn this one!",
        "# good one",
        "# my own comment",
        "# the end",
        "# in order",
    ):
        assert text.count(comment) == 1
    assert show.sets[0].starts_min == 1200
    assert show.sets[1].songs[0].known == 4


def test_a_dropped_song_waits_in_a_songbook_and_comes_back_with_its_work(tmp_path: Path) -> None:
    imported, _ = revised(tmp_path, SECOND_LIST)
    assert imported.dropped_to == str(tmp_path / "pier-street.dropped.yaml")
    again, text = revised(tmp_path, SECOND_LIST + "3. Weeds (Em)\n")
    assert "back again: Weeds (Second 3)" in [str(one) for one in again.differences]
    assert "use: pier-street.dropped.yaml#weeds" in text
    weeds = read_show(tmp_path / "pier-street.yaml").show.sets[1].songs[2]
    assert (str(weeds.key), weeds.road_map[0].feature) == ("Em", "riff")
    revised(tmp_path, SECOND_LIST)
    (dropped,) = on_the_shelf(tmp_path / "pier-street.yaml")
    assert (dropped.use, dropped.song) == ("pier-street.dropped.yaml#weeds", weeds)


def test_the_same_list_again_changes_nothing(tmp_path: Path) -> None:
    _, text = revised(tmp_path, SECOND_LIST)
    imported, again = revised(tmp_path, SECOND_LIST)
    assert (imported.is_written, again) == (False, text)


def test_nothing_is_written_if_the_player_says_no(tmp_path: Path) -> None:
    imported, text = revised(tmp_path, SECOND_LIST, yes=False)
    assert (imported.is_written, text) == (False, SHOW)
    assert not (tmp_path / "pier-street.dropped.yaml").exists()


@pytest.mark.parametrize(
    "show",
    [
        "show: x\nsets: [{set: One, songs: [{title: Moth, key: C}]}]\n",
        "show: x\nsongs:\n  - title: Moth\n    key: C\n  - title: Jam Jar\n",
        "show: x\nsets:\n  - set: One\n    songs:\n      - &m {title: Moth, key: C}\n      - *m\n",
        "show: x\nsets:\n  - set: One\n    songs: [{title: Moth, key: C}, {title: Jam Jar, key: D}]\n",
        "show: x\nsets:\n  - set: One\n    songs:\n      -\n        title: Moth\n      - {title: Jam Jar}\n",
    ],
)
def test_a_file_whose_lines_cannot_be_moved_is_rewritten_and_the_old_one_kept(tmp_path: Path, show: str) -> None:
    imported, _ = revised(tmp_path, "1. Jam Jar (G)\n2. Moth (D)\n3. Fog Signal", show)
    assert read_show(tmp_path / "pier-street.yaml").show == imported.show
    assert [song.title for song in imported.show.sets[0].songs] == ["Jam Jar", "Moth", "Fog Signal"]
    if imported.kept_beside:
        assert Path(imported.kept_beside).read_text() == show


def test_any_reordering_keeps_each_song_intact(tmp_path: Path) -> None:
    dice = random.Random(7)  # noqa: S311  no secret
    for turn in range(12):
        folder = tmp_path / str(turn)
        folder.mkdir()
        titles = ["Gasworks Corner", "Kettle on the Jetty", "Harbour Lamps", "Moth", "Weeds", "Fresh Tune"]
        dice.shuffle(titles)
        kept = titles[: dice.randrange(1, 7)]
        cut = dice.randrange(len(kept) + 1)
        lines = ["Set 1", *(f"- {title}" for title in kept[:cut]), "Set 2", *(f"- {title}" for title in kept[cut:])]
        imported, text = revised(folder, "\n".join(lines))
        assert imported.kept_beside is None
        shelf = folder / "pier-street.dropped.yaml"
        both = text + (shelf.read_text() if shelf.exists() else "")
        for comment in ("# learn this one!", "# good one", "# my own comment", "# the end", "# My show"):
            assert both.count(comment) == 1


@pytest.mark.parametrize(
    ("old", "new", "is_same"),
    [
        ("Gasworks Corner", "GASWORKS CORNER!", True),
        ("Gasworks Corner", "Gaswork Corner", True),
        ("The Long Allotment", "Long Allotment", True),
        ("Café Morgenrot", "Cafe Morgenrot", True),
        ("Harbour Lamps", "Harbour Lamps (acoustic)", True),
        ("Salt & Vinegar Skies", "Salt and Vinegar Skies", True),
        ("Harbour Lamps", "Harbour Nights", False),
        ("Moth", "Mouth", False),
        ("Plan B", "Plan C", False),
    ],
)
def test_a_nearly_identical_title_is_matched(old: str, new: str, *, is_same: bool) -> None:
    assert bool(match([Song(old)], [Song(new)])) is is_same


def test_repeated_titles_are_matched_in_order() -> None:
    pairs = match([Song("Moth")] * 4, [Song("Moth")] * 5)
    assert [(pair.old, pair.new) for pair in pairs] == [(0, 0), (1, 1), (2, 2), (3, 3)]


def test_slugs_are_keys_that_yaml_reads_as_text() -> None:
    assert [slug_of(title) for title in ("Café – Morgenrot!", "1999", "No", "🎹", "Moth")] == [
        "cafe-morgenrot",
        "song-1999",
        "song-no",
        "song",
        "moth",
    ]
    assert slug_of("Moth", ["moth", "moth-2"]) == "moth-3"


def test_a_show_with_faults_is_not_changed(tmp_path: Path) -> None:
    with pytest.raises(CompanionError):
        revised(tmp_path, SECOND_LIST, "show: x\ntempoo: 3\n")


WITH_LETTERS = """# mine
show: Pier Street
sets:
  - set: First
    songs:
      - title: Gasworks Corner
        key: A    # as the record
        road_map:
          - Intro 4, Verse 8
          - {section: Chorus, bars: 4, chords: A | D | E | A}   # from the chart
          - {section: Chorus, bars: 4, key: B}   # up a tone
      - use: book.yaml#kettle
      - use: book.yaml#kettle-higher
      - {title: Moth, key: A, road_map: [{section: Verse, chords: 1 | 4}, {section: Verse, key: B}]}
      - title: Weeds
        key: A
        chords_in: C
        road_map:
          - {section: Verse, chords: C | F}
"""
BOOK = """\
kettle: {title: Kettle, key: A, road_map: [{section: Verse, chords: A | D}, {section: Verse, key: B}]}
kettle-higher: {use: "book.yaml#kettle", title: Kettle Again, key: Bb}
"""
IN_G = "Set 1\n1. Gasworks Corner - G\n2. Kettle - G\n3. Kettle Again - G\n4. Moth - G\n5. Weeds - G\n"


def test_a_new_key_leaves_chord_letters_in_the_key_of_writing(tmp_path: Path) -> None:
    (tmp_path / "book.yaml").write_text(BOOK)
    imported, text = revised(tmp_path, IN_G, WITH_LETTERS)
    assert imported.kept_beside is None
    songs = read_show(tmp_path / "pier-street.yaml").show.sets[0].songs
    assert [(str(song.key), str(song.chords_in)) for song in songs] == [
        ("G", "A"),
        ("G", "A"),
        ("G", "A"),
        ("G", "None"),  # numbers
        ("G", "C"),  # it was said already
    ]
    assert [str(song.road_map[-1].key) for song in songs] == ["A", "A", "A", "A", "None"]
    told = [str(one) for one in imported.differences]
    assert "key: Gasworks Corner (A → G; its letters stay written in A, Chorus B → A)" in told
    assert "key: Moth (A → G; Verse B → A)" in told
    gone = [line for line in WITH_LETTERS.splitlines() if line not in text.splitlines()]
    assert [line.strip() for line in gone] == [
        "key: A    # as the record",
        "- {section: Chorus, bars: 4, key: B}   # up a tone",
        "- {title: Moth, key: A, road_map: [{section: Verse, chords: 1 | 4}, {section: Verse, key: B}]}",
        "key: A",
    ]
    assert text.count("chords_in") == 2  # the songbook's stay with the songbook
    assert all(comment in text for comment in ("# as the record", "# from the chart", "# up a tone"))


def test_a_new_key_marks_the_notes_that_name_keys_and_keeps_the_comments(tmp_path: Path) -> None:
    show = """show: Pier Street  # mine
songs:
  - title: Gasworks Corner  # the opener
    key: A
    notes: up to B at the end; Ida counts
  - title: Kettle
    key: A
    notes: up to B at the end
"""
    imported, text = revised(tmp_path, "1. Gasworks Corner - G (into C at the last chorus)\n2. Kettle - A\n", show)
    first, second = read_show(tmp_path / "pier-street.yaml").show.sets[0].songs
    assert (first.notes or "").startswith("up to B at the end (written in A); Ida counts")
    assert "C at the last chorus" in (first.notes or "")
    assert (first.notes or "").count("written in") == 1, "what the new list says is of the new key"
    assert second.notes == "up to B at the end"
    assert any("its notes stay written in A" in str(one) for one in imported.differences)
    assert "# mine" in text
    assert "# the opener" in text


def test_a_second_new_key_leaves_chord_letters_there_too(tmp_path: Path) -> None:
    (tmp_path / "book.yaml").write_text(BOOK)
    revised(tmp_path, IN_G, WITH_LETTERS)
    revised(tmp_path, IN_G.replace("- G", "- F"), WITH_LETTERS)
    songs = read_show(tmp_path / "pier-street.yaml").show.sets[0].songs
    assert [(str(song.key), str(song.chords_in), str(song.road_map[-1].key)) for song in songs] == [
        ("F", "A", "G"),
        ("F", "A", "G"),
        ("F", "A", "G"),
        ("F", "None", "G"),
        ("F", "C", "None"),
    ]
