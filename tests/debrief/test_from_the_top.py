"""A night that was begun at the top, after the program had continued another one."""

from pathlib import Path

from debrief.test_debrief import SHOW, debrief_of, every, live, show

from companion.stage import FromTheTop, Next

__all__ = ["show"]  # a fixture


def test_a_rehearsal_that_the_next_start_continued_is_no_part_of_the_night_that_began_at_the_top(show: Path) -> None:
    live(show, *every(16, Next, Next, Next, Next), end=False)
    show.write_text(SHOW.replace("Boathouse supper", "Boathouse dinner"), encoding="utf-8")  # another journal goes on
    live(show, FromTheTop(7_200_000), Next(7_201_000), Next(7_217_000))
    night = debrief_of(show)
    assert [(one.title, one.at_ms) for one in night.songs] == [("Lanterns out", 7_201_000)]
