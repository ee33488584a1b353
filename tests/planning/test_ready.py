"""How ready the player is, by the stated rule."""

import datetime as dt
from typing import Any

import msgspec
import pytest
from planning.shows import big, show, song

from companion.planning.readiness import NightReady, Readiness, known_offers, night_ready
from companion.practice_log.records import LogKind, PracticeRecord
from companion.practice_log.song_progress import Progress, progress_of
from companion.show import Section, Show, SoundCall

AT = dt.datetime(2027, 6, 6, 20, tzinfo=dt.UTC)
SOLO: dict[str, Any] = {"road_map": (Section("Solo", 16, feature="solo"),), "sounds": (SoundCall("lead"),)}


def done(*records: tuple[LogKind, str, dict[str, Any]]) -> dict[str, Progress]:
    return progress_of([PracticeRecord(AT, did, title, **more) for did, title, more in records])


def ready(one: Show, progress: dict[str, Progress] | None = None, due: int = 0) -> NightReady:
    return night_ready(one, 10, progress or {}, due)


def test_a_known_song_is_ready() -> None:
    (moth,) = ready(show(song("Moth", "C", known=5, chart=True))).songs
    assert moth.state is Readiness.READY


def test_an_untouched_song_is_not_ready() -> None:
    (moth,) = ready(show(song("Moth", "C", hard=3))).songs
    assert moth.state is Readiness.NOT_YET
    # by hand: known 1 of 5 gives 6, no blocks, no hearings, half of the quiz's 20
    assert moth.score == 16


@pytest.mark.parametrize(
    ("more", "key", "most"),
    [({"known": 5}, None, 40), ({"known": 5, "notes": "organ solo"}, "C", 70), ({"known": 5, **SOLO}, "C", 100)],
)
def test_missing_facts_limit_a_songs_score(more: dict[str, Any], key: str | None, most: int) -> None:
    (moth,) = ready(show(song("Moth", key, **more))).songs
    assert moth.score <= most
    assert bool(moth.lacks) is (most < 100)


def test_practice_raises_a_songs_score_and_wrong_answers_limit_it() -> None:
    one = show(song("Moth", "C", hard=0, known=3, chart=True))
    scores = []
    for records in (
        (),
        ((LogKind.PRACTISED, "Moth", {"minutes": 10}),),
        ((LogKind.PRACTISED, "Moth", {"minutes": 10}), *[(LogKind.HEARD, "Moth", {"share": 1})] * 5),
        (
            (LogKind.PRACTISED, "Moth", {"minutes": 10}),
            *[(LogKind.HEARD, "Moth", {"share": 1})] * 5,
            (LogKind.ASKED, "Moth", {"grade": 3}),
        ),
    ):
        (moth,) = ready(one, done(*records)).songs
        scores.append(moth.score)
    assert scores == sorted(set(scores))
    (moth,) = ready(
        one, done((LogKind.PRACTISED, "Moth", {"minutes": 10}), (LogKind.ASKED, "Moth", {"grade": 1}))
    ).songs
    assert moth.score < scores[1]
    assert any("wrong" in lack for lack in moth.lacks)


@pytest.mark.parametrize(
    ("score", "state"),
    [
        (100, Readiness.READY),
        (80, Readiness.READY),
        (79, Readiness.NEARLY),
        (50, Readiness.NEARLY),
        (49, Readiness.NOT_YET),
        (0, Readiness.NOT_YET),
    ],
)
def test_a_song_is_ready_from_a_score_of_80_and_nearly_ready_from_50(score: int, state: Readiness) -> None:
    (moth,) = ready(show(song("Moth", "C"))).songs
    assert msgspec.structs.replace(moth, score=score).state is state


def test_the_night_is_ready_only_if_every_feature_is() -> None:
    known = [song(f"Song {at}", "C", known=5) for at in range(20)]
    assert ready(show(*known)).is_ready
    assert not ready(show(*known, song("Weeds", "C", known=0, **SOLO))).is_ready
    assert not ready(Show("x")).is_ready


def test_the_next_half_hour_is_filled_but_not_exceeded() -> None:
    now = ready(big(30), due=4).now
    assert now[0] == "5 min: companion quiz, 4 questions to brush up"
    minutes = [int(line.split()[0]) for line in now]
    assert 25 <= sum(minutes) <= 30


def test_the_next_half_hour_starts_with_new_songs_and_repeats_none_of_today() -> None:
    one = show(song("Opener", "C", hard=3), song("Weeds", "C", hard=0), song("Moth", "C", hard=0))
    progress = done((LogKind.PRACTISED, "Opener", {"minutes": 10}))
    assert night_ready(one, 10, progress, 0, AT.date()).now[:2] == ("10 min: learn Weeds", "10 min: learn Moth")
    assert "recall, then play Opener" in night_ready(one, 10, progress, 0, AT.date() + dt.timedelta(days=1)).now[2]
    assert not [
        line for line in night_ready(one, 10, progress, 0, AT.date()).now if "Opener" in line and "play" in line
    ]


def test_a_higher_known_is_offered_after_practice() -> None:
    one = show(song("Moth", "C", hard=0, known=1), song("Weeds", "D", known=1))
    offers = known_offers(one, done(*[(LogKind.PRACTISED, "Moth", {"minutes": 10})] * 5))
    assert [(each.title, old, new) for each, old, new in offers] == [("Moth", 1, 4)]
