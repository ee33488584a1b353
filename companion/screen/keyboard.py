"""The computer's keys, named as in the rig file, from the window's key codes."""

from typing import Final

import pygame

_BY_CODE: Final = {
    pygame.K_RETURN: "enter",
    pygame.K_KP_ENTER: "keypad enter",
    pygame.K_SPACE: "space",
    pygame.K_ESCAPE: "escape",
    pygame.K_PAGEDOWN: "page down",
    pygame.K_PAGEUP: "page up",
    pygame.K_LEFT: "left",
    pygame.K_RIGHT: "right",
    pygame.K_UP: "up",
    pygame.K_DOWN: "down",
    pygame.K_HOME: "home",
    pygame.K_END: "end",
    pygame.K_INSERT: "insert",
    pygame.K_DELETE: "delete",
    pygame.K_BACKSPACE: "backspace",
    pygame.K_TAB: "tab",
    **{getattr(pygame, f"K_F{number}"): f"f{number}" for number in range(1, 13)},
    **{getattr(pygame, f"K_{sign}"): sign for sign in "abcdefghijklmnopqrstuvwxyz0123456789"},
}


def key_name(code: int, text: str = "") -> str | None:
    """Return the key's name, None if it has none. ``text`` tells a question mark, whose key differs by keyboard."""
    if text == "?":
        return "?"
    return _BY_CODE.get(code)
