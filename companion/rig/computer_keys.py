"""The computer keys that a page-turner pedal may send, by their names in the rig file.

The numbers are usages on the keyboard page of the "USB HID Usage Tables" (chapter 10, Table 12). A window reports
another code: the character if the key has one, else 0x40000000 + usage (the SDL family of libraries).
"""

from collections.abc import Mapping
from typing import Final

_SDL_BY_USAGE: Final = 0x40000000

# Page turners send one of: page up and page down, left and right, up and down, space and enter (common practice, no
# source).
_TURNERS: Final[Mapping[str, int]] = {
    "page down": 0x4E,
    "page up": 0x4B,
    "right": 0x4F,
    "left": 0x50,
    "down": 0x51,
    "up": 0x52,
    "space": 0x2C,
    "enter": 0x28,
}
_REST: Final[Mapping[str, int]] = {
    "home": 0x4A,
    "end": 0x4D,
    "insert": 0x49,
    "delete": 0x4C,
    "backspace": 0x2A,
    "tab": 0x2B,
    "escape": 0x29,
    "keypad enter": 0x58,
} | {f"f{number}": 0x3A + number - 1 for number in range(1, 13)}
_LETTERS: Final = {letter: 0x04 + place for place, letter in enumerate("abcdefghijklmnopqrstuvwxyz")}
_DIGITS: Final = {digit: 0x1E + place for place, digit in enumerate("1234567890")}

HID_USAGES: Final[Mapping[str, int]] = {**_TURNERS, **_REST, **_LETTERS, **_DIGITS}

KEY_NAMES: Final[tuple[str, ...]] = tuple(HID_USAGES)

_WITH_A_CHARACTER: Final = {
    "space": " ",
    "enter": "\r",
    "backspace": "\b",
    "tab": "\t",
    "escape": "\x1b",
    "delete": "\x7f",
}

SDL_CODES: Final[Mapping[str, int]] = {
    name: ord(_WITH_A_CHARACTER.get(name, name))
    if len(name) == 1 or name in _WITH_A_CHARACTER
    else _SDL_BY_USAGE + usage
    for name, usage in HID_USAGES.items()
}

_ALSO_WRITTEN: Final[Mapping[str, str]] = {
    "pgdn": "page down",
    "pgdown": "page down",
    "pgup": "page up",
    "rightarrow": "right",
    "leftarrow": "left",
    "downarrow": "down",
    "uparrow": "up",
    "arrowright": "right",
    "arrowleft": "left",
    "arrowdown": "down",
    "arrowup": "up",
    "spacebar": "space",
    "return": "enter",
    "esc": "escape",
    "del": "delete",
    "ins": "insert",
}
_BY_LETTERS: Final = {**_ALSO_WRITTEN, **{name.replace(" ", ""): name for name in KEY_NAMES}}


def key_named(written: str) -> str | None:
    """Return the key's name as the program writes it, or None for an unknown key.

    >>> key_named("Page Down"), key_named("PgDn"), key_named("page-down"), key_named("pedal")
    ('page down', 'page down', 'page down', None)
    """
    return _BY_LETTERS.get("".join(sign for sign in written.casefold() if sign not in " -_"))
