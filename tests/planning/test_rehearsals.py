"""What comes before what: a song is heard before it is learned, and played before the band rehearses it."""

import datetime as dt

from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st
from planning.shows import TODAY, show, song

from companion.planning.hearings import hearings
from companion.planning.plan import plan
from companion.planning.plan_model import BlockKind
from companion.planning.plan_text import day_lines, remarks
from companion.planning.priority import rank
from companion.show import PracticeTime, Show


def fortnight() -> Show:
    return show(*(song(f"Song {at}", "C", hard=at % 4, chart=True) for at in range(54)), sets=3)


@settings(max_examples=examples(200), deadline=None)
@given(st.lists(st.integers(0, 5), min_size=1, max_size=14), st.lists(st.integers(0, 4), min_size=6, max_size=6))
def test_a_song_is_heard_before_its_first_block_wherever_any_order_of_listening_allows_that(
    days: list[int], recordings: list[int]
) -> None:
    # All can be heard by their days if, for each day, those due by then fit into the time until then: earliest due
    # dates are best, J. R. Jackson, "Scheduling a production line to minimize maximum tardiness", 1955 (from memory).
    order = rank(show(*(song(f"Song {at}", "C", length_s=300) for at in range(len(days)))), 6, {})
    listening, unheard = hearings(order, [5 * many for many in recordings], dict(enumerate(days)))
    first = {one.title: day for day in reversed(range(6)) for one in listening[day] if one.times}
    on_time = all(first.get(order[at].song.title, 6) <= day for at, day in enumerate(days))
    can_be = all(sum(day <= last for day in days) <= sum(recordings[: last + 1]) for last in range(6))
    assert on_time is can_be
    assert sum(one.times for day in listening for one in day) == sum(one.hearings for one in order) - sum(unheard)


def test_in_two_weeks_no_song_is_learned_before_it_is_heard() -> None:
    made = plan(fortnight(), TODAY, PracticeTime((60,) * 7, (6,), 45), {})
    so_far: set[str] = set()
    for day in made.days:
        so_far.update(one.title for one in day.listening if one.times)
        assert {block.title for block in day.blocks if block.kind is BlockKind.LEARN} <= so_far


def test_the_day_of_a_rehearsal_has_no_practice_and_the_songs_not_played_before_it_are_named() -> None:
    rehearsal = TODAY + dt.timedelta(days=6)
    made = plan(fortnight(), TODAY, PracticeTime((60,) * 7, rehearsals=(rehearsal,)), {})
    day = made.days[6]
    assert (day.date, day.blocks, day.minutes, day.is_rehearsal) == (rehearsal, (), 0, True)
    assert day_lines(day)[0] == "rehearsal with the band"
    assert day.listening
    before = {block.title for one in made.days[:6] for block in one.blocks}
    ((named, titles),) = made.untouched
    assert named == rehearsal
    assert {*titles} == {one.song.title for one in made.order} - before
    assert ("Not played before the rehearsal:", (f"Friday 11 June: {', '.join(titles)}",)) in remarks(made)


def test_a_rehearsal_for_which_every_song_is_ready_names_none() -> None:
    time = PracticeTime((60,) * 7, rehearsals=(TODAY + dt.timedelta(days=6),))
    made = plan(show(song("Moth", "C"), song("Weeds", "D")), TODAY, time, {})
    assert made.untouched == ()
    assert not any("rehearsal" in heading for heading, _ in remarks(made))
