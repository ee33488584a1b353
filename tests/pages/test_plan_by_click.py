"""The player's time until the show, changed on the page: the fields, what they refuse, and a player at a browser."""

import datetime as dt
from pathlib import Path

import pytest
from pages.browsing import Tab
from pages.visiting import SHOW, Answer, Site
from playwright.sync_api import expect

from companion.cli import main

DAY = dt.datetime.now().astimezone().date() + dt.timedelta(days=6)
BEFORE = DAY - dt.timedelta(days=3)
NAMED = f"{BEFORE.day} {BEFORE:%B}"
DATED = SHOW.replace("sets:", f"date: {DAY}\nsets:", 1)


@pytest.fixture
def site(tmp_path: Path) -> Site:
    return Site(tmp_path, DATED)


@pytest.fixture
def tab(same_tab: Tab) -> Tab:
    return same_tab


def type_time(site: Site, field: str, value: str, was: str = "") -> Answer:
    return site.ask("POST", "/edit", {"about": "time", "field": field, "value": value, "was": was})


@pytest.mark.parametrize(
    ("field", "value", "was", "option"),
    [
        ("minutes", "45,sat=120", "60", ["--minutes", "45,sat=120"]),
        ("days_off", "sun 2099-06-12", "", ["--off", "sun", "--off", "2099-06-12"]),
        ("rehearsals", "2099-06-12", "", ["--rehearsal", "2099-06-12"]),
        ("rehearsals", NAMED, "", ["--rehearsal", f"{BEFORE:%a}, {BEFORE:%b} {BEFORE.day}"]),
        ("days_off", f"sun, {NAMED}", "", ["--off", "sun", "--off", f"{BEFORE.day}.{BEFORE.month}."]),
        ("listening", "20", "45", ["--listening", "20"]),
    ],
)
def test_a_field_writes_what_the_command_writes_and_undo_takes_it_back(
    site: Site, tmp_path: Path, field: str, value: str, was: str, option: list[str]
) -> None:
    other = tmp_path / "other.yaml"
    other.write_text(DATED, encoding="utf-8")
    assert main(["plan", str(other), *option, "--yes"]) == 0
    answer = type_time(site, field, value, was)
    assert answer.status_code == 200, answer.text
    assert site.text == other.read_text(encoding="utf-8") != DATED
    site.ask("POST", "/undo", {})
    assert site.text == DATED


@pytest.mark.parametrize(
    ("field", "value", "was", "words"),
    [
        ("minutes", "an hour", "60", "Write: 60, or 45, sat=120, sun=0"),
        ("minutes", "", "60", "this cannot be empty. Write: 60"),
        ("days_off", "sundy", "", f"is not a date or a weekday. Write: sun, {NAMED}"),
        ("rehearsals", "sun", "", f"is not a date. Write: {NAMED}"),
        ("listening", "some", "45", "this is not a number of minutes. Write: 45"),
        ("listening", "1000", "45", "1000 minutes of listening do not fit in a day. Write: 45"),
        ("songs", "3", "", "there is no such field"),
    ],
)
def test_what_is_refused_says_what_to_write_and_changes_nothing(
    site: Site, field: str, value: str, was: str, words: str
) -> None:
    answer = type_time(site, field, value, was)
    assert answer.status_code == 422
    assert words in answer.text
    assert f'id="{field}-time-slip"' in answer.text
    assert site.text == DATED


def test_a_day_off_is_taken_out_again_and_a_change_elsewhere_is_shown(site: Site) -> None:
    type_time(site, "days_off", "sun")
    assert type_time(site, "days_off", "mon", "").status_code == 409
    assert type_time(site, "days_off", "", "sun").status_code == 200
    assert "days_off" not in site.text


@pytest.mark.xdist_group("browser")
def test_the_player_changes_the_minutes_and_reads_the_new_plan_beside_them(tab: Tab, show: Path) -> None:
    show.write_text(DATED, encoding="utf-8")
    page = tab.page
    page.locator("#plan summary").first.click()
    expect(page.locator("#days")).to_contain_text("60 minutes a day at the keyboard, 45 of listening")
    minutes = page.get_by_label("Minutes a day at the keyboard")
    minutes.fill("an hour")
    minutes.press("Enter")
    expect(page.locator("#minutes-time-slip")).to_contain_text("Write: 60, or 45, sat=120, sun=0")
    minutes.fill("25,sat=0")
    minutes.press("Tab")
    tab.wait_for_kept()
    expect(page.locator("#minutes-time-slip")).to_have_text("")
    expect(page.locator("#days")).to_contain_text("25 minutes a day at the keyboard")
    assert "minutes: 25, sat=0" in show.read_text(encoding="utf-8")
    assert tab.focused == "days_off-time"
    page.keyboard.type("sunday")
    page.keyboard.press("Tab")
    tab.wait_for_kept()
    expect(page.locator("#days")).to_contain_text("off: Sunday")
    expect(page.get_by_label("Days off")).to_have_value("sun")
    page.get_by_role("button", name="Undo: the plan: days off sunday").click()
    expect(page.get_by_label("Days off")).to_have_value("")
    page.get_by_role("button", name="Undo: the plan: minutes").click()
    tab.wait_for_kept()
    expect(page.locator("#days")).to_be_hidden()
    assert show.read_text(encoding="utf-8") == DATED
    page.locator("#plan summary").first.click()
    expect(minutes).to_have_value("60")
    expect(page.locator("#days")).to_contain_text("60 minutes a day at the keyboard")


@pytest.mark.xdist_group("browser")
def test_a_refused_text_keeps_its_reason_while_another_field_is_kept(tab: Tab, show: Path) -> None:
    show.write_text(DATED, encoding="utf-8")
    page = tab.page
    page.locator("#plan summary").first.click()
    page.get_by_label("Minutes a day at the keyboard").fill("an hour")
    page.keyboard.press("Tab")
    expect(page.locator("#minutes-time-slip")).to_contain_text("Write: 60")
    page.keyboard.type("sun")
    page.keyboard.press("Tab")
    tab.wait_for_kept()
    expect(page.locator("#days")).to_contain_text("off: Sunday")
    expect(page.get_by_label("Minutes a day at the keyboard")).to_have_value("an hour")
    expect(page.locator("#minutes-time-slip")).to_contain_text("Write: 60")
    page.get_by_label("Minutes a day at the keyboard").fill("30")
    page.keyboard.press("Tab")
    tab.wait_for_kept()
    expect(page.locator("#minutes-time-slip")).to_have_text("")
    assert "minutes: 30\n" in show.read_text(encoding="utf-8")
