"""Bench: preparing in the browser. Each figure beside its goal, and beside its floor in the same run.

    .venv/bin/python tests/bench/preparing.py [--keys 30] [--quick]

The real program and Debian's Chromium, headless, on the invented engagement (28 songs; the sheet has 12 sections), on
500 songs, and on a song of 400 sections. The clock runs in the browser, from before a letter is in its field until the
frame with what it changed has been painted. The floor is tests/bench/bare_page.py: the same server and browser, and
as many bytes, with nothing to think about; for the start, the time until that page shows.

On a machine that others use too, believe the figures only where the floors are what they are at rest.
"""

import argparse
import os
import shutil
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from typing import NamedTuple

import psutil

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bench.stopwatch import ROOT, percentile
from pages.browsing import Tab, chromium
from pages.serving import Serving
from playwright.sync_api import Browser, Page

CLOCK = """there => { window.clockEnds?.(); window.took = []; let down = 0;
  const begins = one => { if (one.type === 'beforeinput' || one.key === 'Enter') down = down || performance.now(); };
  for (const event of ['beforeinput', 'keydown']) addEventListener(event, begins, true);
  const changes = new MutationObserver(() => { const begun = down; if (!begun) return; down = 0;
    requestAnimationFrame(() => { const painted = new MessageChannel();
      painted.port1.onmessage = () => window.took.push(performance.now() - begun); painted.port2.postMessage(0); });
  });
  changes.observe(document.querySelector(there),
    {subtree: true, childList: true, characterData: true, attributes: true});
  window.clockEnds = () => { changes.disconnect();
    for (const event of ['beforeinput', 'keydown']) removeEventListener(event, begins, true); }; }"""
TASKS = """() => { window.tasks = []; new PerformanceObserver(list => {
  for (const one of list.getEntries()) window.tasks.push(one.duration); }).observe({type: 'longtask'}); }"""
WEIGHT = """() => ['navigation', 'resource'].flatMap(kind => performance.getEntriesByType(kind))
  .filter(one => !one.name.endsWith('/changes')).reduce((sum, one) => sum + one.transferSize, 0) / 1024"""
LETTERS = "and once more to the end of it "
BUSY = "while True: pass"
GAP_MS = 300  # between letters: a fast writer


class Figure(NamedTuple):
    """One line of the table; ``goal`` and ``floor`` are in the figure's unit."""

    name: str
    unit: str
    value: float
    goal: float | None = None
    floor: float | None = None


def say(one: Figure) -> None:
    """Print a line at once."""
    goal = "" if one.goal is None else f"{one.goal:g}"
    met = "" if one.goal is None else "met" if one.value <= one.goal else "MISSED"
    floor = "" if one.floor is None else f"{one.floor:.0f}"
    sys.stdout.write(f"{one.name:58}{one.value:9.0f} {one.unit:5}{goal:>7}{floor:>8}  {met}\n")
    sys.stdout.flush()


def others() -> str:
    """Return how busy the machine is while we do nothing."""
    before = psutil.cpu_times()
    time.sleep(2)
    after = psutil.cpu_times()
    spent = {name: getattr(after, name) - getattr(before, name, 0) for name in after._fields}
    idle, stolen = spent["idle"] + spent.get("iowait", 0), spent.get("steal", 0)
    whole = sum(spent.values()) or 1
    busy = 1 - (idle + stolen) / whole
    return (
        f"load {os.getloadavg()[0]:.1f}; others use {busy:.0%} of {os.cpu_count()} cores, {stolen / whole:.0%} stolen"
    )


@contextmanager
def busy_core() -> Iterator[None]:
    """Keep one core busy."""
    one = subprocess.Popen((sys.executable, "-c", BUSY))
    try:
        yield
    finally:
        one.kill()
        one.wait()


# ------------------------------------------------------------------ the floor


class Bare:
    """The bare page, in a tab of its own."""

    def __init__(self, browser: Browser, folder: Path, answer: bytes) -> None:
        (folder / "answer.html").write_bytes(answer)
        with closing(socket.socket()) as free:
            free.bind(("127.0.0.1", 0))
            self.port = int(free.getsockname()[1])
        script = str(Path(__file__).with_name("bare_page.py"))
        words = (str(self.port), str(folder / "answer.html"), str(folder / "kept.html"))
        page = browser.new_context().new_page()
        begun = time.perf_counter()
        self.server = subprocess.Popen((sys.executable, script, *words), stdout=subprocess.DEVNULL)
        while True:
            with suppress(OSError):
                socket.create_connection(("127.0.0.1", self.port), timeout=1).close()
                break
            time.sleep(0.005)
        page.goto(f"http://127.0.0.1:{self.port}/")
        page.wait_for_selector("#field")
        self.starts_ms = (time.perf_counter() - begun) * 1000
        self.page = page

    def typed(self, keys: int, *, kept: bool = False) -> list[float]:
        """Type letters; return the ms from each to its picture."""
        self.page.fill("#field", "kept " if kept else "")
        return letters(self.page, "#field", "#pictures", keys)

    def idle_ms(self, seconds: float) -> float:
        """Return the processor time that the server takes with no tab open."""
        self.page.context.close()
        return idle_ms(psutil.Process(self.server.pid), seconds)

    def end(self) -> None:
        """End the server."""
        self.server.terminate()
        self.server.wait()


