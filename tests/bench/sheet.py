"""Bench: a song's sheet in the browser. From a key to the painted picture, and the page's weight.

    .venv/bin/python tests/bench/sheet.py [--runs 3] [--keys 30]

Debian's Chromium, headless, types one letter after the other into a song's title, on the invented engagement. The clock
runs in the browser, from before the letter is in its field until the frame with the new pictures has been painted.
"""

import argparse
import os
import shutil
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from bench.stopwatch import ROOT, Row, percentile, show
from pages.browsing import Tab, chromium, opened
from pages.serving import Serving

CLOCK = """() => { window.took = []; let down = 0;
  document.addEventListener('beforeinput', () => { if (!down) down = performance.now(); }, true);
  new MutationObserver(() => { const begun = down; if (!begun) return; down = 0;
    requestAnimationFrame(() => { const painted = new MessageChannel();
      painted.port1.onmessage = () => window.took.push(performance.now() - begun); painted.port2.postMessage(0); });
  }).observe(document.getElementById('pictures'), {subtree: true, childList: true, attributes: true}); }"""
SIZE = """there => performance.getEntriesByType('resource').filter(one => one.name.includes(there))
  .reduce((sum, one) => sum + one.encodedBodySize, 0) / 1024"""
TRIES = "performance.getEntriesByType('resource').filter(one => one.name.endsWith('/try')).map(one => one.duration)"


@contextmanager
def sheet() -> Iterator[Tab]:
    """Open the sheet of a song."""
    with tempfile.TemporaryDirectory() as name, chromium() as browser:
        home = Path(name)
        shutil.copytree(ROOT / "shows", home / "shows")
        serving = Serving(home, str(home / "shows" / "pier-street.yaml"))
        try:
            tab = opened(serving, browser)
            tab.page.locator(".song h3 a").nth(2).click()
            tab.page.wait_for_selector("#stage-picture svg")
            tab.page.wait_for_timeout(1000)  # its typefaces come
            yield tab
        finally:
            serving.end()


def typed(tab: Tab, keys: int) -> tuple[list[float], list[float]]:
    """Type letters into the title; return the ms from each to its picture, and those of the server's answers."""
    tab.page.evaluate(CLOCK)
    tab.page.locator("[data-field=title]").focus()
    tab.page.keyboard.press("End")
    for letter in ("and once more to the end of it " * keys)[:keys]:
        tab.page.keyboard.type(letter)
        tab.page.wait_for_timeout(350)
    return tab.page.evaluate("window.took"), tab.page.evaluate(TRIES)


def main() -> None:
    """Measure, and print the table."""
    options = argparse.ArgumentParser(description=__doc__.split("\n", maxsplit=1)[0])
    options.add_argument("--runs", type=int, default=3)
    options.add_argument("--keys", type=int, default=30)
    asked = options.parse_args()
    halves: list[float] = []
    most: list[float] = []
    answers: list[float] = []
    files: list[float] = []
    sheets: list[float] = []
    for _ in range(asked.runs):
        with sheet() as tab:
            files.append(tab.page.evaluate(SIZE, "/assets/"))
            sheets.append(tab.page.evaluate(SIZE, "/view?song=s"))
            took, tries = typed(tab, asked.keys)
        halves.append(percentile(took, 0.5))
        most.append(percentile(took, 0.95))
        answers.append(percentile(tries, 0.5))
    rows = [
        Row("key to painted picture, p50", "ms", halves),
        Row("key to painted picture, p95", "ms", most, goal=100),
        Row("of that the server's answer, p50", "ms", answers),
        Row("the page's own files and typefaces, not packed", "KiB", files, goal=150),
        Row("a sheet of 12 sections, not packed", "KiB", sheets),
    ]
    show(f"A song's sheet; load {os.getloadavg()[0]:.1f}", rows)


if __name__ == "__main__":
    main()
