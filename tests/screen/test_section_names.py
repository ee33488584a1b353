"""What a section is called, which one of its name it is, and what is said of the next one."""

from typing import Any

import pytest
from msgspec.structs import replace
from view.test_view import CHORUS, SOLO, VERSE, playing, shown

from companion.music import read_key
from companion.show import Section
from companion.view import FormPlace, LineRole


def test_a_key_change_is_announced_one_section_ahead() -> None:
    road_map = (VERSE, Section("Chorus", 8, key=read_key("C")), Section("Outro"))
    nexts = [shown(playing(*road_map, steps=steps, key=read_key("Bb")), LineRole.NEXT) for steps in (1, 2)]
    assert nexts == [["next Chorus in C"], ["next Outro"]]
    feature = replace(SOLO, key=read_key("E"))
    assert shown(playing(VERSE, feature, key=read_key("D")), LineRole.NEXT) == ["next Solo in E ★"]
    hands: dict[str, Any] = {"key": read_key("Bb"), "fingered_in": read_key("C")}
    assert shown(playing(*road_map, **hands), LineRole.NEXT) == ["next Chorus in D"], "the key that the hands need"


@pytest.mark.parametrize(
    ("road_map", "names"),
    [
        ((VERSE, CHORUS, VERSE, CHORUS), ["Verse", "Chorus", "Verse", "Chorus"]),
        ((VERSE, replace(VERSE, bars=8)), ["Verse 1", "Verse 2"]),
        ((VERSE, CHORUS, replace(VERSE, first_words="two")), ["Verse 1", "Chorus", "Verse 2"]),
        ((replace(VERSE, chords="1 | 4"), VERSE), ["Verse", "Verse"]),  # written once, and on both times
        ((replace(VERSE, chords="1 | 4"), replace(VERSE, chords="1 | 5")), ["Verse 1", "Verse 2"]),
        ((Section("Verse 1", 8), Section("Verse 2", 16)), ["Verse 1", "Verse 2"]),
    ],
)
def test_sections_with_one_name_are_distinguished_if_they_differ(
    road_map: tuple[Section, ...], names: list[str]
) -> None:
    seen = [playing(*road_map, steps=steps).of(LineRole.SECTION) for steps in range(1, len(road_map) + 1)]
    assert [line.text for line in seen if line] == names
    assert shown(playing(*road_map), LineRole.NEXT) == [f"next {names[1]}"]


def test_the_place_in_the_form_is_shown() -> None:
    assert playing(VERSE, CHORUS, SOLO, steps=2).form == FormPlace(1, 3, (2,))
    assert playing(VERSE).form is None, "a song of one section has no form"
    assert playing(Section("")).form == FormPlace(0, 1), "without a road map its stroke says that it plays"