# ------------------------------------------------------------------ measures


def letters(page: Page, field: str, there: str, keys: int) -> list[float]:
    """Type letters at a field's end; return the ms from each to what it changed, painted."""
    page.evaluate(CLOCK, there)
    page.locator(field).focus()
    page.keyboard.press("End")
    for letter in (LETTERS * keys)[:keys]:
        page.keyboard.type(letter)
        page.wait_for_timeout(GAP_MS)
    page.wait_for_timeout(700)
    return [float(one) for one in page.evaluate("window.took")]


def keys_down(page: Page, keys: int) -> list[float]:
    """Type one song's key again and again; return the ms from enter to its painted tab."""
    song = page.locator(".song").nth(2)
    field, name = song.locator("input[data-field=key]"), song.get_attribute("id")
    page.evaluate(CLOCK, f"#{name} .tab")
    for number in range(keys):
        field.fill(("Bb", "B")[number % 2])
        field.press("Enter")
        page.wait_for_timeout(GAP_MS)
        page.wait_for_selector("[data-waits]", state="detached")
    return [float(one) for one in page.evaluate("window.took")]


def longest_task(page: Page, does: list[str]) -> float:
    """Return the longest of the browser's long tasks (from 50 ms) while each script runs; 0 for none."""
    page.evaluate(TASKS)
    for one in does:
        page.evaluate(one)
        page.wait_for_timeout(400)
    return float(page.evaluate("Math.max(0, ...window.tasks)"))


def idle_ms(server: psutil.Process, seconds: float) -> float:
    """Return the processor time that a server takes while nobody asks."""
    time.sleep(1)
    before = server.cpu_times()
    time.sleep(seconds)
    after = server.cpu_times()
    return round((after.user + after.system - before.user - before.system) * 1000)


