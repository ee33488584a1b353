"""The days until the show."""

import datetime as dt
import itertools
from typing import Any

import msgspec
import pytest
from icalendar import Calendar
from planning.shows import DAY, TODAY, big, show, song

from companion.errors import CompanionError
from companion.music import Meter
from companion.planning.advice import advised
from companion.planning.plan import are_alike, plan
from companion.planning.plan_model import BlockKind, Plan
from companion.planning.plan_text import (
    LINE_OCTETS,
    bars,
    calendar,
    day_lines,
    escaped,
    folded_line,
    in_runs,
    plain,
    sentence,
)
from companion.planning.priority import Group, rank
from companion.practice_log.records import LogKind, PracticeRecord
from companion.practice_log.song_progress import Progress, progress_of
from companion.show import PracticeTime, Section, Show
from companion.show.practice_time import read_days_off, read_minutes

NOON = dt.datetime(2027, 6, 5, 12, tzinfo=dt.UTC)
SOLO = (Section("Solo", 16, feature="solo"),)


def planned(
    one: Show,
    minutes: int = 60,
    today: dt.date = TODAY,
    progress: dict[str, Progress] | None = None,
    listening: int = 60,
) -> Plan:
    return advised(one, today, PracticeTime((minutes,) * 7, listening=listening), progress or {})


def events_of(text: str) -> list[Any]:
    """Read a calendar's events with a library that has nothing to do with ours."""
    return list(Calendar.from_ical(text).walk("VEVENT"))


def test_every_day_keeps_to_its_minutes() -> None:
    time = PracticeTime(read_minutes("30, sat=120, sun=0"), read_days_off("2027-06-08"), 20)
    made = plan(big(40), TODAY, time, {})
    assert [day.date for day in made.days] == [TODAY + dt.timedelta(days=at) for at in range(14)]
    assert all(day.used <= day.minutes and day.listened <= 20.01 for day in made.days)
    assert [day.used for day in made.days if day.date in (dt.date(2027, 6, 6), dt.date(2027, 6, 8))] == [0, 0]


def test_songs_rank_as_features_then_get_by_then_skip_then_ready() -> None:
    songs = (
        song("Ready", "C", known=5),
        song("Skip", "C", hard=5, known=0),
        song("Get by", "C", hard=1),
        song("Solo", "C", road_map=SOLO),
        song("Harder solo", "C", road_map=SOLO, hard=5),
    )
    order = rank(show(*songs), 14, {})
    assert [(one.song.title, one.group) for one in order] == [
        ("Harder solo", Group.FIRST),
        ("Solo", Group.FIRST),
        ("Get by", Group.GET_BY),
        ("Skip", Group.IF_TIME),
        ("Ready", Group.READY),
    ]


@pytest.mark.parametrize(
    ("more", "less"),
    [
        ({"road_map": SOLO}, {}),
        ({"hard": 3}, {"hard": 2}),
        ({"known": 1}, {"known": 3}),
        ({"chart": False}, {"chart": True}),
        ({"notes": "organ solo"}, {"notes": "fast"}),
        ({"starts_with": "keys"}, {"starts_with": "drums"}),
    ],
)
def test_each_factor_moves_a_song_up(more: dict[str, object], less: dict[str, object]) -> None:
    opener = song("Opener", "E", known=5)
    first, second, _ = rank(show(opener, song("Less", "C", **less), song("More", "D", **more)), 14, {})
    assert (first.song.title, second.song.title) == ("More", "Less")


def test_the_opener_of_a_set_moves_up_even_if_the_keys_come_in_later() -> None:
    songs = [song("Brass fanfare", tacet=True), song("Opener", "C"), song("Other", "C", hard=5)]
    first, second = rank(show(*songs), 14, {})
    assert [(one.song.title, one.opens, one.group) for one in (first, second)] == [
        ("Opener", True, Group.FIRST),
        ("Other", False, Group.IF_TIME),
    ]


def test_a_song_that_needs_more_evenings_than_remain_moves_down() -> None:
    hard = song("Hard", "C", hard=5, known=0, road_map=SOLO)
    assert rank(show(hard), 2, {})[0].urgency < rank(show(hard), 14, {})[0].urgency


HARD_FEATURE: dict[str, Any] = {"hard": 5, "known": 0, "road_map": SOLO}
NEARLY_KNOWN: dict[str, Any] = {"hard": 0, "known": 4, "chart": True}


