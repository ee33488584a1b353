"""A moment of the show as written: which song, which section, which round; and what the stage shows then."""

from typing import Final

import msgspec
from msgspec.structs import replace

from companion.stage import (
    Again,
    Book,
    Next,
    PositionKind,
    ShowPosition,
    State,
    Surroundings,
    at_start,
    step,
)
from companion.view import Looks, View, view

MAX_STEPS: Final = 20_000  # more than any show has sections and passes
MAX_ROUNDS: Final = 99
PLAIN_LOOKS: Final = Looks()
NOTHING_AROUND: Final = Surroundings()


class Moment(msgspec.Struct, frozen=True):
    """A place in the show as written. ``set``, ``song`` (in its set) and ``section`` count from 0.

    ``section`` is None while the song is up next; a song that follows without a break shows its first section.
    ``rounds`` are added repeats of an open section.
    """

    set: int = 0
    song: int = 0
    section: int | None = None
    rounds: int = 0


def moment_view(book: Book, moment: Moment) -> View | None:
    """Return what the stage shows at a moment; None if the show has no such song or section."""
    state = _state_at(book, moment)
    return None if state is None else view(state, NOTHING_AROUND, PLAIN_LOOKS)


def _state_at(book: Book, moment: Moment) -> State | None:
    """Walk there through the core, so that the sounds that are on are those of a night played as written.

    A thousand sections take about 50 ms.
    """
    state = _without_past(at_start(book))
    for _ in range(MAX_STEPS):
        if _is_at(state.place, moment):
            break
        after = _without_past(step(state, Next(at_ms=0))[0])
        if after.place == state.place or after.place.where is PositionKind.END:
            return None
        state = after
    for _ in range(min(moment.rounds, MAX_ROUNDS)):
        state = _without_past(step(state, Again(0))[0])
    return state


def _is_at(place: ShowPosition, moment: Moment) -> bool:
    if (place.set, place.at) != (moment.set, moment.song):
        return False
    if moment.section is None:
        return True  # the first place in a song: up next, or its first section where it follows without a break
    return place.where is PositionKind.PLAYING and place.section == moment.section


def _without_past(state: State) -> State:
    """Return the state without its past: nothing is taken back here."""
    return replace(state, past=None)
