"""Whatever hand a show file is written in, an edit says what it means and no other line changes."""

from random import Random
from typing import Any

import pytest
from edits.hand_styles import a_show
from edits.meaning import Aimed, an_edit, read, sections_of, sets_of, top_of
from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st

from companion.edits import MoveSong, Remove, SetValue, SongNamed, applied
from companion.errors import CompanionError, FaultyFile
from companion.files import SourceFile
from companion.show.show_file import show_in


def said(text: str) -> tuple[list[Any], Any]:
    """Return what a text says: songs as tables, road maps as sections; nothing and an empty table are the same."""
    root = read(text)
    return songs_said(sets_of(root)), top_of(root)


def songs_said(sets: list[list[Any]]) -> list[Any]:
    return [[{**song, "road_map": sections_of(song)} for song in songs] for songs in sets]


def foreign_lines(before: str, after: str, aimed: Aimed) -> list[str]:
    """Return the lines that are not there any more and had to be."""
    old, new = before.splitlines(), after.splitlines()
    if isinstance(aimed.edit, MoveSong) or (isinstance(aimed.edit, Remove) and len(aimed.edit.where) == 1):
        moved = sorted(line.strip() for line in old), sorted(line.strip() for line in new)
        if isinstance(aimed.edit, MoveSong):
            return (
                []
                if moved[0] == moved[1] or in_brackets(before)
                else [line for line in moved[0] if line not in moved[1]]
            )
        gone = [line for line in old if line not in new]
        return [] if in_brackets(before) or is_one_block(old, new) else gone
    begin, end = aimed.lines or (0, 0)
    if aimed.lines is None:
        while begin < len(old) and begin < len(new) and old[begin] == new[begin]:
            begin += 1
        end = begin
    if isinstance(aimed.edit, Remove) and old[begin].lstrip().startswith("-") and end < len(old):
        end += 1  # the key below takes the dash over
    kept = old[:begin], old[end:]
    gone = [line for line, now in zip(kept[0], new[:begin], strict=False) if line != now]
    tail = new[len(new) - len(kept[1]) :] if kept[1] else []
    return gone + [line for line, now in zip(kept[1], tail, strict=True) if line != now]


def in_brackets(text: str) -> bool:
    return "songs: [" in text


def is_one_block(old: list[str], new: list[str]) -> bool:
    """Whether the new lines are the old ones without one run of them."""
    begin = 0
    while begin < len(new) and old[begin] == new[begin]:
        begin += 1
    return old[len(old) - (len(new) - begin) :] == new[begin:]


NEEDLESS = 3  # of ten thousand: one is known, several lines of notes above a comment at the edge


def check(seed: int) -> bool:
    """Check one edit of one hand's file; return whether it was refused without need. A refusal writes nothing."""
    dice = Random(seed)  # noqa: S311  no secret
    before = a_show(dice)
    aimed = an_edit(dice, before)
    try:
        after = applied(before, [aimed.edit])
    except CompanionError as refused:
        return not is_rightly_refused(before, aimed, str(refused))
    assert said(after) == (songs_said(aimed.sets), aimed.top), (seed, aimed.edit)
    assert not foreign_lines(before, after, aimed), (seed, aimed.edit)
    assert bare_breaks(after) == bare_breaks(before) or "\r\n" not in before, (seed, aimed.edit)
    if is_a_show(before):
        show_in(SourceFile("show.yaml", after))
    return False


def is_rightly_refused(before: str, aimed: Aimed, why: str) -> bool:
    """Whether an edit cannot be had without a loss: comments do not fit in brackets, and a text that is to end without
    a line break, as the file does, cannot where another line follows.
    """
    if "would lose its comments" in why:
        return isinstance(aimed.edit, MoveSong) and in_brackets(before)
    return not before.endswith("\n") and any(f"{key}: |" in before for key in ("notes", "road_map"))


def bare_breaks(text: str) -> int:
    return text.count("\n") - text.count("\r\n")


def is_a_show(text: str) -> bool:
    try:
        show_in(SourceFile("show.yaml", text))
    except FaultyFile:  # a comment far in, below a text over several lines, is of that text, and may have a tab in it
        return False
    return True


@settings(max_examples=examples(120))
@given(st.integers(0, 2**32))
def test_an_edit_says_what_it_means_and_changes_no_other_line(seed: int) -> None:
    check(seed)


@pytest.mark.long
def test_an_edit_changes_no_other_line_in_a_thousand_hands_and_ten_edits_each() -> None:
    needless = [seed for seed in range(10_000) if check(seed)]
    assert len(needless) <= NEEDLESS, needless


def test_the_same_value_again_changes_nothing() -> None:
    before = a_show(Random(3))  # noqa: S311  same
    song = sets_of(read(before))[0][0]
    edits = [(SongNamed(song["title"]), key) for key in song if key not in ("title", "road_map")]
    assert applied(before, [SetValue(where, song[where[1]]) for where in edits]) == before
