"""The keyboards of the night: sounds and tunings in, bytes out to their ports, with waiting for the hands between."""

from collections.abc import Callable, Iterable, Mapping
from typing import Any, Protocol

from companion.changes import Change
from companion.ports import THE_ONE_THERE_IS
from companion.rig import HowTransposed, Keyboard, Pause, Rig, Sound, all_off, change_to, tune
from companion.stage import Clock, SendSound, Tune
from companion.stage.waiting import (
    PendingChanges,
    Sent,
    ask_for,
    can_hear,
    forget_sent,
    hands_forgotten,
    listening_to,
    midi_heard,
    next_release_ms,
    nothing_pending,
    release,
    release_now,
)

MidiParcel = tuple[bytes | Pause, ...]

LET_GO = (bytes.fromhex("B0 40 00"), bytes.fromhex("B0 7B 00"))
"""Damper up, all notes off (MIDI 1.0, Table III): what a controller that is unplugged would still have sent."""

TellSent = Callable[[str, MidiParcel, bool], None]
"""Called with the rig's word for a port, what was sent, and whether the port was connected."""


class ParcelOut(Protocol):
    """An output to one port. Accepts a parcel at once, never blocks and never raises; a dead one drops it."""

    def send(self, parcel: MidiParcel, *, replace: bool = False) -> bool:
        """Send these in order, with their pauses, replacing what still waits; False if the port is missing."""


def port_word(board: Keyboard) -> str:
    """Return the rig's word for a keyboard's port."""
    return board.port or THE_ONE_THERE_IS


