"""The weights by hand: what makes a song urgent, how ready a song and a night are, and the words of a plan."""

import datetime as dt
from pathlib import Path
from typing import Any

import msgspec
import pytest
from planning.shows import DAY, TODAY, show, song

from companion.planning.earlier_shows import with_earlier
from companion.planning.hearings import ListeningTask, hearings
from companion.planning.plan_model import BlockKind, Cut, Day, LeftOut, Plan, PracticeBlock
from companion.planning.plan_text import block_line, cut_lines, day_lines, seldom_lines, sentence, time_line
from companion.planning.priority import WORTH, Group, Ranked, rank
from companion.planning.rating import RatePress, Rating, RatingStep
from companion.planning.readiness import SongReady, half_hour, night_ready, song_ready
from companion.practice_log.records import LogKind, PracticeRecord
from companion.practice_log.song_progress import Progress, of_song, progress_of
from companion.show import PracticeTime, Section, SoundCall

AT = dt.datetime(2027, 6, 4, 20, tzinfo=dt.UTC)
SOLO: dict[str, Any] = {"road_map": (Section("Solo", 16, feature="solo"),)}
LEAD: dict[str, Any] = {"sounds": (SoundCall("lead"),)}


def done(*records: tuple[LogKind, dict[str, Any]]) -> dict[str, Progress]:
    return progress_of([PracticeRecord(AT, did, "Moth", **more) for did, more in records])


def moth(progress: dict[str, Progress] | None = None, *, days_left: int = 14, **more: Any) -> Ranked:  # noqa: ANN401  a builder takes every field
    """Rank Moth, in C, behind another song that opens the set."""
    order = rank(show(song("Opener", "D"), song("Moth", "C", **more)), days_left, progress or {})
    return next(one for one in order if one.song.title == "Moth")


PLAYED: tuple[LogKind, dict[str, Any]] = (LogKind.PRACTISED, {"minutes": 10})
HEARD: tuple[LogKind, dict[str, Any]] = (LogKind.HEARD, {"share": 1})
RIGHT: tuple[LogKind, dict[str, Any]] = (LogKind.ASKED, {"grade": 3})
WRONG: tuple[LogKind, dict[str, Any]] = (LogKind.ASKED, {"grade": 1})


@pytest.mark.parametrize(
    ("more", "factor", "value"),
    [
        ({}, "times_hard", 1.1),  # nothing said counts as 2: 0.5 + 0.3 x 2
        ({"hard": 0}, "times_hard", 0.5),
        ({"hard": 5}, "times_hard", 2.0),
        ({}, "times_unknown", 0.8),  # nothing said counts as 1: (5 - 1) / 5
        ({"known": 0}, "times_unknown", 1.0),
        ({"known": 5}, "times_unknown", 0.05),
        ({}, "times_chart", 1.25),
        ({"chart": True}, "times_chart", 1.0),
        ({"chart": "moth.pdf"}, "times_chart", 1.0),
        ({"chart": False}, "times_chart", 1.5),
        ({}, "times_features", 1.0),
        ({}, "times_opens", 1.0),
        ({}, "times_days", 1.0),
        ({"days_left": 2, "known": 0, "hard": 4}, "times_days", 0.4),  # five blocks, two days
        ({"days_left": 0, "known": 0, "hard": 4}, "times_days", 0.1),  # today counts as half a day
    ],
)
def test_each_factor_has_its_weight(more: dict[str, Any], factor: str, value: float) -> None:
    assert getattr(moth(**more), factor) == pytest.approx(value)


def test_urgency_is_the_product_and_the_group_weighs_the_first_block() -> None:
    one = moth(hard=5, known=0, chart=False, days_left=2)
    assert one.urgency == pytest.approx(1.0 * 1.0 * 2.0 * 1.0 * 1.5 * 2 / 5)
    assert one.value == pytest.approx(one.urgency * 0.25)
    assert [WORTH[group] for group in Group] == sorted(WORTH.values(), reverse=True)
    (opener, *_) = rank(show(song("Opener", "D"), song("Moth", "C")), 14, {})
    assert opener.times_opens == 1.5
    assert opener.value == pytest.approx(opener.urgency)


