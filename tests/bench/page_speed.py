"""How fast the pages are: first page, key to painted tab, letter to painted picture, memory, and work without a tab.

python tests/bench/page_speed.py [songs]: real program, real browser (Chromium).
"""

import statistics
import sys
import tempfile
import time
from pathlib import Path

import psutil

sys.path.insert(0, str(Path(__file__).parents[1]))

from pages.browsing import Tab, chromium
from pages.serving import Serving
from playwright.sync_api import expect

SETS = 5
TIMES = 20


def say(words: str) -> None:
    """Print a line at once."""
    sys.stdout.write(words + "\n")
    sys.stdout.flush()


def show_of(songs: int) -> str:
    """Return a show of this many songs in five sets."""
    lines = ["show: Mill", "sets:"]
    for one in range(SETS):
        lines += [f"  - set: Set {one}", "    songs:"]
        for number in range(songs // SETS):
            lines += [f"      - title: Song {one} {number}", "        key: A", "        tempo: 112"]
            lines += ['        length: "3:40"', "        road_map: Intro 4*, Verse 16, Chorus 8, Outro 8 open"]
    return "\n".join(lines) + "\n"


def percentiles(taken_s: list[float]) -> str:
    """Return the middle and the 95th of 100, in milliseconds."""
    fine = statistics.quantiles(taken_s, n=20, method="inclusive")
    return f"p50 {statistics.median(taken_s) * 1000:.0f} ms, p95 {fine[-1] * 1000:.0f} ms"


def measure(songs: int) -> None:
    """Start the program on a show of this many songs, and use it."""
    with tempfile.TemporaryDirectory() as made, chromium() as browser:
        home = Path(made)
        show = home / "mill.yaml"
        show.write_text(show_of(songs), encoding="utf-8")
        begun = time.perf_counter()
        serving = Serving(home, str(show))
        listens = time.perf_counter()
        tab = Tab(browser.new_context(), serving.address)
        shows = time.perf_counter() - begun
        say(f"{songs} songs: listens after {listens - begun:.2f} s, the stack shows after {shows:.2f} s")
        server = psutil.Process(serving.process)
        say(f"key to painted tab: {percentiles([typed(tab, number) for number in range(TIMES)])}")
        tab.page.get_by_role("link", name="Song 0 3", exact=True).click()
        expect(tab.page.locator("#sheet-title")).to_have_text("Song 0 3")
        say(f"letter to painted picture: {percentiles([mapped(tab, number) for number in range(TIMES)])}")
        say(f"memory of the server: {server.memory_info().rss / 2**20:.0f} MiB")
        tab.page.context.close()
        before = server.cpu_times()
        time.sleep(5)
        after = server.cpu_times()
        say(f"processor time in 5 s without a tab: {after.user + after.system - before.user - before.system:.2f} s")
        serving.end()


def typed(tab: Tab, number: int) -> float:
    """Type a key; return the seconds until its tab shows it."""
    field, key = tab.page.locator(".song input[data-field]").nth(number), ("Bb", "B")[number % 2]
    field.fill(key)
    begun = time.perf_counter()
    field.press("Enter")
    expect(tab.page.locator(".song .tab").nth(number)).to_have_text(("B♭", "B")[number % 2])
    return time.perf_counter() - begun


def mapped(tab: Tab, number: int) -> float:
    """Type a road map; return the seconds until it is counted and drawn."""
    begun = time.perf_counter()
    tab.page.locator("[data-field=road_map]").fill(f"Intro 4, Verse {16 + number}")
    expect(tab.page.locator("[id$=-count]")).to_contain_text(f"{20 + number} bars")
    return time.perf_counter() - begun


if __name__ == "__main__":
    measure(int(sys.argv[1]) if len(sys.argv) > 1 else 55)
