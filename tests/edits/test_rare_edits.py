"""Edits that are seldom made: sets and songs added where there are none, lists item by item, songbooks, refusals."""

import sys
from pathlib import Path

import pytest

from companion.edits import (
    AddSet,
    AddSong,
    Appended,
    Edit,
    EditClash,
    MoveSong,
    NewText,
    Remove,
    SetNamed,
    SetValue,
    SongNamed,
    applied,
    commit,
    open_text,
)
from companion.edits.applying import applied_in_book, lines_of_song
from companion.edits.rendering import list_indent_of
from companion.edits.saving import clash_of
from companion.errors import CompanionError

MOTH, WEEDS, NOBODY = SongNamed("Moth"), SongNamed("Weeds"), SongNamed("Nobody")
FIRST, LATE, EMPTY = SetNamed("First"), SetNamed("Late"), SetNamed("Empty")
SETS = """\
show: Pier   # mine
sets:
  - set: First   # early
    songs:
      - Moth   # hers
  - set: Late
    songs:
      - Weeds
  - set: Empty
    minutes: 45   # or so
"""


@pytest.mark.parametrize(
    ("edit", "was", "now"),
    [
        (AddSet({"set": "Encore"}), "# or so\n", "# or so\n  - set: Encore\n"),
        (AddSet({"set": "Dinner"}, FIRST), "  - set: Late\n", "  - set: Dinner\n  - set: Late\n"),
        (AddSong("Tram"), "- Moth   # hers\n", "- Moth   # hers\n      - Tram\n"),
        (AddSong("Tram", LATE), "      - Weeds\n", "      - Weeds\n      - Tram\n"),
        (AddSong("Tram", LATE, WEEDS), "      - Weeds\n", "      - Weeds\n      - Tram\n"),
        (AddSong("Tram", LATE, MOTH), "      - Weeds\n", "      - Weeds\n      - Tram\n"),
        (
            AddSong({"title": "Tram", "key": "C"}, FIRST),
            "- Moth   # hers\n",
            "- Moth   # hers\n      - title: Tram\n        key: C\n",
        ),
        (AddSong("Tram", EMPTY), "# or so\n", "# or so\n    songs:\n      - Tram\n"),
        (MoveSong(MOTH, LATE), "    songs:\n      - Weeds\n", "    songs:\n      - Moth   # hers\n      - Weeds\n"),
        (MoveSong(MOTH, LATE, WEEDS), "      - Weeds\n", "      - Weeds\n      - Moth   # hers\n"),
        (SetValue((FIRST, "starts"), "20:30"), "# early\n", '# early\n    starts: "20:30"\n'),
        (SetValue((EMPTY, "minutes"), 60), "minutes: 45", "minutes: 60"),
        (SetValue((LATE, "set"), "Later"), "set: Late\n", "set: Later\n"),
        (Remove((EMPTY, "minutes")), "    minutes: 45   # or so\n", ""),
    ],
)
def test_sets_and_songs_are_added_where_they_belong(edit: Edit, was: str, now: str) -> None:
    text = SETS.replace("      - Moth   # hers\n", "") if isinstance(edit, MoveSong) else SETS
    assert text.count(was) == 1
    assert applied(SETS, [edit]) == text.replace(was, now)


@pytest.mark.parametrize(
    ("text", "now"),
    [
        ("show: Pier\n", "show: Pier\nsongs:\n  - Tram\n"),
        ("show: Pier\nsongs:\n", "show: Pier\nsongs:\n  - Tram\n"),
        ("show: Pier\nsongs: []   # none\n", "show: Pier\nsongs: [Tram]   # none\n"),
        ("show: Pier\nsongs: [Moth, Weeds]\n", "show: Pier\nsongs: [Moth, Weeds, Tram]\n"),
        (
            "show: Pier\nsets:\n  - set: One\n    songs:\n",
            "show: Pier\nsets:\n  - set: One\n    songs:\n      - Tram\n",
        ),
    ],
)
def test_the_first_song_is_added_to_a_show(text: str, now: str) -> None:
    assert applied(text, [AddSong("Tram")]) == now


