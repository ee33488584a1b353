"""The reader of pedals, the player's sustain and the screen in a rig file."""

from typing import Any, Final

from companion.files import (
    Form,
    InvalidValue,
    Many,
    NamedStructs,
    Node,
    Reading,
    Scalar,
    choice,
    nearest,
    number,
    plain,
    shown,
    whole,
    yes_no,
)
from companion.rig.computer_keys import KEY_NAMES, key_named
from companion.rig.controllers import CONTROLLER
from companion.rig.model import Action, Pedal, Screen, Sustain
from companion.rig.read_keyboards import CHANNEL, NAME, PORT, behind, is_written

_SOURCES: Final = ("control", "note", "key")


def _key(text: str) -> str:
    """Return the name of a computer key. Raises InvalidValue."""
    name = key_named(text)
    if name is None:
        near = nearest(text, KEY_NAMES)
        raise InvalidValue(
            f"there is no key {shown(text)}", near or "page down, page up, left, right, up, down, space or enter"
        )
    return name


def _pedal(values: dict[str, Any], node: Node, reading: Reading) -> Pedal:
    """Build the pedal; note a fault unless it is exactly one switch that nothing else can trigger."""
    pedal = Pedal(**values)
    written = [source for source in _SOURCES if is_written(node, source)]
    if not written:
        reading.fault(node, f'the pedal "{pedal.name}" has no control, note or key', "control: 64, or key: page down")
    elif len(written) > 1:
        second = behind(node, written[1])
        reading.fault(second, f'the pedal "{pedal.name}" has a {written[0]} and a {written[1]}', "only one of them")
    elif written == ["key"]:
        for what in ("port", "channel", "latching"):
            if getattr(pedal, what) not in (None, False):
                reading.fault(
                    behind(node, what), f"a computer key has no {what}", f"control or note, or leave {what} out"
                )
    elif not is_written(node, "port"):
        reading.fault(
            node,
            f'the pedal "{pedal.name}" names no port, so the player\'s own sustain could step the show',
            "port: a part of the port's name, as companion ports lists it",
        )
    if pedal.latching and pedal.hold is not None:
        reading.fault(behind(node, "hold"), "a latching switch cannot report a hold", "leave hold out")
    if not is_written(node, "press") and not is_written(node, "hold"):
        reading.warn(node, f'the pedal "{pedal.name}" does nothing', "press: next")
    return pedal


NOTE: Final = whole(0, 127, "a note")
KEY: Final = Scalar(_key, plain(["string", "integer"]), "a computer key")

PEDAL: Final = Form(
    Pedal,
    "a pedal",
    {
        "port": PORT,
        "channel": CHANNEL,
        "control": CONTROLLER,
        "note": NOTE,
        "key": KEY,
        "press": choice(Action),
        "hold": choice(Action),
        "reversed": yes_no(),
        "latching": yes_no(),
    },
    build=_pedal,
)
PEDALS: Final = NamedStructs(PEDAL, "pedals", NAME)

SUSTAIN: Final = Form(Sustain, "a sustain pedal", {"port": PORT, "control": CONTROLLER, "channel": CHANNEL})
SUSTAINS: Final = Many(SUSTAIN, "sustain pedals", single=True)

SCREEN: Final = Form(
    Screen,
    "a screen",
    {
        "width_mm": number(50, 5000, "a width in mm"),
        "distance_m": number(0.2, 20, "a distance in m"),
        "monitor": whole(1, 16, "a monitor"),
        "chords": yes_no(),
    },
)
