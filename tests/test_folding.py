"""Names and titles are compared by five rules. The table shows where they differ, and why each differs is beside it."""

import pytest

from companion.rig.computer_keys import key_named
from companion.rig.general_midi import program_named
from companion.rig.rig_names import folded_name
from companion.setlist.revising.dropped_songs import slug_of
from companion.show.titles import folded
from companion.stage.call_box import without_accents


@pytest.mark.parametrize(
    ("text", "title", "typed", "name", "slug"),
    [
        ("Tram  Home", "tram home", "tram home", "tram home", "tram-home"),
        ("CAFÉ Moth", "cafe moth", "cafe moth", "café moth", "cafe-moth"),
        ("Cafe\u0301 Moth", "cafe moth", "cafe moth", "café moth", "cafe-moth"),  # the accent as a sign of its own
        ("Don't Knock", "dont knock", "don't knock", "don't knock", "don-t-knock"),
        ("Salt & Pepper", "salt and pepper", "salt & pepper", "salt & pepper", "salt-pepper"),
        ("The Long Allotment", "long allotment", "the long allotment", "the long allotment", "the-long-allotment"),
        ("Weeds (slow)", "weeds slow", "weeds (slow)", "weeds (slow)", "weeds-slow"),
        ("The", "the", "the", "the", "the"),
        ("???", "???", "???", "???", "song"),
        ("7", "7", "7", "7", "song-7"),
    ],
)
def test_each_rule_folds_what_its_users_write_differently(
    text: str, title: str, typed: str, name: str, slug: str
) -> None:
    assert folded(text) == title, "two lists spell one title with other signs, accents and articles"
    assert without_accents(text) == typed, "while a title is typed, each sign narrows the search"
    assert folded_name(text) == name, "a rig may have two sounds whose names differ in one sign or accent"
    assert slug_of(text) == slug, "a songbook's key is typed by hand and must stay text in YAML"


@pytest.mark.parametrize(("text", "program"), [("Warm-Pad", 89), ("warm pad", 89), ("WARMPAD", 89), ("wärm pad", None)])
def test_published_sounds_are_found_by_letters_and_digits_alone(text: str, program: int | None) -> None:
    assert program_named(text) == program


@pytest.mark.parametrize(("text", "key"), [("Page_Down", "page down"), ("PAGE-DOWN", "page down"), ("page/down", None)])
def test_computer_keys_ignore_spaces_and_hyphens_alone(text: str, key: str | None) -> None:
    assert key_named(text) == key
