"""Pedal gestures: switches, notes and computer keys come in; actions such as next, back and take back go out.

A press acts at once, on the way down, without waiting to see whether it becomes a hold. Pure: the caller passes the
time in.
"""

import msgspec

from companion.rig import Action, Pedal, Rig

ON_AT = 64  # MIDI 1.0, Table III: 0-63 off, 64-127 on
OFF_AT = 40  # common practice, no source: a pedal resting at the threshold must not chatter
BOUNCE_MS = 30  # lock-out after an accepted edge; 20 to 50 is common practice, deliberate presses are 200 apart
HOLD_MS = 800  # longer than a deliberate tap; common practice, no source
SETTLING_MS = 1000  # boards send all their controllers at power-on: that only shows where each pedal rests
ECHO_MS = 300  # a message that returns this soon after we sent it is our own echo

_CONTROL, _NOTE_ON, _NOTE_OFF = 0xB0, 0x90, 0x80


class Moved(msgspec.Struct, frozen=True):
    """The state of a switch; ``value`` is 0..127 for a control, the velocity for a note, 127 or 0 for a key."""

    switch: int  # index into the rig's pedals
    value: int
    at_ms: int


class GestureRequest(msgspec.Struct, frozen=True):
    """The action that a gesture asks for. ``of_ms``: take back only a step made then, if there is one."""

    action: Action
    at_ms: int
    of_ms: int | None = None


class Switch(msgspec.Struct, frozen=True):
    """What is known of one switch. ``held_from_ms`` is set while it is down and its hold has not acted yet.

    ``down`` is None for a latching switch that has not yet sent a value.
    """

    down: bool | None = False
    edge_ms: int | None = None
    held_from_ms: int | None = None


class Feet(msgspec.Struct, frozen=True):
    """All switches of the rig. ``ports_since_ms`` is when each port appeared; ``sent`` our recent own messages."""

    pedals: tuple[Pedal, ...]
    switches: tuple[Switch, ...]
    ports_since_ms: tuple[tuple[str, int], ...] = ()
    sent: tuple[tuple[str, bytes, int], ...] = ()


def feet_of(rig: Rig) -> Feet:
    """Return the initial state: every pedal counts as up, so that the first press of the night counts.

    A latching pedal may rest either way, so its first message is a press.

    Feet rest on pedals, so with two switches or more no hold has a default action; a single switch that steps forward
    goes back when held.
    """
    pedals = rig.pedals
    if len(pedals) == 1 and pedals[0].press is Action.NEXT and pedals[0].hold is None and not pedals[0].latching:
        pedals = (msgspec.structs.replace(pedals[0], hold=Action.BACK),)
    return Feet(pedals, tuple(map(_untouched, pedals)))


def port_appeared(feet: Feet, port: str, at_ms: int) -> Feet:
    """Start this port's settling second, in which it only reports pedal positions; forget its earlier state."""
    since = tuple((name, ms) for name, ms in feet.ports_since_ms if name != port)
    switches = tuple(
        _untouched(pedal) if pedal.port == port else switch
        for pedal, switch in zip(feet.pedals, feet.switches, strict=True)
    )
    return msgspec.structs.replace(feet, ports_since_ms=(*since, (port, at_ms)), switches=switches)


def we_sent(feet: Feet, port: str, message: bytes, at_ms: int) -> Feet:
    """Remember a control or note that we sent, so that its echo does not step the show."""
    kind = message[0] & 0xF0
    if kind not in (_CONTROL, _NOTE_ON, _NOTE_OFF):
        return feet
    recent = tuple(one for one in feet.sent if at_ms - one[2] <= ECHO_MS)
    return msgspec.structs.replace(feet, sent=(*recent, (port, message, at_ms)))


def midi_received(feet: Feet, port: str, message: bytes, at_ms: int) -> tuple[Feet, tuple[GestureRequest, ...]]:
    """Handle one whole MIDI message from a port that the rig names. Messages from no pedal change nothing.

    All off releases the pedals of every channel: a foot that then lifts sends the same bytes, so only an echo that
    could press something is ignored.
    """
    may_be_echo = any(one[0] == port and one[1] == message and at_ms - one[2] <= ECHO_MS for one in feet.sent)
    asks: tuple[GestureRequest, ...] = ()
    for number, pedal in enumerate(feet.pedals):
        value = _value_for(pedal, port, message)
        if value is not None and not (may_be_echo and _would_press(pedal, feet.switches[number], value)):
            feet, more = switch_moved(feet, Moved(number, value, at_ms))
            asks += more
    return feet, asks


def key_moved(feet: Feet, key: str, *, down: bool, at_ms: int) -> tuple[Feet, tuple[GestureRequest, ...]] | None:
    """Handle a computer key going down or up; return None if the rig maps no pedal to it."""
    for number, pedal in enumerate(feet.pedals):
        if pedal.key == key:
            return switch_moved(feet, Moved(number, 127 if down else 0, at_ms))
    return None