class Keyboards:
    """All keyboards of the rig, each on its port, or on none (a dry run)."""

    def __init__(
        self,
        rig: Rig,
        wires: Mapping[str, ParcelOut],
        tell_sent: TellSent,
        keep_time: Callable[[Clock], None],
        through: Callable[[str, bytes], None] | None = None,
    ) -> None:
        """``wires`` are keyed by the rig's words for their ports; ``tell_sent`` receives all that is or should be sent.

        ``keep_time`` runs the MIDI clock; ``through`` receives every message heard, to pass it on.
        """
        self._keep_time = keep_time
        self._through = through
        self._rig = rig
        self._wires = wires
        self._tell_sent = tell_sent
        self._sounds: PendingChanges[Sound] = nothing_pending(rig)
        self._tunings: PendingChanges[int] = nothing_pending(rig)
        self._listening = listening_to(rig)

    @property
    def waiting(self) -> tuple[Sound | None, ...]:
        """The sound that waits for the hands, for each keyboard."""
        return self._sounds.waiting

    def shown(self) -> dict[str, Any]:
        """Return what the screen shows of them now."""
        return {"waiting": self.waiting, "tuning_waits": any(one is not None for one in self._tunings.waiting)}

    def send(self, effects: Iterable[SendSound | Tune | Clock], at_ms: int) -> None:
        """Send these sounds and tunings, now or when hands lift."""
        for effect in effects:
            match effect:
                case SendSound(keyboard=number, sound=sound, when=when):
                    up = self._listening.up[number]
                    limit_ms = self._rig.keyboards[number].longest_wait_ms
                    self._sounds, sent = ask_for(
                        self._sounds, number, sound, when, hands_up=up, at_ms=at_ms, limit_ms=limit_ms
                    )
                    self._send_sounds(sent)
                case Tune(semitones=semitones):
                    self._tune(semitones, Change.WHEN_HANDS_LIFT, range(len(self._rig.keyboards)), at_ms)
                case Clock():
                    self._keep_time(effect)

    def send_again(self, effects: Iterable[SendSound | Tune | Clock], at_ms: int, *, port: str | None = None) -> None:
        """Send these now as if for the first time: at start, and when a port returns."""
        numbers = {n for n, board in enumerate(self._rig.keyboards) if port in (None, port_word(board))}
        self._sounds = forget_sent(self._sounds, numbers)
        self._tunings = forget_sent(self._tunings, numbers)
        for effect in effects:
            match effect:
                case Tune(semitones=semitones):
                    self._tune(semitones, Change.AT_ONCE, numbers, at_ms)
                case SendSound(keyboard=number, sound=sound) if number in numbers:
                    self.send((SendSound(number, sound, Change.AT_ONCE),), at_ms)
                case Clock():
                    self._keep_time(effect)

    def silence(self) -> None:
        """Silence every port of the rig, on all sixteen channels."""
        for port in dict.fromkeys(map(port_word, self._rig.keyboards)):
            reset = any(board.reset_controllers for board in self._rig.keyboards if port_word(board) == port)
            self._send_to(port, all_off(reset_controllers=reset))
        self._sounds = forget_sent(self._sounds, range(len(self._rig.keyboards)))

    def leave_in_tune(self) -> None:
        """Stop the clock and restore every keyboard's own pitch, before the night ends and waits for its disk."""
        self._keep_time(Clock(None))
        numbers = [number for number, given in enumerate(self._tunings.given) if given]
        self._tune(0, Change.AT_ONCE, numbers, at_ms=0)

    def heard(self, port: str, message: bytes, at_ms: int) -> None:
        """Follow the hands; sounds that waited for them go out."""
        if self._through is not None:
            self._through(port, message)
        listening = midi_heard(self._listening, port, message)
        if listening is not self._listening:
            self._listening = listening
            self.time_is(at_ms)

    def can_hear(self, port: str, at_ms: int, *, there: bool) -> None:
        """Handle an input of this port that appears or disappears; no note that was passed on stays hanging."""
        if self._through is not None and not there:
            for message in LET_GO:
                self._through(port, message)
        self._listening = can_hear(self._listening, port, there=there)
        self.time_is(at_ms)

    def woken(self) -> None:
        """Forget which keys are down, after the computer slept: a release that was lost must not delay a sound."""
        self._listening = hands_forgotten(self._listening)

    def sound_now(self) -> None:
        """Stop waiting for the hands."""
        self._sounds, sounds = release_now(self._sounds)
        self._tunings, tunings = release_now(self._tunings)
        self._send_sounds(sounds)
        self._send_tunings(tunings)

    def time_is(self, at_ms: int) -> None:
        """Send what has waited long enough, or no longer needs to wait."""
        self._sounds, sounds = release(self._sounds, self._listening.up, at_ms)
        self._tunings, tunings = release(self._tunings, self._listening.up, at_ms)
        self._send_sounds(sounds)
        self._send_tunings(tunings)

    def next_ms(self) -> int | None:
        """Return when ``time_is`` next has something to do."""
        due = [one for one in (next_release_ms(self._sounds), next_release_ms(self._tunings)) if one is not None]
        return min(due, default=None)

    def _tune(self, semitones: int, when: Change, numbers: Iterable[int], at_ms: int) -> None:
        for number in numbers:
            if self._rig.keyboards[number].transpose is not HowTransposed.NONE:
                up = self._listening.up[number]
                limit_ms = self._rig.keyboards[number].longest_wait_ms
                self._tunings, sent = ask_for(
                    self._tunings, number, semitones, when, hands_up=up, at_ms=at_ms, limit_ms=limit_ms
                )
                self._send_tunings(sent)

    def _send_sounds(self, sent: Sent[Sound]) -> None:
        for number, sound in sent:
            board = self._rig.keyboards[number]
            self._send_to(port_word(board), change_to(board, sound), replace=True)

    def _send_tunings(self, sent: Sent[int]) -> None:
        for number, semitones in sent:
            board = self._rig.keyboards[number]
            self._send_to(port_word(board), tune(board, semitones))

    def _send_to(self, port: str, parcel: MidiParcel, *, replace: bool = False) -> None:
        wire = self._wires.get(port)
        if parcel:
            went = wire is not None and wire.send(parcel, replace=replace)
            self._tell_sent(port, parcel, went)


def would_send(port: str, parcel: MidiParcel) -> str:
    """Report what would have been sent."""
    from companion.rig.midi_words import midi_in_words

    return f"would send to {port or 'the keyboard'}: {midi_in_words(parcel)}"
