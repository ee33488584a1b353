"""Edits of a text: each changes its own characters, says what it means, or is refused."""

from collections.abc import Mapping

import pytest
from files.written import nodes

from companion.edits import OneLine, Remove, SetValue, Where, applied
from companion.errors import CompanionError, FaultyFile
from companion.files.nodes import plainly

REMOVED = object()


def edited(text: str, changes: Mapping[Where, object], path: str = "") -> str:
    edits = [Remove(where) if value is REMOVED else SetValue(where, value) for where, value in changes.items()]
    return applied(text, edits, path)


COMMENTED = """\
# The engagement
show: Pier Street   # as on the poster
sets:
  - set: First
    starts: 20:00
    songs:
      - title: Gasworks Corner
        key: Bb                  # the leader's
        tempo: 010
        road_map:
          - {section: Intro, bars: 4, chords: "1 | #4o"}   # mine
          - {section: Verse, bars: 16}
      # the next one is new
      - Kettle on the Jetty
"""
SONGS = ("sets", 0, "songs")


@pytest.mark.parametrize(
    ("where", "change", "before", "after"),
    [
        (
            (*SONGS, 0, "key"),
            "C#m",
            "key: Bb                  # the leader's",
            "key: C#m                 # the leader's",
        ),
        ((*SONGS, 0, "tempo"), 112, "tempo: 010", "tempo: 112"),
        ((*SONGS, 0, "road_map", 0, "bars"), 8, "bars: 4,", "bars: 8,"),
        (("show",), "Pier: the end", "show: Pier Street   # as", 'show: "Pier: the end" # as'),
        ((*SONGS, 0, "tempo"), REMOVED, "        tempo: 010\n", ""),
        ((*SONGS, 1), {"title": "Kettle", "key": "no"}, "- Kettle on the Jetty", '- title: Kettle\n        key: "no"'),
    ],
)
def test_an_edit_changes_its_own_characters_only(where: Where, change: object, before: str, after: str) -> None:
    assert before in COMMENTED
    assert edited(COMMENTED, {where: change}) == COMMENTED.replace(before, after)


def test_edits_add_keys_tables_and_places_in_lists() -> None:
    text = edited(
        COMMENTED, {("band",): "Nine", (*SONGS, 2): "Third", (*SONGS, 0, "sound", "upper"): "lead", ("ok",): True}
    )
    assert set(COMMENTED.splitlines()) <= set(text.splitlines())
    read = plainly(nodes(text))
    assert read["band"] == "Nine"
    assert read["sets"][0]["songs"][2] == "Third"
    assert read["sets"][0]["songs"][0]["sound"] == {"upper": "lead"}
    assert read["ok"] == "yes"


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("sounds:\n  a: 1     # mine\n", 'sounds:\n  a: {program: 1, bank: [0, 32], "on": yes, at: {x: 2}} # mine\n'),
        ("sounds: {a: 1}\n", 'sounds: {a: {program: 1, bank: [0, 32], "on": yes, at: {x: 2}}}\n'),
    ],
)
def test_a_table_that_is_to_stand_in_one_line_does(before: str, after: str) -> None:
    table = OneLine({"program": 1, "bank": [0, 32], "on": True, "at": {"x": 2}})
    assert edited(before, {("sounds", "a"): table}) == after


def test_lists_keep_the_indent_that_their_author_gave_them() -> None:
    flat = "songs:\n- One\n- title: Two\n  key: C\n"
    assert edited(flat, {("songs", 1, "key"): "D"}) == flat.replace("C", "D")


def test_line_ends_stay_as_they_are() -> None:
    assert edited("a: 1\r\nb: 2\r\n", {("a",): 3}) == "a: 3\r\nb: 2\r\n"


def test_an_edit_that_would_change_something_else_is_refused() -> None:
    shared = "a: &x {b: 1}\nc: *x\n"  # to change the one is to change the other
    with pytest.raises(CompanionError, match="label"):
        edited(shared, {("c", "b"): 2}, "a.yaml")


@pytest.mark.parametrize("where", [("songs", 7), ("show", "deeper"), (0,), (*SONGS, 0, "title", 3)])
def test_an_edit_with_no_place_is_refused(where: Where) -> None:
    with pytest.raises(CompanionError, match="cannot be edited"):
        edited(COMMENTED, {where: 1})


@pytest.mark.parametrize("text", ["a: @b\n", "a: 1\n---\na: 2\n", "%TAG x\n---\na: 1\n", "[" * 40 + "]" * 40])
def test_a_text_with_faults_is_not_edited(text: str) -> None:
    with pytest.raises(FaultyFile):
        edited(text, {("a",): "c"})


def test_a_comment_beside_a_bare_title_stays_on_the_titles_line_when_the_song_becomes_a_table() -> None:
    text = "songs:\n  - Moth  # new\n  - Gravel\n"
    after = edited(text, {("songs", 0): {"title": "Moth", "road_map": [OneLine(section="Intro", bars=4)]}})
    assert after.splitlines()[1] == "  - title: Moth  # new"
    assert after.splitlines()[-1] == "  - Gravel"
