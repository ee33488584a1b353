"""A shutdown, a closed terminal: what the player did not end goes on with the next start, as after a crash."""

from pathlib import Path

from night.test_memory import BOOK, SHOW, night, play
from night.test_memory import _own_directory as _own_directory  # noqa: PLC0414  the fixture
from night.test_memory import said as said  # noqa: PLC0414  the same

from companion.night.entries import EntryContext, notes_of
from companion.night.memory import StartOptions, memory_of, should_resume
from companion.ports import journals_on, read_journal, shelf_of


def test_a_night_that_was_ended_from_outside_continues_as_after_a_crash(said: list[str], tmp_path: Path) -> None:
    with memory_of(SHOW, BOOK, StartOptions(), said.append) as memory:
        play(memory, 2)
        memory.end(is_over=False, dry_run=True)
    assert should_resume(SHOW, StartOptions())
    with memory_of(SHOW, BOOK, StartOptions(), said.append) as memory:
        assert memory.resumed.message == "continued at A, Verse"
    newest = journals_on(shelf_of(SHOW, tmp_path))[0]
    assert {one.what for one in notes_of(read_journal(newest).notes)} == {EntryContext.TAKEN_UP}, "no dry run"
    assert said == []


def test_a_continued_night_that_the_player_ends_is_over(said: list[str]) -> None:
    with memory_of(SHOW, BOOK, StartOptions(), said.append) as memory:
        play(memory, 2)
        memory.end(is_over=False)
    assert night(said, end=True) == "Verse of A"
    assert night(said) == "A up next"
