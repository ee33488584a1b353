"""Questions about a pasted list, clicked away one after the other in a real browser."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from pages.browsing import Tab, opened
from pages.serving import Serving
from playwright.sync_api import Browser, expect

pytestmark = pytest.mark.xdist_group("browser")

MESSAGE = """1. Tram Home - Eb
2. Gravel Hour - G
3. Old Canal Road - A
4. Lamplighter - F
5. Cork and Candle - Bb
6. Postbox Tango - Em
we're dropping Lamplighter, nobody knows the bridge
and we're dropping Gravel Hour, nobody knows the words
"""


@pytest.fixture
def pasted(tmp_path: Path, browser: Browser) -> Iterator[Tab]:
    one = Serving(tmp_path)
    tab = opened(one, browser)
    tab.page.get_by_label("Or paste the message").fill(MESSAGE)
    tab.page.get_by_label("what is the gig called?").fill("Kiln night")
    tab.page.get_by_role("button", name="Read the message").click()
    expect(tab.page.get_by_role("heading", name="2 questions about your list")).to_be_visible()
    yield tab
    assert tab.wrong == []
    tab.page.context.close()
    one.end()


def test_the_next_question_has_no_answer_chosen_and_each_click_is_sent(pasted: Tab) -> None:
    page = pasted.page
    page.get_by_text("Is 'Gravel Hour' played?").first.click()
    page.get_by_role("radio", name="yes").check()
    pasted.wait_for_notice("Changed; 1 more in doubt")
    expect(page.locator("#doubts input[type=radio]:checked")).to_have_count(0)
    expect(page.get_by_role("radio", name="yes")).to_be_visible()  # the next question is open
    page.get_by_role("radio", name="yes").check()
    pasted.wait_for_notice("Changed; nothing is in doubt any more")
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("#doubts summary", has_text="Is 'Lamplighter' played?")).to_be_visible()
    page.locator("summary", has_text="Is 'Lamplighter' played?").click()
    expect(page.locator("#doubts input[type=radio]:checked")).to_have_count(0)
    page.get_by_role("radio", name="yes").check()
    pasted.wait_for_notice("Changed; nothing is in doubt any more")


@pytest.mark.long
def test_without_a_pointer_each_answer_leads_to_the_next_question(pasted: Tab) -> None:
    page = pasted.page
    page.get_by_text("Is 'Gravel Hour' played?").first.click()
    page.get_by_role("radio", name="yes").focus()
    page.keyboard.press("Space")
    pasted.wait_for_notice("Changed; 1 more in doubt")
    expect(page.locator("summary:focus")).to_have_text("Is 'Lamplighter' played?")
    page.keyboard.press("Tab")
    page.keyboard.press("Space")
    pasted.wait_for_notice("Left as read; nothing is in doubt any more")


@pytest.mark.long
def test_no_to_the_sets_asks_in_its_own_field_where_the_next_set_begins(tmp_path: Path, browser: Browser) -> None:
    one = Serving(tmp_path)
    tab = opened(one, browser)
    page = tab.page
    page.get_by_label("Or paste the message").fill("two sets of 45, then home\n1. Owl - G\n2. Rye - C\n3. Kelp - F\n")
    page.get_by_label("what is the gig called?").fill("Kiln night")
    page.get_by_role("button", name="Read the message").click()
    page.locator("summary", has_text="Read as 3 songs in 1 set").click()
    page.get_by_role("radio", name="no", exact=True).check()
    tab.wait_for_notice("Where does the next set begin?")
    expect(page.get_by_text("Write the number or the title of its first song")).to_be_visible()
    expect(page.get_by_role("textbox", name="or the first song of the next set")).to_be_focused()
    page.keyboard.type("kelp")
    page.keyboard.press("Enter")
    tab.wait_for_notice("Changed; nothing is in doubt any more")
    expect(page.locator(".tape")).to_have_count(2)
    page.get_by_role("button", name="Undo").click()
    expect(page.locator(".tape")).to_have_count(1)
    assert tab.wrong == []
    page.context.close()
    one.end()
