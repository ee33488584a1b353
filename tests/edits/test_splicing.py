"""One change of a text, to the character: in braces, in lists, in aligned columns, at the edges of the file."""

import pytest

from companion.edits.splicing import NodePath, with_item, with_value, without
from companion.errors import CompanionError


@pytest.mark.parametrize(
    ("text", "way", "after"),
    [
        ("a: {b: 1, c: 2, d: 3}\n", ("a", "b"), "a: {c: 2, d: 3}\n"),
        ("a: {b: 1, c: 2, d: 3}\n", ("a", "c"), "a: {b: 1, d: 3}\n"),
        ("a: {b: 1, c: 2, d: 3}   # e\n", ("a", "d"), "a: {b: 1, c: 2}   # e\n"),
        ("a: {b: 1, c: 2, d: 3 , }\n", ("a", "d"), "a: {b: 1, c: 2 }\n"),
        ("a: {b: 1}\n", ("a", "b"), "a: {}\n"),
        ("a: [b, c]\n", ("a", 0), "a: [c]\n"),
        ("a: [b]\n", ("a", 0), "a: []\n"),
        ("a: [b,\n    c,\n    d]\n", ("a", 1), "a: [b,\n    d]\n"),
        ("- a\n- b\n", (0,), "- b\n"),
        ("- a\n- b", (1,), "- a\n"),
        ("- a: 1   # e\n  b: 2\n", (0, "a"), "- b: 2\n"),
        ("- a: 1   # e\n", (0, "a"), "-\n"),
    ],
)
def test_a_value_that_is_removed_takes_its_comma_its_dash_or_its_line_along(
    text: str, way: NodePath, after: str
) -> None:
    assert without(text, way) == after


@pytest.mark.parametrize(
    ("text", "way", "value", "after"),
    [
        ("a: {b: 10, c: 2}\n", ("a", "b"), 1, "a: {b: 1, c: 2}\n"),  # one blank is no column
        ("a: {b: 10,  c: 2}\n", ("a", "b"), 1, "a: {b: 1,   c: 2}\n"),
        ("a: {b: 10,  c: 2}\n", ("a", "b"), 1000, "a: {b: 1000, c: 2}\n"),
        ("a: {b: Pier, c: 2}\n", ("a", "b"), "Pier, Bath", 'a: {b: "Pier, Bath", c: 2}\n'),
        ("a: Pier\n", ("a",), "Pier, Bath", "a: Pier, Bath\n"),  # a comma needs quotes in braces alone
        ("a:\n", ("a", "b"), "c", "a:\n  b: c\n"),
        ("a:\n", ("a", 0), "c", "a:\n  - c\n"),
        ("a: Pier\n", ("a",), "Pier # 7", 'a: "Pier # 7"\n'),  # plain, the rest would be a comment
        ("a: Pier\n", ("a",), {"b": {"c": "e"}, "d": "f"}, "a:\n  b:\n    c: e\n  d: f\n"),
        ("a:\n  b: Pier   # e\n", ("a", "b"), {"c": {"d": "f"}}, "a:\n  b:   # e\n    c:\n      d: f\n"),
    ],
)
def test_a_new_value_keeps_the_rest_of_its_line(text: str, way: NodePath, value: object, after: str) -> None:
    assert with_value(text, way, value) == after


@pytest.mark.parametrize(
    ("text", "at", "after"),
    [
        ("- b\n- c\n", 0, "- a\n- b\n- c\n"),
        ("# e\n- b\n- c\n", 0, "- a\n# e\n- b\n- c\n"),
        ("- b\n- c\n", 1, "- b\n- a\n- c\n"),
        ("- b\n- c\n", 2, "- b\n- c\n- a\n"),
    ],
)
def test_an_item_is_inserted_above_the_comments_of_the_next(text: str, at: int, after: str) -> None:
    assert with_item(text, (), at, "a") == after


@pytest.mark.parametrize("text", ["a:\n  - - b\n    - c\n", "- - b\n  - c\n", "z: nine\na:\n  - - b\n    - c\n"])
def test_an_item_on_another_items_line_is_not_removed_and_nothing_is_put_above_it(text: str) -> None:
    way: NodePath = ("a", 0) if "a:" in text else (0,)
    with pytest.raises(CompanionError, match="another value's line"):
        without(text, (*way, 0))
    with pytest.raises(CompanionError, match="another value's line"):
        with_item(text, way, 0, "x")
