"""Random walks over every word of the foot: the core against an oracle that was written from the guide alone."""

import random
from collections.abc import Iterable
from pathlib import Path

import pytest
from examples import seldom
from oracle.oracle import BREAK, END, PLAYING, UP_NEXT, Stage, begun
from oracle.receiver import Expected, Receiver, arrives
from oracle.songs import BOARDS, RIG, Evening, an_evening, as_file
from oracle.walking import CALL, HOLDS, LIFT, NEW, NOTE, READ_AGAIN, Stride, strides

from companion.changes import Change
from companion.music import read_key
from companion.rig import Action, Pause, Rig, change_to, read_rig
from companion.rig import tune as tuning
from companion.show import Song, read_show
from companion.stage import (
    EVENT_OF,
    AnyEvent,
    Book,
    Call,
    Effect,
    Next,
    PositionKind,
    PutIn,
    SendSound,
    State,
    Tune,
    all_due,
    at_start,
    carried_over,
    landmark,
    make_book,
    step,
    tuning_due,
)
from companion.stage.first_note import begins_with

WALKS, STEPS = 60, 250
NOTE_ON = b"\x90\x3c\x40"
WHERE = {
    PositionKind.UP_NEXT: UP_NEXT,
    PositionKind.PLAYING: PLAYING,
    PositionKind.BETWEEN_SETS: BREAK,
    PositionKind.END: END,
}


class Heard:
    """Two boards, and the program's effects made bytes."""

    def __init__(self, rig: Rig) -> None:
        self._rig = rig
        self.boards = {board: Receiver(board) for board in BOARDS}
        self.waiting = set[str]()  # boards whose newest sound need not come before the hands lift

    def take(self, effects: Iterable[Effect]) -> None:
        for effect in effects:
            if isinstance(effect, SendSound):
                board = self._rig.keyboards[effect.keyboard]
                self.waiting -= {board.name}
                self.waiting |= {board.name} if effect.when is Change.WHEN_HANDS_LIFT else set()
                for message in change_to(board, effect.sound):
                    assert not isinstance(message, Pause)
                    self.boards[board.name].hear(message)
            elif isinstance(effect, Tune):
                for board in self._rig.keyboards:
                    for message in tuning(board, effect.semitones):
                        self.boards[board.name].hear(message)


@pytest.mark.parametrize("seed", [*range(0, WALKS, 2), *map(seldom, range(1, WALKS, 2))])
def test_a_random_walk_of_the_core_agrees_with_the_oracle_on_place_and_bytes(seed: int, tmp_path: Path) -> None:
    chance = random.Random(seed)  # noqa: S311  # irregular, not secret
    evening = an_evening(chance)
    book = book_of(evening, tmp_path)
    state, heard, expected = at_start(book), Heard(book.rig), Expected()
    heard.take(all_due(state))
    before = begun(evening)
    expected.begins(before)
    compare(state, heard, before, expected, "at the start")
    walked = [f"seed {seed}"]
    for number, one in enumerate(strides(chance, evening, STEPS)):
        walked.append(f"{one.word} {one.tune.title if one.tune else ''}-> {place_text(one.after, evening)}")
        state = taken(state, one, number, heard)
        if one.word == "all off":
            expected.begins(one.after)
        else:
            expected.stepped(before, one.after)
            patient = arrives(before, one.after, one.word)
            for board, was, name in zip(BOARDS, before.sounds, one.after.sounds, strict=True):
                if name and name != was:
                    assert (board in heard.waiting) is patient, "\n".join(walked[-12:])
        before = one.after
        compare(state, heard, before, expected, "\n".join(walked[-12:]))


def book_of(evening: Evening, folder: Path) -> Book:
    """Read the evening and the rig as the program reads them."""
    (folder / "rig.yaml").write_text(RIG, encoding="utf-8")
    (folder / "show.yaml").write_text(as_file(evening), encoding="utf-8")
    book, missed = make_book(read_show(folder / "show.yaml").show, read_rig(folder / "rig.yaml").rig)
    assert not missed
    return book


def taken(state: State, one: Stride, number: int, heard: Heard) -> State:
    """Take one word as the night takes it."""
    if one.word == READ_AGAIN:
        return carried_over(state, make_book(state.book.show, state.book.rig)[0])
    event = event_of(state, one, 1000 * number)
    if event is None:
        return state
    after, effects = step(state, event)
    heard.take(effects)
    return after


def event_of(state: State, one: Stride, at_ms: int) -> AnyEvent | None:
    """The event that the night makes of this word; None if it leaves the show where it is."""
    if one.word == CALL and one.tune is not None:
        titles = [song.song.title for song in state.book.songs]
        return Call(at_ms, titles.index(one.tune.title))
    if one.word == NEW and one.tune is not None:
        return PutIn(at_ms, Song(one.tune.title, key=read_key(one.tune.key)))
    if one.word == LIFT:
        return None
    if one.word == NOTE or one.word in HOLDS:
        return Next(at_ms) if begins_with(state, "Lower Board", NOTE_ON) else None
    kind = EVENT_OF.get(Action(one.word))
    return None if kind is None else kind(at_ms)


def compare(state: State, heard: Heard, stage: Stage, expected: Expected, walked: str) -> None:
    """Compare places, orders, sounds and what the boards got."""
    mark, spot = landmark(state), stage.spot
    assert WHERE[mark.where] == spot.where, walked
    if stage.tune is not None:
        assert mark.song == stage.tune.title, walked
    if spot.where == PLAYING:
        assert (state.place.section, mark.passed, mark.rounds) == (spot.part, spot.round, spot.more), walked
    titles = [[state.book.songs[number].song.title for number in songs] for songs in state.order]
    assert titles == [[tune.title for tune in tunes] for tunes in stage.order], walked
    assert [sound.name if sound else "" for sound in state.on] == list(stage.sounds), walked
    assert tuning_due(state) == stage.tuning, walked
    for board, receiver in heard.boards.items():
        assert receiver.choices == expected.choices[board], walked
        assert receiver.loudness == (expected.loudness[board], 127), walked
        assert receiver.tuning == stage.tuning, walked


def place_text(stage: Stage, evening: Evening) -> str:
    """The oracle's place in words."""
    spot = stage.spot
    title = stage.tune.title if stage.tune else ""
    return f"{spot.where} {evening.sets[spot.group][0]} {title} {spot.part} {spot.round} +{spot.more} {stage.sounds}"
