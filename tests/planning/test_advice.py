"""The changes that help an overfull plan: what each changes in the show or in the time, and which are named."""

from collections.abc import Callable

import pytest
from planning.shows import DAY, TODAY, show, song
from planning.test_ready import AT

from companion.planning.advice import what_helps
from companion.planning.plan import plan
from companion.planning.plan_model import Cut, LeftOut, Plan
from companion.practice_log.records import LogKind, PracticeRecord
from companion.practice_log.song_progress import progress_of
from companion.show import PracticeTime, Show, Song

TIME = PracticeTime((10, 10, 10, 10, 10, 10, 0), listening=10)


def lacking(minutes: float, *uncovered: str) -> Plan:
    """Return a plan that lacks these minutes, and in which these songs need a cut."""
    left = [LeftOut("Rest", "2 of 3 blocks", minutes)] if minutes else []
    return Plan("x", DAY, (), (), (*left, *(LeftOut(title, "", 0, cut=Cut.DROP) for title in uncovered)))


def named(before: Plan, after: Plan, words: str = "20 more minutes a day") -> str:
    """Return what is said of a change, "" if it is not named."""
    helps = what_helps(show(), TIME, before, lambda _, time: after if time.minutes[0] == 30 else before)
    assert len(helps) <= 1
    return helps[0].removeprefix(f"{words}: ") if helps else ""


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        (lacking(30), lacking(25.1), ""),  # from five minutes on, a change is worth naming
        (lacking(30), lacking(25), "makes room for 5 of the 30 minutes that do not fit"),
        (lacking(30, "A"), lacking(0), "then everything fits"),
        (
            lacking(30, "A", "B"),
            lacking(20, "B"),
            "makes room for 10 of the 30 minutes that do not fit, 1 song fewer needs a cut",
        ),
        (lacking(30, "A", "B", "C"), lacking(30, "C"), "2 songs fewer need a cut"),
        (lacking(30, "A", "B"), lacking(30), "no song needs a cut"),
        (lacking(30, "A"), lacking(89, "B", "C"), ""),
        (lacking(30), lacking(40), ""),
    ],
)
def test_the_effect_of_a_change_is_stated_in_minutes_and_songs(before: Plan, after: Plan, said: str) -> None:
    assert named(before, after) == said


def tried(one: Show, now: Plan) -> list[tuple[tuple[Song, ...], PracticeTime]]:
    """Return the songs and the time of each change that is tried."""
    found: list[tuple[tuple[Song, ...], PracticeTime]] = []

    def planned(changed: Show, time: PracticeTime) -> Plan:
        found.append((tuple(song for each in changed.sets for song in each.songs), time))
        return now

    assert what_helps(one, TIME, now, planned) == ()
    return found[1:]  # the first is the plan without a change


def test_each_change_changes_one_thing() -> None:
    songs = (
        song("Opener", "C", chart=True),
        song("Moth", "C", chart=False, known=0, length_s=200),
        song("Weeds", "D", chart=False, known=0, length_s=400),
        song("Tidal", "E", chart=True, hard=1),
    )
    one = show(*songs)
    changes = tried(one, plan(one, TODAY, TIME, {}))
    times = [time for same, time in changes if same == songs]
    assert times == [
        PracticeTime((30, 30, 30, 30, 30, 30, 0), listening=10),
        PracticeTime((10, 10, 10, 10, 10, 10, 0), listening=40),
        PracticeTime((10,) * 7, listening=10),
    ]
    dropped, charted = (new for new, _ in changes if new != songs)
    assert dropped == (*songs[:2], songs[3])  # as costly as Moth, and later in the show
    assert [each.title for each in charted if each.chart] == ["Opener", "Weeds", "Tidal"]  # the longest to hear


def dropped_of(*records: str) -> Callable[..., str]:
    progress = progress_of([PracticeRecord(AT, LogKind.PRACTISED, title, minutes=10) for title in records])

    def dropped(*songs: Song) -> str:
        one = show(song("Opener", "C"), *songs)
        changes = tried(one, plan(one, TODAY, PracticeTime((0,) * 7), progress))
        kept = next(new for new, _ in changes if len(new) == len(songs))
        (gone,) = {each.title for each in songs} - {each.title for each in kept}
        return gone

    return dropped


def test_the_song_to_drop_is_the_one_that_still_takes_the_most_minutes() -> None:
    short = song("Moth", "D", hard=1, known=3, chart=True)
    long = song("Weeds", "D", hard=2, known=0, chart=True)
    assert dropped_of()(long, short) == dropped_of()(short, long) == "Weeds"
    assert dropped_of("Weeds", "Weeds", "Weeds")(long, short) == "Moth"
    middle = song("Tidal", "D", hard=1, known=1, chart=True)  # three blocks: 10 + 5 + 5 min
    assert dropped_of("Weeds")(middle, long) == "Tidal"  # three blocks, and the longer first one is done: 5 + 5 + 5
