"""The keyboards of the night: sounds in, bytes out to their ports, whatever waits for the hands, and what is lost."""

from collections.abc import Callable, Iterable, Mapping
from typing import Protocol

from companion.changes import Change
from companion.ports import THE_ONE_THERE_IS
from companion.rig import Keyboard, Pause, Rig, Sound, all_off, change_to
from companion.stage import SendSound
from companion.stage.waiting import (
    Door,
    Sent,
    ask_for,
    can_hear,
    door_of,
    forget_given,
    midi_heard,
    next_release_ms,
    sound_now,
    time_is,
)

Parcel = tuple[bytes | Pause, ...]


TellSent = Callable[[str, Parcel, bool], None]
"""Takes the rig's word for a port, what was sent, and whether its port was there to take it."""


class Wire(Protocol):
    """A way to one port. Takes a parcel at once, never blocks and never raises; a dead one drops it."""

    def send(self, parcel: Parcel, *, replace: bool = False) -> bool:
        """Send these in order, with their pauses, instead of what still waits; False where the port is not there."""


def port_word(board: Keyboard) -> str:
    """Give the rig's word for a keyboard's port."""
    return board.port or THE_ONE_THERE_IS


class Keyboards:
    """All keyboards of the rig, each on its port, or on none (a dry run)."""

    def __init__(self, rig: Rig, wires: Mapping[str, Wire], tell_sent: TellSent) -> None:
        """Take the wires by the rig's words for their ports; ``tell_sent`` hears all that goes out, or should have."""
        self._rig = rig
        self._wires = wires
        self._tell_sent = tell_sent
        self._door: Door = door_of(rig)

    @property
    def waiting(self) -> tuple[Sound | None, ...]:
        """The sound that waits for the hands, for each keyboard."""
        return self._door.waiting

    def give(self, effects: Iterable[SendSound], at_ms: int) -> None:
        """Put these sounds on, now or when hands lift."""
        for effect in effects:
            self._door, sent = ask_for(self._door, effect.keyboard, effect.sound, effect.when, at_ms)
            self._send(sent)

    def give_again(self, effects: Iterable[SendSound], at_ms: int, *, port: str | None = None) -> None:
        """Put these sounds on as if for the first time: at start, and on a port that was gone."""
        numbers = {n for n, board in enumerate(self._rig.keyboards) if port in (None, port_word(board))}
        self._door = forget_given(self._door, numbers)
        now = (SendSound(one.keyboard, one.sound, Change.AT_ONCE) for one in effects if one.keyboard in numbers)
        self.give(now, at_ms)

    def silence(self) -> None:
        """Let every port of the rig fall silent, on all sixteen channels."""
        for port in dict.fromkeys(map(port_word, self._rig.keyboards)):
            reset = any(board.reset_controllers for board in self._rig.keyboards if port_word(board) == port)
            self._send_to(port, all_off(reset_controllers=reset))
        self._door = forget_given(self._door, range(len(self._rig.keyboards)))

    def heard(self, port: str, message: bytes) -> None:
        """Follow the hands; what waited for them goes out."""
        self._door, sent = midi_heard(self._door, port, message)
        self._send(sent)

    def can_hear(self, port: str, *, there: bool) -> None:
        """Take that the input of this port came or went."""
        self._door, sent = can_hear(self._door, port, there=there)
        self._send(sent)

    def sound_now(self) -> None:
        """Wait no longer for the hands."""
        self._door, sent = sound_now(self._door)
        self._send(sent)

    def time_is(self, at_ms: int) -> None:
        """Let out what has waited long enough."""
        self._door, sent = time_is(self._door, at_ms)
        self._send(sent)

    def next_ms(self) -> int | None:
        """Tell when ``time_is`` has something to do."""
        return next_release_ms(self._door)

    def _send(self, sent: Sent) -> None:
        for number, sound in sent:
            board = self._rig.keyboards[number]
            self._send_to(port_word(board), change_to(board, sound))

    def _send_to(self, port: str, parcel: Parcel) -> None:
        wire = self._wires.get(port)
        if parcel:
            went = wire is not None and wire.send(parcel, replace=True)
            self._tell_sent(port, parcel, went)


def would_send(port: str, parcel: Parcel) -> str:
    """Say what would have been sent."""
    sent = ", ".join(f"wait {one.ms} ms" if isinstance(one, Pause) else one.hex(" ").upper() for one in parcel)
    return f"would send to {port or 'the keyboard'}: {sent}"