@pytest.mark.parametrize(
    ("more", "minutes", "listening", "what"),
    [  # on the one day that is left, by hand: a hard song needs five blocks, the first of 15 minutes, and 8 hearings
        (HARD_FEATURE, 15, 0, "1 of 5 blocks, 0 of 8 hearings"),
        (HARD_FEATURE, 15, 60, "1 of 5 blocks, 2 of 8 hearings"),  # two a day at most
        (HARD_FEATURE, 5, 60, "1 of 5 blocks, 5 of 15 min, 2 of 8 hearings"),
        (NEARLY_KNOWN, 60, 60, "2 of 5 hearings"),
        (NEARLY_KNOWN, 5, 60, "5 of 10 min, 2 of 5 hearings"),
    ],
)
def test_what_is_left_out_names_only_what_is_missing(
    more: dict[str, Any], minutes: int, listening: int, what: str
) -> None:
    made = planned(show(song("Weeds", "D", **more)), minutes, DAY - dt.timedelta(days=1), listening=listening)
    assert made.left_out[0].what == what


@pytest.mark.parametrize(("blocks_done", "group"), [(0, Group.GET_BY), (1, Group.READY)])
def test_from_four_and_a_half_of_five_a_song_counts_as_ready(blocks_done: int, group: Group) -> None:
    """By hand: known 3 and one of its two blocks done make 3 + 3 / 2 = 4.5."""
    practised = [PracticeRecord(NOON, LogKind.PRACTISED, "Moth", minutes=10)] * blocks_done
    opener, moth = song("Opener", "C", known=5), song("Moth", "D", known=3)
    ranked = next(one for one in rank(show(opener, moth), 14, progress_of(practised)) if one.song == moth)
    assert (ranked.blocks, ranked.blocks_done, ranked.group) == (2 - blocks_done, blocks_done, group)


def test_a_song_without_a_chart_is_heard_twice_as_often() -> None:
    songs = (song("A", "C", chart=True, known=0), song("B", "D", chart=False, known=0))
    with_chart, without = sorted(rank(show(*songs), 14, {}), key=lambda one: one.song.title)
    assert (with_chart.hearings, without.hearings) == (8, 16)


def test_each_set_is_run_once_before_a_light_last_day() -> None:
    made = planned(big(24), minutes=120)
    runs = [
        (at, block.title) for at, day in enumerate(made.days) for block in day.blocks if block.kind is BlockKind.RUN
    ]
    assert [title for _, title in runs] == ["First", "Second", "Third"]
    assert all(at < 13 for at, _ in runs)
    last = made.days[-1]
    assert last.is_light
    assert last.used <= 60
    assert all(block.kind is BlockKind.RECALL for block in last.blocks)


@pytest.mark.parametrize(("days_ago", "is_run"), [(1, False), (14, False), (15, True)])
def test_a_recently_run_set_is_not_run_again(days_ago: int, *, is_run: bool) -> None:
    one = show(song("Moth", "C", known=5), song("Weeds", "D", known=5), song("Fanfare", tacet=True))
    at = NOON - dt.timedelta(days=days_ago)
    ran = progress_of([PracticeRecord(at, LogKind.RAN, title) for title in ("Moth", "Weeds")])
    made = planned(one, progress=ran)
    assert any(block.kind is BlockKind.RUN for day in made.days for block in day.blocks) is is_run


def test_similar_songs_are_practised_on_different_evenings() -> None:
    one, other = song("Moth", "C", tempo_bpm=100.0, hard=4), song("Weeds", "C", tempo_bpm=102.0, hard=4)
    assert are_alike(one, other)
    made = planned(show(one, other, song("Tidal", "D", tempo_bpm=101.0, hard=4)), minutes=180)
    learnt = [{block.title for block in day.blocks if block.kind is not BlockKind.RUN} for day in made.days]
    assert not [titles for titles in learnt if {"Moth", "Weeds"} <= titles]
    assert any("Moth" in titles for titles in learnt)


FOUR, THREE = Meter(4, 4), Meter(3, 4)


@pytest.mark.parametrize(
    ("one", "other", "alike"),
    [
        (("C", FOUR, 100.0), ("C", FOUR, 105.0), True),
        (("C", FOUR, 100.0), ("C", FOUR, 107.0), False),
        (("C", FOUR, 100.0), ("C", THREE, 100.0), False),
        (("C", FOUR, 100.0), ("C", None, 100.0), True),
        (("C", None, 100.0), ("C", None, 100.0), True),
        (("C", FOUR, 100.0), ("D", FOUR, 100.0), False),
    ],
)
def test_similar_songs_share_key_meter_and_nearly_the_tempo(
    one: tuple[str, Meter | None, float], other: tuple[str, Meter | None, float], *, alike: bool
) -> None:
    songs = [song("Moth", key, meter=meter, tempo_bpm=bpm) for key, meter, bpm in (one, other)]
    assert are_alike(*songs) is alike
    assert are_alike(*reversed(songs)) is alike


