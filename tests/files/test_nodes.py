"""What a file says: scalars as typed, and the place of every character."""

import json

import pytest
from files.written import PATH, nodes, value
from hypothesis import given
from hypothesis import strategies as st

from companion.files import Items, SourceFile, Table, Text
from companion.files.nodes import place_within


@pytest.mark.parametrize(
    "typed",
    # YAML 1.1 type repository (2005): each is something else to a YAML 1.1 reader, or to a YAML 1.2 reader
    ["no", "On", "off", "y", "~", "null", "3:40", "1:30", "10:05", "20:00", "1:02:03", "0:45", "03:45", "1:30.5",
     "3:60", "010", "08", "0o10", "1e3", "1.0e+3", "E4", "4E2", "1_000", "3.10", "4/4", "6-", "1999", "2027-06-19",
     "2027-6-9"],
)  # fmt: skip
def test_a_scalar_is_the_typed_text_with_or_without_quotes(typed: str) -> None:
    assert value(f"a: {typed}").text == typed
    assert value(f'a: "{typed}"').text == typed
    assert value(f"a: '{typed}'").text == typed


@pytest.mark.parametrize("typed", ["no", "3:40", "on", "~", "010"])
def test_a_key_is_the_typed_text(typed: str) -> None:
    assert value(f"{typed}: x", typed).text == "x"


def test_each_value_knows_its_line_and_column() -> None:
    table = nodes("show: Pier\nsets:\n  - set: One\n    songs: [Kettle, {title: Jetty}]\n")
    assert isinstance(table, Table)
    sets = table.entries["sets"][1]
    assert isinstance(sets, Items)
    (first,) = sets.nodes
    assert isinstance(first, Table)
    assert (first.line, first.column) == (3, 5)
    songs = first.entries["songs"][1]
    assert isinstance(songs, Items)
    assert [(song.line, song.column) for song in songs.nodes] == [(4, 13), (4, 21)]
    assert [key.column for key, _ in table.entries.values()] == [1, 1]


def test_columns_count_characters_not_bytes() -> None:
    title = value("{é♭😀: 1, a: x}")
    assert (title.line, title.column) == (1, 13)


@pytest.mark.parametrize(
    ("text", "offset", "place"),
    [
        ("a: Intro 4, Verse 16", 9, (1, 13)),
        ("a: 'Intro 4, Verse 16'", 9, (1, 14)),
        ("a: 'it''s 4, Verse'", 8, (1, 14)),  # the doubled quote is one character
        ('a: "\\u00c9tude 4, Verse"', 9, (1, 19)),  # \u00c9 is one
        ("a: Intro 4,\n  Verse 16", 9, (2, 3)),
        ("a: Intro 4,\n\n  Verse 16", 9, (3, 3)),
        ("a: >\n  Intro 4,\n  Verse 16", 9, (3, 3)),
        ("a: |\n  Intro 4,\n  Verse 16", 9, (3, 3)),
        ("a: Intro 4,   \n   Verse 16  ", 17, (2, 12)),  # its end
    ],
)
def test_a_place_within_a_text_is_where_the_character_was_typed(text: str, offset: int, place: tuple[int, int]) -> None:
    assert place_within(value(text), offset) == place


words = st.lists(st.text(st.sampled_from("ab é#'\"\\:,😀"), min_size=1, max_size=6), min_size=1, max_size=6)


@given(words, st.data())
def test_a_place_within_a_text_points_at_the_same_character(parts: list[str], data: st.DataObject) -> None:
    text = "x" + " ".join(parts) + "x"
    single = "a: '" + text.replace("'", "''") + "'"
    double = "a: " + json.dumps(text, ensure_ascii=False)
    offset = data.draw(st.integers(0, len(text) - 1))
    for written in (single, double):
        read = value(written)
        assert read.text == text
        line, column = place_within(read, offset)
        assert line == 1
        typed = written[column - 1]
        assert typed == text[offset] or (typed == "\\" and written[column] == text[offset])


@given(
    st.text(max_size=40),
    st.text(max_size=40),
    st.integers(1, 4),
    st.integers(1, 40),
    st.sampled_from(["", "'", '"', ">"]),
)
def test_every_character_of_any_text_has_a_place(text: str, raw: str, line: int, column: int, style: str) -> None:
    odd = Text(text, SourceFile(PATH, raw), line, column, style)  # no reader makes such a one; a later check might
    assert place_within(odd, len(text))
