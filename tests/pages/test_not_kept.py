"""What is typed and not on disk is marked, warned about when the page is left, and there again afterwards."""

from pathlib import Path

import pytest
from pages.browsing import Tab
from playwright.sync_api import expect

WARNS = """() => { const leaves = new Event('beforeunload', {cancelable: true});
  window.dispatchEvent(leaves); return leaves.defaultPrevented }"""
DRAFTS = "Object.keys(localStorage).filter(one => one.startsWith('draft ')).length"
MAP = "Intro 4 | C | F | G | C\nVerse 8 | C | . . . | H\nChorus 8"


def comes_back(tab: Tab) -> None:
    """Close the tab and open another one: what only the tab knew is gone."""
    tab.page.evaluate("sessionStorage.clear()")
    tab.page.reload()
    tab.page.wait_for_selector("#sheet-title")


def test_a_road_map_with_a_wrong_chord_is_marked_and_outlives_the_tab(same_tab: Tab, show: Path) -> None:
    page = same_tab.page
    page.get_by_role("link", name="Tram Home").click()
    line = page.locator("[data-field=road_map]")
    assert not page.evaluate(WARNS)
    line.fill(MAP)
    assert page.evaluate(WARNS), "before the field is left, too"
    page.locator("#stack [data-field=count_off]").focus()
    mark = page.locator(".unkept")
    expect(mark).to_have_text("Not kept yet: change it, or type what was there before.")
    slip = page.locator("[id^=road_map-][id$=-slip]")
    expect(slip).to_contain_text("Line 2: ")
    expect(line).to_have_attribute("aria-invalid", "true")
    assert "Intro" not in show.read_text(encoding="utf-8")
    assert page.evaluate(WARNS)
    comes_back(same_tab)
    expect(line).to_have_value(MAP)
    expect(mark).to_have_count(1)
    assert page.evaluate(WARNS)
    page.get_by_role("button", name="Keep it").click()
    expect(slip).to_contain_text("Line 2: ")
    line.fill(MAP.replace("H", "G").replace(" | . . . ", ""))
    page.locator("#stack [data-field=count_off]").focus()
    expect(mark).to_have_count(0)
    same_tab.wait_for_kept()
    assert "Chorus 8" in show.read_text(encoding="utf-8")
    assert not page.evaluate(WARNS)
    assert page.evaluate(DRAFTS) == 0


@pytest.mark.long
def test_notes_that_were_typed_when_the_tab_closed_are_offered_again(same_tab: Tab, show: Path) -> None:
    page = same_tab.page
    page.get_by_role("link", name="Tram Home").click()
    notes = page.locator("#stack [data-field=notes]")
    for answer, stays in (("Let it go", False), ("Keep it", True)):
        notes.fill("the bass begins\nwatch Jo")
        comes_back(same_tab)
        expect(notes).to_have_value("the bass begins\nwatch Jo")
        assert "watch Jo" not in show.read_text(encoding="utf-8"), "nothing is written without a word of the player"
        page.get_by_role("button", name=answer).click()
        expect(page.locator(".unkept")).to_have_count(0)
        page.locator("#stack [data-field=count_off]").focus()
        same_tab.wait_for_kept()
        assert ("watch Jo" in show.read_text(encoding="utf-8")) is stays
        assert page.evaluate(DRAFTS) == 0
        assert not page.evaluate(WARNS)


@pytest.mark.long
def test_a_pasted_message_is_there_until_it_is_read(same_tab: Tab) -> None:
    page = same_tab.page
    page.locator("#newer summary").first.click()
    paste = page.locator("#paste")
    paste.fill("1 Bb\n3 Gm")
    assert page.evaluate(WARNS)
    page.reload()
    page.wait_for_selector(".song")
    expect(paste).to_have_value("1 Bb\n3 Gm")
    page.locator("#newer summary").first.click()
    page.get_by_role("button", name="It answers my questions").click()
    expect(paste).to_have_value("")
    assert page.evaluate(DRAFTS) == 0
    assert not page.evaluate(WARNS)