@pytest.mark.parametrize(("sections", "times"), [(1, 2.5), (2, 4.0), (3, 4.0)])
def test_features_count_up_to_a_limit(sections: int, times: float) -> None:
    """By hand: a solo weighs 3, and the song 1 + half of its features' weights, which count up to 6."""
    parts = tuple(Section(f"Solo {at}", 8, feature="solo") for at in range(sections))
    assert moth(road_map=parts).times_features == times


@pytest.mark.parametrize(
    ("more", "blocks"),
    [  # by hand: 40 min x (0.5 + 0.3 hard) x (5 - known) / 5, a quarter more with features, a fifth without a chart
        ({"hard": 2, "known": 1, "chart": True}, 4),  # 35.2 min
        ({"hard": 2, "known": 1}, 4),  # 42.2
        ({"hard": 2, "known": 1, "chart": True, **SOLO}, 4),  # 44
        ({"hard": 3, "known": 1, "chart": True}, 4),  # 44.8
        ({"hard": 3, "known": 1}, 5),  # 53.8
        ({"hard": 5, "known": 0}, 5),  # 96: five at most
        ({"hard": 0, "known": 4, "chart": True}, 1),  # 4: one at least
        ({"hard": 5, "known": 5}, 0),
    ],
)
def test_the_blocks_that_a_song_needs(more: dict[str, Any], blocks: int) -> None:
    assert moth(**more).blocks == blocks


@pytest.mark.parametrize(
    ("more", "hearings"),
    [
        ({"known": 0, "chart": True}, 8),
        ({"known": 2, "chart": True}, 6),
        ({"known": 3, "chart": True}, 5),
        ({"known": 4, "chart": True}, 5),
        ({"known": 5, "chart": True}, 2),
        ({"known": 0, "chart": False}, 16),
        ({"known": 0}, 8),
    ],
)
def test_the_hearings_that_a_song_needs(more: dict[str, Any], hearings: int) -> None:
    assert moth(**more).hearings == hearings


@pytest.mark.parametrize(
    ("records", "known"),
    [  # known 1, and four blocks needed: 3 for all blocks, 1 for five hearings, 4 at most after a wrong answer
        ((), 1.0),
        ((PLAYED,), 1.75),
        ((PLAYED,) * 4, 4.0),
        ((PLAYED,) * 8, 4.0),
        ((HEARD,), 1.2),
        ((HEARD,) * 5, 2.0),
        ((HEARD,) * 9, 2.0),
        ((*(PLAYED,) * 4, *(HEARD,) * 5), 5.0),
        ((*(PLAYED,) * 4, *(HEARD,) * 5, WRONG), 4.0),
        ((*(PLAYED,) * 4, *(HEARD,) * 5, WRONG, RIGHT, RIGHT), 4.0),
        ((*(PLAYED,) * 4, *(HEARD,) * 5, WRONG, RIGHT, RIGHT, RIGHT), 5.0),
    ],
)
def test_work_raises_what_is_known(records: tuple[tuple[LogKind, dict[str, Any]], ...], known: float) -> None:
    assert moth(done(*records), hard=2, chart=True).known_now == pytest.approx(known)


def ready(records: tuple[tuple[LogKind, dict[str, Any]], ...] = (), key: str | None = "C", **more: Any) -> SongReady:  # noqa: ANN401  same
    progress = done(*records)
    (one,) = rank(show(song("Moth", key, **more)), 14, progress)
    return song_ready(one, of_song(progress, one.song))


@pytest.mark.parametrize(
    ("records", "more", "score"),
    [  # by hand: 30 for known_now of 5, 30 for blocks, 20 for hearings, 20 for the last five answers, 10 if none
        ((), {"known": 0, "chart": True}, 10),
        ((), {"known": 5, "chart": True}, 80),  # 30 + 30 + 0 + 10 make 70, but the player knows it
        ((RIGHT,), {"known": 5, "chart": True}, 80),  # 30 + 30 + 0 + 20
        ((WRONG,), {"known": 5, "chart": True}, 24),  # known 4 now: 24, and one block to do
        ((WRONG, *(RIGHT,) * 4), {"known": 5, "chart": True}, 76),  # four of five right
        ((WRONG, *(RIGHT,) * 5), {"known": 5, "chart": True}, 80),  # only the last five count
        ((*(HEARD,) * 4,), {"known": 5, "chart": True}, 90),  # heard as often as needed: 30 + 30 + 20 + 10
    ],
)
def test_a_songs_score(records: tuple[tuple[LogKind, dict[str, Any]], ...], more: dict[str, Any], score: int) -> None:
    assert ready(records, **more).score == score


