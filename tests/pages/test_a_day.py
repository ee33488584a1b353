"""A player's day with the stack of songs, in a real browser: every click and key is one that a player makes."""

from collections.abc import Callable
from pathlib import Path

import pytest
from examples import seldom
from pages.browsing import Tab, opened
from pages.serving import Serving
from pages.visiting import SHOW
from playwright.sync_api import Browser, expect

pytestmark = pytest.mark.xdist_group("browser")


@pytest.fixture
def tab(same_tab: Tab) -> Tab:
    return same_tab


def test_keys_are_typed_down_the_list_without_the_mouse(tab: Tab, serving: Serving, show: Path) -> None:
    page = tab.page
    assert page.url == f"http://127.0.0.1:{serving.port}/"
    tab.field("Key: Tram Home").focus()
    page.keyboard.type("bb")
    page.keyboard.press("Enter")
    assert tab.focused == "Key: Herring Waltz"
    page.keyboard.type("F#m")
    page.keyboard.press("Enter")
    assert tab.focused == "Key: Nine Wet Umbrellas"
    tab.wait_for_kept()
    text = show.read_text(encoding="utf-8")
    assert "key: Bb" in text
    assert "key: F#m" in text
    expect(page.locator(".tab").first).to_have_text("B♭")
    assert tab.focused == "Key: Nine Wet Umbrellas"


@pytest.mark.long
def test_a_click_into_a_key_selects_it_so_that_the_next_letters_replace_it(tab: Tab, show: Path) -> None:
    tab.field("Key: Tram Home").focus()
    tab.page.keyboard.type("A")
    tab.page.keyboard.press("Enter")
    tab.wait_for_kept()
    tab.field("Key: Tram Home").click()
    tab.page.keyboard.type("B")
    tab.page.keyboard.press("Enter")
    tab.wait_for_kept()
    assert "key: B\n" in show.read_text(encoding="utf-8")


@pytest.mark.long
def test_every_song_is_rated_by_single_digits(tab: Tab, show: Path) -> None:
    tab.page.get_by_role("radio", name="Hard").check()
    tab.field("Hard: Tram Home").focus()
    tab.page.keyboard.type("1234")
    tab.wait_for_kept()
    tab.page.keyboard.press("Tab")
    tab.wait_for_kept()
    text = show.read_text(encoding="utf-8")
    assert [f"hard: {number}" in text for number in (1, 2, 3, 4)] == [True] * 4


def test_an_unreadable_key_stays_for_correction_and_nothing_is_written(tab: Tab, show: Path) -> None:
    field = tab.field("Key: Tram Home")
    field.fill("H")
    field.press("Enter")
    slip = tab.page.locator(".slip:not(:empty)")
    expect(slip).to_have_count(1)
    assert field.input_value() == "H"
    assert field.get_attribute("aria-invalid") == "true"
    assert show.read_text(encoding="utf-8") == SHOW
    field.fill("B")
    field.press("Enter")
    tab.wait_for_kept()
    expect(slip).to_have_count(0)
    assert "key: B\n" in show.read_text(encoding="utf-8")


@pytest.mark.long
def test_undo_and_redo_name_the_change(tab: Tab, show: Path) -> None:
    field = tab.field("Key: Tram Home")
    field.fill("Bb")
    field.press("Enter")
    expect(tab.page.locator("#undo")).to_have_text("Undo: Tram Home: key Bb")
    tab.page.keyboard.press("Control+z")
    tab.wait_for_notice("Undone: Tram Home: key Bb")
    assert show.read_text(encoding="utf-8") == SHOW
    expect(field).to_have_value("")
    tab.page.locator("#redo").click()
    tab.wait_for_notice("Done again")
    expect(field).to_have_value("Bb")


def test_a_change_from_outside_appears_while_another_song_is_edited(tab: Tab, show: Path) -> None:
    tab.field("Key: Tram Home").focus()
    tab.page.keyboard.type("E")
    show.write_text(
        SHOW.replace("Night at the Mill", "Night at the Kiln").replace("key: A", "key: C"), encoding="utf-8"
    )
    expect(tab.page.locator("h1")).to_have_text("Night at the Kiln")
    tab.page.keyboard.type("b")
    tab.page.keyboard.press("Enter")
    tab.wait_for_kept()
    text = show.read_text(encoding="utf-8")
    assert "key: Eb" in text
    assert "key: C" in text


