"""A plan at its limits: minutes of blocks, runs and recordings, groups, nights of rest, the light day."""

import datetime as dt

import pytest
from planning.shows import TODAY, show, song

from companion.planning.plan import plan
from companion.planning.plan_model import BlockKind
from companion.planning.priority import Group, rank
from companion.practice_log.records import LogKind, PracticeRecord
from companion.practice_log.song_progress import progress_of
from companion.show import PracticeTime, Section

NOON = dt.datetime(2027, 6, 5, 12, tzinfo=dt.UTC)
SOLO = (Section("Solo", 16, feature="solo"),)


def test_the_light_day_only_recalls_songs_already_begun() -> None:
    one = show(*(song(f"Song {at}", "C", road_map=SOLO) for at in range(3)), date=TODAY + dt.timedelta(days=2))
    saturday, sunday = 5, 6  # of the week that begins with Monday, 0
    time = PracticeTime(tuple({saturday: 10, sunday: 60}.get(day, 0) for day in range(7)))
    first, light = plan(one, TODAY, time, {}).days
    assert {block.title for block in light.blocks} == {block.title for block in first.blocks}
    assert 1 <= len(first.blocks) < 3
    ample = plan(one, TODAY, PracticeTime((120,) * 7), {}).days
    assert {block.title for block in ample[-1].blocks} == {"Song 0", "Song 1", "Song 2"}


@pytest.mark.parametrize(
    ("more", "minutes"),
    [  # the first block, then the others
        ({"hard": 2}, (10, 5)),
        ({"hard": 3}, (10, 10)),
        ({"hard": 4}, (15, 10)),
        ({"hard": 1, "road_map": SOLO}, (10, 10)),
    ],
)
def test_blocks_of_hard_songs_are_longer(more: dict[str, object], minutes: tuple[int, int]) -> None:
    (moth,) = rank(show(song("Moth", "C", **more)), 14, {})
    assert (moth.block_minutes(0), moth.block_minutes(1)) == minutes


@pytest.mark.parametrize(
    ("more", "group"),
    [
        ({"hard": 4, "known": 2}, Group.IF_TIME),
        ({"hard": 3, "known": 2}, Group.GET_BY),
        ({"hard": 4, "known": 3}, Group.GET_BY),
        ({"hard": 4, "known": 5}, Group.READY),
    ],
)
def test_a_hard_and_barely_known_song_is_skipped_if_time_runs_out(more: dict[str, object], group: Group) -> None:
    order = rank(show(song("Opener", "D"), song("Moth", "C", **more)), 14, {})
    assert [one.group for one in order if one.song.title == "Moth"] == [group]


def test_a_run_of_a_set_takes_as_long_as_its_songs() -> None:
    one = show(*(song(f"Song {at}", "C", known=5, length_s=600) for at in range(12)), song("Last", "C", known=5))
    runs = [
        block
        for day in plan(one, TODAY, PracticeTime((240,) * 7), {}).days
        for block in day.blocks
        if block.kind is BlockKind.RUN
    ]
    assert [block.minutes for block in runs] == [124]  # 12 x 10 min, and one of no known length: 230 s


def test_a_long_recording_stays_within_each_days_minutes() -> None:
    made = plan(show(song("Moth", "C", known=0, length_s=3600)), TODAY, PracticeTime((60,) * 7, listening=20), {})
    assert [[(one.times, one.minutes) for one in day.listening] for day in made.days[:4]] == [
        [(0, 20)],
        [(0, 20)],
        [(1, 20)],
        [(0, 20)],
    ]


def test_recordings_that_fill_a_day_exactly_leave_room_for_nothing_else() -> None:
    songs = [song(f"Song {at}", "C", length_s=600) for at in range(4)]
    made = plan(show(*songs), TODAY, PracticeTime((60,) * 7, listening=20), {})
    assert [[one.title for one in day.listening] for day in made.days[:2]] == [
        ["Song 0", "Song 1"],
        ["Song 2", "Song 3"],
    ]


@pytest.mark.parametrize(("days_ago", "day"), [(1, 1), (2, 0), (5, 0)])
def test_a_practised_song_rests_for_a_sixth_of_the_time_to_the_show(days_ago: int, day: int) -> None:
    at = NOON - dt.timedelta(days=days_ago)
    progress = progress_of([PracticeRecord(at, LogKind.PRACTISED, "Moth", minutes=10)])
    one = show(song("Moth", "C"), date=TODAY + dt.timedelta(days=12))  # 12 / 6: two nights
    days = plan(one, TODAY, PracticeTime((60,) * 7), progress).days
    played = [number for number, each in enumerate(days) for block in each.blocks if block.kind is BlockKind.RECALL]
    assert played[0] == day
