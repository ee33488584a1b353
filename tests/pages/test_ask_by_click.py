"""The message to the leader in a real browser: opened, and copied by one click."""

import pytest
from pages.browsing import Tab
from playwright.sync_api import expect

pytestmark = [pytest.mark.xdist_group("browser"), pytest.mark.long]


def test_the_message_is_copied_by_one_click(tab: Tab) -> None:
    page = tab.page
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.get_by_text("Ask the leader", exact=True).click()
    text = page.get_by_label("Message to the leader")
    expect(text).to_be_visible()
    assert tab.faults_of_axe() == []
    page.get_by_role("button", name="Copy it").click()
    tab.wait_for_notice("Copied. When the reply comes")
    assert page.evaluate("navigator.clipboard.readText()") == text.input_value()
    assert text.input_value().startswith("Hi! A few questions for Night at the Mill")
