"""Everything that a show file can say of a song or a section is a field of its sheet, and files beside are offered."""

import re
from pathlib import Path
from typing import Any

import pytest
from pages.visiting import Answer, Site

from companion.pages.section_fields import SECTION_FIELDS
from companion.pages.song_fields import FIELDS
from companion.show import read_show
from companion.show.show_file import show_schema

MILL = """\
show: Night at the Mill
songs:
  - title: Tram Home
    key: D   # ask Osbert
    road_map: Intro 4*, Verse 16 | 1 | 4
  - title: Herring Waltz
    chart: charts/waltz.pdf
    recording: lost.mp3
"""
NOT_ON_A_SHEET = {"use"}  # where a songbook's song comes from: the sheet's head says so


@pytest.fixture
def site(tmp_path: Path) -> Site:
    for name in ("tape/07 - tram_home.mp3", "tape/Lamplighter.ogg", "charts/waltz.pdf", ".hidden/tram home.mp3"):
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_bytes(b"x")
    (tmp_path / "link.mp3").symlink_to("/etc/hostname")
    return Site(tmp_path, MILL)


def sheet(site: Site, title: str = "Tram Home") -> str:
    assert site.workplace.desk is not None
    mark = next(one.mark for one in site.workplace.desk.look().songs if one.song.title == title)
    return site.ask("GET", f"/view?song={mark}").text


def keys_of(part: str) -> set[str]:
    """The keys of a part in the published schema, by which editors complete a show file."""
    parts: dict[str, Any] = show_schema()["$defs"]
    return set(parts[part]["properties"])


def test_a_sheet_has_a_field_for_every_key_of_a_song_and_of_a_section(site: Site) -> None:
    page = sheet(site)
    row = page[page.index('data-row="1"') : page.index("</li>", page.index('data-row="1"'))]
    of_section = set(re.findall(r'data-field="(\w+)"', row + page[page.index("<template") :]))
    of_song = set(re.findall(r'data-field="(\w+)"', page[: page.index('data-row="0"')]))
    assert of_song >= keys_of("Song") - NOT_ON_A_SHEET
    assert of_section == keys_of("Section")
    assert set(FIELDS) | {"road_map"} == keys_of("Song") - NOT_ON_A_SHEET
    assert set(SECTION_FIELDS) == keys_of("Section")


def type_field(site: Site, field: str, value: str, was: str = "", section: int | None = None) -> Answer:
    song = {"title": "Tram Home", "occurrence": 1, "section": section}
    return site.ask("POST", "/edit", {**song, "field": field, "value": value, "was": was})


@pytest.mark.parametrize(
    ("field", "typed", "line"),
    [
        ("chords_in", "eb", "    chords_in: Eb"),
        ("change", "when hands lift", "    change: when hands lift"),
        ("tacet", "yes", "    tacet: yes"),
        ("chart", "yes", "    chart: yes"),
        ("chart", "No", "    chart: no"),
        ("chart", "charts/tram.pdf", "    chart: charts/tram.pdf"),
        ("recording", "tape/07 - tram_home.mp3", "    recording: tape/07 - tram_home.mp3"),
    ],
)
def test_a_field_writes_its_line_and_undo_takes_it_back(site: Site, field: str, typed: str, line: str) -> None:
    assert type_field(site, field, typed).status_code == 200
    assert [one for one in site.text.splitlines() if one not in MILL.splitlines()] == [line]
    read_show(site.path)
    site.ask("POST", "/undo", {})
    assert site.text == MILL


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("chords_in", "H", "key"),
        ("change", "later", "one of these"),
        ("tacet", "no", "yes, or nothing"),
        ("chart", "a\nb", "one line"),
        ("recording", "a" * 401, "400"),
    ],
)
def test_an_invalid_value_is_refused(site: Site, field: str, typed: str, words: str) -> None:
    answer = type_field(site, field, typed)
    assert answer.status_code == 422
    assert words in answer.text
    assert site.text == MILL


@pytest.mark.parametrize(("field", "typed"), [("change", "at once"), ("ending", "yes")])
def test_the_rest_of_a_section_is_written_too(site: Site, field: str, typed: str) -> None:
    assert type_field(site, field, typed, section=1).status_code == 200
    section = read_show(site.path).show.sets[0].songs[0].road_map[1]
    assert getattr(section, field) not in (None, False)
    assert type_field(site, field, "", was=typed, section=1).status_code == 200
    assert getattr(read_show(site.path).show.sets[0].songs[0].road_map[1], field) in (None, False)


def test_files_beside_the_show_are_offered_and_links_and_hidden_ones_are_not(site: Site) -> None:
    page = sheet(site)
    offered = re.search(r'<datalist id="recordings">(.*?)</datalist>', page)
    charts = re.search(r'<datalist id="charts">(.*?)</datalist>', page)
    assert offered
    assert charts
    assert re.findall('value="([^"]+)"', offered[1]) == ["tape/07 - tram_home.mp3", "tape/Lamplighter.ogg"]
    assert re.findall('value="([^"]+)"', charts[1]) == ["yes", "no", "charts/waltz.pdf"]


@pytest.mark.parametrize(
    ("named", "words"),
    [
        ("tram home.mp3", "by its name"),
        ("tram home (live at the mill).mp3", "perhaps another version?"),
        ("tran home.mp3", "a similar title?"),
        ("lamplighter.mp3", None),
    ],
)
def test_a_recording_that_may_be_of_the_song_is_offered_with_how_sure_it_is(
    tmp_path: Path, named: str, words: str | None
) -> None:
    site = Site(tmp_path, MILL)
    (tmp_path / named).write_bytes(b"x")
    page = sheet(site)
    if words is None:
        assert "Beside the show" not in page
    else:
        assert f"Beside the show: {named}, {words} <" in page
        assert f'data-put="{named}"' in page


def test_two_recordings_of_one_song_are_a_doubt(tmp_path: Path) -> None:
    site = Site(tmp_path, MILL)
    for named in ("tram home.mp3", "tram home.ogg"):
        (tmp_path / named).write_bytes(b"x")
    assert "one of several?" in sheet(site)


def test_a_file_that_is_not_there_is_said_to_be_missing(site: Site) -> None:
    under = dict(re.findall(r'data-field="(chart|recording)".*?</label>(.*?)</div>', sheet(site, "Herring Waltz")))
    assert "There is no such file beside the show." in under["recording"]
    assert "There is no such file beside the show." not in under["chart"]
