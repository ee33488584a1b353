"""The sheet of a song: every field, the road map as text and as rows, faults at their letter, pictures, problems."""

import re
from pathlib import Path

import pytest
from pages.visiting import Answer, Site

from companion.show import read_show
from companion.show.model import Section

MILL = """\
show: Night at the Mill
songs:
  - title: Tram Home
    key: D
    tempo: 96
    road_map: Intro 4*, Verse 16, Chorus 8 @strings, Outro 8 open   # as on the record
  - title: Herring Waltz
    meter: 3/4
    sound: trombone of glass
    road_map: |
      Intro 4 | 1 | 4 | 5 | 1
      Verse 8
  - Lamplighter
"""


@pytest.fixture
def site(tmp_path: Path) -> Site:
    return Site(tmp_path, MILL)


def mark(site: Site, title: str) -> str:
    assert site.workplace.desk is not None
    return next(one.mark for one in site.workplace.desk.look().songs if one.song.title == title)


def sections(site: Site, title: str) -> list[Section]:
    (one,) = read_show(site.path).show.sets
    return [section for song in one.songs if song.title == title for section in song.road_map]


def type_row(site: Site, section: int, field: str, value: str, was: str, title: str = "Tram Home") -> Answer:
    song = {"title": title, "occurrence": 1, "section": section}
    return site.ask("POST", "/edit", {**song, "field": field, "value": value, "was": was, "open": mark(site, title)})


def attempt(site: Site, field: str, value: str, section: int | None = None, title: str = "Tram Home") -> str:
    wanted = {"title": title, "occurrence": 1, "field": field, "value": value, "was": "", "section": section}
    answer = site.ask("POST", "/try", wanted)
    assert answer.status_code == 200
    return answer.text


def test_a_sheet_has_every_field_of_its_song_and_both_pictures(site: Site) -> None:
    page = site.ask("GET", f"/view?song={mark(site, 'Tram Home')}").text
    keys = set(re.findall(r'data-field="(\w+)"', page))
    assert {"title", "key", "record_key", "fingered_in", "tempo", "meter", "length", "starts_with", "count_off"} <= keys
    assert {"ending", "segue", "notes", "sound", "road_map", "section", "bars", "passes", "open", "chords"} <= keys
    assert 'class="stage"' in page
    assert 'class="leaf"' in page
    assert "4 sections, 36 bars, 1:30 at 96" in page  # 36 bars of 4 beats at 96 a minute: 90 s


def test_each_missing_value_leads_to_its_field(site: Site) -> None:
    one = mark(site, "Lamplighter")
    page = site.ask("GET", f"/view?song={one}").text
    for word, field in [("key", "key"), ("road map", "road_map"), ("tempo", "tempo")]:
        assert f'href="#{one}/{field}">{word}?' in page
        assert f'id="{field}-{one}"' in page


@pytest.mark.parametrize(
    ("section", "field", "value", "was", "then"),
    [
        (0, "section", "Opening", "Intro", Section("Opening", bars=4, feature="feature")),
        (0, "bars", "8", "4", Section("Intro", bars=8, feature="feature")),
        (0, "bars", "", "4", Section("Intro", feature="feature")),
        (1, "passes", "2", "", Section("Verse", bars=16, passes=2)),
        (1, "feature", "organ alone", "", Section("Verse", bars=16, feature="organ alone")),
        (1, "open", "yes", "", Section("Verse", bars=16, open=True)),
        (3, "open", "", "yes", Section("Outro", bars=8)),
        (1, "tacet", "yes", "", Section("Verse", bars=16, tacet=True)),
        (1, "watch", "singer", "", Section("Verse", bars=16, watch="singer")),
        (1, "cue", "lights down", "", Section("Verse", bars=16, cue="lights down")),
        (1, "first_words", "dear sir I", "", Section("Verse", bars=16, first_words="dear sir I")),
        (1, "hits", "4, 4&", "", Section("Verse", bars=16, hits="4, 4&")),
        (0, "chords", "1 | 4 | 5 | 1", "", Section("Intro", bars=4, feature="feature", chords="1 | 4 | 5 | 1")),
    ],
)
def test_each_field_of_a_row_is_written_and_undone(
    site: Site, section: int, field: str, value: str, was: str, then: Section
) -> None:
    answer = type_row(site, section, field, value, was)
    assert answer.status_code == 200, answer.text
    assert answer.headers["x-whole"] == "yes"
    assert sections(site, "Tram Home")[section] == then
    assert "# as on the record" in site.text
    site.ask("POST", "/undo", {})
    assert site.text == MILL