@pytest.mark.parametrize(
    ("edit", "why"),
    [
        (AddSet({"set": "Encore"}, SetNamed("Nowhere")), 'the set "Nowhere" is gone'),
        (AddSong("Tram", SetNamed("Nowhere")), 'the set "Nowhere" is gone'),
        (MoveSong(NOBODY, LATE), 'the song "Nobody" is gone'),
        (MoveSong(MOTH, LATE, NOBODY), 'the song "Nobody" is no longer in the set "Late"'),
        (MoveSong(MOTH, LATE, MOTH), 'the song "Moth" is no longer in the set "Late"'),
        (MoveSong(MOTH, EMPTY), 'the set "Empty" has no songs yet'),
        (Remove((MOTH, "key")), "nothing to remove|no place"),
        (SetValue((NOBODY, "key"), "C"), 'the song "Nobody" is gone'),
    ],
)
def test_an_edit_of_what_is_gone_is_refused(edit: Edit, why: str) -> None:
    with pytest.raises(CompanionError, match=why):
        applied(SETS, [edit])


def test_a_show_without_sets_gets_none() -> None:
    text = "show: Pier\nsongs:\n  - Moth\n"
    with pytest.raises(CompanionError, match=r"its songs are not in sets\. Write: sets:"):
        applied(text, [AddSet({"set": "Encore"})])
    with pytest.raises(CompanionError, match=r"so a set's starts has no place\. Write: sets:"):
        applied(text, [SetValue((SetNamed("Set 1"), "starts"), "20:00")])


BLOCK = "practice:\n  days_off:\n    - sun   # rest\n    - mon\n    - tue   # choir\n  listening: 20\n"
BRACKETS = "practice:\n  days_off: [sun, mon, tue]   # rest\n  listening: 20\n"


@pytest.mark.parametrize(
    ("days", "block", "brackets"),
    [
        (["sun", "mon", "tue"], ("", ""), ("", "")),
        (["sun", "wed", "tue"], ("- mon\n", "- wed\n"), ("mon", "wed")),
        (["sun", "tue"], ("    - mon\n", ""), ("mon, ", "")),
        (["mon", "tue"], ("    - sun   # rest\n", ""), ("sun, ", "")),
        (["sun", "mon"], ("    - tue   # choir\n", ""), (", tue", "")),
        (["sun", "mon", "wed", "tue"], ("    - tue", "    - wed\n    - tue"), ("tue", "wed, tue")),
        (["wed", "sun", "mon", "tue"], ("    - sun", "    - wed\n    - sun"), ("sun", "wed, sun")),
        (["sun", "mon", "tue", "wed"], ("# choir\n", "# choir\n    - wed\n"), ("tue", "tue, wed")),
        (["sun", "wed", "thu", "tue"], ("- mon\n", "- wed\n    - thu\n"), ("mon", "wed, thu")),
        (["sun"], ("    - mon\n    - tue   # choir\n", ""), (", mon, tue", "")),
    ],
)
def test_a_list_is_changed_item_by_item(days: list[str], block: tuple[str, str], brackets: tuple[str, str]) -> None:
    edit = SetValue(("practice", "days_off"), days)
    assert applied(BLOCK, [edit]) == BLOCK.replace(*block) if block[0] else BLOCK
    assert applied(BRACKETS, [edit]) == BRACKETS.replace(*brackets) if brackets[0] else BRACKETS


def test_a_table_is_changed_key_by_key() -> None:
    text = "practice:\n  minutes: 45   # each\n  days_off: sun\n  listening: 20\n"
    edit = SetValue(("practice",), {"minutes": 45, "listening": 30})
    assert applied(text, [edit]) == text.replace("  days_off: sun\n", "").replace("20", "30")
    in_braces = "practice: {minutes: 45, days_off: sun, listening: 20}   # each\n"
    assert applied(in_braces, [edit]) == in_braces.replace("days_off: sun, ", "").replace("20", "30")


