"""Every page as other eyes and hands have it: zoomed to 200 %, letters twice as large, forced colours, by touch.

WCAG 2.2: 1.4.4 and 1.4.10 (zoom), 1.4.12 (distances of text), 1.4.3 and 1.4.11 (contrast), 2.3.3 (motion), 2.4.7 and
2.4.11 (focus), 2.5.7 (another way than dragging), 2.5.8 (targets of 24 px). Forced colours: CSS Color Adjustment, 3.
"""

import io
import json
import math
import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from pages.browsing import Tab, path_of_chromium
from pages.serving import Serving
from PIL import Image
from playwright.sync_api import Browser, BrowserContext, Page, expect

pytestmark = [pytest.mark.xdist_group("browser"), pytest.mark.long]
ZOOM = math.log(2, 1.2)  # Chromium's zoom levels are powers of 1.2: this one is 200 %
DISTANCES = (
    "* {line-height: 1.5 !important; letter-spacing: .12em !important; word-spacing: .16em !important} "
    "p {margin-bottom: 2em !important}"
)
CUT = """[...document.querySelectorAll('button, h1, h2, h3, summary, .tab, label, legend, .slip, .pencil')]
  .filter(one => one.clientWidth && one.scrollWidth > one.clientWidth + 1 && !one.querySelector('.unseen'))
  .map(one => one.outerHTML.slice(0, 120))"""
FOCUS = """() => { const one = document.activeElement;
  const shown = one.type === 'radio' ? one.nextElementSibling : one;
  const box = one.getBoundingClientRect(), ring = getComputedStyle(shown);
  const top = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
  const covered = !!top && top !== shown && !one.contains(top) && !top.contains(one);
  return {id: one === document.body ? '' : one.id || one.ariaLabel || one.textContent,
    ring: parseFloat(ring.outlineWidth), style: ring.outlineStyle, width: box.width, height: box.height, covered} }"""
LIST = b"1. Tram Home - Eb\n2. Herring Waltzes\n3. Lamplighter (F)\n4. Salt Parade C\n"


def a_stack_with_a_fault(page: Page) -> None:
    field = page.get_by_label("Key: Tram Home", exact=True)
    field.fill("H")
    field.press("Enter")
    expect(page.locator(".slip:not(:empty)")).to_have_count(1)


def a_stack_with_its_drawers_open(page: Page) -> None:
    for summary in ("Engagement: date, band, venue", "A newer set list"):
        page.get_by_text(summary, exact=True).click()
    page.locator(".tape summary").first.click()
    page.get_by_label("More for Tram Home").click()


def a_sheet(page: Page) -> None:
    page.get_by_role("link", name="Tram Home").click()
    field = page.get_by_label("As in the margin", exact=False)
    field.fill("Intro 4*, Verse 16 watch singer, Chorus 8 open")
    field.blur()
    expect(page.locator(".row")).to_have_count(3)
    page.locator("[data-row='1'] [data-field=chords]").fill("1 | H")
    expect(page.locator(".slip mark")).to_have_text("H")


def a_newer_list(page: Page) -> None:
    page.get_by_text("A newer set list", exact=True).click()
    page.locator("#list").set_input_files({"name": "newer.txt", "mimeType": "text/plain", "buffer": LIST})
    expect(page.locator("#newer-title")).to_be_focused()


def put_away(page: Page) -> None:
    """Leave the pages as the next test wants them: a newer list lies there until it is decided about."""
    if page.locator("#list-put-away").count():
        page.locator("#list-put-away").click()
        expect(page.locator(".song").first).to_be_visible()


STATES = [a_stack_with_a_fault, a_stack_with_its_drawers_open, a_sheet, a_newer_list]


def holds(tab: Tab) -> None:
    """Nothing scrolls sideways, no word is cut, and axe-core finds no fault."""
    page = tab.page
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    assert page.evaluate(CUT) == []
    if page.viewport_size:  # nothing lies under the head of a page that is still scrolling
        page.set_viewport_size({"width": page.viewport_size["width"], "height": 8000})
    assert tab.faults_of_axe() == []