def test_an_evening_with_room_for_it_puts_recall_between_new_songs() -> None:
    evenings = [
        [block.kind for block in day.blocks if block.kind is not BlockKind.RUN]
        for day in planned(big(40), minutes=90).days[:-1]
    ]
    mixed = [kinds for kinds in evenings if 2 <= kinds.count(BlockKind.LEARN) <= len(kinds) / 2]
    assert mixed
    for kinds in mixed:
        assert (BlockKind.LEARN, BlockKind.LEARN) not in itertools.pairwise(kinds), kinds


def test_a_song_is_heard_twice_a_day_at_most() -> None:
    made = planned(show(song("Moth", "C", hard=5, known=0)), listening=600)
    heard = [one.times for day in made.days for one in day.listening]
    assert heard
    assert max(heard) == 2


def test_the_light_day_recalls_each_feature_for_five_minutes() -> None:
    made = planned(show(*(song(f"Song {at}", "C", known=5, road_map=SOLO) for at in range(4))), minutes=60)
    assert [block.minutes for block in made.days[-1].blocks] == [5, 5, 5, 5]


def test_songs_that_do_not_fit_are_named_with_minutes_and_helpful_changes() -> None:
    made = planned(big(60), minutes=20, listening=200)
    assert made.short_minutes == pytest.approx(sum(one.minutes for one in made.left_out))
    assert made.helps[0].startswith("20 more minutes a day: makes room for ")
    assert "minutes at the keyboard" in sentence(made)
    rest = planned(show(song("Moth", "C")), minutes=60)
    assert (rest.left_out, rest.helps) == ((), ())
    assert sentence(rest).endswith("everything fits.")


def test_one_day_left_is_written_in_the_singular() -> None:
    made = planned(show(song("Moth", "C")), minutes=60)
    assert sentence(msgspec.structs.replace(made, days=made.days[:1])).startswith(
        "1 day until Pier Street on 19 June 2027: 1 block;"
    )


def test_planned_and_left_out_work_add_up_to_all_work() -> None:
    made = planned(big(60), minutes=30, listening=30)
    gaps = {one.title: one for one in made.left_out}
    for one in made.order:
        played = sum(
            block.minutes
            for day in made.days
            for block in day.blocks
            if block.title == one.song.title and not (one.features and day.is_light and block.minutes == 5)
        )
        gap = gaps.get(one.song.title)
        needed = sum(one.block_minutes(block) for block in range(one.blocks))
        assert played + (gap.minutes if gap else 0) >= needed
        heard = sum(each.times for day in made.days for each in day.listening if each.title == one.song.title)
        length = (one.song.length_s or 230) / 60
        assert heard * length + (gap.listening if gap else 0) == pytest.approx(one.hearings * length)


def test_missed_work_is_planned_again_and_finished_work_is_not() -> None:
    one = show(song("Moth", "C", hard=3, road_map=SOLO), song("Weeds", "D"))
    fresh = planned(one)
    needed = fresh.order[0].blocks
    assert needed > 1
    missed = planned(one, today=TODAY + dt.timedelta(days=2))
    assert missed.order[0].blocks == needed
    done = progress_of(
        [
            PracticeRecord(NOON, LogKind.PRACTISED, "Moth", minutes=12),
            PracticeRecord(NOON, LogKind.HEARD, "Moth", share=1),
        ]
    )
    after = planned(one, today=TODAY + dt.timedelta(days=1), progress=done)
    moth = next(ranked for ranked in after.order if ranked.song.title == "Moth")
    assert (moth.blocks, moth.blocks_done) == (needed - 1, 1)
    assert moth.hearings < fresh.order[0].hearings
    first = next(at for at, day in enumerate(after.days) if any(block.title == "Moth" for block in day.blocks))
    assert first >= 1  # a night lies between


@pytest.mark.parametrize(
    ("date", "word"),
    [
        (None, "no date"),
        (TODAY - dt.timedelta(days=3), "3 days ago"),
        (TODAY - dt.timedelta(days=1), "1 day ago: no day is left to plan. Write: date: .* or --date"),
        (TODAY, "the show is today"),
    ],
)
def test_a_show_with_no_days_left_is_an_error(date: dt.date | None, word: str) -> None:
    with pytest.raises(CompanionError, match=word):
        planned(show(song("Moth"), date=date))


def test_a_show_tomorrow_has_one_day() -> None:
    made = planned(show(song("Moth", "C", hard=1), date=TODAY + dt.timedelta(days=1)))
    assert len(made.days) == 1
    assert made.days[0].used
    assert not made.days[0].is_light


