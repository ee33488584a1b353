"""A comma in a road map's text begins a section unless brackets hold it: said where it looks like a slip."""

import pytest
from show.scenes import warnings, with_song


@pytest.mark.parametrize(
    ("road_map", "place", "name", "write"),
    [
        ("Intro 4 *riff, then strings, Verse 16", "4:30", "then strings", "*(riff, then strings)"),
        ("Intro 4 *riff, strings @pad, Verse 16", "4:30", "strings", "*(riff, strings)"),
        ("intro 4 *riff, then strings, verse 16", "4:30", "then strings", "*(riff, then strings)"),
        ("Outro open watch Ann, then Bo", "4:37", "then Bo", "watch (Ann, then Bo)"),
        ("Verse 8 words dear sir, you", "4:39", "you", "words (dear sir, you)"),
    ],
)
def test_a_comma_that_looks_like_part_of_a_text_is_reported(road_map: str, place: str, name: str, write: str) -> None:
    told = (
        f'{place}: "{name}" is read as a section of its own. Write: {write}, if it belongs to the text before the comma'
    )
    assert warnings(with_song(f"road_map: {road_map}")) == [told]


def test_each_further_comma_of_a_text_is_reported_with_the_whole_text() -> None:
    *_, last = warnings(with_song("road_map: Intro 4 *riff, then strings, then brass"))
    assert "Write: *(riff, then strings, then brass)," in last


@pytest.mark.parametrize(
    "road_map",
    [
        "Intro 4 *riff, Verse, Chorus 8",
        "Intro 4 *(riff, then strings), Verse 16",
        "intro *riff, verse, guitar solo, outro",
        "Intro 4 *riff, verse 16, chorus 8",
        "Intro 4*, ad lib, Verse 16",
        "Intro 4 *riff (slow), ad lib",
        "Intro 4 *riff @pad, ad lib",
    ],
)
def test_a_section_after_a_text_is_a_section(road_map: str) -> None:
    assert warnings(with_song(f"road_map: {road_map}")) == []
