"""The first page in a real browser: an empty show, and a message that is pasted, with what is in doubt about it."""

from pathlib import Path

import pytest
from pages.browsing import Tab, opened
from pages.serving import Serving
from playwright.sync_api import Browser, expect

pytestmark = pytest.mark.xdist_group("browser")


def test_a_first_run_begins_a_show_or_takes_a_pasted_message_with_its_doubts(tmp_path: Path, browser: Browser) -> None:
    one = Serving(tmp_path)
    try:
        tab = opened(one, browser)
        assert tab.faults_of_axe() == []
        tab.page.set_viewport_size({"width": 320, "height": 640})
        wide = "[...document.querySelectorAll('.offer *')].filter(one => one.getBoundingClientRect().right > 312)"
        assert (
            tab.page.evaluate(f"{wide}.map(one => one.outerHTML)") == []
        )  # all is within its card, 8 px from the edge
        tab.page.set_viewport_size({"width": 1280, "height": 720})
        tab.page.get_by_label("What is it called?").fill("Kiln night")
        tab.page.keyboard.press("Enter")
        expect(tab.page.locator("h1")).to_have_text("Kiln night")
        tab.page.get_by_text("Engagement: date, band, venue").click()
        tab.page.get_by_label("Band").fill("The Tidewater Nine")
        tab.page.get_by_label("Venue").fill("Corn Exchange")
        tab.page.keyboard.press("Tab")
        tab.wait_for_kept()
        expect(tab.page.locator("#folder > p").first).to_have_text("The Tidewater Nine · Corn Exchange")
        tab.page.get_by_label("Add a song to First").fill("Tram Home")
        tab.page.keyboard.press("Enter")
        expect(tab.page.get_by_role("link", name="Tram Home")).to_be_visible()
        hand_out(tab)
        tab.page.get_by_text("The next gig").click()
        assert tab.faults_of_axe() == []
        tab.page.get_by_label("What is it called?").fill("Herring ball")
        tab.page.keyboard.press("Enter")
        expect(tab.page.locator("h1")).to_have_text("Herring ball")
        expect(tab.page.get_by_role("link", name="Tram Home")).to_be_visible()
        tab.wait_for_notice("Begun: Herring ball, with the same songs")
        expect(tab.page.locator("#after[open]")).to_have_count(0)
        expect(tab.page.locator("#next-gig-title")).to_have_value("")
        tab.page.get_by_role("button", name="Another show").click()
        expect(tab.page.get_by_role("button", name="Kiln night")).to_be_visible()
        paste_a_message(tab)
        text = next(tmp_path.rglob("Companion/salt-night*.yaml")).read_text(encoding="utf-8")
        assert "title: Salt Parade\n" in text
        assert "key: C" in text
        assert "key: Bb" in text
        assert tab.wrong == []
        tab.page.context.close()
    finally:
        one.end()


def hand_out(tab: Tab) -> None:
    """Print a list to a file, and look at the plan."""
    page = tab.page
    page.get_by_text("Print", exact=True).click()
    page.get_by_role("button", name="Charts").click()
    tab.wait_for_notice("no song has a road map yet")
    with page.expect_download() as got:
        page.get_by_role("button", name="Set list", exact=True).click()
    assert got.value.suggested_filename == "kiln-night-setlist.pdf"
    assert Path(got.value.path()).read_bytes().startswith(b"%PDF")
    page.get_by_text("The plan").click()
    expect(page.locator("#days")).to_contain_text("has no date")
    page.get_by_label("Key: Tram Home").fill("D")
    page.keyboard.press("Tab")
    tab.wait_for_kept()
    expect(page.locator("#days")).to_contain_text("has no date")


def paste_a_message(tab: Tab) -> None:
    """Paste a list, and answer what is in doubt about it at its songs: with a word offered, and with one's own."""
    page = tab.page
    page.get_by_role("button", name="Read the message").click()
    tab.wait_for_notice("Paste the message first")
    page.get_by_label("Or paste the message").fill("1. Tram Home - Eb\n2. Salt Parade C\n3. Gravel Hour (G or A)\n")
    page.get_by_role("button", name="Read the message").click()
    expect(page.locator("#list-slip")).to_contain_text("Type what the gig is called")
    page.get_by_label("what is the gig called?").fill("Salt night")
    page.get_by_role("button", name="Read the message").click()
    expect(page.get_by_role("heading", name="2 questions about your list")).to_be_visible()
    salt = page.locator(".song").filter(has_text="Salt Parade")
    salt.get_by_text("Is 'Salt Parade' in C?").first.click()
    assert tab.faults_of_axe() == []
    salt.get_by_role("radio", name="yes").check()
    tab.wait_for_notice("Changed; 1 more in doubt")
    expect(salt.locator(".tab")).to_have_text("C")
    page.get_by_role("link", name="Gravel Hour").click()
    page.get_by_text("Which key is").first.click()
    own = page.get_by_role("textbox", name="or the key")
    own.fill("perhaps")
    own.press("Enter")
    tab.wait_for_notice("this does not answer the question")
    own.fill("Bb")
    own.press("Enter")
    tab.wait_for_notice("nothing is in doubt any more")
    expect(page.locator("#sheet-head .tab")).to_have_text("B♭")
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("summary", has_text="Which key is")).to_be_visible()
    page.get_by_role("button", name="Redo").click()
    expect(page.locator("#sheet-head .tab")).to_have_text("B♭")
    expect(page.locator("summary", has_text="Which key is")).to_have_count(0)
    page.get_by_text("A newer set list").click()
    page.get_by_label("Or paste the message").fill("Tram Home is in F, not Eb\nGravel Hour starts with drums\n")
    page.get_by_role("button", name="It answers my questions").click()
    expect(page.get_by_role("heading", name="The leader's answers")).to_be_focused()
    expect(page.locator("#reply")).to_contain_text("drums")
    assert tab.faults_of_axe() == []
