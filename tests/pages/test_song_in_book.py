"""A song from a songbook: what is typed is written for tonight, or for every show that plays it."""

from pathlib import Path

import pytest

from companion.edits import AddSection, Edit, Remove, SectionNamed, SetValue, SongNamed, commit
from companion.errors import CompanionError, FaultyFile
from companion.pages.desk import ShowDesk, SongOnDesk, Stack
from companion.pages.song_in_book import SongInBook, for_the_book, for_tonight, other_shows, song_in_book

BOOK = """\
# Ours
kiln-hill:
  title: Kiln Hill   # the slow one
  key: C
  road_map: Intro 4*, Verse 16, Chorus 8 in D
  # next
tram-home: Tram Home
"""
SHOW = """\
show: Night at the Mill
songs:
  - use: songbook.yaml#kiln-hill
    tempo: 96   # slower
  - {use: songbook.yaml#tram-home, key: A}
  - Herring Waltz
"""
NAMED = SongNamed("songbook.yaml#kiln-hill")
INTRO = (NAMED, "road_map", SectionNamed("Intro"))


@pytest.fixture
def desk(tmp_path: Path) -> ShowDesk:
    (tmp_path / "songbook.yaml").write_text(BOOK, encoding="utf-8")
    (tmp_path / "mill.yaml").write_text(SHOW, encoding="utf-8")
    return ShowDesk(tmp_path / "mill.yaml", tmp_path / "kept")


def first(desk: ShowDesk) -> tuple[Stack, SongOnDesk, SongInBook]:
    stack = desk.look()
    one = stack.songs[0]
    book = song_in_book(stack, one)
    assert book is not None
    return stack, one, book


def test_a_songs_songbook_and_the_shows_own_values_are_distinguished(desk: ShowDesk) -> None:
    stack, _, book = first(desk)
    assert (book.path.name, book.slug, book.own) == ("songbook.yaml", "kiln-hill", frozenset(["tempo"]))
    assert book.is_own(SetValue((NAMED, "tempo"), 90))
    assert not book.is_own(SetValue((NAMED, "key"), "D"))
    assert song_in_book(stack, stack.songs[2]) is None


@pytest.mark.parametrize(
    ("edit", "before", "after"),
    [
        (SetValue((NAMED, "key"), "Bb"), "key: C\n", "key: Bb\n"),
        (SetValue((NAMED, "length"), "3:40"), "Hill   # the slow one\n", "Hill   # the slow one\n"),
        (Remove((NAMED, "key")), "  key: C\n", ""),
        (SetValue((*INTRO, "bars"), 8), "Intro 4*", "Intro 8*"),
        (SetValue((*INTRO, "sound"), "lead"), "Intro 4*,", "Intro 4* @lead,"),
        (Remove((*INTRO, "feature")), "Intro 4*", "Intro 4"),
        (AddSection(NAMED, {"section": "Outro", "bars": 4}, None), "in D\n", "in D, Outro 4\n"),
    ],
)
def test_only_the_songbooks_lines_change(desk: ShowDesk, edit: Edit, before: str, after: str) -> None:
    _, one, book = first(desk)
    written = for_the_book(one, book, [edit], desk.path.parent / "kept")
    assert written.after != BOOK
    if before != after:
        assert written.after == BOOK.replace(before, after)
    commit([written], "a change", folder=desk.path.parent / "kept")
    assert desk.look().songs[0].song.tempo_bpm == 96
    assert desk.path.read_text(encoding="utf-8") == SHOW


def test_a_bare_title_in_the_songbook_takes_keys(desk: ShowDesk) -> None:
    stack, *_ = first(desk)
    one = stack.songs[1]
    book = song_in_book(stack, one)
    assert book is not None
    after = for_the_book(one, book, [SetValue((one.named, "tempo"), 120)], desk.path.parent / "kept").after
    assert after.endswith("tram-home:\n  title: Tram Home\n  tempo: 120\n")


def test_a_road_map_changed_for_tonight_is_copied_first(desk: ShowDesk) -> None:
    desk.edit("for tonight", lambda now: for_tonight(now, now.songs[0], [SetValue((*INTRO, "bars"), 8)]))
    assert desk.look().songs[0].song.road_map[0].bars == 8
    assert "    road_map: Intro 8*, Verse 16, Chorus 8 in D\n" in desk.path.read_text(encoding="utf-8")
    assert (desk.path.parent / "songbook.yaml").read_text(encoding="utf-8") == BOOK


def test_a_key_for_tonight_leaves_the_songbook_alone(desk: ShowDesk) -> None:
    desk.edit("for tonight", lambda now: for_tonight(now, now.songs[0], [SetValue((NAMED, "key"), "Bb")]))
    assert "    key: Bb\n" in desk.path.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("number", "edit", "words"),
    [
        (1, SetValue((SongNamed("songbook.yaml#tram-home"), "road_map"), "Verse 8"), "another key in this show"),
        (0, SetValue((*INTRO, "bars"), 900), "bars"),
        (0, SetValue((NAMED, "road_map", SectionNamed("Coda"), "bars"), 8), "no longer has the section"),
    ],
)
def test_a_change_that_cannot_go_to_the_songbook_is_refused(
    desk: ShowDesk, number: int, edit: Edit, words: str
) -> None:
    stack, *_ = first(desk)
    one = stack.songs[number]
    book = song_in_book(stack, one)
    assert book is not None
    with pytest.raises((CompanionError, FaultyFile), match=words):
        for_the_book(one, book, [edit], desk.path.parent / "kept")


def test_the_other_shows_that_play_it_are_named(desk: ShowDesk) -> None:
    _, _, book = first(desk)
    other = desk.path.with_name("ball.yaml")
    other.write_text("show: Harbour Ball\nsets:\n  - songs: [use: songbook.yaml#kiln-hill]\n", encoding="utf-8")
    third = desk.path.with_name("fair.yaml")
    third.write_text("show: Fair\nsongs: [use: songbook.yaml#tram-home]\n", encoding="utf-8")
    broken = desk.path.with_name("broken.yaml")
    broken.write_text("show: [", encoding="utf-8")
    known = [desk.path, other, third, broken, desk.path.with_name("gone.yaml")]
    assert other_shows(book, desk.path, known) == ("Harbour Ball",)


def test_undo_and_redo_reach_songbook_and_show_in_order(desk: ShowDesk) -> None:
    _, one, book = first(desk)
    kept = desk.path.parent / "kept"
    desk.edit("tempo 90", lambda _: [SetValue((NAMED, "tempo"), 90)])
    desk.edit_book("key D", lambda _: for_the_book(one, book, [SetValue((NAMED, "key"), "D")], kept))
    assert str(desk.look().songs[0].song.key) == "D"
    assert desk.undo()[0] == "key D"
    assert book.path.read_text(encoding="utf-8") == BOOK
    assert desk.redo()[0] == "key D"
    assert [desk.undo()[0], desk.undo()[0]] == ["key D", "tempo 90"]
    assert (book.path.read_text(encoding="utf-8"), desk.path.read_text(encoding="utf-8")) == (BOOK, SHOW)
    assert desk.undoable is None
