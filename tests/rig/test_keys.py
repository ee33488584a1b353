"""Computer keys: the words of the rig file."""

import pytest

from companion.rig.computer_keys import KEY_NAMES, key_named


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