@pytest.mark.parametrize(
    ("section", "field", "value", "was", "words"),
    [
        (0, "bars", "many", "4", "a number"),
        (0, "bars", "401", "4", "400"),
        (0, "section", "", "Intro", "has a name"),
        (0, "key", "H", "", "key"),
        (0, "open", "maybe", "", "yes"),
        (9, "bars", "8", "", "no longer in the road map"),
        (-1, "bars", "8", "", "no longer in the road map"),
        (0, "colour", "red", "", "no such field"),
    ],
)
def test_an_invalid_value_in_a_row_is_refused(
    site: Site, section: int, field: str, value: str, was: str, words: str
) -> None:
    answer = type_row(site, section, field, value, was)
    assert answer.status_code == 422
    assert words in answer.text
    assert site.text == MILL


def test_a_row_changed_elsewhere_is_asked_about(site: Site) -> None:
    answer = type_row(site, 0, "bars", "8", "2")
    assert answer.status_code == 409
    assert "changed elsewhere to 4" in answer.text


def test_rows_are_added_moved_and_removed(site: Site) -> None:
    def row(does: str, at: int) -> list[str]:
        answer = site.ask("POST", "/row", {"song": mark(site, "Tram Home"), "does": does, "at": at})
        assert answer.status_code == 200, answer.text
        return [one.name for one in sections(site, "Tram Home")]

    assert row("add-row", 2) == ["Intro", "Verse", "Chorus", "Chorus", "Outro"]
    assert row("row-up", 4) == ["Intro", "Verse", "Chorus", "Outro", "Chorus"]
    assert row("row-up", 1) == ["Verse", "Intro", "Chorus", "Outro", "Chorus"]
    assert row("row-down", 0) == ["Intro", "Verse", "Chorus", "Outro", "Chorus"]
    assert row("row-out", 0) == ["Verse", "Chorus", "Outro", "Chorus"]
    wanted = {"song": mark(site, "Tram Home"), "does": "row-down", "at": 3}
    assert site.ask("POST", "/row", wanted).status_code == 422
    for _ in range(5):
        site.ask("POST", "/undo", {})
    assert site.text == MILL


def test_a_song_without_a_road_map_gets_its_first_row(site: Site) -> None:
    assert site.ask("POST", "/row", {"song": mark(site, "Lamplighter"), "does": "add-row", "at": -1}).status_code == 200
    assert sections(site, "Lamplighter") == [Section("Verse", bars=8)]


def test_the_road_map_is_written_as_it_is_typed_in_the_margin(site: Site) -> None:
    was = "Intro 4*, Verse 16, Chorus 8 @strings, Outro 8 open"
    assert site.type("Tram Home", "road_map", "Intro 4, Verse 16 x2", was).status_code == 200
    assert re.search("    road_map: Intro 4, Verse 16 x2 +# as on the record\n", site.text)
    assert site.type("Lamplighter", "road_map", "Intro 4\nVerse 8 | 1 | 4 | 5 | 1 | 1 | 4 | 5 | 1").status_code == 200
    assert "    road_map: |-\n      Intro 4\n      Verse 8 | 1 | 4 | 5 | 1 | 1 | 4 | 5 | 1\n" in site.text

    was = "Intro 4 | 1 | 4 | 5 | 1\nVerse 8"
    assert site.type("Herring Waltz", "road_map", f"{was} x2", was).status_code == 200
    assert "    road_map: |\n      Intro 4 | 1 | 4 | 5 | 1\n      Verse 8 x2\n" in site.text


@pytest.mark.parametrize(
    ("typed", "letter", "words"),
    [
        ("Intro 4, Verse 8 blah", "b", "is not understood"),
        ("Intro 4\nTag 4 | 1 | H | 5", "H", "a letter in a line of numbers"),
        ("Intro 4 | C | Q", "Q", "is not a chord"),
        ("Verse 8 | 1 | 2", "1", "are played 4 times, to fill its 8"),
        ("Verse 8 | 1 | 2 | 3", "1", "5 fewer than its 8"),
    ],
)
def test_a_fault_is_shown_at_its_letter_while_it_is_typed_and_nothing_is_written(
    site: Site, typed: str, letter: str, words: str
) -> None:
    said = attempt(site, "road_map", typed)
    assert f"<mark>{letter}</mark>" in said
    assert "</code>: " in said, "the words are parted from the line that they are about"
    assert words in said
    assert site.text == MILL