@pytest.mark.long
def test_a_field_also_changed_outside_is_asked_about(tab: Tab, show: Path) -> None:
    field = tab.page.get_by_label("Key: Herring Waltz", exact=True).nth(1)
    field.focus()
    field.press("Control+a")
    tab.page.keyboard.type("D")
    show.write_text(SHOW.replace("key: A", "key: C").replace("band:", "venue: Kiln\nband:"), encoding="utf-8")
    expect(tab.page.locator("#folder p").first).to_contain_text("Kiln")
    field.press("Enter")
    expect(tab.page.locator(".slip:not(:empty)")).to_contain_text("changed elsewhere to C")
    tab.page.get_by_role("button", name="Write D").click()
    tab.wait_for_kept()
    assert "key: D" in show.read_text(encoding="utf-8")


@pytest.mark.parametrize("ends", [Serving.end, seldom(Serving.kill)])
def test_a_server_that_stops_loses_nothing_and_the_open_tab_continues(
    tmp_path: Path, browser: Browser, ends: Callable[[Serving], object]
) -> None:
    show = tmp_path / "mill.yaml"
    show.write_text(SHOW, encoding="utf-8")
    first = Serving(tmp_path, str(show))
    tab = opened(first, browser)
    ends(first)
    field = tab.field("Key: Tram Home")
    field.fill("Bb")
    field.press("Enter")
    expect(tab.page.locator("#away")).to_contain_text("Not kept yet")
    tab.page.keyboard.type("G")
    tab.page.keyboard.press("Enter")
    again = Serving(tmp_path, str(show))
    try:
        tab.wait_for_kept()
        expect(tab.page.locator("#away")).to_be_hidden()
        text = show.read_text(encoding="utf-8")
        assert "key: Bb" in text
        assert "key: G" in text
        assert tab.wrong == []
        tab.page.context.close()
    finally:
        again.end()


def test_what_a_tab_that_is_not_let_in_has_typed_waits_and_is_kept_once_it_is(tab: Tab, show: Path) -> None:
    """Not let in with 403: the token of this tab is another one for a while, as after a start at another place."""
    token = tab.page.evaluate("localStorage.getItem('companion-token')")
    tab.page.evaluate("localStorage.setItem('companion-token', 'of another start')")
    for label, key in (("Key: Tram Home", "Bb"), ("Key: Herring Waltz", "G")):
        tab.field(label).first.fill(key)
        tab.field(label).first.press("Enter")
    expect(tab.page.locator("#away")).to_contain_text("Not kept yet: ")
    expect(tab.page.locator("[data-waits]")).to_have_count(2)
    tab.page.wait_for_timeout(1200)  # longer than it waits before it tries again
    assert show.read_text(encoding="utf-8") == SHOW
    expect(tab.field("Key: Tram Home")).to_have_value("Bb")
    tab.page.evaluate("token => localStorage.setItem('companion-token', token)", token)
    tab.wait_for_kept()
    expect(tab.page.locator("#away")).to_be_hidden()
    text = show.read_text(encoding="utf-8")
    assert "key: Bb" in text
    assert "key: G" in text
    assert all("403" in one for one in tab.wrong)
    tab.wrong.clear()


@pytest.mark.long
def test_two_tabs_stay_in_step_and_a_hidden_one_keeps_no_connection(tab: Tab, serving: Serving) -> None:
    second = Tab(tab.page.context, tab.page.url)
    hide = (
        "hidden => {Object.defineProperty(document, 'hidden', {value: hidden, configurable: true});"
        "document.dispatchEvent(new Event('visibilitychange'))}"
    )
    second.page.wait_for_timeout(500)
    before = serving.lines
    second.page.evaluate(hide, True)
    while serving.lines >= before:
        second.page.wait_for_timeout(50)
    field = tab.field("Key: Tram Home")
    field.fill("Bb")
    field.press("Enter")
    tab.wait_for_kept()
    assert second.field("Key: Tram Home").input_value() == ""
    second.page.evaluate(hide, False)
    expect(second.field("Key: Tram Home")).to_have_value("Bb")
    assert second.wrong == []


@pytest.mark.long
def test_songs_are_found_and_a_filled_in_song_stays_visible(tab: Tab) -> None:
    page = tab.page
    songs = page.locator(".song:visible")
    page.locator("#find").fill("waltz")
    expect(songs).to_have_count(2)
    page.locator("#find").fill("")
    page.locator("#filter").select_option(label="no key")
    expect(songs).to_have_count(2)
    tab.field("Key: Tram Home").fill("Bb")
    tab.field("Key: Tram Home").press("Enter")
    tab.wait_for_kept()
    assert tab.focused == "Key: Herring Waltz"
    expect(songs).to_have_count(2)
    page.locator("#filter").select_option(label="features")
    expect(songs).to_have_count(1)


