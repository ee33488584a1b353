"""What holds for any show and any order of presses."""

import msgspec
from hypothesis import given
from hypothesis import strategies as st
from stage.scenes import SOUNDS, book_of, rig_of, song

from companion.show import Song
from companion.stage import (
    EVENT_OF,
    AnyEvent,
    Back,
    Book,
    Call,
    FromTheTop,
    Next,
    PlainEvent,
    PositionKind,
    PutIn,
    SendSound,
    State,
    TakeBack,
    Tap,
    at_start,
    find_again,
    landmark,
    replay,
    runs_on,
    step,
)

_SECTION = st.builds(
    "{} {} {} {}".format,
    st.sampled_from(["Intro", "Verse", "Chorus", "Solo", "Outro", "Tag"]),
    st.sampled_from(["", "x2", "x3"]),
    st.sampled_from(["", "open"]),
    st.sampled_from(["", *(f"@{sound}" for sound in SOUNDS)]),
)
_SONG: st.SearchStrategy[Song] = st.builds(
    song,
    st.sampled_from("ABCDEFG"),
    st.lists(_SECTION, max_size=5).map(",".join),
    sound=st.sampled_from([None, *SOUNDS]),
    segue=st.sampled_from([None, "A", "B"]),
)
BOOKS = st.lists(st.lists(_SONG, max_size=4), max_size=3).map(lambda sets: book_of(*sets, rig=rig_of("lower", "upper")))
_KINDS = st.sampled_from(sorted(EVENT_OF.values(), key=lambda kind: kind.__name__))
WISHES = (song("Wish"), song("A", "Intro, Solo x2 @lead, Outro", sound="pad"))
_EVENT: st.SearchStrategy[AnyEvent] = st.one_of(
    st.builds(lambda kind: kind(at_ms=0), _KINDS),
    st.builds(Call, at_ms=st.just(0), song=st.integers(-1, 12)),
    st.builds(FromTheTop, at_ms=st.just(0)),
    st.builds(PutIn, at_ms=st.just(0), song=st.sampled_from(WISHES)),
)
_EVENTS = st.lists(_EVENT, max_size=40).map(
    lambda events: tuple(msgspec.structs.replace(event, at_ms=100 * at) for at, event in enumerate(events, 1))
)


def assert_valid(state: State) -> None:
    place = state.place
    if state.song is not None:
        assert 0 <= place.section < len(state.song.sections)
        assert 1 <= place.passed <= state.song.sections[place.section].section.passes
    else:
        assert place.where in (PositionKind.BETWEEN_SETS, PositionKind.END)
    if state.section is not None:
        for asked, on in zip(state.section.sounds, state.on, strict=True):
            assert asked is None or asked == on, "the sound that is on is the one that the place calls for"


@given(BOOKS, _EVENTS)
def test_any_presses_lead_to_a_valid_place_with_its_sound_on(book: Book, events: tuple[AnyEvent, ...]) -> None:
    state = at_start(book)
    assert_valid(state)
    for event in events:
        before = state
        state, effects = step(state, event)
        assert_valid(state)
        sent = [effect.keyboard for effect in effects if isinstance(effect, SendSound)]
        assert len(sent) == len(set(sent)), "one sound a keyboard and step at most"
        heard = list(before.on)
        for effect in effects:
            if isinstance(effect, SendSound):
                heard[effect.keyboard] = effect.sound
        assert [a for a, b in zip(heard, state.on, strict=True) if b is not None] == [
            b for b in state.on if b is not None
        ]


@given(BOOKS, _EVENTS, _KINDS)
def test_take_back_undoes_any_step(book: Book, events: tuple[AnyEvent, ...], kind: type[PlainEvent]) -> None:
    before = replay(book, events)
    after, _ = step(before, kind(at_ms=9_000))
    if after is not before and kind not in (TakeBack, Tap):
        again, _ = step(after, TakeBack(at_ms=9_500))
        assert again == before


@given(BOOKS, _EVENTS)
def test_replaying_the_journal_gives_the_live_state(book: Book, events: tuple[AnyEvent, ...]) -> None:
    live = at_start(book)
    for event in events:
        live, _ = step(live, event)
    written = msgspec.json.encode(events)
    read = msgspec.json.decode(written, type=tuple[AnyEvent, ...])
    assert replay(book, read) == live


@given(BOOKS, _EVENTS)
def test_back_undoes_next(book: Book, events: tuple[AnyEvent, ...]) -> None:
    """But for rounds that were added, and a song that was jumped into though another runs into it."""
    state = replay(book, events)
    ahead, _ = step(state, Next(at_ms=9_000))
    back, _ = step(ahead, Back(at_ms=9_500))
    place = state.place
    jumped = (
        place.where is PositionKind.UP_NEXT
        and place.at > 0
        and runs_on(state.book, state.order, place.set, place.at - 1)
    )
    if place.where is not PositionKind.END and not place.rounds and not jumped:
        assert back.place == state.place


@given(BOOKS, st.lists(_KINDS, max_size=30))
def test_a_place_is_found_again_by_its_names(book: Book, kinds: list[type[PlainEvent]]) -> None:
    state = replay(book, [kind(at_ms=number) for number, kind in enumerate(kinds)])
    found = find_again(book, landmark(state))
    assert found is not None
    mark = landmark(state)
    # A song that was moved to another set tonight is found if the show has it.
    wanted = msgspec.structs.replace(mark, set=landmark(found).set) if mark.song else mark
    assert landmark(found) == wanted


@given(BOOKS)
def test_enough_presses_of_next_reach_the_end_of_any_show(book: Book) -> None:
    presses = sum(1 + sum(one.section.passes for one in song.sections) for song in book.songs) + len(book.order)
    events = tuple(Next(at_ms=number) for number in range(presses))
    assert replay(book, events).place.where is PositionKind.END