@pytest.mark.parametrize(
    ("records", "key", "more", "lacks"),
    [
        ((), "C", {"known": 5}, ()),
        ((), None, {"known": 5}, ("no key",)),
        ((), "C", {"known": 5, "notes": "organ solo", **LEAD}, ("a feature, but no road map",)),
        ((), "C", {"known": 5, **SOLO}, ("a feature, but no sound",)),
        ((), "C", {"known": 5, **SOLO, **LEAD}, ()),
        (
            (),
            "C",
            {"known": 5, "road_map": (Section("Solo", 16, feature="solo", sounds=(SoundCall("lead"),)),)},
            (),
        ),
        ((), "C", {"known": 4, "hard": 0, "chart": True}, ("0 of 1 block played",)),
        ((PLAYED,), "C", {"known": 1, "hard": 2, "chart": True}, ("1 of 4 blocks played",)),
        ((WRONG, RIGHT), "C", {"known": 5}, ("0 of 1 block played", "1 wrong of the last 2 quiz answers")),
        ((RIGHT, RIGHT), "C", {"known": 5}, ()),
    ],
)
def test_what_a_song_lacks_is_named(
    records: tuple[tuple[LogKind, dict[str, Any]], ...],
    key: str | None,
    more: dict[str, Any],
    lacks: tuple[str, ...],
) -> None:
    assert ready(records, key, **more).lacks == lacks


@pytest.mark.parametrize(
    ("records", "score"),
    [
        ((*(HEARD,) * 4, RIGHT), 59),  # known 3.8 now: 22.8, four of five hearings: 16, all answers: 20
        ((*(HEARD,) * 5, WRONG, *(RIGHT,) * 4), 60),  # known 4 now: 24, all hearings: 20, four of five answers: 16
    ],
)
def test_a_night_is_ready_only_with_every_feature_at_60(
    records: tuple[tuple[LogKind, dict[str, Any]], ...], score: int
) -> None:
    feature = song("Moth", "C", known=3, hard=0, chart=True, **SOLO, **LEAD)
    steady = [song(f"Song {at}", "C", known=5) for at in range(20)]
    heard = [PracticeRecord(AT, LogKind.HEARD, one.title, share=1) for one in steady for _ in range(2)]
    progress = {**progress_of(heard), **done(*records)}
    night = night_ready(show(*steady, feature), 10, progress)
    assert [one.score for one in night.songs][-2:] == [90, score]
    assert night.score >= 80
    assert night.is_ready is (score >= 60)


def test_the_next_half_hour_is_counted_down() -> None:
    order = rank(show(*(song(f"Song {at}", "C", hard=0, known=1) for at in range(4))), 10, {})
    scored = {one.number: song_ready(one, Progress()) for one in order}
    learn = [f"10 min: learn Song {at}" for at in range(3)]
    assert half_hour(order, scored, 0) == tuple(learn)
    assert half_hour(order, scored, 1) == (
        "5 min: companion quiz, 1 question to brush up",
        *learn[:2],
        "5 min: listen to Song 0",
    )
    keyless = tuple(msgspec.structs.replace(one, song=msgspec.structs.replace(one.song, key=None)) for one in order)
    assert half_hour(keyless, scored, 0) == ("30 min: listen to Song 0, Song 1, Song 2, Song 3",)
    assert half_hour((), {}, 2) == ("5 min: companion quiz, 2 questions to brush up",)


