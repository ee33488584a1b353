"""Edits of a text: each changes its own characters, says what it means, or is refused."""

from collections.abc import Callable, Mapping

import pytest
from files.written import nodes

from companion.edits import (
    AddSection,
    Edit,
    EditPlace,
    MoveSection,
    MoveSong,
    OneLine,
    Remove,
    SectionNamed,
    SetNamed,
    SetValue,
    SongNamed,
    applied,
    applying,
    names_in,
)
from companion.edits.splicing import NodePath, with_value
from companion.errors import CompanionError, FaultyFile
from companion.files.nodes import plainly

REMOVED = object()


def edited(text: str, changes: Mapping[EditPlace, object], path: str = "") -> str:
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
def test_an_edit_changes_its_own_characters_only(where: EditPlace, change: object, before: str, after: str) -> None:
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
def test_a_table_meant_for_one_line_stays_on_one_line(before: str, after: str) -> None:
    table = OneLine({"program": 1, "bank": [0, 32], "on": True, "at": {"x": 2}})
    assert edited(before, {("sounds", "a"): table}) == after


def test_lists_keep_their_own_indent() -> None:
    flat = "songs:\n- One\n- title: Two\n  key: C\n"
    assert edited(flat, {("songs", 1, "key"): "D"}) == flat.replace("C", "D")


def test_line_ends_stay_as_they_are() -> None:
    assert edited("a: 1\r\nb: 2\r\n", {("a",): 3}) == "a: 3\r\nb: 2\r\n"


def test_an_edit_that_would_change_something_else_is_refused() -> None:
    shared = "a: &x {b: 1}\nc: *x\n"  # to change the one is to change the other
    with pytest.raises(CompanionError, match="label"):
        edited(shared, {("c", "b"): 2}, "a.yaml")


@pytest.mark.parametrize("where", [("songs", 7), ("show", "deeper"), (0,), (*SONGS, 0, "title", 3)])
def test_an_edit_with_no_place_is_refused(where: EditPlace) -> None:
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


MOTH = """\
songs:
  - title: Moth   # new
    road_map:
      - Intro 4
      # maybe a tag
    # and then
    segue: Weeds
"""


def test_a_new_key_follows_the_comments_of_the_list_above() -> None:
    song = SongNamed("Moth")
    after = applied(MOTH.replace("    segue: Weeds\n", ""), [SetValue((song, "segue"), "Weeds")])
    assert after == MOTH.replace("    # and then\n    segue: Weeds\n", "    segue: Weeds\n    # and then\n")


@pytest.mark.parametrize(
    "wrong",
    [
        lambda text: text.replace("Intro 4", "Intro 5"),  # another value of the same song
        lambda text: text.replace("segue: Jam", "segue: Ham"),  # not what was meant
        lambda text: text + "  - A song more\n",
        lambda text: text.replace("    segue", "segue"),
    ],
)
def test_a_text_that_differs_from_the_intended_meaning_is_never_returned(
    monkeypatch: pytest.MonkeyPatch, wrong: Callable[[str], str]
) -> None:
    def with_fault(text: str, way: NodePath, value: object, order: tuple[str, ...] = ()) -> str:
        return wrong(with_value(text, way, value, order))

    monkeypatch.setattr(applying, "with_value", with_fault)
    with pytest.raises(CompanionError):
        applied(MOTH, [SetValue((SongNamed("Moth"), "segue"), "Jam")])
    monkeypatch.setattr(applying, "with_value", lambda text, *_: text.replace("Moth", "Mouth"))
    with pytest.raises(CompanionError):
        applied(MOTH, [SetValue(("band",), "Nine")])


SECTIONS = "songs:\n  - title: Moth\n    road_map: Intro 4*,  Verse 16 x2 , Chorus 8 @strings   # mine\n  - Weeds\n"


SONG = SongNamed("Moth")
VERSE, CHORUS = SectionNamed("Verse"), SectionNamed("Chorus")


@pytest.mark.parametrize(
    ("edit", "line"),
    [
        (
            SetValue((SONG, "road_map", VERSE, "bars"), 12),
            "Intro 4*,  Verse 12 x2 , Chorus 8 @strings   # mine",
        ),
        (
            SetValue((SONG, "road_map", SectionNamed("Intro"), "tacet"), value=True),
            "Intro 4 tacet*,  Verse 16 x2 , Chorus 8 @strings # mine",
        ),
        (Remove((SONG, "road_map", VERSE)), "Intro 4*, Chorus 8 @strings                  # mine"),
        (Remove((SONG, "road_map", CHORUS, "sound")), "Intro 4*,  Verse 16 x2 , Chorus 8            # mine"),
        (
            AddSection(SONG, {"section": "Tag", "bars": 2}),
            "Intro 4*,  Verse 16 x2 , Chorus 8 @strings, Tag 2 # mine",
        ),
        (MoveSection(SONG, CHORUS), "Chorus 8 @strings, Intro 4*,  Verse 16 x2    # mine"),
        (MoveSection(SONG, CHORUS, SectionNamed("Intro")), "Intro 4*, Chorus 8 @strings,  Verse 16 x2    # mine"),
        (MoveSection(SONG, SectionNamed("Intro"), VERSE), "Verse 16 x2 , Intro 4*, Chorus 8 @strings    # mine"),
    ],
)
def test_a_section_in_a_line_stays_in_its_line_where_the_line_can_say_it(edit: Edit, line: str) -> None:
    assert applied(SECTIONS, [edit]).splitlines()[2] == f"    road_map: {line}"


