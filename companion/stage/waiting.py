"""Sounds and tunings that wait for the hands, each up to a time limit. Pure: the caller passes the time in."""

from collections.abc import Iterable, Mapping
from typing import Generic, TypeVar

import msgspec

from companion.changes import Change
from companion.rig import Rig
from companion.stage.sounding_hands import Hands, heard

LIMIT_MS = 4000  # the longest wait unless the rig says otherwise; common practice, no source

T = TypeVar("T")
Sent = tuple[tuple[int, T], ...]
"""What goes out now: keyboard number, and its sound or semitones."""


class WaitingValue(msgspec.Struct, Generic[T], frozen=True):
    """A waiting value, and when it goes out at the latest."""

    what: T
    until_ms: int


class PendingChanges(msgspec.Struct, Generic[T], frozen=True):
    """What the keyboards were sent and what waits: one for sounds, one for tunings.

    One entry for each keyboard, in the rig's order. ``given`` is what each was actually sent; ``waits`` is what waits.
    """

    given: tuple[T | None, ...]
    waits: tuple[WaitingValue[T] | None, ...]

    @property
    def waiting(self) -> tuple[T | None, ...]:
        """The waiting value of each keyboard."""
        return tuple(one.what if one else None for one in self.waits)


def nothing_pending(rig: Rig) -> PendingChanges[T]:
    """Return the pending changes of a rig to which nothing has been sent."""
    nothing = (None,) * len(rig.keyboards)
    return PendingChanges(nothing, nothing)


def ask_for(
    pending: PendingChanges[T],
    keyboard: int,
    what: T,
    when: Change,
    *,
    hands_up: bool,
    at_ms: int,
    limit_ms: int = LIMIT_MS,
) -> tuple[PendingChanges[T], Sent[T]]:
    """Send this now, or when hands lift. It replaces what was waiting for this keyboard.

    A value that the keyboard already has is not sent again, and clears what was waiting. Nothing waits past
    ``limit_ms``.
    """
    if what == pending.given[keyboard]:
        return _changed(pending, {keyboard: None}), ()
    if when is Change.AT_ONCE or hands_up:
        return _sent(pending, ((keyboard, what),))
    return _changed(pending, {keyboard: WaitingValue(what, at_ms + limit_ms)}), ()


def forget_sent(pending: PendingChanges[T], keyboards: Iterable[int]) -> PendingChanges[T]:
    """Record that these keyboards no longer have our sounds: silenced, switched off, or their port was gone."""
    gone = set(keyboards)
    given = tuple(None if number in gone else what for number, what in enumerate(pending.given))
    return msgspec.structs.replace(_changed(pending, dict.fromkeys(gone)), given=given)


def release(pending: PendingChanges[T], hands_up: tuple[bool, ...], at_ms: int) -> tuple[PendingChanges[T], Sent[T]]:
    """Release what waits for keyboards whose hands are up, and what has waited long enough."""
    return _sent(
        pending,
        tuple(
            (number, wait.what)
            for number, (wait, up) in enumerate(zip(pending.waits, hands_up, strict=True))
            if wait and (up or at_ms >= wait.until_ms)
        ),
    )


def release_now(pending: PendingChanges[T]) -> tuple[PendingChanges[T], Sent[T]]:
    """Release everything now."""
    return _sent(pending, tuple((number, wait.what) for number, wait in enumerate(pending.waits) if wait))


def next_release_ms(pending: PendingChanges[T]) -> int | None:
    """Return when the next waiting value goes out even if the hands stay; None if nothing waits."""
    return min((wait.until_ms for wait in pending.waits if wait), default=None)


class HandsListening(msgspec.Struct, frozen=True):
    """The hands on all keyboards.

    ``hands`` is None for a keyboard whose notes cannot be heard; nothing waits for it. ``step_pedals`` are the (port,
    channel or None, control) that step the show: they never count as damper.
    """

    ports: tuple[str | None, ...]
    hands: tuple[Hands | None, ...]
    step_pedals: tuple[tuple[str | None, int | None, int], ...] = ()

    @property
    def up(self) -> tuple[bool, ...]:
        """Return for each keyboard whether nothing sounds there, or that is unknown."""
        return tuple(hands is None or hands.are_up for hands in self.hands)


def listening_to(rig: Rig) -> HandsListening:
    """Return the initial state: no keyboard is heard until its port appears."""
    pedals = tuple((one.port, one.channel, one.control) for one in rig.pedals if one.control is not None)
    return HandsListening(tuple(board.port for board in rig.keyboards), (None,) * len(rig.keyboards), pedals)


def can_hear(listening: HandsListening, port: str, *, there: bool) -> HandsListening:
    """Handle a port that appears or disappears. Its held notes are forgotten: a pulled cable must not block a sound."""
    fresh = Hands() if there else None
    pairs = zip(listening.ports, listening.hands, strict=True)
    return msgspec.structs.replace(listening, hands=tuple(fresh if name == port else old for name, old in pairs))


def hands_forgotten(listening: HandsListening) -> HandsListening:
    """Forget which keys are down: the computer slept, and their releases may be lost."""
    return msgspec.structs.replace(listening, hands=tuple(hands and Hands() for hands in listening.hands))


def midi_heard(listening: HandsListening, port: str, message: bytes) -> HandsListening:
    """Update the hands of every keyboard on this port."""
    if port not in listening.ports or _is_step(listening, port, message):
        return listening
    pairs = zip(listening.ports, listening.hands, strict=True)
    hands = tuple(heard(old, message) if old is not None and name == port else old for name, old in pairs)
    return msgspec.structs.replace(listening, hands=hands)


def _sent(pending: PendingChanges[T], sent: Sent[T]) -> tuple[PendingChanges[T], Sent[T]]:
    if not sent:
        return pending, ()
    now = dict(sent)
    given = tuple(now.get(number, old) for number, old in enumerate(pending.given))
    return msgspec.structs.replace(_changed(pending, dict.fromkeys(now)), given=given), sent


def _changed(pending: PendingChanges[T], waits: Mapping[int, WaitingValue[T] | None]) -> PendingChanges[T]:
    return msgspec.structs.replace(
        pending, waits=tuple(waits.get(number, old) for number, old in enumerate(pending.waits))
    )


def _is_step(listening: HandsListening, port: str, message: bytes) -> bool:
    if len(message) != 3 or message[0] & 0xF0 != 0xB0:
        return False
    channel = (message[0] & 0x0F) + 1
    return any(
        name == port and on in (None, channel) and control == message[1] for name, on, control in listening.step_pedals
    )
