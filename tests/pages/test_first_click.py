"""A click while a field still holds what was typed reaches its button, and an unanswered question comes back."""

import json
from pathlib import Path

import pytest
from examples import seldom
from pages.browsing import Tab
from pages.test_song_in_book import BOOK
from pages.visiting import SHOW
from playwright.sync_api import Route, expect

HELD_MS = 400  # the button is held down while the answer about the field comes


@pytest.mark.parametrize("name", ["Start it for tonight", seldom("Rehearsal, in a window")])
def test_the_first_click_after_typing_in_the_engagement_acts(same_tab: Tab, show: Path, name: str) -> None:
    page = same_tab.page
    asked: list[str] = []

    def started(route: Route) -> None:
        asked.append(json.loads(route.request.post_data or "{}")["how"])
        route.fulfill(status=422, content_type="text/plain", body="not now")

    page.route("**/stage", started)
    page.locator("#engagement summary").click()
    page.locator("#engagement [data-field=venue]").fill("The Kiln")
    page.get_by_role("button", name=name).click(delay=HELD_MS)
    expect(page.locator("#engagement")).not_to_have_attribute("open", "")
    expect(page.locator("#notice")).to_have_text("not now")
    assert asked == ["tonight" if "tonight" in name else "rehearsal"]
    assert "The Kiln" in show.read_text(encoding="utf-8")
    page.unroute("**/stage")


@pytest.mark.long
def test_a_question_left_without_an_answer_is_there_again_on_return(same_tab: Tab, show: Path) -> None:
    page = same_tab.page
    show.with_name("songbook.yaml").write_text(BOOK, encoding="utf-8")
    title = "title: Tram Home"
    assert title in SHOW
    show.write_text(SHOW.replace(title, "use: songbook.yaml#kiln-hill"), encoding="utf-8")
    page.get_by_role("link", name="Kiln Hill").click()
    count_off = page.locator("#stack [data-field=count_off]")
    count_off.fill("4 sticks")
    page.get_by_role("link", name="Back to the stack").click()
    expect(page.locator(".song")).to_have_count(4)
    page.get_by_role("link", name="Kiln Hill").click()
    expect(count_off).to_have_value("4 sticks")
    expect(page.locator(".slip", has_text="Only tonight, or in the songbook?")).to_be_visible()
    page.get_by_role("button", name="Only tonight").click()
    same_tab.wait_for_kept()
    expect(page.get_by_text("Not kept yet")).to_have_count(0)
    assert "4 sticks" in show.read_text(encoding="utf-8")
    assert "4 sticks" not in show.with_name("songbook.yaml").read_text(encoding="utf-8")