def test_a_section_that_gains_chords_puts_each_section_on_its_own_line() -> None:
    edit = SetValue((SongNamed("Moth"), "road_map", SectionNamed("Verse"), "chords"), "1 | 4")
    assert applied(SECTIONS, [edit]).splitlines()[2:6] == [
        "    road_map: |-   # mine",
        "      Intro 4*",
        "      Verse 16 x2 | 1 | 4",
        "      Chorus 8 @strings",
    ]


def test_sections_that_shared_a_line_share_one_beside_a_long_entry() -> None:
    edit = SetValue((SONG, "road_map", SectionNamed("Intro"), "cue"), "out :) then in")
    assert applied(SECTIONS, [edit]).splitlines()[2:5] == [
        "    road_map:   # mine",
        '      - {section: Intro, bars: 4, feature: yes, cue: "out :) then in"}',
        "      - Verse 16 x2 , Chorus 8 @strings",
    ]


def test_a_section_that_shorthand_cannot_hold_becomes_a_long_entry_and_the_others_stay_short() -> None:
    edit = SetValue((SongNamed("Moth"), "road_map", SectionNamed("Verse"), "cue"), "out :) then in")
    assert applied(SECTIONS, [edit]).splitlines()[2:6] == [
        "    road_map:   # mine",
        "      - Intro 4*",
        '      - {section: Verse, bars: 16, passes: 2, cue: "out :) then in"}',
        "      - Chorus 8 @strings",
    ]


BY_LINE = """\
songs:
  - title: Moth
    road_map: |   # mine
      Intro 4 *riff alone | 1 | 4

      Verse 16 (bass only, then all)
      Chorus 8 hits 4, 4&
    key: C
"""
IN_VERSE = (SongNamed("Moth"), "road_map", SectionNamed("Verse"))


@pytest.mark.parametrize(
    ("edit", "was", "now"),
    [
        (SetValue((*IN_VERSE, "open"), value=True), "Verse 16 (bass", "Verse 16 open (bass"),
        (SetValue((*IN_VERSE, "watch"), "drummer"), "Verse 16 (bass", "Verse 16 watch drummer (bass"),
        (SetValue((*IN_VERSE, "chords"), "1 | 5"), "then all)", "then all) | 1 | 5"),
        (SetValue((*IN_VERSE, "chords"), "1 | 5\n4 | 1"), "then all)", "then all) | 1 | 5\n      | 4 | 1"),
        (Remove((*IN_VERSE, "cue")), " (bass only, then all)", ""),
        (Remove(IN_VERSE), "      Verse 16 (bass only, then all)\n", ""),
        (
            AddSection(SongNamed("Moth"), {"section": "Solo", "bars": 8, "key": "E"}, SectionNamed("Verse")),
            "then all)\n",
            "then all)\n      Solo 8 in E\n",
        ),
        (
            AddSection(SongNamed("Moth"), {"section": "Outro", "hits": "1"}, SectionNamed("Chorus")),
            "hits 4, 4&\n",
            "hits 4, 4&\n      Outro\n",
        ),
    ],
)
def test_a_road_map_with_a_section_a_line_is_edited_line_by_line(edit: Edit, was: str, now: str) -> None:
    if "Outro" in now:  # without bars, hits would be part of the name: a long entry then, and the lines become a list
        assert '      - {section: Outro, hits: "1"}\n' in applied(BY_LINE, [edit])
        return
    assert applied(BY_LINE, [edit]) == BY_LINE.replace(was, now)


def test_songs_with_one_title_are_distinguished_and_a_wrong_name_is_reported() -> None:
    text = "songs:\n  - Moth\n  - title: Moth\n    key: C\n"
    assert applied(text, [SetValue((SongNamed("Moth", 2), "key"), "D")]) == text.replace("C", "D")
    with pytest.raises(CompanionError, match=r'the song "Moth \(3\)" is gone'):
        applied(text, [SetValue((SongNamed("Moth", 3), "key"), "D")])
    with pytest.raises(CompanionError, match='no longer has the section "Solo"'):
        applied(SECTIONS, [SetValue((SongNamed("Moth"), "road_map", SectionNamed("Solo"), "bars"), 4)])