def test_the_songs_that_were_looked_for_are_still_named_in_the_box_after_a_sheet(tab: Tab) -> None:
    page = tab.page
    songs = page.locator(".song:visible")
    page.locator("#find").press_sequentially("tram")
    expect(songs).to_have_count(1)
    expect(page.locator("#notice")).to_have_text("1 song")
    page.get_by_role("link", name="Tram Home").first.click()
    page.get_by_role("link", name="Back to the stack").click()
    expect(page.locator("#find")).to_have_value("tram")
    expect(songs).to_have_count(1)
    page.locator("#find").fill("")
    expect(songs).to_have_count(4)


def titles(tab: Tab) -> list[str]:
    return tab.page.locator(".song h3").all_inner_texts()


def test_a_song_moves_by_keyboard_button_and_drag_and_keeps_the_focus(tab: Tab, show: Path) -> None:
    page = tab.page
    grip = page.get_by_role("button", name="Move Tram Home")
    grip.focus()
    page.keyboard.press("ArrowDown")
    tab.wait_for_notice("moved Tram Home after Herring Waltz")
    expect(grip).to_be_focused()
    assert titles(tab) == ["Herring Waltz", "Tram Home", "Nine Wet Umbrellas", "Herring Waltz"]

    page.get_by_label("More for Nine Wet Umbrellas").click()
    page.get_by_role("button", name="To Second Nine Wet Umbrellas").click()
    tab.wait_for_notice("moved Nine Wet Umbrellas to Second")
    expect(page.get_by_role("button", name="Move Nine Wet Umbrellas")).to_be_focused()

    grip.scroll_into_view_if_needed()
    start, end = grip.bounding_box(), page.locator(".tape").first.bounding_box()
    assert start is not None
    assert end is not None
    page.mouse.move(start["x"] + 5, start["y"] + 5)
    page.mouse.down()
    page.mouse.move(end["x"] + 50, end["y"] + 5, steps=5)
    page.mouse.up()
    tab.wait_for_notice("moved Tram Home to the top of First")
    assert titles(tab)[0] == "Tram Home"
    for _ in range(3):
        page.locator("#undo").click()
        tab.wait_for_notice("Undone")
        page.wait_for_timeout(100)
    assert show.read_text(encoding="utf-8") == SHOW


@pytest.mark.long
def test_songs_are_added_and_removed(tab: Tab, show: Path) -> None:
    page = tab.page
    add = page.get_by_label("Add a song to Second")
    add.fill("Lamplighter")
    add.press("Enter")
    tab.wait_for_notice("added Lamplighter to Second")
    expect(add).to_be_focused()
    expect(add).to_have_value("")
    page.keyboard.type("Crab Bucket")
    page.keyboard.press("Enter")
    tab.wait_for_notice("added Crab Bucket")
    assert titles(tab)[-2:] == ["Lamplighter", "Crab Bucket"]
    page.get_by_label("More for Lamplighter").click()
    page.get_by_role("button", name="Take out Lamplighter").click()
    tab.wait_for_notice("kept aside")
    assert titles(tab)[-1] == "Crab Bucket"
    page.locator("#undo").click()
    tab.wait_for_notice("Undone: took Lamplighter out")
    assert "Lamplighter" in show.read_text(encoding="utf-8")


def test_a_sheet_is_filled_in_beside_its_pictures(tab: Tab, show: Path) -> None:
    page = tab.page
    page.get_by_role("link", name="Tram Home").click()
    expect(page.locator("#sheet-title")).to_be_focused()
    page.get_by_label("Who starts").fill("keys")
    page.get_by_label("Ending").select_option("cold")
    tab.wait_for_kept()
    line = page.locator("[data-field=road_map]")
    line.fill("Intro 4 | C | H")
    expect(page.locator("code mark")).to_have_text("H")
    line.fill("Intro 4*, Verse 8 open")
    expect(page.get_by_text("2 sections, 12 bars")).to_be_visible()
    expect(page.locator("code mark")).to_have_count(0)
    page.get_by_label("Who starts").focus()
    tab.wait_for_kept()
    expect(page.locator("[data-row]")).to_have_count(2)
    chords = page.locator("[data-row='0'] textarea")
    chords.fill("1 | 4 | 5")
    expect(page.get_by_text("3 bars of chords; the section has 4")).to_be_visible()
    chords.fill("1 | 4 | 5 | 1")
    page.locator("[data-row='1'] input").first.focus()
    expect(page.locator("#stage-picture h3")).to_have_text("On stage: Verse")
    page.get_by_role("button", name="Round 2").click()
    expect(page.locator("#stage-picture h3")).to_have_text("On stage: Verse, round 2")
    page.get_by_role("button", name="Bright day").click()
    expect(page.get_by_role("button", name="Dark stage")).to_be_visible()
    tab.wait_for_kept()
    text = show.read_text(encoding="utf-8")
    assert all(words in text for words in ("starts_with: keys", "ending: cold", "Verse 8 open", "1 | 4 | 5 | 1"))
    assert tab.faults_of_axe() == []
    page.set_viewport_size({"width": 320, "height": 700})
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    assert tab.faults_of_axe() == []
    page.get_by_role("link", name="Back to the stack").click()
    expect(page.locator(".song")).to_have_count(4)


