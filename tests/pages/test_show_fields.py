"""The engagement's own fields and those of its sets, in the file as a person would write them."""

from pathlib import Path

import pytest
from pages.visiting import SHOW, Answer, Site


@pytest.fixture
def site(tmp_path: Path) -> Site:
    return Site(tmp_path)


def type_about(site: Site, about: str, field: str, value: str, was: str = "") -> Answer:
    return site.ask("POST", "/edit", {"about": about, "field": field, "value": value, "was": was})


def set_mark(site: Site, number: int) -> str:
    assert site.workplace.desk is not None
    return site.workplace.desk.look().sets[number].mark


@pytest.mark.parametrize(
    ("field", "value", "was", "line"),
    [
        ("show", "Night at the Kiln", "Night at the Mill", "show: Night at the Kiln\n"),
        ("band", "The Tidewater Ten", "The Tidewater Nine", "band: The Tidewater Ten\n"),
        ("date", "2027-06-19", "", "date: 2027-06-19\n"),
        ("venue", "Corn Exchange", "", "venue: Corn Exchange\n"),
    ],
)
def test_the_engagement_is_filled_in_and_undone(site: Site, field: str, value: str, was: str, line: str) -> None:
    answer = type_about(site, "show", field, value, was)
    assert answer.status_code == 200, answer.text
    assert line in site.text
    site.ask("POST", "/undo", {})
    assert site.text == SHOW


@pytest.mark.parametrize(
    ("number", "field", "value", "was", "line"),
    [
        (0, "starts", "20:30", "20:00", '    starts: "20:30"\n'),
        (0, "minutes", "45", "10", "    minutes: 45\n"),
        (1, "starts", "25:15", "", '    starts: "25:15"\n'),
        (1, "set", "Late", "Second", "  - set: Late\n"),
        (1, "starts", "10pm", "", '    starts: "22:00"\n'),
        (1, "starts", "8.30 pm", "", '    starts: "20:30"\n'),
    ],
)
def test_a_set_gets_its_name_and_times(site: Site, number: int, field: str, value: str, was: str, line: str) -> None:
    answer = type_about(site, set_mark(site, number), field, value, was)
    assert answer.status_code == 200, answer.text
    assert line in site.text
    site.ask("POST", "/undo", {})
    assert site.text == SHOW


@pytest.mark.parametrize(
    ("about", "field", "value", "was", "words"),
    [
        ("show", "date", "2027-02-30", "", "2027-02-30&quot; is not a date. Write: "),
        ("show", "date", "tomorrow", "", "tomorrow&quot; is not a date. Write: "),
        ("show", "show", "", "Night at the Mill", "cannot be empty"),
        ("show", "minutes", "45", "", "no such field"),
        ("show", "band", "two\nlines", "The Tidewater Nine", "one line"),
        ("t0", "set", "Late", "", "no longer in this show"),
    ],
)
def test_an_invalid_value_is_refused(site: Site, about: str, field: str, value: str, was: str, words: str) -> None:
    answer = type_about(site, about, field, value, was)
    assert answer.status_code == 422
    assert words in answer.text
    assert site.text == SHOW


@pytest.mark.parametrize(
    ("field", "value"), [("starts", "30:99"), ("starts", "soon"), ("minutes", "0"), ("minutes", "x")]
)
def test_an_impossible_time_is_refused(site: Site, field: str, value: str) -> None:
    assert type_about(site, set_mark(site, 1), field, value).status_code == 422
    assert site.text == SHOW


def test_a_field_changed_elsewhere_is_asked_about(site: Site) -> None:
    answer = type_about(site, "show", "band", "The Tidewater Ten", was="The Tidewater Eight")
    assert answer.status_code == 409
    assert "changed elsewhere to The Tidewater Nine" in answer.text


def test_an_empty_show_gains_sets_and_songs(tmp_path: Path) -> None:
    site = Site(tmp_path, text=None)
    site.ask("POST", "/begin", {"title": "Kiln night"})
    assert site.workplace.desk is not None
    site.path = site.workplace.desk.path
    site.ask("POST", "/add-set", {"title": "Second"})
    for number, title in [(0, "Tram Home"), (1, "Herring Waltz"), (1, "Lamplighter")]:
        assert site.ask("POST", "/add", {"into": set_mark(site, number), "title": title}).status_code == 200
    type_about(site, set_mark(site, 0), "starts", "20:00")
    type_about(site, "show", "date", "2027-06-19")
    site.type("Tram Home", "key", "Bb")
    assert site.text == (
        "show: Kiln night\ndate: 2027-06-19\nsets:\n"
        '  - set: First\n    starts: "20:00"\n    songs:\n      - title: Tram Home\n        key: Bb\n'
        "  - set: Second\n    songs:\n      - Herring Waltz\n      - Lamplighter\n"
    )
    assert site.ask("POST", "/add-set", {"title": ""}).status_code == 422


def test_a_show_is_closed_and_opened_again(site: Site) -> None:
    page = site.ask("POST", "/leave", {})
    assert "Continue with" in page.text
    assert site.ask("POST", "/undo", {}).status_code == 422
    assert "Tram Home" in site.ask("POST", "/choose", {"show": "0"}).text
