"""A file in a new order of sets and songs: each song's lines move with it, and no song changes."""

import pytest

from companion.edits import ArrangedSet, CannotArrange, SetNamed, SongNamed, arranged

SETS = """\
show: Pier Street   # the poster's
sets:
  # before dinner
  - set: First
    starts: 20:00
    songs:
      - title: Gasworks Corner
        key: Bb   # hers
      # loud
      - Moth   # new
      - Lamplighter
    notes: until the speech
  - set: Second
    songs:
    # opens
    - title: Weeds
      key: C
      # keep
# the end
"""
FIRST, SECOND = SetNamed("First"), SetNamed("Second")
GASWORKS, MOTH, LAMPLIGHTER, WEEDS = (SongNamed(one) for one in ("Gasworks Corner", "Moth", "Lamplighter", "Weeds"))


def test_songs_change_places_with_their_comments_and_take_the_indent_of_their_new_set() -> None:
    order = (ArrangedSet(FIRST, (LAMPLIGHTER, WEEDS)), ArrangedSet(SECOND, (MOTH, GASWORKS)))
    after = arranged(SETS, order)
    assert after.dropped == ()
    assert (
        after.text
        == """\
show: Pier Street   # the poster's
sets:
  # before dinner
  - set: First
    starts: 20:00
    songs:
      - Lamplighter
      # opens
      - title: Weeds
        key: C
        # keep
    notes: until the speech
  - set: Second
    songs:
    # loud
    - Moth   # new
    - title: Gasworks Corner
      key: Bb   # hers
# the end
"""
    )


def test_a_song_left_out_of_the_new_order_is_returned_with_its_lines() -> None:
    order = (ArrangedSet(FIRST, (GASWORKS, LAMPLIGHTER)), ArrangedSet(SECOND, (WEEDS,)))
    after = arranged(SETS, order)
    assert after.text == SETS.replace("      # loud\n      - Moth   # new\n", "")
    assert after.dropped == ((MOTH, ("# loud", "- Moth   # new")),)


def test_sets_change_places_whole_and_the_same_order_changes_nothing() -> None:
    same = (ArrangedSet(FIRST, (GASWORKS, MOTH, LAMPLIGHTER)), ArrangedSet(SECOND, (WEEDS,)))
    assert arranged(SETS, same).text == SETS
    cut, end = SETS.index("  # before dinner"), SETS.index("# the end")
    middle = SETS.index("  - set: Second")
    assert arranged(SETS, same[::-1]).text == SETS[:cut] + SETS[middle:end] + SETS[cut:middle] + SETS[end:]


def test_a_new_set_and_new_songs_are_written_as_the_file_indents_its_own() -> None:
    order = (
        ArrangedSet(FIRST, (GASWORKS, MOTH, LAMPLIGHTER)),
        ArrangedSet(SECOND, (WEEDS,)),
        ArrangedSet(None, ("Jam Jar", {"title": "Tram Home", "key": "D"}), "Encore"),
    )
    new = "  - set: Encore\n    songs:\n      - Jam Jar\n      - title: Tram Home\n        key: D\n"
    assert arranged(SETS, order).text == SETS.replace("# the end", f"{new}# the end")


def test_a_set_left_out_leaves_its_comments_behind() -> None:
    order = (ArrangedSet(SECOND, (WEEDS, MOTH)),)
    after = arranged(SETS, order)
    assert after.text.endswith("    # loud\n    - Moth   # new\n  # before dinner\n# the end\n")
    assert [name for name, _ in after.dropped] == [GASWORKS, LAMPLIGHTER]


def test_songs_in_brackets_get_lines_of_their_own_as_typed() -> None:
    text = "sets:\n  - set: First\n    songs: [Moth, {title: Weeds, key: C}]   # two\n    starts: 20:00\n"
    after = arranged(text, (ArrangedSet(FIRST, (WEEDS, MOTH)),))
    assert after.text == (
        "sets:\n  - set: First\n    songs:   # two\n      - {title: Weeds, key: C}\n      - Moth\n    starts: 20:00\n"
    )


def test_songs_without_sets_are_put_in_order_too() -> None:
    text = "show: Pier\nsongs:\n# opens\n- Moth\n- Weeds   # new\nband: Nine"
    after = arranged(text, (ArrangedSet(SetNamed("Set 1"), (WEEDS, MOTH)),))
    assert after.text == "show: Pier\nsongs:\n# opens\n- Weeds   # new\n- Moth\nband: Nine"


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("sets:\n  - {set: First, songs: [Moth, Weeds]}\n", "in braces"),
        ("sets: [{set: First, songs: [Moth, Weeds]}]\n", "one below the other"),
        ("sets:\n  - set: First\n    songs: &all\n      - Moth\n      - Weeds\n", "YAML labels"),
        ("sets:\n  - set: First\n    songs: [Moth,  # new\n      Weeds]\n", "comments between"),
        ("songs:\n  - Moth\n  - Weeds\n", "not in sets"),
        ("sets:\n  - set: First\n    songs:\n      - Moth\n", 'no song "Weeds"'),
        ("sets:\n  - set: First\n    songs: Moth\n", "not a list"),
    ],
)
def test_lines_that_cannot_be_moved_are_refused(text: str, why: str) -> None:
    with pytest.raises(CannotArrange, match=why):
        arranged(text, (ArrangedSet(FIRST, (WEEDS, MOTH)),))
