"""The main ways in Firefox: opened with its key, keys typed down the list, a road map written, all undone."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from pages.firefox import Firefox
from pages.serving import Serving
from pages.visiting import SHOW

from companion.show import read_show

pytestmark = [pytest.mark.xdist_group("browser"), pytest.mark.long]
KEPT = "document.querySelector('[data-waits]') === null"
FOCUSED = "document.activeElement.getAttribute('aria-label') ?? document.activeElement.id"


@pytest.fixture(scope="module")
def firefox() -> Iterator[Firefox]:
    with Firefox() as one:
        yield one


def test_an_hour_in_firefox(firefox: Firefox, tmp_path: Path) -> None:
    show = tmp_path / "mill.yaml"
    show.write_text(SHOW, encoding="utf-8")
    serving = Serving(tmp_path, str(show))
    try:
        firefox.go_to(serving.address)
        firefox.wait_until("document.querySelector('.song') !== null")
        assert firefox.ask("location.href") == f"http://127.0.0.1:{serving.port}/"  # the key is used up, and gone
        keys_go_down_the_list(firefox, show)
        a_road_map_is_written(firefox, show)
        all_is_undone(firefox, show)
        firefox.go_to(serving.address)
        assert "good for one minute, once" in firefox.ask("document.body.innerText")
        assert firefox.wrong == []
    finally:
        serving.end()


def keys_go_down_the_list(firefox: Firefox, show: Path) -> None:
    firefox.click("[aria-label='Key: Tram Home']")
    firefox.type("bb", "Enter")
    assert firefox.ask(FOCUSED) == "Key: Herring Waltz"
    firefox.type("F#m", "Enter")
    firefox.wait_until(f"{KEPT} && document.querySelector('.tab').textContent === 'B♭'")
    assert firefox.ask(FOCUSED) == "Key: Nine Wet Umbrellas"
    assert [str(song.key) for song in read_show(show).show.sets[0].songs] == ["Bb", "F#m", "Gm"]


def a_road_map_is_written(firefox: Firefox, show: Path) -> None:
    firefox.click(".song h3 a")
    firefox.wait_until("document.activeElement.id === 'sheet-title'")
    firefox.click("textarea[data-field=road_map]")
    firefox.type("Intro 4*, Verse 16, Chorus 8 x2")
    firefox.wait_until("document.querySelector('#rows') !== null && /36 bars/.test(document.body.innerText)")
    firefox.type("Tab")
    firefox.wait_until(f"{KEPT} && document.querySelectorAll('.row').length === 3")
    firefox.wait_until("document.querySelector('#stage-picture svg') !== null")
    sections = read_show(show).show.sets[0].songs[0].road_map
    assert [(one.name, one.bars, one.passes) for one in sections] == [
        ("Intro", 4, 1),
        ("Verse", 16, 1),
        ("Chorus", 8, 2),
    ]


def all_is_undone(firefox: Firefox, show: Path) -> None:
    for _ in range(3):
        firefox.wait_until("!document.querySelector('#undo').disabled")
        before = show.read_text(encoding="utf-8")
        firefox.click("#undo")
        firefox.wait_until("/Undone/.test(document.querySelector('#notice').textContent)")
        assert show.read_text(encoding="utf-8") != before
        firefox.ask("document.querySelector('#notice').textContent = ''")
    assert show.read_text(encoding="utf-8") == SHOW