BOOK = "# mine\nmoth:\n  title: Moth   # hers\n  key: C\nweeds: Weeds\n"


@pytest.mark.parametrize(
    ("slug", "edit", "now"),
    [
        ("moth", SetValue((WEEDS, "key"), "D"), BOOK.replace("key: C", "key: D")),
        ("moth", Remove((MOTH, "key")), BOOK.replace("  key: C\n", "")),
        ("weeds", SetValue((MOTH, "key"), "D"), BOOK.replace("weeds: Weeds", "weeds:\n  title: Weeds\n  key: D")),
    ],
)
def test_a_song_of_a_songbook_is_edited_by_its_slug(slug: str, edit: Edit, now: str) -> None:
    assert applied_in_book(BOOK, slug, [edit]) == now


@pytest.mark.parametrize(
    ("text", "slug", "edit", "why"),
    [
        (BOOK, "tram", SetValue((MOTH, "key"), "D"), "book.yaml has no song tram any more"),
        (BOOK.replace("moth:", "moth: &one"), "moth", SetValue((MOTH, "key"), "D"), "book.yaml has YAML labels"),
        (BOOK, "moth", AddSong("Tram"), "a songbook has no sets"),
    ],
)
def test_an_edit_that_a_songbook_cannot_take_is_refused(text: str, slug: str, edit: Edit, why: str) -> None:
    with pytest.raises(CompanionError, match=why):
        applied_in_book(text, slug, [edit], "book.yaml")
    with pytest.raises(CompanionError, match=why.replace("book.yaml", "the songbook")):
        applied_in_book(text, slug, [edit])


def test_a_songs_lines_are_those_of_its_own() -> None:
    song = "  - title: Weeds\n    key: C\n\n    # loud\n    notes: |\n      one\n\n        two\n"
    text = f"songs:\n  - Moth   # hers\n  # about it\n{song}  - Tram\n"
    assert lines_of_song(text, MOTH) == ("- Moth   # hers",)
    assert lines_of_song(text, WEEDS) == tuple(line[2:] for line in song.splitlines())
    with pytest.raises(CompanionError, match='the song "Moth" has no lines of its own'):
        lines_of_song("songs: [Moth, Weeds]\n", MOTH)
    with pytest.raises(CompanionError, match='the song "Moth" is gone'):
        lines_of_song("songs:\n  - Weeds\n", MOTH)


def test_edits_of_several_songs_on_one_line_are_made_one_after_the_other() -> None:
    text = "songs: [{title: Moth, key: C}, Weeds]   # two\n"
    edits = [SetValue((MOTH, "key"), "D"), SetValue((WEEDS, "key"), "E")]
    assert applied(text, edits) == "songs: [{title: Moth, key: D}, {title: Weeds, key: E}]   # two\n"


def test_a_song_in_braces_is_moved_within_them() -> None:
    text = "sets:\n  - {set: First, songs: [Moth, Weeds]}\n  - {set: Late, songs: [Tram]}\n"
    assert applied(text, [MoveSong(MOTH, LATE)]) == text.replace("Moth, ", "").replace("[Tram]", "[Moth, Tram]")
    assert applied(text, [MoveSong(MOTH, FIRST, WEEDS)]) == text.replace("Moth, Weeds", "Weeds, Moth")
    assert applied(text, [MoveSong(WEEDS, FIRST)]) == text.replace("Moth, Weeds", "Weeds, Moth")


@pytest.mark.parametrize(
    ("was", "value", "now"),
    [
        ("length: 3:40   # live", "4:05", "length: 4:05   # live"),
        ('length: "3:40"   # live', "4:05", 'length: "4:05"   # live'),
        ("notes: slow   # hers", "4:05", 'notes: "4:05" # hers'),
        ("notes: slow   # hers", "no", 'notes: "no"   # hers'),
        ("notes: slow   # hers", "one: two", 'notes: "one: two" # hers'),
        ("notes: slow   # hers", "a # b", 'notes: "a # b" # hers'),
        ("notes: 'slow'   # hers", "it's", "notes: 'it''s'  # hers"),
    ],
)
def test_a_value_is_written_as_the_one_that_it_replaces_if_it_can_be(was: str, value: str, now: str) -> None:
    """The comment behind it stays in its column while there is room."""
    text = f"songs:\n  - title: Moth\n    {was}\n"
    key = was.partition(":")[0]
    assert applied(text, [SetValue((MOTH, key), value)]) == f"songs:\n  - title: Moth\n    {now}\n"


