"""WCAG 2.2 AA, as far as a program can tell: axe-core, a walk with the tab key, wide text, narrow pages."""

import pytest
from examples import seldom
from pages.browsing import Tab
from playwright.sync_api import expect

pytestmark = pytest.mark.xdist_group("browser")


@pytest.fixture
def tab(same_tab: Tab) -> Tab:
    return same_tab


@pytest.mark.parametrize(("width", "scheme"), [(1440, "light"), seldom(320, "dark")])
def test_axe_finds_no_wcag_fault_and_nothing_scrolls_sideways(tab: Tab, width: int, scheme: str) -> None:
    axe_at(tab, width, scheme)


@pytest.mark.long
@pytest.mark.parametrize("width", [1440, 720, 360, 320])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_no_fault_at_any_width_in_any_light(tab: Tab, width: int, scheme: str) -> None:
    axe_at(tab, width, scheme)


def axe_at(tab: Tab, width: int, scheme: str) -> None:
    tab.page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]  # one of its words
    tab.page.set_viewport_size({"width": width, "height": 700})
    field = tab.field("Key: Tram Home")
    field.fill("H")
    field.press("Enter")
    expect(tab.page.locator(".slip:not(:empty)")).to_have_count(1)
    assert tab.faults_of_axe() == []
    assert tab.page.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.long
def test_wide_text_and_twice_the_size_fit(tab: Tab) -> None:
    """WCAG 2.2: 1.4.12 (its four distances), 1.4.4 and 1.4.10 (1280 px at 400 % are 320 px)."""
    page = tab.page
    page.set_viewport_size({"width": 320, "height": 640})
    page.evaluate(
        """() => { const sheet = new CSSStyleSheet();
        sheet.replaceSync("* {line-height: 1.5 !important; letter-spacing: .12em !important; "
          + "word-spacing: .16em !important} p {margin-bottom: 2em !important}");
        document.adoptedStyleSheets.push(sheet); }"""
    )
    for address in ("", f"#{page.locator('.song').first.get_attribute('id')}"):
        page.evaluate("hash => {location.hash = hash}", address)
        expect(page.locator("#sheet-title" if address else ".song").first).to_be_visible()
        assert page.evaluate("document.documentElement.scrollWidth") <= 320
        cut = page.evaluate(
            "[...document.querySelectorAll('button, h1, h2, h3, summary, .tab, label')]"
            ".filter(one => one.clientWidth && one.scrollWidth > one.clientWidth + 1 && !one.querySelector('.unseen'))"
            ".map(one => one.outerHTML.slice(0, 120))"
        )
        assert cut == []


@pytest.mark.long
def test_the_tab_key_reaches_everything_with_a_visible_focus(tab: Tab) -> None:
    """WCAG 2.2: 2.4.7 and 2.4.13 (a ring of 2 px), 2.4.11 (not covered), 2.5.8 (24 px)."""
    page = tab.page
    page.set_viewport_size({"width": 360, "height": 500})
    page.evaluate("document.activeElement.blur()")
    seen: list[str] = []
    for _ in range(60):
        page.keyboard.press("Tab")
        at = tab.visible_focus("className")
        if not at:
            continue  # the browser's own parts
        if at in seen:
            break
        seen.append(at)
    assert len([one for one in seen if one.startswith("key-")]) == 4
    assert {"find", "filter"} <= set(seen)
