"""Letters that the stage screen would draw as boxes are reported before the show."""

from pathlib import Path

import pytest

from companion.night import letters
from companion.screen.screen_fonts import FACES, Face, Typeface
from companion.show import Section, Set, Show, Song


def show_of(title: str, section: str = "Verse") -> Show:
    return Show("Pier", sets=(Set("First", songs=(Song(title, road_map=(Section(section),)),)),))


@pytest.fixture(autouse=True)
def _shipped_only(monkeypatch: pytest.MonkeyPatch) -> None:
    """A computer without typefaces of its own."""
    monkeypatch.setattr(letters, "typeface", lambda: Typeface(tuple(map(Face, FACES))))


def test_letters_without_a_typeface_are_reported_with_their_title_or_section() -> None:
    (warning,) = letters.boxes(show_of("港の夜", "間奏"), Path("show.yaml"))
    assert "港の夜間奏" in warning.problem
    assert "typeface" in str(warning)


@pytest.mark.parametrize("title", ["Gasworks Corner", "Ночь", "Θάλασσα", "שלום", "Été ♭"])
def test_letters_of_the_shipped_typeface_are_not_reported(title: str) -> None:
    assert letters.boxes(show_of(title), Path("show.yaml")) == ()
