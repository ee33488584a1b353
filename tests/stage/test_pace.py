"""The pace of the set: when it ends, and what to drop so that it ends on time."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec.structs import replace
from stage.scenes import after, book_of, section, show_of

from companion.music import read_meter
from companion.rig import Rig
from companion.show import Song
from companion.stage import Next, State, make_book
from companion.stage.pace import GAP_S, SongsToDrop, is_last, length_s, pace, to_drop


def lasting(title: str, seconds: int, *, feature: bool = False) -> Song:
    one = section("Solo")
    return Song(title, length_s=seconds, road_map=(replace(one, feature="solo" if feature else None),))


def state_of(*songs: Song, starts_min: int | None = 1200, minutes: int | None = 45, presses: int = 0) -> State:
    show = show_of(songs)
    timed = replace(show, sets=(replace(show.sets[0], starts_min=starts_min, minutes=minutes),))
    book, _ = make_book(timed, Rig("test"))
    return after(book, *[Next] * presses)


START = 20 * 3600


def test_a_set_of_twelve_songs_is_four_and_a_half_minutes_over() -> None:
    """By hand: 12 songs of 3:40 with 30 s between are 49:30, so 4:30 over 45 minutes."""
    found = pace(state_of(*(lasting(str(n), 220) for n in range(12))), START, None)
    assert found is not None
    assert (found.ends_s - START, found.over_s) == (2970, 270)


def test_played_songs_no_longer_count_towards_the_time_left() -> None:
    state = state_of(lasting("A", 200), lasting("B", 200), presses=2)
    found = pace(state, START + 300, None)
    assert found is not None
    assert found.ends_s == START + 500


def test_a_set_with_only_minutes_ends_that_long_after_it_began() -> None:
    found = pace(state_of(lasting("A", 600), starts_min=None, minutes=5), START, START)
    assert found is not None
    assert found.over_s == 300


def test_past_midnight_is_the_same_night() -> None:
    found = pace(state_of(lasting("A", 600), starts_min=23 * 60 + 55, minutes=15), 5 * 60, None)
    assert found is not None
    assert found.over_s == 300


def test_a_set_without_times_never_runs_over() -> None:
    found = pace(state_of(lasting("A", 600), starts_min=None, minutes=None), START, START)
    assert found is not None
    assert found.over_s is None


@pytest.mark.parametrize(
    ("bars", "passes", "bpm", "meter", "seconds"),
    [(60, 1, 112, "4/4", 129), (96, 1, 120, "4/4", 192), (55, 1, 140, "6/8", 47), (32, 2, 128, None, 120)],
)
def test_a_missing_length_is_computed_from_bars_and_tempo(
    bars: int, passes: int, bpm: float, meter: str | None, seconds: int
) -> None:
    """By the formula bars x beats a bar x 60 / bpm; 6/8 is counted in two."""
    road_map = (replace(section("Verse"), bars=bars, passes=passes),)
    one = Song("A", tempo_bpm=bpm, meter=read_meter(meter) if meter else None, road_map=road_map)
    assert length_s(one) == seconds
    assert length_s(Song("B")) == 240


def test_the_closer_the_playing_song_and_features_are_not_proposed_to_drop() -> None:
    songs = [lasting("now", 200), lasting("feature", 400, feature=True), lasting("plain", 200), lasting("closer", 300)]
    assert to_drop(state_of(*songs), 60) == SongsToDrop(("plain",))


def test_features_are_dropped_only_if_the_others_are_not_enough() -> None:
    songs = [lasting("now", 200), lasting("feature", 400, feature=True), lasting("plain", 200), lasting("closer", 300)]
    assert to_drop(state_of(*songs), 400) == SongsToDrop(("feature",))


def test_where_dropping_everything_is_not_enough_everything_is_named_with_what_is_still_over() -> None:
    """By hand: 400 s and 200 s with 30 s behind each are 660 of 780 s."""
    songs = [lasting("now", 200), lasting("feature", 400, feature=True), lasting("plain", 200), lasting("closer", 300)]
    assert to_drop(state_of(*songs), 780) == SongsToDrop(("plain", "feature"), over_s=120)


def test_the_closer_is_never_dropped_and_is_the_last_once_it_is_up_next() -> None:
    state = state_of(lasting("now", 200), lasting("closer", 300))
    assert (to_drop(state, 780), is_last(state)) == (SongsToDrop(over_s=780), False)
    assert is_last(state_of(lasting("closer", 300)))


@given(st.lists(st.tuples(st.integers(60, 600), st.booleans()), min_size=2, max_size=9), st.integers(1, 2500))
def test_no_smaller_choice_of_songs_would_be_enough(lengths: list[tuple[int, bool]], over_s: int) -> None:
    """Against every choice there is."""
    songs = [lasting(str(n), seconds, feature=listen) for n, (seconds, listen) in enumerate(lengths)]
    state = state_of(*songs)
    cut = to_drop(state, over_s)
    dropped = cut.songs
    candidates = songs[1:-1]

    def saves(choice: tuple[Song, ...]) -> int:
        return sum(GAP_S + length_s(song) for song in choice)

    pool = [song for song in candidates if not song.road_map[0].feature]
    if saves(tuple(pool)) < over_s:
        pool = candidates
    choices = [c for n in range(1, len(pool) + 1) for c in itertools.combinations(pool, n) if saves(c) >= over_s]
    if not choices:
        assert len(dropped) == len(candidates)
        assert cut.over_s == over_s - saves(tuple(candidates))
        return
    assert cut.over_s == 0
    fewest = min(map(len, choices))
    assert len(dropped) == fewest
    chosen = tuple(song for song in candidates if song.title in dropped)
    assert saves(chosen) >= over_s
    if fewest <= 4:
        assert saves(chosen) == min(saves(choice) for choice in choices if len(choice) == fewest)


def test_outside_a_set_there_is_no_pace() -> None:
    assert pace(after(book_of()), START, None) is None
