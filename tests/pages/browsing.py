"""A player at a real browser: the system's own Chromium, on the real program's pages."""

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from pages.serving import Serving
from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright

AXE = Path(__file__).parent / "axe" / "axe.min.js"  # axe-core 4.14.1 from npm, unchanged, MPL-2.0
expect.set_options(timeout=20_000)  # a machine that is shared stands still now and then
NAMES = ("chromium", "chromium-browser", "google-chrome")


def path_of_chromium() -> str:
    """Return where the system's own browser is; skip the test if there is none."""
    path = next((found for name in NAMES if (found := shutil.which(name))), None)
    if path is None:
        pytest.skip("no Chromium is installed")
    return path


@contextmanager
def chromium() -> Iterator[Browser]:
    """Yield a headless browser; skip the test if there is none."""
    path = path_of_chromium()
    with sync_playwright() as player:
        browser = player.chromium.launch(executable_path=path, args=["--no-sandbox", "--disable-dev-shm-usage"])
        yield browser
        browser.close()


class Tab:
    """One tab on the page, and what must never happen in it: errors, refused resources, requests to other hosts."""

    def __init__(self, context: BrowserContext, address: str) -> None:
        self.page: Page = context.new_page()
        self.wrong: list[str] = []
        self.hosts: set[str] = set()
        self.page.set_default_timeout(20_000)
        self.page.on("pageerror", lambda error: self.wrong.append(str(error)))
        self.page.on(
            "console", lambda said: self.wrong.append(said.text) if self.is_wrong(said.type, said.text) else None
        )
        self.page.on("request", lambda request: self.hosts.add(request.url.split("/")[2]))
        self.page.goto(address)
        self.page.wait_for_selector(".song, .offer")

    def begin_again(self, address: str) -> None:
        """Go to the page as if it were opened anew, in the same tab: a new one costs four times as much.

        The browser keeps what it keeps for the player: the cookie, the token, the unchanging files; no drafts.
        """
        for other in self.page.context.pages:
            if other is not self.page:
                other.close()
        self.page.evaluate(
            "sessionStorage.clear();"
            "for (const one of Object.keys(localStorage)) if (one.startsWith('draft ')) localStorage.removeItem(one)"
        )
        self.page.goto("about:blank")
        self.page.emulate_media(media="null", color_scheme="null", forced_colors="null", reduced_motion="null")
        self.page.set_viewport_size({"width": 1280, "height": 720})
        self.wrong.clear()
        self.hosts.clear()
        self.page.goto(address)
        self.page.wait_for_selector(".song, .offer")

    @staticmethod
    def is_wrong(kind: str, text: str) -> bool:
        """Whether a line of the console is a fault; the page itself reports a refused change and a stopped server."""
        told = (
            "htmx:sse:",
            "htmx:error",
            "ERR_CONNECTION_RESET",
            "status of 409",
            "status of 422",
            "ERR_CONNECTION_REFUSED",
            "ERR_INCOMPLETE_CHUNKED",
            "ERR_EMPTY_RESPONSE",
        )
        return kind in ("error", "warning") and not any(one in text for one in told)

    def field(self, label: str) -> Any:  # noqa: ANN401  a locator
        """Return the place to type one field of a song."""
        return self.page.get_by_label(label, exact=True)

    @property
    def focused(self) -> str:
        """The label of what has the focus."""
        return str(self.page.evaluate("document.activeElement.getAttribute('aria-label') ?? document.activeElement.id"))

    def visible_focus(self, name: str) -> str:
        """Return the focused element's id or this property; "" for the page itself. Its ring is visible and uncovered.

        WCAG 2.2: 2.4.7 and 2.4.13 (a ring of 2 px), 2.4.11 (not covered), 2.5.8 (24 px).
        """
        at = self.page.evaluate(
            """name => { const one = document.activeElement, box = one.getBoundingClientRect();
            const shown = one.type === 'radio' ? one.nextElementSibling : one, ring = getComputedStyle(shown);
            const top = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
            const covered = !!top && top !== shown && !one.contains(top) && !top.contains(one);
            return {id: one === document.body ? '' : one.id || one[name],
              ring: parseFloat(ring.outlineWidth), style: ring.outlineStyle, width: box.width, height: box.height,
              covered} }""",
            name,
        )
        if at["id"]:
            assert at["ring"] >= 2, at
            assert at["style"] == "solid", at
            assert min(at["width"], at["height"]) >= 24, at
            assert not at["covered"], at
        return str(at["id"])

    def wait_for_notice(self, words: str) -> None:
        """Wait until the page says these words."""
        expect(self.page.locator("#notice")).to_contain_text(words)

    def wait_for_kept(self) -> None:
        """Wait until nothing typed is still on its way."""
        expect(self.page.locator("[data-waits]")).to_have_count(0)

    def faults_of_axe(self) -> list[str]:
        """Return what axe-core finds against WCAG 2.2 AA."""
        self.page.evaluate(AXE.read_text(encoding="utf-8"))  # the page's policy lets no script of ours in otherwise
        rules = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
        found = self.page.evaluate(
            "rules => axe.run(document, {runOnly: rules}).then(done => done.violations.map("
            "one => one.id + ': ' + one.nodes.map(node => node.html.slice(0, 120)).join(' | ')))",
            rules,
        )
        return [str(one) for one in found]


def opened(serving: Serving, browser: Browser, **looks: Any) -> Tab:  # noqa: ANN401  the browser's own options
    """Return a tab on the program's page, in its own browser profile."""
    return Tab(browser.new_context(**looks), serving.address)
