"""The states before this one, for "take back": any number of them, in some sixty bytes each.

A night has thousands of steps, and kept as objects they would be most of what the engine's memory grows by. So the
numbers of a state are packed, those of 64 states in one piece; what states share (sounds, the running order, the book)
is kept once for each piece.
"""

from __future__ import annotations

import struct
from typing import TYPE_CHECKING, Final, NamedTuple, TypeVar

import msgspec

from .place import Place, Where

if TYPE_CHECKING:
    from .book import Book, Sounds
    from .tonight import Tonight

T = TypeVar("T")

MOST_IN_A_PIECE: Final = 64
_NONE_MS: Final = -(2**63)  # for a time that is not known
_WHERE: Final = tuple(Where)
_NUMBERS: Final = struct.Struct("=BBB5Ibqqq")  # where, which of the sounds and of the rests; place; shift; times
_ON, _REST = 1, 2  # at these bytes
_BOUNDS: Final = (*((0, 2**32 - 1),) * 5, (-128, 127), *((_NONE_MS, 2**63 - 1),) * 3)


class Rest(msgspec.Struct, frozen=True, gc=False):
    """What hardly ever differs from one state to the next."""

    book: Book
    order: tuple[tuple[int, ...], ...]
    left_out: frozenset[int]
    taps_ms: tuple[int, ...]
    tonight: Tonight


class Before(NamedTuple):
    """One state before, all but its own past."""

    place: Place
    on: Sounds
    shift: int
    stepped_ms: int | None
    section_began_ms: int
    song_began_ms: int | None
    rest: Rest


class Past(msgspec.Struct, frozen=True, gc=False):
    """States before, the newest last, never none.

    ``numbers`` are packed, ``sounds`` and ``rests`` are what they point into, in the order in which they came;
    ``earlier`` is the piece before.
    """

    numbers: bytes
    sounds: tuple[Sounds, ...]
    rests: tuple[Rest, ...]
    earlier: Past | None = None

    def last(self) -> Before:
        """Give the newest."""
        where, on, rest, *place, shift, stepped, section_began, song_began = _NUMBERS.unpack_from(
            self.numbers, len(self.numbers) - _NUMBERS.size
        )
        return Before(
            Place(_WHERE[where], *place),
            self.sounds[on],
            shift,
            _known(stepped),
            section_began,
            _known(song_began),
            self.rests[rest],
        )

    def without_last(self) -> Past | None:
        """Give the past of the newest; None where it had none."""
        numbers = self.numbers[: -_NUMBERS.size]
        if not numbers:
            return self.earlier
        most_on, most_rest = (max(numbers[at :: _NUMBERS.size]) for at in (_ON, _REST))
        return Past(numbers, self.sounds[: most_on + 1], self.rests[: most_rest + 1], self.earlier)


def with_last(past: Past | None, before: Before) -> Past:
    """Give the past with one more state, now the newest."""
    if past is None or len(past.numbers) == MOST_IN_A_PIECE * _NUMBERS.size:
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
    except struct.error:  # no press leads there, but a journal may say anything
        bounded = (max(least, min(most, number)) for number, (least, most) in zip(numbers, _BOUNDS, strict=True))
        packed = _NUMBERS.pack(*head, *bounded)
    return Past(past.numbers + packed, sounds, rests, past.earlier)


def _kept(kept: tuple[T, ...], one: T) -> tuple[int, tuple[T, ...]]:
    """Give the number of a thing among those that are kept, and these with it; a piece never has more than it holds."""
    for number in range(len(kept) - 1, -1, -1):
        if kept[number] is one:
            return number, kept
    return len(kept), (*kept, one)


def _known(ms: int) -> int | None:
    return None if ms == _NONE_MS else ms
