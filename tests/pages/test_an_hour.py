"""A player's hour at the sheet of a song, in a real browser: every click and key is one that a player makes."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from pages.browsing import Tab, chromium, opened
from pages.serving import Serving
from pages.test_song_in_book import BOOK
from playwright.sync_api import Browser, Locator, expect

pytestmark = pytest.mark.xdist_group("browser")

SHOW = """\
show: Night at the Mill
songs:
  - title: Tram Home   # ask Osbert
  - Herring Waltz
  - use: songbook.yaml#kiln-hill
"""


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as one:
        yield one


@pytest.fixture
def show(tmp_path: Path) -> Path:
    path = tmp_path / "mill.yaml"
    path.write_text(SHOW, encoding="utf-8")
    path.with_name("songbook.yaml").write_text(BOOK, encoding="utf-8")
    return path


@pytest.fixture
def tab(tmp_path: Path, show: Path, browser: Browser) -> Iterator[Tab]:
    serving = Serving(tmp_path, str(show))
    one = opened(serving, browser)
    yield one
    one.page.context.close()
    serving.end()
    assert one.wrong == []
    assert one.hosts == {f"127.0.0.1:{serving.port}"}


def stage(tab: Tab) -> Locator:
    return tab.page.locator("#stage-picture svg")


def has_label(tab: Tab, words: str) -> None:
    expect(stage(tab)).to_have_attribute("aria-label", re.compile(re.escape(words)))


def undo(tab: Tab) -> None:
    words = tab.page.locator("#undo").inner_text()
    tab.page.locator("#undo").click()
    expect(tab.page.locator("#undo")).not_to_have_text(words)


@pytest.mark.long
def test_an_hour_at_a_sheet_with_the_keyboard_alone(tab: Tab, show: Path) -> None:
    page, keys = tab.page, tab.page.keyboard
    page.get_by_role("link", name="Tram Home").focus()
    keys.press("Enter")
    expect(page.locator("#sheet-title")).to_be_focused()

    page.get_by_label("Key", exact=True).first.focus()
    keys.type("Bb")
    has_label(tab, "B♭")  # while it is typed: nothing is written yet
    assert show.read_text(encoding="utf-8") == SHOW
    keys.press("Enter")
    tab.wait_for_kept()
    assert "    key: Bb\n" in show.read_text(encoding="utf-8")

    line = page.locator("[data-field=road_map]")
    line.focus()
    keys.type("Intro 4*, Verse 8 @strings, Outro 8 open")
    expect(page.get_by_text("3 sections, 20 bars")).to_be_visible()
    has_label(tab, "Intro")
    keys.press("Tab")
    tab.wait_for_kept()
    rows = page.locator("[data-row]")
    expect(rows).to_have_count(3)

    bars = page.locator("#rows [data-field=bars]").nth(1)
    bars.focus()
    expect(page.locator("#stage-picture h3")).to_have_text("On stage: Verse")
    keys.press("Control+a")
    keys.type("16")
    has_label(tab, "16 bars")
    keys.press("Enter")
    tab.wait_for_kept()
    expect(line).to_have_value("Intro 4*, Verse 16 @strings, Outro 8 open")

    page.get_by_label("Who starts").focus()
    for _ in range(3):
        undo(tab)
    expect(page.locator("#undo")).to_be_disabled()
    assert show.read_text(encoding="utf-8") == SHOW
    page.go_back()
    expect(page.locator(".song")).to_have_count(3)


@pytest.mark.long
def test_wrong_chords_are_reported_and_corrected(tab: Tab, show: Path) -> None:
    page, keys = tab.page, tab.page.keyboard
    page.get_by_role("link", name="Tram Home").click()
    line = page.locator("[data-field=road_map]")
    line.fill("Intro 4")
    page.get_by_label("Key", exact=True).first.fill("Bb")
    tab.wait_for_kept()
    page.locator("#rows [data-field=chords]").first.focus()
    keys.type("1 | 4 | H")
    expect(page.locator(".slip mark")).to_have_text("H")
    for _ in range(3):
        keys.press("Backspace")
    keys.type(" 5")
    expect(page.locator(".slip mark")).to_have_count(0)
    keys.press("Backspace")
    keys.press("Backspace")
    keys.type("| 5 | 1")
    expect(page.locator("#rows .chords .slip").first).to_have_text("4 bars")
    expect(page.locator(".leaf")).to_contain_text("F")  # the fifth of B flat, on the printed chart
    keys.press("Tab")
    tab.wait_for_kept()
    assert "1 | 4 | 5 | 1" in show.read_text(encoding="utf-8")


@pytest.mark.long
def test_a_change_to_a_songbook_song_is_asked_about_once(tab: Tab, show: Path) -> None:
    page = tab.page
    page.get_by_role("link", name="Kiln Hill").click()
    expect(page.locator("#sheet-title")).to_be_focused()
    page.get_by_label("Tempo", exact=True).fill("96")
    page.keyboard.press("Enter")
    expect(page.locator(".slip:not(:empty)")).to_contain_text("Only tonight, or in the songbook?")
    page.get_by_role("button", name="In the songbook").click()
    tab.wait_for_notice("kept in the songbook")
    expect(page.locator("#sheet-title")).to_be_focused()
    page.get_by_label("Length", exact=True).fill("3:40")
    page.keyboard.press("Enter")
    tab.wait_for_kept()
    book = show.with_name("songbook.yaml")
    assert all(words in book.read_text(encoding="utf-8") for words in ("tempo: 96", 'length: "3:40"'))
    assert show.read_text(encoding="utf-8") == SHOW
    for _ in range(2):
        undo(tab)
    assert book.read_text(encoding="utf-8") == BOOK


@pytest.mark.long
@pytest.mark.parametrize("width", [1440, 720, 360, 320])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_no_fault_on_a_sheet_at_any_width_in_any_light(tab: Tab, width: int, scheme: str) -> None:
    page = tab.page
    page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]  # one of its words
    page.set_viewport_size({"width": width, "height": 700})
    page.get_by_role("link", name="Kiln Hill").click()
    page.locator("[data-row='1'] [data-field=chords]").fill("1 | H")
    expect(page.locator(".slip mark")).to_have_text("H")
    page.set_viewport_size({"width": width, "height": 4000})  # nothing lies under the head of a scrolled page
    assert tab.faults_of_axe() == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width


@pytest.mark.long
@pytest.mark.parametrize("height", [500, 740])
def test_the_tab_key_walks_a_sheet_with_a_visible_focus(tab: Tab, height: int) -> None:
    """WCAG 2.2: 2.4.7 (a ring of 2 px), 2.4.11 (not covered), 2.5.8 (24 px)."""
    page = tab.page
    page.set_viewport_size({"width": 360, "height": height})
    page.emulate_media(reduced_motion="reduce")  # no scrolling that is still under way
    page.get_by_role("link", name="Kiln Hill").click()
    expect(page.locator("#sheet-title")).to_be_focused()
    seen: list[str] = []
    for _ in range(90):
        page.keyboard.press("Tab")
        at = tab.visible_focus("textContent")
        if not at:
            break
        seen.append(at)
    assert len([one for one in seen if one.startswith("section-")]) == 3
