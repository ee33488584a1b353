"""Anything in any order, over any show: what always holds of the stage, whatever feet and fingers do to it."""

import msgspec
import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)
from stage.test_properties import BOOKS, WISHES, assert_valid

from companion.rig import Action, Sound
from companion.stage import (
    EVENT_OF,
    AnyEvent,
    Book,
    Call,
    Effect,
    FromTheTop,
    PositionKind,
    PutIn,
    SendSound,
    State,
    TakeBack,
    Tap,
    all_due,
    at_start,
    replay,
    step,
)
from companion.stage.played import played

STEPS = 50  # a show's worth of surprises, and short enough to be understood when one goes wrong
EXAMPLES, LONG_EXAMPLES = 40, 400  # 2,000 steps, and 20,000

FORWARD = ("next", "skip", "again", "next song", "take it out")
KINDS = st.sampled_from(sorted(EVENT_OF, key=lambda action: action.value))


class Stage(RuleBasedStateMachine):
    """A stage, the keyboards that hear it, and the journal that is kept."""

    @initialize(book=BOOKS)
    def begin(self, book: Book) -> None:
        self.book = book
        self.state = at_start(book)
        self.journal: list[AnyEvent] = []
        self.heard: list[Sound | None] = [None] * len(book.rig.keyboards)
        self.hear(all_due(self.state))
        self.now_ms = 0

    def hear(self, effects: tuple[Effect, ...]) -> None:
        sent = [effect.keyboard for effect in effects if isinstance(effect, SendSound)]
        assert len(sent) == len(set(sent)), "one sound a keyboard and step at most"
        for effect in effects:
            if isinstance(effect, SendSound):
                self.heard[effect.keyboard] = effect.sound

    def happen(self, event: AnyEvent) -> None:
        before = self.state
        self.state, effects = step(before, event)
        self.journal.append(event)
        self.hear(effects)
        if self.state is not before and not isinstance(event, TakeBack | Tap):
            self.assert_taken_back(before)

    def assert_taken_back(self, before: State) -> None:
        """Take the step back on the side: place, order and key return, and the sound of that place is sent."""
        again, effects = step(self.state, TakeBack(self.now_ms + 1))
        assert again == before
        heard = list(self.heard)
        for effect in effects:
            if isinstance(effect, SendSound):
                heard[effect.keyboard] = effect.sound
        assert all(was is None or was == now for was, now in zip(before.on, heard, strict=True))

    def later(self) -> int:
        self.now_ms += 400
        return self.now_ms

    @rule(action=KINDS)
    def press(self, action: Action) -> None:
        self.happen(EVENT_OF[action](self.later()))

    @rule(actions=st.lists(st.sampled_from(FORWARD), min_size=3, max_size=10))
    def play_on(self, actions: list[str]) -> None:
        for action in actions:
            self.happen(EVENT_OF[Action(action)](self.later()))

    @rule(song=st.integers(-2, 20))
    def call(self, song: int) -> None:
        self.happen(Call(self.later(), song))

    @rule()
    def from_the_top(self) -> None:
        self.happen(FromTheTop(self.later()))

    @rule(number=st.integers(0, len(WISHES) - 1))
    def put_in(self, number: int) -> None:
        self.happen(PutIn(self.later(), WISHES[number]))

    @rule(many=st.integers(1, 60))
    def take_back_many(self, many: int) -> None:
        for _ in range(many):
            self.happen(TakeBack(self.later()))

    @rule(at_ms=st.integers(-(2**62), 2**62))
    def press_at_a_strange_time(self, at_ms: int) -> None:
        self.happen(EVENT_OF[Action.NEXT](at_ms))

    @precondition(lambda self: self.state.stepped_ms is not None)
    @rule()
    def a_hold_cancels_its_press(self) -> None:
        self.happen(TakeBack(self.later(), of_ms=self.state.stepped_ms))

    @invariant()
    def the_place_is_valid_and_its_sound_is_on(self) -> None:
        if hasattr(self, "state"):
            assert_valid(self.state)

    @invariant()
    def what_the_keyboards_heard_last_is_what_is_on(self) -> None:
        if hasattr(self, "state"):
            pairs = zip(self.heard, self.state.on, strict=True)
            assert all(on is None or heard == on for heard, on in pairs)

    @invariant()
    def the_order_holds_songs_of_the_book_alone(self) -> None:
        if hasattr(self, "state"):
            numbers = [number for songs in self.state.order for number in songs]
            assert all(0 <= number < len(self.state.book.songs) for number in numbers)
            if self.state.place.where is PositionKind.UP_NEXT:
                assert self.state.song is not None

    def teardown(self) -> None:
        if not hasattr(self, "state"):
            return
        written = msgspec.json.encode(self.journal)
        read = msgspec.json.decode(written, type=list[AnyEvent])
        assert replay(self.book, read) == self.state, "the journal replayed is the live state"
        told = played(self.book, read)
        assert told.order == self.state.order
        for song in told.songs:
            assert song.sections
            assert {part.number for part in song.sections} <= set(
                range(len(self.state.book.songs[song.number].sections))
            )


def run(examples: int) -> None:
    run_state_machine_as_test(
        Stage,
        settings=settings(
            max_examples=examples,
            stateful_step_count=STEPS,
            deadline=None,
            suppress_health_check=list(HealthCheck),
        ),
    )


def test_two_thousand_random_steps_break_nothing() -> None:
    run(EXAMPLES)


@pytest.mark.long
def test_twenty_thousand_random_steps_break_nothing() -> None:
    run(LONG_EXAMPLES)
