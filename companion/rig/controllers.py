"""Controllers by name: the names that a player may write instead of the number."""

from collections.abc import Mapping
from typing import Final

from companion.files import InvalidValue, Scalar, nearest, plain, shown

_LAST_CONTROLLER: Final = 119  # 120 to 127 are channel mode messages (MIDI 1.0, Table III)
_BANK_SELECT: Final = (0, 32)

NUMBERS: Final[Mapping[str, int]] = {  # MIDI 1.0, Table III; 71 to 74 from memory: "Sound Controllers" (RP-021)
    "volume": 7,
    "expression": 11,
    "pan": 10,
    "balance": 8,
    "modulation": 1,
    "breath": 2,
    "foot": 4,
    "damper": 64,
    "sostenuto": 66,
    "soft": 67,
    "legato": 68,
    "hold 2": 69,
    "portamento": 65,
    "portamento time": 5,
    "resonance": 71,
    "release": 72,
    "attack": 73,
    "cutoff": 74,
    "reverb": 91,
    "chorus": 93,
}
_ALSO_WRITTEN: Final[Mapping[str, int]] = {
    "channel volume": 7,
    "mod wheel": 1,
    "modulation wheel": 1,
    "foot controller": 4,
    "sustain": 64,
    "sustain pedal": 64,
    "damper pedal": 64,
    "soft pedal": 67,
    "legato footswitch": 68,
    "brightness": 74,
    "reverb send": 91,
    "chorus send": 93,
}
_EXPECTED: Final = f"a controller, 0 to {_LAST_CONTROLLER}, or its name such as volume"


def controller(written: str) -> int:
    """Return the controller, 0..119, with this number or name. Raises InvalidValue.

    >>> controller("Expression"), controller("011")
    (11, 11)
    """
    text = written.strip()
    if text.isascii() and text.isdigit():
        number = int(text[:9])
        if number > _LAST_CONTROLLER:
            raise InvalidValue(f"there is no controller {text[:9]}; the last is {_LAST_CONTROLLER}", _EXPECTED)
        return number
    name = " ".join(text.casefold().replace("_", " ").replace("-", " ").split())
    number = NUMBERS.get(name, _ALSO_WRITTEN.get(name, -1))
    if number < 0:
        raise InvalidValue(f"there is no controller named {shown(written)}", nearest(name, NUMBERS) or _EXPECTED)
    return number


def controller_of_a_sound(written: str) -> int:
    """Return the controller that a sound sets: any except bank select, which has its own key. Raises InvalidValue."""
    number = controller(written)
    if number in _BANK_SELECT:
        raise InvalidValue(f"controller {number} selects the bank", "bank: [MSB, LSB]")
    return number


_SCHEMA: Final = plain(["integer", "string"], minimum=0, maximum=_LAST_CONTROLLER)
CONTROLLER: Final = Scalar(controller, _SCHEMA, _EXPECTED)
CONTROLLER_OF_A_SOUND: Final = Scalar(controller_of_a_sound, _SCHEMA, _EXPECTED)