def show_of(songs: int) -> str:
    """Return a show of this many songs in five sets."""
    lines = ["show: Mill", "sets:"]
    for one in range(5):
        lines += [f"  - set: Set {one}", "    songs:"]
        for number in range(songs // 5):
            lines += [f"      - title: Song {one} {number}", "        key: A", "        tempo: 112"]
            lines += ['        length: "3:40"', "        road_map: Intro 4*, Verse 16, Chorus 8, Outro 8 open"]
    return "\n".join(lines) + "\n"


def long_song(sections: int) -> str:
    """Return a show with one song of this many sections."""
    parts = ", ".join(f"Part {number} 8" for number in range(sections))
    return f'show: Mill\nsongs:\n  - title: Long\n    key: A\n    tempo: 120\n    road_map: "{parts}"\n  - Short\n'


@contextmanager
def serving(browser: Browser, text: str | None = None) -> Iterator[tuple[Serving, Tab, float]]:
    """Serve a show, or the invented engagement, to a tab; yield how many ms the first page took too."""
    with tempfile.TemporaryDirectory() as name:
        home = Path(name)
        show = home / "shows" / "pier-street.yaml"
        shutil.copytree(ROOT / "shows", home / "shows")
        if text is not None:
            show = home / "mill.yaml"
            show.write_text(text, encoding="utf-8")
        context = browser.new_context()
        begun = time.perf_counter()
        served = Serving(home, str(show))
        try:
            tab = Tab(context, served.address)
            yield served, tab, (time.perf_counter() - begun) * 1000
        finally:
            context.close()
            served.end()


def open_sheet(tab: Tab, number: int) -> None:
    """Open the sheet of a song, and wait for its typefaces."""
    tab.page.locator(".song h3 a").nth(number).click()
    tab.page.wait_for_selector("#stage-picture svg")
    tab.page.wait_for_timeout(1000)


def small(browser: Browser, keys: int) -> None:
    """Measure the invented engagement, and the floor beside it."""
    with serving(browser) as (_, tab, _):
        open_sheet(tab, 2)
        answer = tab.page.inner_html("#pictures").encode()
        with_sheet_kib = float(tab.page.evaluate(WEIGHT))
    with tempfile.TemporaryDirectory() as name:
        bare = Bare(browser, Path(name), answer)
        starts = []
        for _ in range(3):
            with serving(browser) as (_, _, shows_ms):
                starts.append(shows_ms)
        say(Figure("process start to the first page, best of 3", "ms", min(starts), 1000, bare.starts_ms))
        with serving(browser) as (served, tab, _):
            page = tab.page
            stack_kib = float(page.evaluate(WEIGHT))
            in_ms, floor = keys_down(page, keys), bare.typed(keys, kept=True)
            say(Figure("key to painted tab, p95 (the floor: written, synced)", "ms", p95(in_ms), None, p95(floor)))
            open_sheet(tab, 2)
            ours, floor = letters(page, "[data-field=title]", "#pictures", keys), bare.typed(keys)
            say(Figure("letter to painted picture, p50", "ms", percentile(ours, 0.5), None, percentile(floor, 0.5)))
            say(Figure("letter to painted picture, p95", "ms", p95(ours), 100, p95(floor)))
            with busy_core():
                ours, floor = letters(page, "[data-field=title]", "#pictures", keys), bare.typed(keys)
            say(Figure("the same beside a busy core, p95", "ms", p95(ours), 250, p95(floor)))
            say(Figure("a stack of 28 songs as transferred", "KiB", stack_kib, 150))
            say(Figure("that, and a sheet of 12 sections", "KiB", with_sheet_kib, 150))
            server = psutil.Process(served.process)
            least = psutil.Process(bare.server.pid).memory_info().rss / 2**20
            say(Figure("memory of the server", "MiB", server.memory_info().rss / 2**20, 60, least))
            page.context.close()
            say(Figure("processor time in 10 s without a tab", "ms", idle_ms(server, 10), 0, bare.idle_ms(10)))
        bare.end()


def p95(values: list[float]) -> float:
    """Return what 95 of 100 values do not pass."""
    return percentile(values, 0.95)


CHOOSES = """(() => {{ const one = document.getElementById('{}'); one.value = '{}';
  one.dispatchEvent(new Event('{}', {{bubbles: true}})); }})()"""
FILTERS = [
    CHOOSES.format(*told)
    for told in (("find", "song 3", "input"), ("find", "", "input"), ("filter", "missing", "change"))
] + [CHOOSES.format("filter", "all", "change")]
SCROLL = "scrollBy({top: 2500, behavior: 'instant'})"


def large(browser: Browser, keys: int) -> None:
    """Measure 500 songs, and a song of 400 sections."""
    with serving(browser, show_of(500)) as (served, tab, shows_ms):
        page = tab.page
        say(Figure("500 songs: process start to the first page", "ms", shows_ms))
        say(Figure("500 songs: longest task while filtering", "ms", longest_task(page, FILTERS), 100))
        say(Figure("500 songs: longest task while scrolling", "ms", longest_task(page, [SCROLL] * 12), 100))
        say(Figure("500 songs: key to painted tab, p95", "ms", p95(keys_down(page, keys // 3))))
        say(
            Figure(
                "500 songs: longest task of undo", "ms", longest_task(page, ["document.getElementById('undo').click()"])
            )
        )
        say(Figure("500 songs: memory", "MiB", psutil.Process(served.process).memory_info().rss / 2**20))
    with serving(browser, long_song(400)) as (_, tab, _):
        open_sheet(tab, 0)
        took = letters(tab.page, "[data-field=title]", "#pictures", keys // 3)
        say(Figure("400 sections: letter to painted picture, p95", "ms", p95(took)))
        tab.page.keyboard.press("Tab")
        tab.page.wait_for_timeout(2000)
        tab.wait_for_kept()
        say(Figure("400 sections: an edit, p95", "ms", p95(edited(tab, keys // 6))))


def edited(tab: Tab, times: int) -> list[float]:
    """Type a section's bars; return the ms until each is kept."""
    field, took = tab.page.locator("[data-row='3'] [data-field=bars]"), []
    for number in range(times):
        field.fill(str(9 + number))
        begun = time.perf_counter()
        field.press("Enter")
        tab.page.wait_for_selector(f"[data-row='3'] [data-field=bars][data-was='{9 + number}']")
        took.append((time.perf_counter() - begun) * 1000)
        tab.page.wait_for_timeout(500)
    return took


def main() -> None:
    """Measure, and print the table."""
    options = argparse.ArgumentParser(description=__doc__.split("\n", maxsplit=1)[0])
    options.add_argument("--keys", type=int, default=30)
    options.add_argument("--quick", action="store_true", help="without the large shows")
    asked = options.parse_args()
    sys.stdout.write(f"Preparing in the browser; {others()}\n{'':58}{'figure':>9} {'':5}{'goal':>7}{'floor':>8}\n")
    with chromium() as browser:
        small(browser, asked.keys)
        if not asked.quick:
            large(browser, asked.keys)
    sys.stdout.write(f"At the end: {others()}\n")


if __name__ == "__main__":
    main()