def test_the_steps_of_a_rating_are_three_a_song() -> None:
    sitting = Rating((song("A"), song("B")), tuple(f"sound {at}" for at in range(1, 13)))
    seen = []
    for step in range(6):
        now = msgspec.structs.replace(sitting, step=step)
        seen.append((now.song.title, now.number, now.rates, now.is_over))
    steps = (RatingStep.KNOWN, RatingStep.HARD, RatingStep.SOUND)
    assert seen == [(title, number, rates, False) for number, title in enumerate("AB", 1) for rates in steps]
    assert msgspec.structs.replace(sitting, step=6).is_over
    assert sitting.open_steps == 6
    at_sound = msgspec.structs.replace(sitting, step=2)
    second = at_sound.pressed(RatePress.MORE)
    assert (at_sound.offered[0], at_sound.offered[-1]) == ("sound 1", "sound 9")
    assert second.offered == ("sound 10", "sound 11", "sound 12")
    assert second.pressed(RatePress.MORE).page == 0
    assert sitting.pressed(RatePress.MORE) == sitting, "only where a sound is asked for"
    assert sitting.pressed(RatePress.BACK) == sitting, "before the first step is none"
    assert sitting.pressed(RatePress.UNDO) == sitting, "nothing was answered"
    assert [sitting.answer_to(key) is not None for key in ("0", "5", "6", "12", "x", "")] == [True, True] + [False] * 4
    assert [at_sound.answer_to(key) is not None for key in "019"] == [False, True, True]
    assert [second.answer_to(key) is not None for key in "34"] == [True, False]


@pytest.mark.parametrize(
    ("block", "line"),
    [
        (PracticeBlock(BlockKind.LEARN, "Moth", 10), "10 min: learn Moth"),
        (PracticeBlock(BlockKind.RECALL, "Moth", 5, "solo"), "5 min: recall, then play Moth (solo)"),
        (PracticeBlock(BlockKind.RUN, "First", 45), "45 min: run First in one go, no stopping"),
        (PracticeBlock(BlockKind.LEARN, "Moth", 5, cut=Cut.INTRO), f"5 min: {Cut.INTRO.value}: Moth"),
    ],
)
def test_a_block_is_one_line(block: PracticeBlock, line: str) -> None:
    assert block_line(block) == line


def test_a_days_lines_name_how_often_a_song_is_heard() -> None:
    heard = (ListeningTask("A", 1, 3.0), ListeningTask("B", 2, 6.4), ListeningTask("C", 0, 1.0))
    day = Day(TODAY, 60, (PracticeBlock(BlockKind.LEARN, "A", 10), PracticeBlock(BlockKind.LEARN, "B", 15)), heard)
    assert day.used == 25
    assert day.listened == pytest.approx(10.4)
    assert day_lines(day) == (
        "10 min: learn A",
        "15 min: learn B",
        "listen (10 min): A, B x2, C (continues the next day)",
    )
    light = Day(TODAY, 60, (), (), is_light=True)
    assert day_lines(light) == ("a light last day: nothing new, early to bed",)


def made(*left: LeftOut, learn: int = 2) -> Plan:
    """Return a plan of two days, this many songs to learn, and what is left out."""
    known = {"known": 5} if not learn else {}
    order = rank(show(*(song(f"Song {at}", "C", **known) for at in range(max(learn, 1)))), 2, {})
    days = (Day(TODAY, 60, (PracticeBlock(BlockKind.LEARN, "Song 0", 10),), ()), Day(TODAY, 60, (), ()))
    return Plan("Pier", DAY, order, days, left)


COVERED = "every song to learn is heard twice and played once"
ARE_COVERED = "to learn are heard twice and played once"
IS_COVERED = "to learn is heard twice and played once"
MISSING = "To do everything, you lack 10 minutes at the keyboard and 4 minutes of listening."


@pytest.mark.parametrize(
    ("left", "learn", "says"),
    [
        ((), 2, "everything fits."),
        (
            (LeftOut("A", "1 of 2 blocks", 10),),
            2,
            f"{COVERED}. To do everything, you lack 10 minutes at the keyboard.",
        ),
        (
            (LeftOut("A", "1 of 2 hearings", 0, 1),),
            0,
            "every song is known. To do everything, you lack 1 minute of listening.",
        ),
        (
            (LeftOut("A", "x", 10, 4, Cut.INTRO),),
            2,
            f"1 of 2 songs {IS_COVERED}, 1 needs a cut. {MISSING}",
        ),
        (
            (LeftOut("A", "x", 0.4, 0, Cut.INTRO), LeftOut("B", "x", 0, 0.4, Cut.DROP)),
            4,
            f"2 of 4 songs {ARE_COVERED}, 2 need a cut.",
        ),
    ],
)
def test_a_plan_in_one_sentence(left: tuple[LeftOut, ...], learn: int, says: str) -> None:
    assert sentence(made(*left, learn=learn)) == f"2 days until Pier on 19 June 2027: 1 block; {says}"