@pytest.mark.long
def test_a_road_map_that_cannot_be_read_is_there_again_when_its_sheet_is_opened(tab: Tab, show: Path) -> None:
    page = tab.page
    faulty = "Intro 4 | C | H"
    line = page.locator("[data-field=road_map]")
    page.get_by_role("link", name="Tram Home").click()
    line.fill(faulty)
    page.get_by_role("link", name="Back to the stack").click()
    expect(page.locator(".song")).to_have_count(4)
    page.get_by_role("link", name="Tram Home").click()
    expect(line).to_have_value(faulty)
    expect(line).to_have_attribute("aria-invalid", "true")
    expect(page.get_by_text("Not kept yet")).to_be_visible()
    assert "Intro" not in show.read_text(encoding="utf-8")
    line.fill("Intro 4 | C | F | G | C")
    page.get_by_role("link", name="Back to the stack").focus()
    tab.wait_for_kept()
    page.get_by_role("link", name="Back to the stack").click()
    expect(page.locator(".song")).to_have_count(4)
    page.get_by_role("link", name="Tram Home").click()
    expect(line).not_to_have_attribute("aria-invalid", "true")
    assert "Intro 4" in show.read_text(encoding="utf-8")


@pytest.mark.long
def test_each_missing_value_links_to_its_field(tab: Tab) -> None:
    tab.page.get_by_role("link", name="Tram Home").click()
    tab.page.get_by_role("link", name="tempo?").click()
    expect(tab.page.get_by_label("Tempo")).to_be_focused()
    for _ in range(5):
        tab.page.get_by_role("button", name="Tap the tempo").click()
        tab.page.wait_for_timeout(200)
    tab.wait_for_kept()
    assert tab.page.get_by_label("Tempo").input_value().isdecimal()


DROP = """name => { const data = new DataTransfer(); data.items.add(new File([
  "1. Tram Home - Eb\\n2. Herring Waltz\\n3. Nine Wet Umbrellas (Gm)\\n4. Lamplighter (F)\\n5. Salt Parade C\\n"],
  name));
  for (const kind of ["dragover", "drop"])
    document.body.dispatchEvent(new DragEvent(kind, {dataTransfer: data, bubbles: true, cancelable: true})); }"""


@pytest.mark.long
def test_a_newer_list_is_dropped_and_each_change_is_taken_or_left(tab: Tab, show: Path) -> None:
    page = tab.page
    page.evaluate(DROP, "newer.txt")
    expect(page.get_by_role("heading", name="A newer set list: newer.txt")).to_be_focused()
    assert show.read_text(encoding="utf-8") == SHOW
    key = page.get_by_role("checkbox", name="Tram Home (- → Eb)")
    key.focus()
    page.keyboard.press("Space")
    tab.wait_for_notice("left as it is")
    expect(key).not_to_be_checked()
    expect(key).to_be_focused()
    page.get_by_role("radio", name="yes").check()  # Is Salt Parade in C?
    expect(page.get_by_text("Salt Parade (", exact=False)).to_contain_text("C")
    assert tab.faults_of_axe() == []
    page.locator("#list-write").click()
    tab.wait_for_notice("Undo takes all of it back")
    text = show.read_text(encoding="utf-8")
    assert "Salt Parade" in text
    assert "key: Eb" not in text
    assert "# ask Osbert" in text
    page.keyboard.press("Escape")
    page.locator("#undo").click()
    tab.wait_for_notice("Undone: import newer.txt")
    assert show.read_text(encoding="utf-8") == SHOW