def walk(page: Page, steps: int = 45) -> int:
    """Continue with the tab key: a ring of 2 px, never covered, targets of 24 px. Return how many places there were."""
    page.evaluate("document.activeElement.blur()")
    seen: list[str] = []
    for _ in range(steps):
        page.keyboard.press("Tab")
        at: dict[str, Any] = page.evaluate(FOCUS)
        if at["id"] in seen:
            break
        if not at["id"]:
            continue
        seen.append(at["id"])
        assert at["ring"] >= 2, at
        assert at["style"] in ("solid", "double"), at
        assert min(at["width"], at["height"]) >= 24, at
        assert not at["covered"], at
    return len(seen)


@pytest.fixture(scope="module")
def zoomed(tmp_path_factory: pytest.TempPathFactory, browser: Browser) -> Iterator[BrowserContext]:
    """A browser whose player has set its zoom to 200 % for all pages."""
    home = tmp_path_factory.mktemp("zoom")
    (home / "Default").mkdir()
    told = {"partition": {"default_zoom_level": {"x": ZOOM}}}
    (home / "Default" / "Preferences").write_text(json.dumps(told))
    arguments = ["--no-sandbox", "--disable-dev-shm-usage", "--window-size=1280,900"]
    context = browser.browser_type.launch_persistent_context(
        home, executable_path=path_of_chromium(), no_viewport=True, args=arguments, reduced_motion="reduce"
    )
    yield context
    context.close()


@contextmanager
def shut(tab: Tab) -> Iterator[Tab]:
    """Close a tab in the end, and see that nothing went wrong in it."""
    yield tab
    tab.page.close()
    assert tab.wrong == []


@pytest.mark.parametrize("state", STATES)
def test_at_a_zoom_of_200_percent_nothing_is_cut_and_the_focus_is_seen(
    zoomed: BrowserContext, serving: Serving, show: Path, state: Callable[[Page], None]
) -> None:
    with shut(Tab(zoomed, serving.new_address(show))) as tab:
        assert tab.page.evaluate("[devicePixelRatio, innerWidth, outerWidth]") == [2, 640, 1280]
        state(tab.page)
        holds(tab)
        assert walk(tab.page) > 8
        put_away(tab.page)


@pytest.mark.parametrize("state", STATES)
def test_letters_twice_as_large_fit(tab: Tab, state: Callable[[Page], None]) -> None:
    """The size of letters that a player sets in the browser, apart from its zoom."""
    tab.page.set_viewport_size({"width": 640, "height": 800})
    line = tab.page.context.new_cdp_session(tab.page)
    line.send("Page.setFontSizes", {"fontSizes": {"standard": 32, "fixed": 26}})
    assert tab.page.evaluate("parseFloat(getComputedStyle(document.body).fontSize)") == 32
    state(tab.page)
    holds(tab)
    put_away(tab.page)


@pytest.mark.parametrize("state", STATES)
@pytest.mark.parametrize("width", [1280, 320])
def test_text_with_wide_distances_is_not_cut(tab: Tab, state: Callable[[Page], None], width: int) -> None:
    page = tab.page
    page.set_viewport_size({"width": width, "height": 800})
    page.evaluate(
        "css => { const sheet = new CSSStyleSheet(); sheet.replaceSync(css); document.adoptedStyleSheets.push(sheet) }",
        DISTANCES,
    )
    state(page)
    holds(tab)
    put_away(page)


@pytest.mark.parametrize("state", STATES)
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_in_forced_colours_every_state_is_seen_without_our_inks(
    tab: Tab, state: Callable[[Page], None], scheme: str
) -> None:
    page = tab.page
    page.emulate_media(forced_colors="active", color_scheme=scheme, reduced_motion="reduce")  # type: ignore[arg-type]  # one of its words
    assert page.evaluate("matchMedia('(forced-colors: active)').matches")
    state(page)
    assert tab.faults_of_axe() == []
    assert walk(page, 25) > 8
    unframed = page.evaluate(
        "[...document.querySelectorAll('button, summary, select, textarea, input')].filter(one => one.offsetParent"
        " && !['radio', 'checkbox', 'file'].includes(one.type) && getComputedStyle(one).borderBottomStyle === 'none')"
        ".map(one => one.outerHTML.slice(0, 100))"
    )
    assert unframed == []  # the system takes our backgrounds away: what can be pressed or typed in needs an edge
    told = page.evaluate(
        """[...document.querySelectorAll('fieldset input[type=radio]:checked + span')].map(one => {
          const look = getComputedStyle(one), other = getComputedStyle(
            one.closest('fieldset').querySelector('input[type=radio]:not(:checked) + span'));
          return look.outlineStyle !== other.outlineStyle || look.backgroundColor !== other.backgroundColor })"""
    )
    assert all(told)  # which column is typed into
    put_away(page)


