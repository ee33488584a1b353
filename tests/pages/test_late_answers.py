"""A browser whose scripts or answers come late loses nothing that was typed or changed."""

import time
from pathlib import Path

import pytest
from pages.browsing import Tab
from pages.serving import Serving
from pages.visiting import SHOW
from playwright.sync_api import Browser, Route, expect


@pytest.mark.long
def test_a_tab_whose_scripts_came_late_shows_changes_from_outside_too(
    serving: Serving, browser: Browser, show: Path
) -> None:
    def late(route: Route) -> None:
        time.sleep(0.7)  # the other scripts are there long before
        route.continue_()

    context = browser.new_context()
    context.route("**/hx-sse.min.js", late)
    tab = Tab(context, serving.new_address(show))
    show.write_text(SHOW.replace("Night at the Mill", "Night at the Kiln"), encoding="utf-8")
    expect(tab.page.locator("h1")).to_have_text("Night at the Kiln", timeout=8_000)
    context.close()


@pytest.mark.long
def test_what_is_typed_while_a_new_title_is_on_its_way_is_kept_too(tab: Tab, show: Path) -> None:
    page = tab.page
    page.get_by_role("link", name="Tram Home").click()
    expect(page.locator("#sheet-title")).to_have_text("Tram Home")
    page.evaluate(  # both before any answer can come
        """() => { for (const [key, value] of [['title', 'Ferry Home'], ['tempo', '97']]) {
        const field = document.querySelector(`#stack [data-field=${key}]`); field.value = value;
        for (const event of ['input', 'focusout']) field.dispatchEvent(new Event(event, {bubbles: true})); } }"""
    )
    expect(page.locator("#sheet-title")).to_have_text("Ferry Home")
    expect(page.locator("#stack [data-field=tempo]")).to_have_value("97")
    tab.wait_for_kept()
    expect(page.locator(".slip:not(:empty)")).to_have_count(0)
    assert "title: Ferry Home" in show.read_text(encoding="utf-8")
    assert "tempo: 97" in show.read_text(encoding="utf-8")
    assert not tab.wrong
