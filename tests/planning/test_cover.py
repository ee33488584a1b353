"""Cover before depth: any show that fits is covered whole; of any other, as many songs as an exact solver covers."""

import datetime as dt
import itertools
import random
from collections import Counter
from typing import Any

import pytest
from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st
from planning.shows import DAY, TODAY, show, song

from companion.planning.advice import advised
from companion.planning.cover import UNIT_MINUTES, cover, fits
from companion.planning.plan import plan
from companion.planning.plan_model import BlockKind, Cut, Plan
from companion.planning.plan_text import cut_lines, sentence
from companion.practice_log.records import LogKind, PracticeRecord
from companion.practice_log.song_progress import Progress, progress_of
from companion.show import PracticeTime, Section, Show

SOLO = (Section("Solo", 16, feature="solo"),)
SIZES = st.lists(st.sampled_from((10, 10, 15)), max_size=24)
ROOMS = st.lists(st.sampled_from((0, 5, 10, 15, 20, 25, 30, 40, 45)), min_size=1, max_size=6)


def most_covered(wanted: list[int], rooms: list[int]) -> tuple[int, int]:
    """Return the most songs that can be covered, and the most of them whole, by an exact solver."""
    from ortools.sat.python import cp_model  # noqa: PLC0415 - as long as all else here takes, pandas included

    model = cp_model.CpModel()
    days = range(len(rooms))
    whole = {(at, day): model.new_bool_var("") for at in range(len(wanted)) for day in days}
    short = {(at, day): model.new_bool_var("") for at in range(len(wanted)) for day in days}
    for at in range(len(wanted)):
        model.add_at_most_one([which[at, day] for which in (whole, short) for day in days])
    for day in days:
        used = sum(whole[at, day] * minutes + short[at, day] * UNIT_MINUTES for at, minutes in enumerate(wanted))
        model.add(used <= rooms[day])
    model.maximize(1000 * (sum(whole.values()) + sum(short.values())) + sum(whole.values()))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = 20
    assert solver.solve(model) == cp_model.OPTIMAL
    covered, whole_ones = divmod(round(solver.objective_value), 1000)
    return covered, whole_ones


@settings(max_examples=examples(60), deadline=None)
@given(SIZES, ROOMS)
def test_the_plan_covers_as_many_songs_as_an_exact_solver(wanted: list[int], rooms: list[int]) -> None:
    found = [first for first in cover(wanted, rooms) if first]
    covered, whole = most_covered(wanted, rooms)
    assert len(found) == covered
    if whole == len(wanted):
        assert [first.minutes for first in found] == wanted
    # The least important songs are cut, whatever their minutes: that costs at most a whole block or two.
    assert sum(first.minutes > UNIT_MINUTES for first in found) >= whole - 2 - whole // 5


@settings(max_examples=examples(200))
@given(SIZES, ROOMS)
def test_no_day_is_overfull_and_the_most_important_songs_are_covered_first(wanted: list[int], rooms: list[int]) -> None:
    placed = cover(wanted, rooms)
    for day, room in enumerate(rooms):
        assert sum(first.minutes for first in placed if first and first.day == day) <= room
    assert None not in placed[: sum(first is not None for first in placed)]