def test_a_song_of_a_songbook_is_named_by_its_use() -> None:
    text = "songs:\n  - use: book.yaml#moth   # hers\n  - use: book.yaml#moth\n    title: Moth II\n"
    assert names_in(text) == ((SongNamed("book.yaml#moth"), SongNamed("Moth II")),)
    after = applied(text, [SetValue((SongNamed("book.yaml#moth"), "key"), "D")])
    assert after == text.replace("# hers\n", "# hers\n    key: D\n")


MANY = "of many words and of some more by"
NOTES = "songs:\n  - title: Moth\n    notes: {style}   # hers\n      {text}\n\n    key: C\n"


@pytest.mark.parametrize(
    ("style", "text", "value", "now"),
    [
        ("|", "one\n      two", "one\nthree\n", ("|", "one\n      three")),
        ("|", "one", "two\nthree", ("|-", "two\n      three")),
        ("|-", "one", "two", ("|-", "two")),
        (">-", "a note that\n      goes on", "a note that ends", (">-", "a note that ends")),
        (">", "a note", f"a note {MANY} {MANY}\n", (">", f"a note {MANY}\n      {MANY}")),
        (">", f"a note {MANY} and on", f"a note {MANY} and on. Then\n", (">", f"a note {MANY} and\n      on. Then")),
        (">-", "a note", "two\nlines", (">-", "two\n\n      lines")),
        (">-", "a note", "a  wide gap\nand more", ("|-", "a  wide gap\n      and more")),
    ],
)  # fmt: skip
def test_a_text_over_several_lines_stays_one_in_its_own_style(
    style: str, text: str, value: str, now: tuple[str, str]
) -> None:
    before = NOTES.format(style=style, text=text)
    after = applied(before, [SetValue((SONG, "notes"), value)])
    assert after == NOTES.format(style=now[0], text=now[1])


def test_a_song_goes_with_its_comments() -> None:
    text = (
        "songs:\n  - Moth\n  # hers\n  # loud\n  - title: Weeds   # new\n    # why\n    key: C\n  # last\n  - Jam Jar\n"
    )
    song = "  # hers\n  # loud\n  - title: Weeds   # new\n    # why\n    key: C\n"
    assert song in text
    assert applied(text, [Remove((SongNamed("Weeds"),))]) == text.replace(song, "")
    first = applied(text, [MoveSong(SongNamed("Weeds"), SetNamed("Set 1"))])
    assert first == text.replace(song, "").replace("songs:\n", "songs:\n" + song)
    last = applied(text, [MoveSong(SongNamed("Weeds"), SetNamed("Set 1"), SongNamed("Jam Jar"))])
    assert last == text.replace(song, "") + song


def test_a_bare_title_gets_a_road_map_in_shorthand() -> None:
    text = "songs:\n  - Lamplighter\n  - Tram Home\n"
    line = SetValue((SongNamed("Lamplighter"), "road_map"), "Intro 4\nVerse 8 | 1 | 4")
    assert applied(text, [line]) == (
        "songs:\n  - title: Lamplighter\n    road_map: |-\n      Intro 4\n      Verse 8 | 1 | 4\n  - Tram Home\n"
    )


def test_a_section_of_a_songbooks_song_is_edited_in_its_road_map_alone() -> None:
    book = "# mine\nmoth:\n  title: Moth   # hers\n  road_map: Intro 4, Verse 8 x2, Verse 8   # ours\nweeds: Weeds\n"
    edit = SetValue(("moth", "road_map", SectionNamed("Verse", 2), "open"), value=True)
    assert applied(book, [edit]) == book.replace("Verse 8   # ours", "Verse 8 open # ours")
    with pytest.raises(CompanionError, match='no longer has the section "Solo"'):
        applied(book, [SetValue(("moth", "road_map", SectionNamed("Solo"), "open"), value=True)])
    with pytest.raises(CompanionError, match="only a song's road map has sections"):
        applied(book, [SetValue(("moth", "notes", SectionNamed("Solo"), "open"), value=True)])


def test_a_section_that_is_a_long_entry_goes_with_its_lines() -> None:
    verse = "      - section: Verse   # hers\n        bars: 16\n"
    text = f"songs:\n  - title: Moth\n    road_map:\n      - Intro 4\n{verse}    key: C\n"
    assert applied(text, [Remove((SONG, "road_map", VERSE))]) == text.replace(verse, "")
    assert applied(text, [Remove((SONG, "road_map", VERSE, "bars"))]) == text.replace("        bars: 16\n", "")