def test_without_minutes_everything_is_left_out() -> None:
    made = planned(big(10), minutes=0, listening=0)
    assert not [day for day in made.days if day.used or day.listening]
    assert made.short_minutes > 0
    assert made.helps


def test_an_empty_show_is_an_empty_plan() -> None:
    made = planned(Show("x", date=DAY))
    assert (made.order, made.left_out) == ((), ())
    assert len(made.days) == 14


def test_each_day_appears_once_in_a_fortnight_with_a_clock_change() -> None:
    made = planned(show(song("Moth", "C"), date=dt.date(2027, 4, 4)), today=dt.date(2027, 3, 21))
    assert [day.date.day for day in made.days] == [*range(21, 32), 1, 2, 3]
    events = events_of(calendar(made, NOON))
    starts = [event["DTSTART"].dt for event in events if isinstance(event["DTSTART"].dt, dt.datetime)]
    assert {(start.hour, start.tzinfo) for start in starts} == {(18, None)}


def test_an_independent_calendar_reads_the_plan_back() -> None:
    odd = show(
        song("Verse, chorus; bridge\\tag", "C", road_map=SOLO),
        song("Über – ganz schön lang " * 4, "D"),
        song("🎹", "E"),
    )
    made = planned(odd)
    text = calendar(made, NOON)
    events = events_of(text)
    practice = [day for day in made.days if day.used]
    assert len(events) == len(practice) + 1
    for day, event in zip(practice, events, strict=False):
        assert event["DTSTART"].dt == dt.datetime.combine(day.date, dt.time(18))
        assert event["DTEND"].dt - event["DTSTART"].dt == dt.timedelta(minutes=day.used)
        assert str(event["SUMMARY"]) == "Practice: " + ", ".join(dict.fromkeys(block.title for block in day.blocks))
    assert events[-1]["DTEND"].dt == DAY + dt.timedelta(days=1)
    assert all(len(line.encode()) <= LINE_OCTETS for line in text.split("\r\n"))
    uids = [str(event["UID"]) for event in events]
    assert len(set(uids)) == len(uids)
    again = events_of(calendar(made, NOON + dt.timedelta(days=1)))
    assert [str(event["UID"]) for event in again] == uids


def test_calendar_text_is_escaped_and_folded_by_the_standard() -> None:
    # RFC 5545, 3.3.11 (TEXT); compared with a library
    assert escaped("Verse, chorus; bridge\\tag\nend") == r"Verse\, chorus\; bridge\\tag\nend"
    line = "DESCRIPTION:Learn Gasworks Corner\\, Kettle on the Jetty and the solo of Harbour Lights – twice"
    assert len(line.encode()) > len(line) > 75  # RFC 5545, 3.1: octets count, not letters
    folded = folded_line(line)
    assert all(len(piece.encode()) <= 75 for piece in folded.split("\r\n"))
    assert folded.replace("\r\n ", "") == line


def test_days_without_anything_to_do_are_one_line() -> None:
    known = [song(f"Song of {word}", "G", known=5) for word in ("Ash", "Birch")]
    made = planned(show(*known))
    idle = [at for at, run in enumerate(in_runs(made)) if len(run) > 1]
    assert [day for run in in_runs(made) for day in run] == list(made.days)
    assert idle
    assert all(not day_lines(day) for at in idle for day in in_runs(made)[at])
    first, *_, last = in_runs(made)[idle[0]]
    assert bars(made)[idle[0]] == (f"{first.date:%a %d %b} - {last.date:%a %d %b}", "", "nothing to do")
    assert len(bars(made)) == len(in_runs(made)) < len(made.days)


def test_the_plan_is_available_as_bars_and_as_plain_data() -> None:
    made = planned(big(12))
    assert len(bars(made)) == 14
    assert bars(made)[0][1].startswith("█")
    told = plain(made)
    assert isinstance(told["days"], list)
    assert len(told["days"]) == 14


def test_a_known_song_answered_wrong_comes_up_again() -> None:
    one = show(song("Opener", "D", known=5), song("Moth", "C", known=5))
    assert planned(one).order[1].blocks == 0
    wrong = progress_of([PracticeRecord(NOON, LogKind.ASKED, "Moth", question="key", grade=1)])
    moth = planned(one, progress=wrong).order[0]
    assert (moth.blocks, moth.group) == (1, Group.GET_BY)
    right = [
        PracticeRecord(NOON + dt.timedelta(days=at), LogKind.ASKED, "Moth", question="key", grade=3) for at in (1, 2, 3)
    ]
    again = progress_of([PracticeRecord(NOON, LogKind.ASKED, "Moth", question="key", grade=1), *right])
    assert planned(one, progress=again).order[0].blocks == 0