def test_a_faulty_road_map_keeps_the_last_readable_picture(site: Site) -> None:
    assert 'id="pictures"' in attempt(site, "road_map", "Intro 4, Verse 8")
    assert 'id="pictures"' not in attempt(site, "road_map", "Intro 4 | C | Q")
    answer = site.type("Lamplighter", "road_map", "Intro 4 | C | Q")
    assert answer.status_code == 422
    assert "<mark>Q</mark>" in answer.text
    assert site.text == MILL


def test_unreadable_chords_are_not_written(site: Site) -> None:
    answer = type_row(site, 0, "chords", "1 | H", "")
    assert answer.status_code == 422
    assert "<mark>H</mark>" in answer.text
    assert site.text == MILL
    assert type_row(site, 0, "chords", "1 | 4", "").status_code == 200  # too few bars: that can be read


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("1 | 4 | 5 | 1", "4 bars"),
        ("1 | 4 | 5", "3 bars of chords; the section has 4"),
        ("1 | 4", "2 bars of chords, 2 times in the section&#x27;s 4"),
        ("1", "1 bar of chords, 4 times in the section&#x27;s 4"),
        ("1 | H", "<mark>H</mark>"),
        ("", ""),
    ],
)
def test_bars_are_counted_while_chords_are_typed(site: Site, typed: str, words: str) -> None:
    assert words in attempt(site, "chords", typed, section=0)
    assert site.text == MILL


def test_the_picture_shows_the_requested_moment(site: Site) -> None:
    one = mark(site, "Tram Home")

    def label(query: str) -> str:
        page = site.ask("GET", f"/picture?song={one}&{query}").text
        found = re.search(r'class="stage" role="img" aria-label="([^"]*)"', page)
        assert found is not None, page[:400]
        return found[1]

    assert label("").startswith("Tram Home")
    assert label("section=1").startswith("Verse")
    assert "round 2" in label("section=3&rounds=1").lower() or "2" in label("section=3&rounds=1")
    assert label("section=99") == label("section=x") == label("")
    assert site.ask("GET", "/picture?song=s0").status_code == 422


def test_a_missing_sound_closes_the_stage_door_and_links_to_its_field(site: Site) -> None:
    page = site.ask("GET", "/view").text
    one = mark(site, "Herring Waltz")
    assert "These would stop the show" in page
    assert f'<a href="#{one}/sound">Herring Waltz</a>' in page
    assert re.search(r'<button type="button" data-stage="tonight" disabled>', page)
    answer = site.ask("POST", "/stage", {"how": "tonight"})
    assert answer.status_code == 422
    assert "trombone of glass" in answer.text
    site.type("Herring Waltz", "sound", "", was="trombone of glass")
    page = site.ask("GET", "/view").text
    assert "These would stop the show" not in page or "trombone" not in page


def test_a_song_can_be_renamed(site: Site) -> None:
    song = {"title": "Tram Home", "occurrence": 1, "open": mark(site, "Tram Home")}
    answer = site.ask("POST", "/edit", {**song, "field": "title", "value": "Tram There", "was": "Tram Home"})
    assert answer.status_code == 200
    assert answer.headers["x-song"] == mark(site, "Tram There")
    assert "- title: Tram There\n" in site.text


@pytest.mark.long
def test_a_road_map_of_four_hundred_sections_is_shown_and_edited(tmp_path: Path) -> None:
    rows = "".join(f"      - Verse {number} 4 | 1 | 4 | 5 | 1\n" for number in range(400))
    site = Site(tmp_path, f"show: Mill\nsongs:\n  - title: Tram Home\n    road_map:\n{rows}")
    page = site.ask("GET", f"/view?song={mark(site, 'Tram Home')}")
    assert page.text.count("data-row=") == 400
    assert type_row(site, 399, "bars", "8", "4").status_code == 200
    assert "      - Verse 399 8 | 1 | 4 | 5 | 1\n" in site.text
    answer = site.ask("POST", "/row", {"song": mark(site, "Tram Home"), "does": "add-row", "at": 399})
    assert answer.status_code == 422
    assert "at most 400" in answer.text


def test_a_song_played_twice_links_to_its_other_sheet(tmp_path: Path) -> None:
    site = Site(tmp_path)  # its Herring Waltz is in both sets
    assert site.workplace.desk is not None
    _, first, _, second = site.workplace.desk.look().songs
    assert f'Also played in <a href="#{second.mark}">Second</a>' in site.ask("GET", f"/view?song={first.mark}").text
    assert f'Also played in <a href="#{first.mark}">First</a>' in site.ask("GET", f"/view?song={second.mark}").text
    assert "Also played in" not in site.ask("GET", f"/view?song={mark(site, 'Tram Home')}").text
