"""The computer keys that a page-turner pedal may send, by their names in the rig file."""

from collections.abc import Mapping
from typing import Final

# Page turners send one of the first eight: page up and page down, left and right, up and down, space and enter (common
# practice, no source).
KEY_NAMES: Final[tuple[str, ...]] = (
    *("page down", "page up", "right", "left", "down", "up", "space", "enter"),
    *("home", "end", "insert", "delete", "backspace", "tab", "escape", "keypad enter"),
    *(f"f{number}" for number in range(1, 13)),
    *"abcdefghijklmnopqrstuvwxyz",
    *"1234567890",
)

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
