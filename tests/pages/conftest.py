"""A browser, the real program, and a fresh tab on it: shared by the tests that drive the pages."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from pages.browsing import Tab, chromium
from pages.serving import Serving
from pages.visiting import SHOW
from playwright.sync_api import Browser


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium() as one:
        yield one


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Serving, Path]]:
    home = tmp_path_factory.mktemp("day")
    path = home / "mill.yaml"
    path.write_text(SHOW, encoding="utf-8")
    one = Serving(home, str(path))
    yield one, path
    one.end()


@pytest.fixture
def serving(served: tuple[Serving, Path]) -> Serving:
    return served[0]


@pytest.fixture
def show(served: tuple[Serving, Path]) -> Path:
    """The show as it is before each test."""
    served[1].write_text(SHOW, encoding="utf-8")
    return served[1]


@pytest.fixture(scope="module")
def first_tab(served: tuple[Serving, Path], browser: Browser) -> Iterator[Tab]:
    context = browser.new_context()
    yield Tab(context, served[0].new_address(served[1]))
    context.close()


@pytest.fixture
def same_tab(serving: Serving, first_tab: Tab, show: Path) -> Iterator[Tab]:
    """The one tab of a module, on the show as it is before each test."""
    assert show.is_file()
    first_tab.begin_again(f"http://127.0.0.1:{serving.port}/")
    yield first_tab
    assert first_tab.wrong == []
    assert first_tab.hosts == {f"127.0.0.1:{serving.port}"}


@pytest.fixture
def tab(serving: Serving, browser: Browser, show: Path) -> Iterator[Tab]:
    context = browser.new_context()
    one = Tab(context, serving.new_address(show))
    yield one
    context.close()
    assert one.wrong == []
    assert one.hosts == {f"127.0.0.1:{serving.port}"}
