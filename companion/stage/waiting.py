"""Sounds that wait for the hands: what goes out now, what waits, until when. Pure: the time comes in."""

from collections.abc import Iterable, Mapping

import msgspec

from companion.changes import Change
from companion.rig import Rig, Sound

from .hands import Hands, heard

LIMIT_MS = 4000  # a change never waits longer, whatever the hands do; common practice, no source


class Waits(msgspec.Struct, frozen=True):
    """A sound that waits, and the time at which it goes out even so."""

    sound: Sound
    until_ms: int


class Door(msgspec.Struct, frozen=True):
    """What stands between the show and the keyboards, one entry a keyboard in the rig's order.

    ``hands`` is None where the keyboard's notes cannot be heard: there nothing waits. ``given`` is the sound that each
    keyboard really has been sent. ``step_pedals`` are the (port, channel or None, control) that step the show: they
    never count as damper.
    """

    ports: tuple[str | None, ...]
    hands: tuple[Hands | None, ...]
    waits: tuple[Waits | None, ...]
    given: tuple[Sound | None, ...]
    step_pedals: tuple[tuple[str | None, int | None, int], ...] = ()
    limit_ms: int = LIMIT_MS

    @property
    def waiting(self) -> tuple[Sound | None, ...]:
        """The sound that waits, for each keyboard."""
        return tuple(one.sound if one else None for one in self.waits)


Sent = tuple[tuple[int, Sound], ...]
"""What goes out now: keyboard number and sound."""


def door_of(rig: Rig) -> Door:
    """No keyboard is heard until its port is there."""
    boards = rig.keyboards
    pedals = tuple((one.port, one.channel, one.control) for one in rig.pedals if one.control is not None)
    nothing = (None,) * len(boards)
    return Door(tuple(board.port for board in boards), nothing, nothing, nothing, pedals)


def can_hear(door: Door, port: str, *, there: bool) -> tuple[Door, Sent]:
    """Take that a port came or went; what its keyboard held is forgotten: a pulled cable must not block it."""
    hands = tuple(
        (Hands() if there else None) if name == port else old for name, old in zip(door.ports, door.hands, strict=True)
    )
    return _released(msgspec.structs.replace(door, hands=hands))


def ask_for(door: Door, keyboard: int, sound: Sound, when: Change, at_ms: int) -> tuple[Door, Sent]:
    """Put this sound on now, or when hands lift. It replaces whatever was waiting for this keyboard.

    A sound that the keyboard already has is not sent again, and nothing waits any more.
    """
    hands = door.hands[keyboard]
    if sound == door.given[keyboard]:
        return _changed(door, {keyboard: None}), ()
    if when is Change.AT_ONCE or hands is None or hands.are_up:
        return _sent(door, ((keyboard, sound),))
    return _changed(door, {keyboard: Waits(sound, at_ms + door.limit_ms)}), ()


def forget_given(door: Door, keyboards: Iterable[int]) -> Door:
    """Take that these keyboards have no sound of ours any more: silenced, switched off, or their port was gone."""
    gone = set(keyboards)
    given = tuple(None if number in gone else sound for number, sound in enumerate(door.given))
    return msgspec.structs.replace(_changed(door, dict.fromkeys(gone)), given=given)


def midi_heard(door: Door, port: str, message: bytes) -> tuple[Door, Sent]:
    """Follow the hands on every keyboard of this port; what waited goes out when they lift."""
    if port not in door.ports or _is_step(door, port, message):
        return door, ()
    hands = tuple(
        heard(old, message) if old is not None and name == port else old
        for name, old in zip(door.ports, door.hands, strict=True)
    )
    if hands == door.hands:
        return door, ()
    return _released(msgspec.structs.replace(door, hands=hands))


def sound_now(door: Door) -> tuple[Door, Sent]:
    """Wait no longer."""
    return _sent(door, tuple((number, wait.sound) for number, wait in enumerate(door.waits) if wait))


def time_is(door: Door, at_ms: int) -> tuple[Door, Sent]:
    """Let go out what has waited long enough."""
    return _released(door, at_ms)


def next_release_ms(door: Door) -> int | None:
    """Tell when the next waiting sound goes out even if the hands stay; None where nothing waits."""
    return min((wait.until_ms for wait in door.waits if wait), default=None)


def _released(door: Door, at_ms: int | None = None) -> tuple[Door, Sent]:
    over = tuple(
        (number, wait.sound)
        for number, (wait, hands) in enumerate(zip(door.waits, door.hands, strict=True))
        if wait and (hands is None or hands.are_up or (at_ms is not None and at_ms >= wait.until_ms))
    )
    return _sent(door, over) if over else (door, ())


def _sent(door: Door, sent: Sent) -> tuple[Door, Sent]:
    sounds = dict(sent)
    given = tuple(sounds.get(number, old) for number, old in enumerate(door.given))
    return msgspec.structs.replace(_changed(door, dict.fromkeys(sounds)), given=given), sent


def _changed(door: Door, waits: Mapping[int, Waits | None]) -> Door:
    return msgspec.structs.replace(door, waits=tuple(waits.get(number, old) for number, old in enumerate(door.waits)))


def _is_step(door: Door, port: str, message: bytes) -> bool:
    if len(message) != 3 or message[0] & 0xF0 != 0xB0:
        return False
    channel = (message[0] & 0x0F) + 1
    return any(
        name == port and on in (None, channel) and control == message[1] for name, on, control in door.step_pedals
    )
