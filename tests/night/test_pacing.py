"""How the set runs, as it is said on stage: in time, over it, and what to drop; and never before the sound."""

import datetime as dt

import msgspec
import pytest
from night.evening import PEDALS, Evening
from stage.scenes import book_of, rig_of, song

from companion.night.pacing import ADVICE_MS, Pacing
from companion.show import Song
from companion.stage import FromTheTop, Next, State, at_start, step
from companion.stage.pace import length_s
from companion.view import LineRole, Picture


def timed_evening(minutes: int = 11) -> Evening:
    """Return an evening at 20:00 of a set of three songs of 4:00 that has so many minutes."""
    rig = msgspec.structs.replace(rig_of("lower"), pedals=PEDALS)
    songs = [msgspec.structs.replace(song(title, "Intro, Verse"), length_s=240) for title in "ABC"]
    book = book_of(songs, rig=rig)
    one = msgspec.structs.replace(book.show.sets[0], starts_min=1200, minutes=minutes)
    show = msgspec.structs.replace(book.show, sets=(one,))
    return Evening(msgspec.structs.replace(book, show=show), rig=rig)


def test_a_set_running_over_is_shown_with_its_expected_end() -> None:
    evening = timed_evening()
    evening.press()
    evening.now_ms += 60_000
    evening.night.take(None)
    line = evening.wall.views[-1].of(LineRole.PACE)
    assert line is not None
    assert line.text == "3 min over, ends 20:14"


def test_a_set_that_begins_again_at_the_top_counts_from_there() -> None:
    """Without a written start the minutes count from the first press; the computer was on for 40 minutes before."""
    book = timed_evening().book
    one = msgspec.structs.replace(book.show.sets[0], starts_min=None)
    book = msgspec.structs.replace(book, show=msgspec.structs.replace(book.show, sets=(one,)))
    playing = step(at_start(book), Next(0))[0]
    pacing = Pacing(0, 20 * 3600)
    pacing.look(playing, 0)
    top = step(playing, FromTheTop(40 * 60_000))[0]
    pacing.seen(top, 40 * 60_000)
    pacing.seen(step(top, Next(41 * 60_000))[0], 41 * 60_000)
    assert pacing.over_min == 2


def test_no_sound_waits_for_the_set_calculation_and_no_song_is_calculated_twice(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    songs = [song(f"Study {number}", "Intro @organ, Verse @lead") for number in range(30)]
    evening = Evening(book_of(songs, rig=msgspec.structs.replace(rig_of("lower"), pedals=PEDALS)))
    sent: list[int] = []
    reckoned: list[str] = []

    def seen_then(self: Pacing, state: State, at_ms: int) -> None:
        sent.append(len(evening.tape.sent))
        seen(self, state, at_ms)

    def length_then(one: Song) -> int:
        reckoned.append(one.title)
        return length_s(one)

    seen = Pacing.seen
    monkeypatch.setattr(Pacing, "seen", seen_then)
    monkeypatch.setattr("companion.night.pacing.length_s", length_then)
    for _ in range(20):
        evening.press()
        assert sent[-1] == len(evening.tape.sent)
    assert len(evening.tape.sent) > 10
    assert len(reckoned) == len(set(reckoned))


def test_on_request_the_songs_to_drop_are_shown_until_a_step_or_a_timeout() -> None:
    evening = timed_evening()
    evening.press()
    evening.now_ms += 60_000
    evening.key("v")
    seen = evening.wall.views[-1]
    assert [line.text for line in seen.lines if line.part in (LineRole.ADVICE, LineRole.DROP)] == [
        "3 min over, drop 1:",
        "B",
    ]
    assert seen.of(LineRole.SECTION) is not None
    evening.now_ms += ADVICE_MS
    evening.night.take(None)
    assert evening.wall.views[-1].of(LineRole.ADVICE) is None
    evening.key("v")
    assert evening.wall.views[-1].of(LineRole.ADVICE) is not None
    evening.press()
    assert evening.wall.views[-1].of(LineRole.ADVICE) is None, "whoever steps wants to see the show"


@pytest.mark.parametrize(
    ("presses", "told"),
    [
        (1, ["12 min over, drop 1, still 8 over:", "B"]),
        (5, ["6 min over: only the closer is left"]),
        (8, ["1 min over: this is the last song"]),
    ],
)
def test_what_is_still_over_without_all_other_songs_is_said(presses: int, told: list[str]) -> None:
    """Of a set of one minute with three songs of 4:00, each of two sections; all presses come at once."""
    evening = timed_evening(minutes=1)
    for _ in range(presses):
        evening.press()
    evening.key("v")
    seen = evening.wall.views[-1]
    assert [line.text for line in seen.lines if line.part in (LineRole.ADVICE, LineRole.DROP)] == told


def test_the_same_key_hides_the_sets_time_again() -> None:
    evening = timed_evening()
    evening.press()
    evening.key("v")
    evening.key("v")
    assert evening.wall.views[-1].of(LineRole.ADVICE) is None


NIGHT = dt.date(2027, 6, 19)


def over_of(date: dt.date | None, now: dt.datetime) -> int | None:
    """Tell how far a set from 20:00 on, of eleven minutes and three songs of four, runs over when it begins now."""
    book = timed_evening().book
    show = msgspec.structs.replace(book.show, date=date)
    state = step(at_start(msgspec.structs.replace(book, show=show)), Next(0))[0]
    pacing = Pacing(0, now=lambda: now)
    pacing.seen(state, 0)
    return pacing.over_min


@pytest.mark.parametrize(
    ("date", "now", "over"),
    [
        (NIGHT, dt.datetime(2027, 6, 19, 20, 30), 32),  # noqa: DTZ001 - the wall clock of the room
        (NIGHT, dt.datetime(2027, 6, 20, 0, 30), 272),  # noqa: DTZ001 - still the same night
        (NIGHT, dt.datetime(2027, 6, 18, 23, 0), None),  # noqa: DTZ001 - at home, the day before
        (NIGHT, dt.datetime(2026, 11, 28, 23, 0), None),  # noqa: DTZ001
        (None, dt.datetime(2027, 6, 19, 20, 30), 32),  # noqa: DTZ001 - no date: near its start it is the night
        (None, dt.datetime(2027, 6, 19, 23, 30), None),  # noqa: DTZ001 - and far from it, it is not
    ],
)
def test_set_times_count_on_the_night_of_the_show(date: dt.date | None, now: dt.datetime, over: int | None) -> None:
    assert over_of(date, now) == over


def test_a_night_played_as_if_on_the_shows_day_runs_by_that_clock() -> None:
    book = timed_evening().book
    show = msgspec.structs.replace(book.show, date=NIGHT)
    state = step(at_start(msgspec.structs.replace(book, show=show)), Next(0))[0]
    pacing = Pacing(0, 20 * 3600 + 30 * 60, now=lambda: dt.datetime(2026, 11, 28, 3, 0))  # noqa: DTZ001
    pacing.seen(state, 0)
    assert pacing.over_min == 32


def test_a_key_that_only_shows_something_closes_the_page_of_keys_and_acts_and_one_that_moves_only_closes_it() -> None:
    evening = timed_evening()
    before = evening.night.state
    pictures: list[Picture] = []
    evening.key("?")
    evening.key("n")
    assert evening.night.state is before
    pictures.append(evening.wall.views[-1].picture)
    evening.key("?")
    evening.key("v")
    pictures.append(evening.wall.views[-1].picture)
    assert any(line.part is LineRole.ADVICE for line in evening.wall.views[-1].lines)
    assert Picture.KEYS not in pictures
