"""Bars in brackets that are repeated begin a section's chords; other brackets are a cue or a text."""

import pytest
from show.scenes import sections

from companion.show import Section


@pytest.mark.parametrize(
    ("short", "section"),
    [
        ("Verse 16 x2 (Bb | % | Gm | F7) x4", Section("Verse", 16, 2, chords="(Bb | % | Gm | F7) x4")),
        ("Verse 8 (1 | 4) x2 | 5", Section("Verse", 8, chords="(1 | 4) x2 | 5")),
        ("Verse 8 (loud) (1 | 4) x4", Section("Verse", 8, cue="loud", chords="(1 | 4) x4")),
        ("Verse 8 words (one | two) x2", Section("Verse", 8, 2, first_words="one | two")),
        ("Verse 8 (one | two)", Section("Verse", 8, cue="one | two")),
    ],
)
def test_repeated_bars_in_brackets_are_chords(short: str, section: Section) -> None:
    assert sections(short) == (section,)
