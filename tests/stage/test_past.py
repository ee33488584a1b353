"""What "take back" returns to: every state of the night exactly, however many, and in little memory."""

import tracemalloc

from examples import examples
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace
from stage.scenes import book_of, song

from companion.rig import Action
from companion.stage import Next, PositionKind, ShowPosition, State, TakeBack, at_start, step
from companion.stage.events import EVENT_OF
from companion.stage.past import MAX_IN_A_PIECE

BOOK = book_of(
    *([song(f"{letter}{at}", "Intro @organ, Verse x2, Solo @lead, Chorus") for at in range(4)] for letter in "AB")
)
ACTIONS = [action for action in Action if action in EVENT_OF and action is not Action.TAKE_BACK]


def played(actions: list[Action]) -> list[State]:
    """Return every state of a night, the start first; what led nowhere left out."""
    states = [at_start(BOOK)]
    for at, action in enumerate(actions, 1):
        state, _ = step(states[-1], EVENT_OF[action](100 * at))
        if action is Action.TAP:
            states[-1] = state  # no step: nothing to take back
        elif state is not states[-1]:
            states.append(state)
    return states


@settings(max_examples=examples(20))
@given(st.lists(st.sampled_from(ACTIONS), min_size=2 * MAX_IN_A_PIECE, max_size=4 * MAX_IN_A_PIECE))
def test_take_back_returns_to_every_earlier_state(actions: list[Action]) -> None:
    states = played(actions)
    state = states.pop()
    while states:
        state, _ = step(state, TakeBack(at_ms=0))
        assert state == states.pop()
    assert step(state, TakeBack(at_ms=0)) == (state, ())


@settings(max_examples=examples(10))
@given(st.lists(st.sampled_from([*ACTIONS, Action.TAKE_BACK]), min_size=400, max_size=600))
def test_hours_of_back_and_forth_fit_into_one_block(actions: list[Action]) -> None:
    state = at_start(BOOK)
    for at, action in enumerate(actions):
        state, _ = step(state, EVENT_OF[action](at))
        past = state.past
        while past is not None:
            assert max(len(past.sounds), len(past.rests)) <= MAX_IN_A_PIECE
            past = past.earlier


def test_numbers_out_of_range_in_a_damaged_journal_are_clamped() -> None:
    far = ShowPosition(PositionKind.PLAYING, rounds=10**30)
    state = replace(at_start(BOOK), place=far, shift=10**9, stepped_ms=-(10**30), song_began_ms=10**30)
    after, _ = step(state, Next(at_ms=10**40))
    again, _ = step(after, TakeBack(at_ms=0))
    assert (again.place.rounds, again.shift) == (2**32 - 1, 127)
    assert again.place.where is PositionKind.PLAYING


def test_a_thousand_more_steps_cost_less_than_80_kib() -> None:
    state = at_start(BOOK)
    tracemalloc.start()
    try:
        for at in range(2_000):
            if at == 1_000:
                before, _ = tracemalloc.get_traced_memory()
            state, _ = step(state, EVENT_OF[Action.AGAIN if at % 3 else Action.NEXT](at + 1_000))
            if state.place.where is PositionKind.END:
                state = replace(at_start(BOOK), past=state.past)
        after, _ = tracemalloc.get_traced_memory()
    finally:
        tracemalloc.stop()
    assert after - before < 80 * 1024
