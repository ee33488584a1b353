"""Names as players and systems write them: which of them are the same."""

import pytest

from companion.rig.rig_names import folded_name


@pytest.mark.parametrize(
    ("one", "other", "is_same"),
    [
        ("Tonewheel  Organ", " tonewheel organ ", True),
        ("CAFÉ PIANO", "café piano", True),
        ("caf\u00e9 piano", "cafe\u0301 piano", True),  # both encodings of an accented letter (Unicode, form NFC)
        ("café piano", "cafe piano", False),
        ("Straße", "STRASSE", True),
        ("organ 1", "organ1", False),
    ],
)
def test_names_are_the_same_apart_from_case_spaces_and_encoding(one: str, other: str, *, is_same: bool) -> None:
    assert (folded_name(one) == folded_name(other)) is is_same
