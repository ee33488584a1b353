"""An evening's work for an unseen set list of 54 songs, by real clicks and keys, without one visit to the file.

The keystrokes are counted, and compared with those that the same file would have needed in an editor: each character of
a line that is new, and the end of that line.
"""

import difflib
import random
import sys
from pathlib import Path

import pytest
from pages.browsing import Tab, opened
from pages.serving import Serving
from playwright.sync_api import Browser, expect

from companion.files import SourceFile
from companion.show.show_file import show_in

pytestmark = [pytest.mark.xdist_group("browser"), pytest.mark.long]

WORDS = ("Tram", "Kettle", "Harbour", "Lamp", "Umbrella", "Plum", "Ferry", "Clock", "Moth", "Copper", "Paper", "Salt")
MORE = ("Home", "Waltz", "Jetty", "Road", "Song", "Parade", "Tango", "Garden", "Window")
KEYS = ("C", "Bb", "F#m", "Eb", "Am", "G", "D")
MAPS = (
    "Intro 4*, Verse 16, Chorus 8, Verse 16, Chorus 8, Solo 16 x2*, Chorus 8, Outro 8 open",
    "Intro 8, Verse 16, Chorus 8 @strings, Bridge 8, Chorus 8 x2, Tag 4",
)
CHORDS = "1 | 4 | 5 | 1 | 6- | 2- | 5 | 1"


class Typist:
    """Types and clicks, and counts."""

    def __init__(self, tab: Tab) -> None:
        self.tab = tab
        self.keys = 0
        self.clicks = 0

    def type(self, text: str) -> None:
        self.keys += len(text)
        self.tab.page.keyboard.type(text)

    def press(self, key: str) -> None:
        self.keys += 1
        self.tab.page.keyboard.press(key)

    def choose(self, column: str) -> None:
        self.clicks += 1
        self.tab.page.get_by_role("radio", name=column).check()

    def click(self, what: object) -> None:
        self.clicks += 1
        what.click()  # type: ignore[attr-defined]  # a locator


def rate_all(hand: Typist, titles: list[str], wanted_keys: list[str], chance: random.Random) -> None:
    """Type every key and rating down the list, and the first sounds."""
    tab = hand.tab
    hand.click(tab.field(f"Key: {titles[0]}"))
    for key in wanted_keys:
        hand.type(key)
        hand.press("Enter")
    tab.wait_for_kept()
    for column in ("Known", "Hard"):
        hand.choose(column)
        hand.click(tab.field(f"{column}: {titles[0]}"))
        hand.type("".join(str(chance.randrange(6)) for _ in titles))
        hand.press("Tab")
        tab.wait_for_kept()
    hand.choose("Sound")
    hand.click(tab.field(f"Sound: {titles[0]}"))
    for number in range(20):
        hand.type(("grand piano", "strings")[number % 2])
        hand.press("Enter")
    tab.wait_for_kept()


def write_maps(hand: Typist, titles: list[str]) -> None:
    """Write twelve road maps, and chords into six of them, one sheet after the other."""
    page, tab = hand.tab.page, hand.tab
    for number in range(12):
        link = page.locator("#song-after") if number else page.get_by_role("link", name=titles[0], exact=True)
        hand.click(link)
        expect(page.locator("#sheet-title")).to_have_text(titles[number])
        hand.click(page.locator("[data-field=road_map]"))
        hand.type(MAPS[number % 2])
        hand.press("Tab")
        tab.wait_for_kept()
        if number < 6:
            expect(page.locator("[data-row='2']")).to_be_visible()
            hand.click(page.locator("[data-row='2'] textarea"))
            hand.type(CHORDS)
            hand.press("Tab")
            tab.wait_for_kept()


def test_an_evening_for_54_songs_needs_no_file_and_fewer_keys(tmp_path: Path, browser: Browser) -> None:
    chance = random.Random(54)  # noqa: S311  no secret
    titles = [f"{first} {second}" for second in MORE for first in WORDS][:54]
    wanted_keys = [chance.choice(KEYS) for _ in titles]
    listed = "\n".join(f"{number}. {title}" for number, title in enumerate(titles, 1))
    (tmp_path / "list.txt").write_text(f"Kiln night\nSet 1\n{listed}\n", encoding="utf-8")
    serving = Serving(tmp_path)
    try:
        tab = opened(serving, browser, viewport={"width": 1280, "height": 900})
        hand = Typist(tab)
        tab.page.locator("#list").set_input_files(str(tmp_path / "list.txt"))
        hand.clicks += 3
        expect(tab.page.locator(".song")).to_have_count(54)
        path = next(tmp_path.rglob("Companion/*.yaml"))
        before = path.read_text(encoding="utf-8")
        rate_all(hand, titles, wanted_keys, chance)
        write_maps(hand, titles)
        after = path.read_text(encoding="utf-8")
        assert tab.wrong == []
        tab.page.context.close()
    finally:
        serving.end()
    songs = show_in(SourceFile(str(path), after)).show.sets[0].songs
    assert [str(song.key) for song in songs] == wanted_keys
    assert all(song.known is not None and song.hard is not None for song in songs)
    assert sum(bool(song.road_map) for song in songs) == 12
    assert sum(any(section.chords for section in song.road_map) for song in songs) == 6
    assert '"' not in after.partition("songs:")[2]  # as a person would have written it
    new = [line[1:] for line in difflib.ndiff(before.splitlines(), after.splitlines()) if line.startswith("+ ")]
    editor = sum(len(line.strip()) + 1 for line in new)
    sys.stdout.write(f"keys {hand.keys}, clicks {hand.clicks}; an editor, without moving about: {editor}\n")
    assert hand.keys + hand.clicks < editor
