"""Work out what a switch is from what it sends: control, note or key, channel, polarity, depth, noise at rest. Pure.

A switch sends one value when it goes down and another when it comes up. One that measures depth sends many in between,
and may tremble at rest. A switch whose messages never show it going down or up cannot advance a show.
"""

import enum
from collections.abc import Iterable
from typing import Final

import msgspec
from msgspec.structs import replace

from companion.ports import is_whole
from companion.stage.gestures import OFF_AT, ON_AT

TREMBLE: Final = 2  # values that an untouched sensor moves by (common practice, no source)
_CONTROLS: Final = range(120)  # 120 to 127 are channel mode messages (MIDI 1.0, Table III)
_BANK: Final = (0, 32)


class SwitchMessage(enum.Enum):
    """The kind of message a switch sends."""

    CONTROL = "control"
    NOTE = "note"
    KEY = "key"
    PROGRAM = "program"  # no pedal of a rig


class SwitchSource(msgspec.Struct, frozen=True, order=True):
    """Where a value came from: ``port`` by the system's name, ``channel`` 1..16, ``number`` 0..127."""

    port: str
    kind: SwitchMessage
    channel: int
    number: int


class SourceValues(msgspec.Struct, frozen=True):
    """One source since the question: its values as they moved, without trembling."""

    source: SwitchSource
    values: tuple[int, ...]


class AtRest(msgspec.Struct, frozen=True):
    """The least and the greatest value of a source while no foot was on anything."""

    source: SwitchSource
    low: int
    high: int


class Ends(enum.Enum):
    """The phase of one press."""

    WHOLE = "down and up"
    HELD = "down, and not up yet"


class SwitchFound(msgspec.Struct, frozen=True):
    """What a switch is. ``channel`` None: it sends on several. ``key`` where it is one of the computer's.

    ``is_reversed``: it rests high. ``latches``: it sends the other of two values at each press. ``measures_depth``: it
    sends what is between, too. ``rests`` and ``noise``: where it rests, and by how much it trembles there. ``faults``
    say why it cannot step a show as it is.
    """

    kind: SwitchMessage
    port: str = ""
    channel: int | None = None
    number: int = 0
    key: str | None = None
    is_reversed: bool = False
    latches: bool = False
    measures_depth: bool = False
    rests: int = 0
    noise: int = 0
    faults: tuple[str, ...] = ()

    def is_same(self, other: "SwitchFound") -> bool:
        """Return whether both are the same switch."""
        meets = None in (self.channel, other.channel) or self.channel == other.channel
        mine, theirs = (self.kind, self.port, self.number, self.key), (other.kind, other.port, other.number, other.key)
        return mine == theirs and meets


def value_of(port: str, message: bytes) -> tuple[SwitchSource, int] | None:
    """Return what a message says about a switch; None for bends, pressure, clocks and banks."""
    if not is_whole(message) or message[0] >= 0xF0:
        return None
    kind, channel = message[0] & 0xF0, (message[0] & 0x0F) + 1
    if kind == 0xC0:
        return SwitchSource(port, SwitchMessage.PROGRAM, channel, 0), message[1]
    if kind == 0xB0 and message[1] in _CONTROLS and message[1] not in _BANK:
        return SwitchSource(port, SwitchMessage.CONTROL, channel, message[1]), message[2]
    if kind in (0x80, 0x90):
        return SwitchSource(port, SwitchMessage.NOTE, channel, message[1]), message[2] if kind == 0x90 else 0
    return None


def rest_with(rest: tuple[AtRest, ...], source: SwitchSource, value: int) -> tuple[AtRest, ...]:
    """Add a value received while nothing is touched."""
    known = next((one for one in rest if one.source == source), AtRest(source, value, value))
    widened = AtRest(source, min(known.low, value), max(known.high, value))
    return (*(one for one in rest if one.source != source), widened)


def seen_with(
    seen: tuple[SourceValues, ...], rest: tuple[AtRest, ...], source: SwitchSource, value: int
) -> tuple[SourceValues, ...] | None:
    """Add a value received after the question; None if it only trembles."""
    known = next((one for one in seen if one.source == source), None)
    if known is None:
        still = next((one for one in rest if one.source == source), None)
        if still and still.low - TREMBLE <= value <= still.high + TREMBLE:
            return None
        return (*seen, SourceValues(source, (value,)))
    if source.kind is SwitchMessage.CONTROL and abs(value - known.values[-1]) <= TREMBLE:
        return None
    others = tuple(one for one in seen if one.source != source)
    return (*others, SourceValues(source, (*known.values, value)))


