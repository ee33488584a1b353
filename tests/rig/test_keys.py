"""Computer keys: the words of the rig file against the published usages and the window library's codes."""

import os

import pytest

from companion.rig.computer_keys import HID_USAGES, KEY_NAMES, SDL_CODES, key_named

PUBLISHED = [  # USB HID Usage Tables, chapter 10, Table 12; the last column as run in the SDL family
    ("enter", 0x28, 13),
    ("escape", 0x29, 27),
    ("space", 0x2C, 32),
    ("home", 0x4A, 1073741898),
    ("page up", 0x4B, 1073741899),
    ("end", 0x4D, 1073741901),
    ("page down", 0x4E, 1073741902),
    ("right", 0x4F, 1073741903),
    ("left", 0x50, 1073741904),
    ("down", 0x51, 1073741905),
    ("up", 0x52, 1073741906),
]


@pytest.mark.parametrize(("name", "usage", "code"), PUBLISHED)
def test_a_key_has_its_published_usage_and_code(name: str, usage: int, code: int) -> None:
    assert HID_USAGES[name] == usage
    assert SDL_CODES[name] == code


def test_every_key_has_the_window_library_s_code() -> None:
    os.environ.setdefault("PYGAME_HIDE_SUPPORT_PROMPT", "1")
    import pygame  # noqa: PLC0415 - it asks for the variable as it comes in

    constants = {"page down": "PAGEDOWN", "page up": "PAGEUP", "enter": "RETURN", "keypad enter": "KP_ENTER"}
    for name in KEY_NAMES:
        constant = constants.get(name, name if len(name) == 1 else name.upper())
        assert SDL_CODES[name] == getattr(pygame, f"K_{constant}"), name
        assert HID_USAGES[name] == getattr(pygame, f"KSCAN_{constant.upper()}"), name


def test_no_two_keys_share_a_code() -> None:
    assert len(set(HID_USAGES.values())) == len(set(SDL_CODES.values())) == len(KEY_NAMES)


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("page down", "page down"),
        ("Page-Down", "page down"),
        ("PAGEDOWN", "page down"),
        ("PgDn", "page down"),
        ("right arrow", "right"),
        ("Return", "enter"),
        ("A", "a"),
        ("F12", "f12"),
        ("7", "7"),
        ("pedal", None),
        ("f13", None),
        ("", None),
    ],
)
def test_a_computer_key_is_read_as_people_write_it(written: str, name: str | None) -> None:
    assert key_named(written) == name


def test_every_key_name_reads_back_as_itself() -> None:
    assert [key_named(name) for name in KEY_NAMES] == list(KEY_NAMES)