def test_in_forced_colours_a_feature_can_be_read(tab: Tab) -> None:
    tab.page.emulate_media(forced_colors="active", color_scheme="dark")
    shot = tab.page.locator(".song mark").first.screenshot()
    grey = Image.open(io.BytesIO(shot)).convert("L")
    dark = sum(grey.histogram()[:64]) / (grey.width * grey.height)
    assert 0.02 < dark < 0.4  # black letters on yellow; a browser's own plate under them would be black, too


def test_nothing_moves_by_itself_for_those_who_ask_for_that(tab: Tab) -> None:
    page = tab.page
    page.emulate_media(reduced_motion="reduce")
    a_sheet(page)
    assert page.evaluate("document.getAnimations().length") == 0
    assert page.evaluate("getComputedStyle(document.documentElement).scrollBehavior") == "auto"
    slow = page.evaluate(
        "[...document.querySelectorAll('*')].filter(one => { const look = getComputedStyle(one);"
        " return look.animationName !== 'none' || look.transitionDuration.split(',').some(each => parseFloat(each)) })"
        ".map(one => one.outerHTML.slice(0, 80))"
    )
    assert slow == []


def test_everything_is_done_by_touch(browser: Browser, serving: Serving, show: Path) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 780}, has_touch=True, is_mobile=True)
    with shut(Tab(context, serving.new_address(show))) as tab:
        page = tab.page
        assert page.evaluate("matchMedia('(pointer: coarse)').matches")
        drag_by_finger(page, "Move Tram Home", "#stack .song:nth-child(3)")
        tab.wait_for_notice("moved Tram Home after Nine Wet Umbrellas")
        page.get_by_label("More for Herring Waltz").first.tap()
        page.get_by_role("button", name="To Second Herring Waltz").first.tap()
        tab.wait_for_notice("moved Herring Waltz to Second")
        page.locator("label", has=page.get_by_role("radio", name="Hard")).tap()
        expect(page.locator("#stack")).to_have_attribute("data-column", "hard")
        page.get_by_role("link", name="Tram Home").tap()
        button = page.get_by_role("button", name="Tap the tempo")
        for _ in range(5):
            button.tap()
            page.wait_for_timeout(450)
        expect(page.locator("#undo")).to_contain_text(re.compile(r"Tram Home: tempo \d"))
        page.locator("#undo").tap()
        tab.wait_for_notice("Undone")
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
        small = page.evaluate(
            "[...document.querySelectorAll('button, a:not(.skip), summary, input, select, textarea')].filter(one =>"
            " one.offsetParent && (one.offsetHeight < 24 || one.offsetWidth < 24))"
            ".map(one => one.outerHTML.slice(0, 100))"
        )
        assert small == []
    context.close()


def drag_by_finger(page: Page, grip: str, to: str) -> None:
    """Drag as a finger does: the browser makes touches, and pointer events of them."""
    handle = page.get_by_role("button", name=grip)
    handle.scroll_into_view_if_needed()
    start, end = handle.bounding_box(), page.locator(to).first.bounding_box()
    assert start is not None
    assert end is not None
    x, y = start["x"] + 10, start["y"] + 10
    line = page.context.new_cdp_session(page)
    line.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": [{"x": x, "y": y}]})
    for part in range(1, 9):
        point = {"x": x, "y": y + (end["y"] + end["height"] / 2 - y) * part / 8}
        line.send("Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": [point]})
    line.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