def one_switch(seen: tuple[SourceValues, ...]) -> tuple[SourceValues, int | None] | str:
    """Return the one switch among all that moved, and its channel, None for several; or the reason why it is unclear.

    A keyboard with zones sends a pedal on several channels, and some devices send everything on two ports.
    """
    switches = {(one.source.kind, one.source.number) for one in seen}
    if len(switches) > 1:
        names = " and ".join(sorted(f"{kind.value} {number}" for kind, number in switches)[:3])
        return f"{names} moved together. Press one switch alone, and keep off the keys and wheels."
    first = seen[0]
    same_port = [one for one in seen if one.source.port == first.source.port]
    channels = {one.source.channel for one in same_port}
    return first, channels.pop() if len(channels) == 1 else None


def how_far(seen: SourceValues) -> Ends:
    """Return whether this is a whole press or the foot is still down."""
    values = seen.values
    if measures_depth(values):
        return Ends.WHOLE if abs(values[0] - values[-1]) < _span(values) / 2 else Ends.HELD
    return Ends.HELD if len(_levels(seen)) % 2 else Ends.WHOLE


def measures_depth(values: Iterable[int]) -> bool:
    """Return whether there are values between the two ends."""
    all_values = tuple(values)
    low, high = min(all_values), max(all_values)
    return any(low + TREMBLE < value < high - TREMBLE for value in all_values)


def worked_out(
    seen: SourceValues, channel: int | None, rest: tuple[AtRest, ...], *, faults: tuple[str, ...] = ()
) -> SwitchFound:
    """Return what a switch is after a whole press; its last value is its rest value."""
    source, values = seen.source, seen.values
    still = next((one for one in rest if one.source == source), AtRest(source, values[-1], values[-1]))
    is_control = source.kind is SwitchMessage.CONTROL
    is_reversed = is_control and still.low + still.high >= 2 * ON_AT
    switch = SwitchFound(
        source.kind,
        source.port,
        channel,
        source.number,
        is_reversed=is_reversed,
        measures_depth=is_control and measures_depth(values),
        rests=(still.low + still.high) // 2,
        noise=still.high - still.low,
    )
    return replace(switch, faults=(*faults, *(_faults(switch, values, still) if is_control and not faults else ())))


def sends_no_release(seen: SourceValues, channel: int | None) -> SwitchFound:
    """Return a switch that sends the same at each press and nothing when it comes up."""
    fault = "it sends the same at each press and nothing on release. Set it to momentary in its own menu"
    return worked_out(seen, channel, (), faults=(fault,))


def latching(seen: SourceValues, channel: int | None) -> SwitchFound:
    """Return a switch that sends one value at one press and the other at the next; it rests either way."""
    return SwitchFound(seen.source.kind, seen.source.port, channel, seen.source.number, latches=True)


def sends_programs(seen: SourceValues) -> SwitchFound:
    """Return a switch that sends program changes."""
    fault = "it sends program changes, which are for sounds. Set it to send a control, for example 80"
    return SwitchFound(SwitchMessage.PROGRAM, seen.source.port, seen.source.channel, faults=(fault,))


def switch_text(switch: SwitchFound, port: str) -> str:
    """Return the result in words; ``port`` is the rig file's word for its port."""
    if switch.key is not None:
        return f"the key {switch.key}"
    words = [f"{switch.kind.value} {switch.number} of {port}"]
    words.append("several channels" if switch.channel is None else f"channel {switch.channel}")
    if switch.latches:
        words.append("latches: each press counts")
    elif switch.kind is SwitchMessage.CONTROL:
        words.append("measures depth" if switch.measures_depth else "a switch")
        words.append(f"rests at {switch.rests}" + (": reversed" if switch.is_reversed else ""))
        if switch.noise:
            words.append(f"trembles by {switch.noise} at rest")
    return ", ".join(words)


def _faults(switch: SwitchFound, values: tuple[int, ...], still: AtRest) -> Iterable[str]:
    """Return why the stage would not see it go down or come up; see ``stage/gestures.py`` for its two thresholds."""
    deepest = 127 - min(values) if switch.is_reversed else max(values)
    highest_at_rest = 127 - still.low if switch.is_reversed else still.high
    if deepest < ON_AT:
        yield f"it reaches only {deepest}, and {ON_AT} counts as down. Press it right down, or calibrate it"
    if highest_at_rest > OFF_AT:
        yield f"it rests at {highest_at_rest}, and counts as up only at {OFF_AT} and below. Calibrate it"


def _span(values: tuple[int, ...]) -> int:
    return max(values) - min(values)


def _levels(seen: SourceValues) -> tuple[bool, ...]:
    """Return the values as down or up, each change once."""
    least = 1 if seen.source.kind is SwitchMessage.NOTE else ON_AT
    levels: list[bool] = []
    for value in seen.values:
        if not levels or levels[-1] != (value >= least):
            levels.append(value >= least)
    return tuple(levels)