def brute(ones: int, twos: int, threes: int, units: tuple[int, ...]) -> bool:
    """Say whether these blocks fit, by trying every day."""
    if not units:
        return not (ones or twos or threes)
    first, rest = units[0], units[1:]
    return any(
        brute(ones - min(ones, first - 3 * a - 2 * b), twos - b, threes - a, rest)
        for a in range(min(threes, first // 3) + 1)
        for b in range(min(twos, (first - 3 * a) // 2) + 1)
    )


@settings(max_examples=examples(300))
@given(st.integers(0, 6), st.integers(0, 6), st.integers(0, 5), st.lists(st.integers(0, 9), max_size=4).map(tuple))
def test_whether_blocks_fit_is_decided_exactly(ones: int, twos: int, threes: int, units: tuple[int, ...]) -> None:
    assert fits(Counter({1: ones, 2: twos, 3: threes}), units) is brute(ones, twos, threes, units)


@pytest.mark.parametrize("units", [(6,), (8,), (9,), (10,), (13,), (3, 5), (6, 8), (10, 10), (1, 12)])
def test_all_blocks_that_fill_these_days_fit_and_one_more_does_not(units: tuple[int, ...]) -> None:
    for twos, threes in itertools.product(range(sum(units) // 2 + 2), range(sum(units) // 3 + 2)):
        assert fits(Counter({2: twos, 3: threes}), units) is brute(0, twos, threes, units), (twos, threes)


def test_cutting_a_long_block_makes_room_for_a_shorter_one() -> None:
    assert [first.minutes for first in cover([15, 10, 10], [20]) if first] == [5, 10, 5]


def test_similar_songs_share_a_day_only_if_nothing_else_fits() -> None:
    alike = frozenset({(0, 1)})
    roomy, tight = cover([10, 10], [20, 20], alike), cover([10, 10], [20], alike)
    assert [first.day for first in roomy if first] == [0, 1]
    assert [first.day for first in tight if first] == [0, 0]


# ------------------------------------------------------------------ whole plans


def shows(seed: int) -> tuple[Show, int, PracticeTime]:
    """Make a show of any size, the days until it, and the time for it."""
    dice = random.Random(seed)  # noqa: S311  no secret
    songs = [
        song(
            f"Song {at}",
            dice.choice(("C", "D", "Gm")),
            tempo_bpm=dice.choice((None, 100.0, 120.0)),
            length_s=dice.choice((None, 150, 200, 260)),
            hard=dice.choice((None, 1, 3, 5)),
            known=dice.choice((None, 0, 1, 3, 5)),
            chart=dice.choice((None, True, False)),
            road_map=SOLO if dice.random() < 0.2 else (),
        )
        for at in range(dice.randrange(1, 60))
    ]
    minutes = tuple(dice.choice((0, 20, 45, 60, 90)) for _ in range(7))
    return (
        show(*songs, sets=dice.randrange(1, 4)),
        dice.randrange(1, 20),
        PracticeTime(minutes, (), dice.choice((0, 20, 60))),
    )


def planned(seed: int) -> tuple[Plan, PracticeTime]:
    one, days, time = shows(seed)
    return plan(one, DAY - dt.timedelta(days=days), time, {}, rounds=0), time


def counts(made: Plan) -> tuple[Counter[str], Counter[str], dict[str, int]]:
    """Return the blocks and the hearings of each song, and the day of its first block."""
    blocks: Counter[str] = Counter()
    heard: Counter[str] = Counter()
    first: dict[str, int] = {}
    for at, day in enumerate(made.days):
        for block in day.blocks:
            if block.kind is not BlockKind.RUN:
                blocks[block.title] += 1
                first.setdefault(block.title, at)
        for one in day.listening:
            heard[one.title] += one.times
    return blocks, heard, first


@settings(max_examples=examples(80), deadline=None)
@given(st.integers(0, 100_000))
def test_a_show_that_fits_leaves_no_song_out_and_another_names_every_cut(seed: int) -> None:
    made, time = planned(seed)
    learn = [one for one in made.order if not one.is_ready]
    blocks, heard, _ = counts(made)
    cut = {one.title: one.cut for one in made.cuts}
    for one in learn:
        is_covered = blocks[one.song.title] >= 1 and heard[one.song.title] >= 2
        whole = next((block for day in made.days for block in day.blocks if block.title == one.song.title), None)
        is_short = whole is not None and whole.minutes < one.block_minutes(0) and whole.kind is BlockKind.LEARN
        assert (one.song.title in cut) is (not is_covered or is_short), one.song.title
        if cut.get(one.song.title) is Cut.LISTEN:
            assert heard[one.song.title] >= 2
    units = [time.on(day.date) // UNIT_MINUTES for day in made.days]
    units = units[:-1] or units
    fit_to_play = fits(Counter(one.block_minutes(0) // UNIT_MINUTES for one in learn), units)
    listening_s = sum(60 * time.listening_on(day.date) for day in made.days)
    fit_to_hear = sum(2 * (one.song.length_s or 230) for one in learn) <= listening_s
    assert (not cut) is (fit_to_play and fit_to_hear)


@settings(max_examples=examples(80), deadline=None)
@given(st.integers(0, 100_000))
def test_nothing_is_repeated_before_every_song_is_covered(seed: int) -> None:
    made, time = planned(seed)
    _, heard, first = counts(made)
    new = [block.title for day in made.days for block in day.blocks if block.kind is BlockKind.LEARN]
    covered = max((first[title] for title in new), default=0)
    for at, day in enumerate(made.days):
        assert sum(block.minutes for block in day.blocks) <= time.on(day.date)
        assert day.listened <= time.listening_on(day.date) + 0.01
        if at < covered:
            assert {block.kind for block in day.blocks} <= {BlockKind.LEARN}
    so_far: Counter[str] = Counter()
    learn = {one.song.title for one in made.order if not one.is_ready and heard[one.song.title] >= 2}
    for day in made.days:
        so_far.update({one.title: one.times for one in day.listening})
        if any(count > 2 for count in so_far.values()):
            assert all(so_far[title] >= 2 for title in learn)


def test_songs_with_features_and_openers_have_their_first_block_first() -> None:
    songs = [song(f"Song {at}", "C", hard=3) for at in range(20)]
    made = plan(show(*songs, song("Weeds", "D", road_map=SOLO), sets=3), TODAY, PracticeTime((60,) * 7), {})
    first = {block.title for block in made.days[0].blocks}
    assert {"Weeds", "Song 0", "Song 7", "Song 14"} <= first  # the feature, and what opens each set


def test_listening_follows_set_order_and_continues_the_next_day() -> None:
    songs = [song(f"Song {at}", "C", length_s=300, known=0, chart=True, hard=at % 4) for at in range(6)]
    made = plan(show(*songs), TODAY, PracticeTime((60,) * 7, listening=12), {})
    heard = [[(one.title, one.times, round(one.minutes)) for one in day.listening] for day in made.days[:3]]
    assert heard == [
        [("Song 0", 1, 5), ("Song 1", 1, 5), ("Song 2", 0, 2)],
        [("Song 2", 1, 3), ("Song 3", 1, 5), ("Song 4", 0, 4)],
        [("Song 4", 1, 1), ("Song 5", 1, 5), ("Song 0", 1, 5), ("Song 1", 0, 1)],
    ]


def test_a_run_that_is_longer_than_any_day_asks_for_one_longer_day() -> None:
    songs = [song(f"Song {at}", "C", length_s=300, known=4) for at in range(7)]
    made = plan(show(*songs), TODAY, PracticeTime((30,) * 7, listening=60), {})
    assert sentence(made).endswith("No day has room to run First in one go: that takes a day of 35 minutes.")
    assert "you lack" not in sentence(made)


def test_every_song_is_heard_twice_as_early_as_possible() -> None:
    songs = [song(f"Song {at}", "C", length_s=300, known=0, chart=True) for at in range(6)]
    made = plan(show(*songs), TODAY, PracticeTime((60,) * 7, listening=30), {})
    assert [sum(one.times for one in day.listening) for day in made.days[:2]] == [6, 6]
    assert sum(one.times for one in made.days[2].listening) < 6  # the rest is spread


def test_if_listening_time_is_short_the_most_important_songs_are_heard() -> None:
    songs = [song(f"Song {at}", "C", length_s=300) for at in range(6)]
    one = show(*songs, song("Weeds", "D", length_s=300, road_map=SOLO), date=TODAY + dt.timedelta(days=2))
    made = plan(one, TODAY, PracticeTime((60,) * 7, listening=5), {})
    assert [each.title for day in made.days for each in day.listening if each.times] == ["Song 0", "Weeds"]


def test_listening_is_spread_over_all_the_days() -> None:
    made = plan(show(song("Moth", "C", chart=True, known=0, length_s=240)), TODAY, PracticeTime(), {})
    assert sum(bool(day.listening) for day in made.days) >= 7  # eight hearings in fourteen days, not four evenings
    assert sum(one.times for day in made.days for one in day.listening) == 8


def test_a_song_already_played_or_heard_is_not_covered_again() -> None:
    at = dt.datetime(2027, 6, 4, 20, tzinfo=dt.UTC)
    done: dict[str, Progress] = progress_of(
        [
            PracticeRecord(at, LogKind.PRACTISED, "Moth", minutes=10),
            *[PracticeRecord(at, LogKind.HEARD, "Moth", share=1)] * 2,
        ]
    )
    one = show(song("Moth", "C"), song("Weeds", "D"), date=TODAY + dt.timedelta(days=2))
    made = plan(one, TODAY, PracticeTime((10,) * 7, listening=8), done)
    assert [(block.kind, block.title) for block in made.days[0].blocks] == [(BlockKind.LEARN, "Weeds")]
    assert not made.cuts


def test_a_practised_song_is_not_repeated_before_all_others_are_covered() -> None:
    at = dt.datetime(2027, 5, 1, 20, tzinfo=dt.UTC)
    done = progress_of([PracticeRecord(at, LogKind.PRACTISED, "Weeds", minutes=10)])
    songs = [song(f"Song {number}", "C") for number in range(6)]
    made = plan(show(*songs, song("Weeds", "D", hard=5, road_map=SOLO)), TODAY, PracticeTime((25,) * 7), done)
    kinds = [{block.kind for block in day.blocks} for day in made.days]
    assert kinds[:2] == [{BlockKind.LEARN}, {BlockKind.LEARN}]
    assert BlockKind.RECALL in kinds[2] | kinds[3]


def test_no_set_is_run_before_every_song_is_covered() -> None:
    songs = [song(f"Song {number}", "C", length_s=60, known=4) for number in range(8)]
    one = show(*songs, date=TODAY + dt.timedelta(days=5))
    # A run takes 8 minutes, which each day has left but the one on which the last songs are new, a Tuesday.
    made = plan(one, TODAY, PracticeTime((28, 20, 28, 28, 28, 28, 28)), {})
    kinds = [{block.kind for block in day.blocks} for day in made.days]
    assert kinds[:4] == [{BlockKind.LEARN}] * 4
    assert "First" in {gap.title for gap in made.left_out}


def test_the_last_day_introduces_no_song() -> None:
    one = show(song("Moth", "C"), song("Weeds", "D"), date=TODAY + dt.timedelta(days=2))
    made = plan(one, TODAY, PracticeTime((60, 60, 60, 60, 60, 15, 60), listening=60), {})  # it begins on a Saturday
    assert [gap.cut for gap in made.cuts] == [Cut.INTRO]
    assert {block.kind for block in made.days[-1].blocks} <= {BlockKind.RECALL}


def test_a_song_that_practice_made_ready_is_still_heard_twice() -> None:
    at = dt.datetime(2027, 6, 4, 20, tzinfo=dt.UTC)
    done = progress_of([PracticeRecord(at, LogKind.PRACTISED, "Moth", minutes=10)])
    one = show(song("Opener", "D", known=0), song("Moth", "C", known=3, hard=0))
    made = plan(one, TODAY, PracticeTime((60,) * 7, listening=8), done)
    assert next(each for each in made.order if each.song.title == "Moth").is_ready
    assert [[each.title for each in day.listening if each.times] for day in made.days[:2]] == [["Opener", "Moth"]] * 2


@pytest.mark.parametrize(
    ("more", "minutes", "listening", "cut"),
    [
        ({}, 10, 20, None),
        ({}, 5, 20, Cut.INTRO),
        ({"road_map": SOLO}, 5, 20, Cut.FEATURE),
        ({}, 0, 20, Cut.LISTEN),
        ({"hard": 3}, 0, 20, Cut.LISTEN),
        ({"hard": 4}, 0, 20, Cut.DROP),  # too hard to be played by ear alone
        ({"road_map": SOLO}, 0, 20, Cut.DROP),  # a feature has to be played
        ({}, 10, 0, Cut.HEAR),
        ({}, 0, 0, Cut.DROP),
        ({"known": 5}, 0, 0, None),
    ],
)
def test_the_cheapest_cut_is_named(more: dict[str, Any], minutes: int, listening: int, cut: Cut | None) -> None:
    one = show(song("Moth", "C", **more), date=TODAY + dt.timedelta(days=1))
    made = plan(one, TODAY, PracticeTime((minutes,) * 7, listening=listening), {})
    assert [gap.cut for gap in made.cuts] == ([cut] if cut else [])
    if cut:
        assert cut_lines(made)[0].startswith(f"Moth: {cut.value} (")


def big_engagement() -> Show:
    return show(*(song(f"Song {at}", "C", hard=at % 4, chart=True) for at in range(54)), sets=3)


def test_in_ten_days_of_one_hour_fifty_four_songs_are_all_heard_twice_and_played_once() -> None:
    made = plan(big_engagement(), DAY - dt.timedelta(days=10), PracticeTime((60,) * 7), {})
    blocks, heard, _ = counts(made)
    assert all(blocks[one.song.title] >= 1 and heard[one.song.title] >= 2 for one in made.order)
    assert sentence(made).startswith("10 days until Pier Street on 19 June 2027: ")


def test_three_helpful_changes_are_named_best_first() -> None:
    time = PracticeTime((60, 60, 60, 60, 60, 60, 0))
    made = advised(big_engagement(), DAY - dt.timedelta(days=10), time, {})
    assert len(made.helps) == 3
    told = " / ".join(made.helps)
    assert "20 more minutes a day: makes room for " in told
    assert "play on Sunday too: makes room for " in told
    assert made.helps[0].startswith("20 more minutes a day: ")  # of eight days, against one hour on one


def test_the_most_effective_change_comes_first() -> None:
    songs = [song(f"Song {at}", "C", hard=0, chart=True, length_s=300) for at in range(10)]
    one = show(*songs, date=TODAY + dt.timedelta(days=5))
    made = advised(one, TODAY, PracticeTime((20,) * 7, listening=1), {})  # listening is what is short
    assert made.helps[0].startswith("30 more minutes of listening a day: ")


def test_a_weekday_off_is_named_if_using_it_would_help() -> None:
    made = advised(big_engagement(), DAY - dt.timedelta(days=10), PracticeTime((60,) * 7, (6,)), {})
    assert any(one.startswith("play on Sunday too: makes room for ") for one in made.helps)


def test_a_day_off_is_named_if_using_it_would_help() -> None:
    time = PracticeTime((60,) * 7, (dt.date(2027, 6, 15),))
    made = advised(big_engagement(), DAY - dt.timedelta(days=10), time, {})
    assert any(one.startswith("play on Tuesday 2027-06-15 too: ") for one in made.helps)


def test_a_change_of_little_effect_is_not_named() -> None:
    songs = [song(f"Song {at}", "C", known=5, length_s=240) for at in range(20)]
    easy = song("Moth", "C", known=4, hard=0, length_s=120)
    made = advised(show(*songs, easy), TODAY, PracticeTime((30,) * 7, listening=200), {})
    assert [gap.title for gap in made.left_out] == ["First"]  # a run of 82 minutes fits on no day
    assert made.helps == ()


def test_a_song_to_drop_is_named_if_that_helps() -> None:
    songs = [song(f"Song {at}", "C", known=5) for at in range(5)]
    hard = song("Staircase", "D", hard=5, known=0, chart=True)
    made = advised(
        show(*songs, hard, date=TODAY + dt.timedelta(days=2)), TODAY, PracticeTime((10,) * 7, listening=200), {}
    )
    assert any(one.startswith("ask to drop Staircase: ") for one in made.helps)
