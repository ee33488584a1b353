"""Earlier states, for "take back": any number of them, at about sixty bytes each.

A night has thousands of steps. Kept as objects, they would account for most of the engine's memory growth. So the
numbers of each state are packed, 64 states to a block; shared values (sounds, running order, book) are stored once for
each block.
"""

from __future__ import annotations

import struct
from typing import TYPE_CHECKING, Final, NamedTuple, TypeVar

import msgspec

from companion.stage.place import PositionKind, ShowPosition

if TYPE_CHECKING:
    from companion.stage.book import Book, SoundPerKeyboard
    from companion.stage.tonight import Tonight

T = TypeVar("T")

MAX_IN_A_PIECE: Final = 64
_NONE_MS: Final = -(2**63)  # for an unknown time
_WHERE: Final = tuple(PositionKind)
_NUMBERS: Final = struct.Struct("=BBB5Ibqqq")  # where, indexes into sounds and rests, place, shift, times
_ON, _REST = 1, 2  # byte offsets of these
_BOUNDS: Final = (*((0, 2**32 - 1),) * 5, (-128, 127), *((_NONE_MS, 2**63 - 1),) * 3)


class Rest(msgspec.Struct, frozen=True, gc=False):
    """The fields that rarely differ from one state to the next."""

    book: Book
    order: tuple[tuple[int, ...], ...]
    left_out: frozenset[int]
    taps_ms: tuple[int, ...]
    tonight: Tonight


class Before(NamedTuple):
    """One earlier state, without its own past."""

    place: ShowPosition
    on: SoundPerKeyboard
    shift: int
    stepped_ms: int | None
    section_began_ms: int
    song_began_ms: int | None
    rest: Rest


class Past(msgspec.Struct, frozen=True, gc=False):
    """Earlier states, the newest last; never empty.

    ``numbers`` are packed; ``sounds`` and ``rests`` are the values that they index, in order of first use; ``earlier``
    is the previous block.
    """

    numbers: bytes
    sounds: tuple[SoundPerKeyboard, ...]
    rests: tuple[Rest, ...]
    earlier: Past | None = None

    def last(self) -> Before:
        """Return the newest state."""
        where, on, rest, *place, shift, stepped, section_began, song_began = _NUMBERS.unpack_from(
            self.numbers, len(self.numbers) - _NUMBERS.size
        )
        return Before(
            ShowPosition(_WHERE[where], *place),
            self.sounds[on],
            shift,
            _known(stepped),
            section_began,
            _known(song_began),
            self.rests[rest],
        )

    def without_last(self) -> Past | None:
        """Return the past of the newest state; None if it has none."""
        numbers = self.numbers[: -_NUMBERS.size]
        if not numbers:
            return self.earlier
        most_on, most_rest = (max(numbers[at :: _NUMBERS.size]) for at in (_ON, _REST))
        return Past(numbers, self.sounds[: most_on + 1], self.rests[: most_rest + 1], self.earlier)


def with_last(past: Past | None, before: Before) -> Past:
    """Return the past with one more state, now the newest."""
    if past is None or len(past.numbers) == MAX_IN_A_PIECE * _NUMBERS.size:
        past = Past(b"", (), (), past)
    on, sounds = _kept(past.sounds, before.on)
    rest, rests = _kept(past.rests, before.rest)
    place = before.place
    times = before.stepped_ms, before.section_began_ms, before.song_began_ms
    numbers = (
        *(place.set, place.at, place.section, place.passed, place.rounds, before.shift),
        *(_NONE_MS if ms is None else ms for ms in times),
    )
    head = _WHERE.index(place.where), on, rest
    try:
        packed = _NUMBERS.pack(*head, *numbers)
    except struct.error:  # no press leads there, but a journal may contain anything
        bounded = (max(least, min(most, number)) for number, (least, most) in zip(numbers, _BOUNDS, strict=True))
        packed = _NUMBERS.pack(*head, *bounded)
    return Past(past.numbers + packed, sounds, rests, past.earlier)


def _kept(kept: tuple[T, ...], one: T) -> tuple[int, tuple[T, ...]]:
    """Return the index of a value in a block's list, and the list with it; the list never exceeds the block size."""
    for number in range(len(kept) - 1, -1, -1):
        if kept[number] is one:
            return number, kept
    return len(kept), (*kept, one)


def _known(ms: int) -> int | None:
    return None if ms == _NONE_MS else ms