def test_a_song_whose_dash_has_a_line_of_its_own_goes_with_it() -> None:
    text = "songs:\n  -\n    title: Moth\n    key: C\n  - Weeds\n"
    assert applied(text, [Remove((MOTH,))]) == "songs:\n  - Weeds\n"
    assert applied(text, [MoveSong(MOTH, SetNamed("Set 1"), WEEDS)]) == (
        "songs:\n  - Weeds\n  -\n    title: Moth\n    key: C\n"
    )


@pytest.mark.parametrize(
    ("now", "clash"),
    [
        ("band: The Nine\n", None),
        ("band: The Ten\n", None),
        ("band: The Six\n", EditClash("band", "The Nine", "The Six", "The Ten")),
        ("show: Pier\n", EditClash("band", "The Nine", "nothing", "The Ten")),
    ],
)
def test_a_value_of_the_show_that_both_changed_is_a_clash(now: str, clash: EditClash | None) -> None:
    assert clash_of("band: The Nine\n", now, SetValue(("band",), "The Ten")) == clash


@pytest.mark.skipif(sys.platform == "win32", reason="that system has no such permissions")
def test_lines_go_to_a_new_file_with_the_permissions_of_what_is_written_with_them(tmp_path: Path) -> None:
    commit([], "log", appends=[Appended(str(tmp_path / "alone.jsonl"), "{}\n")], folder=tmp_path / "kept")
    assert (tmp_path / "alone.jsonl").stat().st_mode & 0o777 == 0o600
    show = tmp_path / "show.yaml"
    show.write_text("show: Pier\n")
    show.chmod(0o640)
    change = NewText(open_text(show, tmp_path / "kept"), "show: Pier Street\n")
    commit([change], "name", appends=[Appended(str(tmp_path / "beside.jsonl"), "{}\n")], folder=tmp_path / "kept")
    assert (tmp_path / "beside.jsonl").stat().st_mode & 0o777 == 0o640
    assert show.read_text() == "show: Pier Street\n"


@pytest.mark.parametrize(
    ("text", "key", "now"),
    [
        (
            "practice: {minutes: 45, days_off: sun,\n  listening: 20}\n",
            "days_off",
            "practice: {minutes: 45,\n  listening: 20}\n",
        ),
        (
            "practice: {\n  minutes: 45,  # each\n  listening: 20}\n",
            "minutes",
            "practice: {\n  # each\n  listening: 20}\n",
        ),
        ("practice: {\n  minutes: 45,\n  listening: 20}\n", "minutes", "practice: {\n  listening: 20}\n"),
        ("practice: {minutes: 45, listening: 20 , }\n", "listening", "practice: {minutes: 45 }\n"),
    ],
)
def test_a_value_in_braces_over_several_lines_goes_alone(text: str, key: str, now: str) -> None:
    assert applied(text, [Remove(("practice", key))]) == now


@pytest.mark.parametrize(
    ("text", "indent"),
    [
        ("songs:\n- Moth\n", 0),
        ("songs:   # all\n  - Moth\n", 2),
        ("songs:\n    - Moth\n", 4),
        ("sets:\n  - songs:\n      - Moth\n", 2),
        ("- songs:\n  - Moth\n", 0),
        ("- songs:\n      - Moth\n", 4),
        ("songs:\n          - Moth\n", 8),
        ("songs:\n  # first\n\n  - Moth\n", 2),
        ("show: Pier\n", 2),
    ],
)
def test_new_lists_are_indented_as_the_first_one(text: str, indent: int) -> None:
    assert list_indent_of(text) == indent