def test_what_is_left_out_is_listed_with_its_cut_or_with_those_that_miss_the_same() -> None:
    one = made(
        LeftOut("A", "1 of 2 blocks", 10),
        LeftOut("B", "5 of 10 min", 5, 0, Cut.INTRO),
        LeftOut("C", "1 of 2 blocks", 10, 3),
        LeftOut("D", "0 of 2 hearings", 0, 3),
    )
    assert cut_lines(one) == (f"B: {Cut.INTRO.value} (5 of 10 min)",)
    assert seldom_lines(one) == ("1 of 2 blocks: A, C", "0 of 2 hearings: D")
    assert (one.short_minutes, one.short_listening, len(one.cuts)) == (25, 6, 1)


@pytest.mark.parametrize(
    ("time", "line"),
    [
        (PracticeTime((45,) * 7, listening=30), "45 minutes a day at the keyboard, 30 of listening"),
        (
            PracticeTime((45, 45, 45, 45, 45, 120, 0), (2, dt.date(2027, 6, 12)), 20),
            "45 minutes a day at the keyboard (Saturday 120, Sunday 0), 20 of listening; off: Wednesday, 2027-06-12",
        ),
    ],
)
def test_the_time_of_a_plan_is_one_line(time: PracticeTime, line: str) -> None:
    assert time_line(time_of(time)) == line


def time_of(time: PracticeTime) -> Plan:
    return msgspec.structs.replace(made(), time=time)


def test_listening_counts_every_second_and_goes_on_where_it_stopped() -> None:
    """By hand: three songs of ten minutes and 25 minutes a day; the third is heard half on each day."""
    order = rank(show(*(song(f"Song {at}", "C", known=3, chart=True, length_s=600) for at in range(3))), 3, {})
    listening, unheard = hearings(order, [25, 25, 25])
    assert [[(one.title, one.times, one.minutes) for one in day] for day in listening] == [
        [("Song 0", 1, 10), ("Song 1", 1, 10), ("Song 2", 0, 5)],
        [("Song 2", 1, 5), ("Song 0", 1, 10), ("Song 1", 1, 10)],
        [("Song 2", 1, 10), ("Song 0", 1, 10)],
    ]
    assert unheard == [2, 3, 3]
    scarce, missing = hearings(order, [15])
    assert [(one.title, one.times, one.minutes) for one in scarce[0]] == [("Song 0", 1, 10)]
    assert missing == [4, 5, 5]


def test_a_song_whose_title_is_spelt_another_way_than_before_is_known(tmp_path: Path) -> None:
    songs = "songs:\n  - {title: Two Moths and a Lamp, known: 4}\n  - {title: Weed, known: 5}\n"
    (tmp_path / "ball.yaml").write_text(f"show: Ball\ndate: 2027-05-01\n{songs}")
    now = show(song("2 Moths & a Lamp", None), song("Weeds", None))
    filled, found = with_earlier(tmp_path / "pier.yaml", now, {})
    assert [one.known for one in filled.sets[0].songs] == [4, None]
    assert [str(one) for one in found] == ["2 Moths & a Lamp: known 4 of 5 from ball.yaml"]


@pytest.mark.parametrize(
    ("key", "known"), [("C", 5), ("D", 4), (None, 5)], ids=["the same key", "another key", "no key yet"]
)
def test_a_song_in_another_key_than_before_counts_as_known_a_little_less(
    tmp_path: Path, key: str | None, known: int
) -> None:
    old = "show: Ball\ndate: 2027-05-01\nsongs:\n  - {title: Moth, key: C, known: 5}\n  - {title: Weeds, known: 5}\n"
    (tmp_path / "ball.yaml").write_text(old)
    now = show(song("Moth", key), song("Weeds", "G"), song("Tram", "C"))
    filled, found = with_earlier(tmp_path / "pier.yaml", now, {})
    assert [one.known for one in filled.sets[0].songs] == [known, 5, None]
    assert [str(one) for one in found] == [
        f"Moth: known {known} of 5 from ball.yaml",
        "Weeds: known 5 of 5 from ball.yaml",
    ]