def switch_moved(feet: Feet, moved: Moved) -> tuple[Feet, tuple[GestureRequest, ...]]:
    """Handle a value from a switch. Repeats and chatter are ignored; going down acts, going up ends a hold.

    A latching switch acts both ways: each change is a press.
    """
    pedal, switch = feet.pedals[moved.switch], feet.switches[moved.switch]
    down = _is_down(pedal, switch, moved.value)
    if down == switch.down:
        return feet, ()
    if _is_settling(feet, pedal, moved.at_ms):
        return _with(feet, moved.switch, Switch(down=down, edge_ms=switch.edge_ms)), ()
    if switch.edge_ms is not None and moved.at_ms - switch.edge_ms < BOUNCE_MS:
        # A bounce updates the switch but starts nothing; a running hold continues if the foot is still down.
        return _with(feet, moved.switch, msgspec.structs.replace(switch, down=down)), ()
    held_from = moved.at_ms if down and pedal.hold is not None else None
    after = _with(feet, moved.switch, Switch(down=down, edge_ms=moved.at_ms, held_from_ms=held_from))
    acts = (down or pedal.latching) and pedal.press is not Action.NOTHING
    return after, (GestureRequest(pedal.press, moved.at_ms),) if acts else ()


def time_passed(feet: Feet, at_ms: int) -> tuple[Feet, tuple[GestureRequest, ...]]:
    """Trigger the holds that are due. A hold first takes back what its press did, then does its own action."""
    asks: tuple[GestureRequest, ...] = ()
    for number, (pedal, switch) in enumerate(zip(feet.pedals, feet.switches, strict=True)):
        if switch.held_from_ms is None or at_ms - switch.held_from_ms < HOLD_MS:
            continue
        feet = _with(feet, number, msgspec.structs.replace(switch, held_from_ms=None))
        if not switch.down or pedal.hold is None:
            continue
        if pedal.press is not Action.NOTHING:
            asks += (GestureRequest(Action.TAKE_BACK, at_ms, of_ms=switch.held_from_ms),)
        asks += (GestureRequest(pedal.hold, at_ms),)
    return feet, asks


def woken(feet: Feet, port: str | None = None, *, keys_only: bool = False) -> Feet:
    """Forget where the pedals were: releases may have been lost, and holds have no length.

    The computer slept, a cable was pulled, the MIDI server stalled, or the window that receives keys died. The next
    press counts, as the first one of the night does. ``port``: only the pedals of this port; ``keys_only``: only those
    that send keys.
    """
    switches = tuple(
        _untouched(pedal) if port in (None, pedal.port) and (pedal.key or not keys_only) else switch
        for pedal, switch in zip(feet.pedals, feet.switches, strict=True)
    )
    return msgspec.structs.replace(feet, switches=switches)


def next_hold_ms(feet: Feet) -> int | None:
    """Return when the next hold is due; None if no pedal that has a hold is down."""
    held = [switch.held_from_ms + HOLD_MS for switch in feet.switches if switch.held_from_ms is not None]
    return min(held, default=None)


def is_pedals(pedals: tuple[Pedal, ...], port: str, message: bytes) -> bool:
    """Return whether a message comes from one of these pedals, even if it triggers nothing."""
    return any(_value_for(pedal, port, message) is not None for pedal in pedals)


def _value_for(pedal: Pedal, port: str, message: bytes) -> int | None:
    """Return the value of this message for this pedal; None if it comes from another control."""
    if pedal.port != port or len(message) != 3:
        return None
    kind, channel = message[0] & 0xF0, (message[0] & 0x0F) + 1
    if pedal.channel not in (None, channel):
        return None
    if pedal.control is not None and kind == _CONTROL and message[1] == pedal.control:
        return message[2]
    if pedal.note is not None and kind in (_NOTE_ON, _NOTE_OFF) and message[1] == pedal.note:
        # A soft hit on a pad still counts: any velocity but 0 is down.
        return 127 if kind == _NOTE_ON and message[2] else 0
    return None


def _untouched(pedal: Pedal) -> Switch:
    return Switch(down=None if pedal.latching else False)


def _is_down(pedal: Pedal, switch: Switch, value: int) -> bool:
    level = 127 - value if pedal.reversed else value
    return level > OFF_AT if switch.down else level >= ON_AT


def _would_press(pedal: Pedal, switch: Switch, value: int) -> bool:
    """Return whether a value may be a press. One that only ends a press is never ignored, or the next would be lost."""
    return pedal.latching or _is_down(pedal, switch, value)


def _is_settling(feet: Feet, pedal: Pedal, at_ms: int) -> bool:
    return any(name == pedal.port and at_ms - since < SETTLING_MS for name, since in feet.ports_since_ms)


def _with(feet: Feet, number: int, switch: Switch) -> Feet:
    switches = (*feet.switches[:number], switch, *feet.switches[number + 1 :])
    return msgspec.structs.replace(feet, switches=switches)
