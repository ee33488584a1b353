"""The debrief in a real browser: opened, a lesson taken by one click, and the place kept."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from debrief.test_debrief import NIGHT, SHOW, live
from pages.browsing import Tab, opened
from pages.serving import Serving
from playwright.sync_api import Browser, expect

from companion.night import memory as memory_room

pytestmark = pytest.mark.xdist_group("browser")


@pytest.fixture
def after_the_night(tmp_path: Path, browser: Browser, monkeypatch: pytest.MonkeyPatch) -> Iterator[Tab]:
    """A tab on a show that was played last night."""
    monkeypatch.setattr(memory_room, "data_path", lambda: tmp_path / "data" / "companion")
    show = tmp_path / "boathouse.yaml"
    show.write_text(SHOW, encoding="utf-8")
    live(show, *NIGHT)
    serving = Serving(tmp_path, str(show))
    tab = opened(serving, browser)
    yield tab
    tab.page.context.close()
    serving.end()
    assert tab.wrong == []


def test_a_lesson_is_taken_by_one_click_and_the_debrief_stays_open(after_the_night: Tab, tmp_path: Path) -> None:
    tab, page = after_the_night, after_the_night.page
    page.get_by_text("The debrief", exact=True).click()
    lessons = page.locator("#debrief-read > ul > li:has(button)")
    expect(lessons).to_have_count(6)
    assert tab.faults_of_axe() == []
    page.set_viewport_size({"width": 320, "height": 700})
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    lessons.filter(has_text="Lanterns out takes 1:36").get_by_role("button").click()
    tab.wait_for_notice("Taken; Undo takes it back")
    expect(lessons).to_have_count(5)
    assert 'length: "1:36"' in (tmp_path / "boathouse.yaml").read_text(encoding="utf-8")
    page.get_by_text("Not all of them").click()
    page.locator("#debrief-known li").filter(has_text="Ferryman's").get_by_role("button").click()
    tab.wait_for_notice("Not known yet: Ferryman's | Coat")
    expect(lessons.filter(has_text="known now: Lanterns out")).to_have_count(1)
    assert tab.focused == "debrief-name"
