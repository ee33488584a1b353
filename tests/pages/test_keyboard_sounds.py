"""With two keyboards, a sheet has a field for each one's sound; the file stays as a player writes it."""

import re
from pathlib import Path

import pytest
from pages.visiting import Site

RIG = """\
rig: two tiers
keyboards:
  upper:
    port: Upper
    sounds:
      lead: {program: 1}
      strings: {program: 2}
  lower:
    port: Lower
    sounds:
      grand: {program: 1}
      strings: {program: 3}
"""
MILL = """\
show: Night at the Mill
songs:
  - title: Tram Home
    sound: lead
    road_map: Intro 4 @grand, Verse 8 @upper=lead @lower=strings
"""


@pytest.fixture
def site(tmp_path: Path) -> Site:
    for folder in ("config", "shows"):
        (tmp_path / folder).mkdir()
    rig_of(tmp_path / "shows").write_text(RIG, encoding="utf-8")
    return Site(tmp_path / "shows", MILL)


def rig_of(shows: Path) -> Path:
    return shows.parent / "config" / "rig.yaml"


def sheet(site: Site) -> str:
    assert site.workplace.desk is not None
    return site.ask("GET", f"/view?song={site.workplace.desk.look().songs[0].mark}").text


def type_on(site: Site, board: int, value: str, was: str, section: int | None = None) -> int:
    song = {"title": "Tram Home", "occurrence": 1, "section": section}
    return site.ask("POST", "/edit", {**song, "field": f"sound-on-{board}", "value": value, "was": was}).status_code


def test_each_keyboards_field_offers_its_own_sounds(site: Site) -> None:
    page = sheet(site)
    assert "Sound: upper" in page
    upper, lower = (re.search(rf'<datalist id="sound-on-{n}s">(.*?)</datalist>', page) for n in (0, 1))
    assert upper
    assert lower
    assert re.findall(r'value="(\w+)"', upper[1]) == ["lead", "strings"]
    assert re.findall(r'value="(\w+)"', lower[1]) == ["grand", "strings"]
    assert len(re.findall(r'data-field="sound-on-\d"', page)) == 6


@pytest.mark.parametrize(
    ("board", "section", "value", "was", "line"),
    [
        (0, None, "strings", "lead", "    sound: strings\n"),  # the first keyboard that has it
        (1, None, "grand", "", "    sound: {upper: lead, lower: grand}\n"),
        (0, None, "", "lead", ""),
        (1, 0, "strings", "grand", "Intro 4 @lower=strings, Verse"),  # a bare name would mean the upper one
        (0, 0, "lead", "", "Intro 4 @upper=lead @lower=grand, Verse"),
        (1, 1, "", "strings", "Verse 8 @lead\n"),
    ],
)
def test_a_keyboards_sound_is_written_as_a_player_would(
    site: Site, board: int, section: int | None, value: str, was: str, line: str
) -> None:
    assert type_on(site, board, value, was, section) == 200
    assert line in site.text
    if not line:
        assert "    sound:" not in site.text
    site.ask("POST", "/undo", {})
    assert site.text == MILL


@pytest.mark.parametrize(
    ("board", "value", "was", "status"),
    [(0, "strings", "grand", 409), (0, "a@b", "lead", 422), (0, "a=b", "lead", 422), (2, "lead", "", 422)],
)
def test_an_invalid_keyboard_sound_is_refused(site: Site, board: int, value: str, was: str, status: int) -> None:
    assert type_on(site, board, value, was) == status
    assert site.text == MILL


def test_the_picture_shows_a_keyboards_sound_while_it_is_typed(site: Site) -> None:
    wanted = {"title": "Tram Home", "occurrence": 1, "field": "sound-on-0", "value": "strings", "was": ""}
    assert "strings" in site.ask("POST", "/try", wanted).text
    assert site.text == MILL


def test_with_one_keyboard_there_is_one_field(site: Site) -> None:
    rig_of(site.path.parent).write_text(RIG.partition("  lower:")[0], encoding="utf-8")
    page = sheet(site)
    assert "sound-on-" not in page
    assert 'data-field="sound"' in page
